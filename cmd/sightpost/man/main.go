// Man writes the manual pages of all commands of sightpost into the folder that it is given,
// for whoever packs the program. The program itself does without: what makes the pages would
// slow every start.
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra/doc"

	"sightpost/cmd/sightpost/internal/cli"
)

func main() {
	if err := pages(os.Args[1:]); err != nil {
		fmt.Fprintf(os.Stderr, "man: %v\n", err)
		os.Exit(2)
	}
}

// pages writes the pages into the folder that args name.
func pages(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("name one folder for the pages, not %d", len(args))
	}
	root := cli.Root(io.Discard)
	root.DisableAutoGenTag = true
	if err := os.MkdirAll(args[0], 0o755); err != nil {
		return err
	}
	return doc.GenManTree(root, &doc.GenManHeader{Source: "sightpost " + root.Version}, args[0])
}
