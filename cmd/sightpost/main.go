// Sightpost finds where a screen with an eye tracker should be placed for a seated
// person, and how to set the mount that holds it there.
package main

import (
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/cli"
)

// gcPercent lets the heap, of some MB, grow fivefold between collections: most runs
// end before the first, a sixth sooner than with the usual 100.
const gcPercent = 400

func main() {
	debug.SetGCPercent(gcPercent)
	cobra.MousetrapHelpText = "" // a double click is welcome
	os.Exit(cli.Main())
}
