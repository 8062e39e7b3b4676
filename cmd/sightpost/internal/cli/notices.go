package cli

import (
	_ "embed"

	"github.com/spf13/cobra"
)

// notices are the licenses of what is built in. A test writes them from the modules of
// every system's build.
//
//go:embed notices.txt
var notices []byte

func newNotices() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:     "notices",
		Short:   "print the licenses of what is built in",
		Example: "  sightpost notices > notices.txt",
		Args:    takes(func(n int) bool { return n == 0 }, "nothing", ""),
	}}
	c.RunE = func(*cobra.Command, []string) error { return c.deliver(outcome{text: notices}) }
	return &c.Command
}
