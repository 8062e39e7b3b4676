// Package pictures draws how to measure the entries of a case: a person, chair or screen
// of invented size, not to scale, with one dimension as an arrow. In goes a row of the
// table of the case, out comes a small SVG drawing. Read table.go first; person.go,
// chair.go and screen.go say of every entry what is drawn and where the arrow leads.
package pictures
