package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

func newRecordList(s Streams) *cobra.Command {
	var o recordOptions
	cmd := &cobra.Command{
		Use:   "list --in FOLDER [CODE]",
		Short: "list the codes of a folder, or the assessments of a code",
		Long: `List prints the codes that have records, how many, and from when to when; of one
code, all its assessments with their margins, oldest first. A file that cannot be
read is named on standard error; the others are still listed.`,
		Example: `  sightpost record list --in records
  sightpost record list --in records bench-07`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return seeHelp(cmd, fmt.Errorf("list takes one code, not %d", len(args)))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runRecordList(cmd.Context(), s, o, args) },
	}
	o.addFlags(cmd.Flags(), "records")
	return cmd
}

// runRecordList lists the codes, or the records of the one code in args.
func runRecordList(ctx context.Context, s Streams, o recordOptions, args []string) error {
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	list, failed := listed(f, args)
	for _, err := range failed {
		tell(s.Err, recordError(err))
	}
	if len(failed) > 0 && len(list.Codes) == 0 && len(list.Records) == 0 {
		return errSaid
	}
	if err := o.answer.print(ctx, s, list); err != nil {
		return err
	}
	if len(failed) > 0 {
		return errSaid
	}
	return nil
}

// listed lists the codes of a folder, or the records of the one code in args.
func listed(f *record.Folder, args []string) (*document.Records, []error) {
	if len(args) == 0 {
		return f.ListCodes()
	}
	return f.List(args[0])
}
