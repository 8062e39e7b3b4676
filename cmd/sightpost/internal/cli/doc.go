// Package cli is the command line: every newX returns a command, with what it does; what
// its help says is in help.txt. Each is made of a [command], which holds the flags that
// several share, reads their inputs and delivers what came of them.
//
// Standard output carries the answer and nothing else; whatever is said about it
// goes to standard error behind "sightpost: ". No file is overwritten unasked,
// and every file is written whole or not at all.
package cli
