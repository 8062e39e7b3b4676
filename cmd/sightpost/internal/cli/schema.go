package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// schemas names every schema: of the files that are read, then of the objects that --json
// gives.
func schemas() []string {
	return []string{"case", "kit", "result", "vary", "refit", "match", "record", "records", "comparison"}
}

// schemaOf returns the schema of a name.
func schemaOf(name string) ([]byte, error) {
	switch name {
	case "case":
		return casefile.Schema()
	case "kit":
		return casefile.KitSchema()
	case "record":
		return record.Schema(), nil
	}
	return document.Schema(name)
}

func newSchema(s Streams) *cobra.Command {
	names := schemas()
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
	if !slices.Contains(names, what) {
		return fmt.Errorf("there is no schema of %q: choose one of %s", what, strings.Join(names, ", "))
	}
	text, err := schemaOf(what)
	if err != nil {
		return err
	}
	_, err = s.Out.Write(text)
	return err
}
