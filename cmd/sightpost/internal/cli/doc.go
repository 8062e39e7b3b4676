// Package cli is the command line: one file a command or family of commands, each made
// by a newX function that only reads flags, and run by a function that knows no flags.
//
// Standard output carries the answer and nothing else; whatever is said about it
// goes to standard error behind "sightpost: ". No file is overwritten unasked,
// and every file is written whole or not at all.
package cli
