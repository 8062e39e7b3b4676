// Package trials says how much the tests try: little, so that they are quick, and all of it
// with SIGHTPOST_LONG set in the environment.
package trials

import (
	"os"
	"runtime/debug"
	"strconv"
	"testing"
)

// Long reports whether everything is to be tried.
func Long() bool { return os.Getenv("SIGHTPOST_LONG") != "" }

// Of returns how many random cases are tried: few, or many if everything is.
func Of(few, many int) int {
	if Long() {
		return many
	}
	return few
}

// Asked returns what SIGHTPOST_TRIALS asks for, else the same as [Of].
func Asked(tb testing.TB, few, many int) int {
	tb.Helper()
	asked := os.Getenv("SIGHTPOST_TRIALS")
	if asked == "" {
		return Of(few, many)
	}
	n, err := strconv.Atoi(asked)
	if err != nil || n < 1 {
		tb.Fatalf("SIGHTPOST_TRIALS=%q: expected a number of trials, such as 10000", asked)
	}
	return n
}

// Main runs the tests of a package that allocates much, with the collector set as the program
// has it.
func Main(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
