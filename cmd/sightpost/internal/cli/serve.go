package cli

import (
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/page"
)

// serveOptions are the flags of "serve".
type serveOptions struct {
	port   int
	noOpen bool
}

func newServe(s Streams) *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use:   "serve [FOLDER]",
		Short: "do the whole job on a page in the browser of this machine",
		Long: `Serve opens a page in the browser of this machine: measures, drawing, settings,
sheet and records, without a command line. It prints the address of the page, which
holds a key that is new at every start. No other machine can reach the page, and the
page contacts no other.

Cases are opened from and saved into the folder, the current one if none is named;
nothing outside it is read or written. Ctrl-C or Stop on the page ends it.

Started by a double click, the program does the same in the folder "sightpost" of
your home folder, which it makes if needed; or in "sightpost-cases", if the program
itself is there under that name.`,
		Example: `  sightpost serve
  sightpost serve cases --no-open`,
		Args: atMostOne("folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runServe(cmd.Context(), s, o, firstOr(args, "."))
		},
	}
	cmd.Flags().IntVar(&o.port, "port", 0, "`port` on this machine; any free one if left out")
	cmd.Flags().BoolVar(&o.noOpen, "no-open", false, "print the address and open no browser")
	return cmd
}

// runServe serves the page until it is stopped.
func runServe(ctx context.Context, s Streams, o serveOptions, folder string) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return plainPathError(folder, err)
	}
	defer root.Close() // only ever read from and written to by its files
	server, err := page.New(page.Options{Folder: root, Port: o.port, Version: version(), Log: s.Err})
	if err != nil {
		return withHint(err, "leave --port out for any free one")
	}
	if _, err := fmt.Fprintln(s.Out, server.Address()); err != nil {
		return err
	}
	say(s.Err, "the page is at this address until Ctrl-C or its own Stop")
	if !o.noOpen {
		go openBrowser(s, server.AddressOnce())
	}
	return server.Serve(ctx)
}
