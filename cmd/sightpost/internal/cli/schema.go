package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// published is a schema and the name by which it is asked for.
type published struct {
	name   string
	schema func() ([]byte, error)
}

// schemas returns every schema: of the files that are read, then of the objects
// that --json gives.
func schemas() []published {
	held := func(schema func() []byte) func() ([]byte, error) {
		return func() ([]byte, error) { return schema(), nil }
	}
	return []published{
		{"case", casefile.Schema},
		{"kit", casefile.KitSchema},
		{"result", held(document.Schema)},
		{"vary", held(document.VarySchema)},
		{"refit", held(document.RefitSchema)},
		{"match", held(document.MatchSchema)},
		{"record", held(record.Schema)},
		{"records", held(record.ListSchema)},
		{"comparison", held(record.ComparisonSchema)},
	}
}

func newSchema(s Streams) *cobra.Command {
	var names []string
	for _, p := range schemas() {
		names = append(names, p.name)
	}
	return &cobra.Command{
		Use:   "schema " + strings.Join(names, "|"),
		Short: "print the JSON Schema of a file or an answer",
		Long: `Schema prints the JSON Schema of a case file, of a kit file, or of a --json object:
result is that of solve and check; record, records and comparison are those of record
show, list and compare; the others are named after their commands. Editors that know
YAML schemas complete and check files with it.`,
		Example:   "  sightpost schema case > case.schema.json",
		ValidArgs: names,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return seeHelp(cmd, fmt.Errorf("schema needs one of: %s", strings.Join(names, ", ")))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return runSchema(s, args[0], names) },
	}
}

// runSchema prints the schema of what, one of names.
func runSchema(s Streams, what string, names []string) error {
	for _, p := range schemas() {
		if p.name != what {
			continue
		}
		text, err := p.schema()
		if err != nil {
			return err
		}
		_, err = s.Out.Write(text)
		return err
	}
	return fmt.Errorf("there is no schema of %q: choose one of %s", what, strings.Join(names, ", "))
}
