package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/record"
)

// recordOptions are the flags of every command that looks at records.
type recordOptions struct {
	answer answerOptions
	in     string
	anyway bool
}

// addFlags adds the flags of a command whose object has the schema of the given
// name.
func (o *recordOptions) addFlags(f *pflag.FlagSet, schema string) {
	addFolderFlag(f, &o.in)
	o.answer.addFlagsFor(f, schema)
}

// addAnyway adds the flag of commands that rely on what one record holds.
func (o *recordOptions) addAnyway(f *pflag.FlagSet) {
	f.BoolVar(&o.anyway, "anyway", false, "take a record that was edited after it was filed")
}

func addFolderFlag(f *pflag.FlagSet, in *string) {
	f.StringVar(in, "in", "", "`folder` that the clinic keeps its records in")
}

func newRecord(s Streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "record",
		Short: "file an assessment, list what is filed, show what changed",
		Long: `Record keeps assessments in a folder that the clinic chooses, each as one dated
YAML file that is never changed: FOLDER/CODE/2026-11-25.yaml, a second one of that
day 2026-11-25-2.yaml. A file holds the case and its kit word for word, the settings
and the result. It names no person, only a code. To forget a person, remove the folder
of the code.`,
		Example: `  sightpost record file case.yaml --in records
  sightpost record compare --in records bench-07`,
		Args: knownCommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.SuggestionsMinimumDistance = 2
	cmd.AddCommand(newRecordFile(s), newRecordList(s), newRecordShow(s), newRecordCompare(s))
	return cmd
}

// openRecords opens the folder of records.
func openRecords(in string) (*record.Folder, error) {
	if in == "" {
		return nil, withHint(errors.New("it is not said where the records are"), "name their folder by --in FOLDER")
	}
	f, err := record.Open(in)
	if errors.Is(err, record.ErrNone) {
		err = withHint(err, "make the folder first, so that a typing error does not begin a second one")
	}
	return f, err
}

// recordError returns an error of package record as the tool tells it: the tool
// itself is speaking, so that the package need not be named.
func recordError(err error) error {
	if text, ok := strings.CutPrefix(err.Error(), "record: "); ok {
		return errors.New(text)
	}
	return err
}

// read returns the record of a code that text names.
func (o *recordOptions) read(f *record.Folder, code, text string) (*record.Record, error) {
	n, err := f.Find(code, text)
	if err != nil {
		return nil, recordError(err)
	}
	r, err := f.Read(code, n)
	if err != nil {
		return nil, recordError(err)
	}
	if r.Edited && !o.anyway {
		return nil, withHint(fmt.Errorf("%s: was edited after it was filed: its checksum does not fit", f.Path(code, n)),
			"add --anyway to take it as it is")
	}
	return r, nil
}
