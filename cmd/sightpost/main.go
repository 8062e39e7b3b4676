// Sightpost finds where a screen with an eye tracker should stand before a seated
// person, and how to set the mount that holds it there.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"sightpost/cmd/sightpost/internal/cli"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	os.Exit(cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}
