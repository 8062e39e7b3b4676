package cli

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/casefile"
)

// newOptions are the flags of "new".
type newOptions struct{ force bool }

func newNew(s Streams) *cobra.Command {
	var o newOptions
	cmd := &cobra.Command{
		Use:   "new [FOLDER]",
		Short: "write a commented case and kit to start from",
		Long: `New writes a commented case, case.yaml, and its kit, kit.yaml, into a folder; the
current one if none is named. All measures in them are invented: replace every one.`,
		Example: "  sightpost new mine",
		Args:    atMostOne("folder"),
		RunE:    func(_ *cobra.Command, args []string) error { return runNew(s, o, firstOr(args, ".")) },
	}
	cmd.Flags().BoolVar(&o.force, "force", false, "overwrite files that exist")
	return cmd
}

// runNew writes the starter files into a folder and says so.
func runNew(s Streams, o newOptions, folder string) error {
	caseText, kitText := casefile.Starter()
	files := []file{
		{filepath.Join(folder, "case.yaml"), caseText},
		{filepath.Join(folder, "kit.yaml"), kitText},
	}
	if err := writeAll(files, o.force); err != nil {
		return err
	}
	for _, f := range files {
		say(s.Err, "wrote %s", f.name)
	}
	return nil
}
