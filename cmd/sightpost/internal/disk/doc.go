// Package disk reads files of bounded size, and writes files of a folder all of them or
// none, each whole. Links are followed to what can be read to its end and to nothing else:
// no pipe, no device.
package disk
