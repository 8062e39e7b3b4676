package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/report"
)

func newSchema(s Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "schema case|kit|result",
		Short: "print the JSON Schema of a case, a kit or a result",
		Long: `Schema prints the JSON Schema of a case file, of a kit file, or of the object that
--json gives. Editors that know YAML schemas complete and check files by it.`,
		Example:   "  sightpost schema case > case.schema.json",
		ValidArgs: []string{"case", "kit", "result"},
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return seeHelp(cmd, fmt.Errorf("schema needs one of: case, kit, result"))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return runSchema(s, args[0]) },
	}
}

// runSchema prints the schema of what.
func runSchema(s Streams, what string) error {
	var text []byte
	var err error
	switch what {
	case "case":
		text, err = casefile.Schema()
	case "kit":
		text, err = casefile.KitSchema()
	case "result":
		text = report.Schema()
	default:
		err = fmt.Errorf("there is no schema of %q: choose case, kit or result", what)
	}
	if err != nil {
		return err
	}
	_, err = s.Out.Write(text)
	return err
}
