package cli

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/record"
)

// recordShowOptions are the flags of "record show".
type recordShowOptions struct {
	recordOptions
	text string
}

func newRecordShow(s Streams) *cobra.Command {
	var o recordShowOptions
	cmd := &cobra.Command{
		Use:   "show --in FOLDER CODE [DATE|latest]",
		Short: "show one assessment as filed",
		Long: `Show prints what was filed: the verdict, the settings, where the screen was and the
margins; of a code alone, the latest assessment. --text prints the case or the kit,
word for word, so that it can be solved again.`,
		Example: `  sightpost record show --in records bench-07 latest
  sightpost record show --in records bench-07 2026-11-25-2 --text case > case.yaml`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return seeHelp(cmd, fmt.Errorf("show needs a code, and takes a date or %q", record.Latest))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			when := record.Latest
			if len(args) == 2 {
				when = args[1]
			}
			return runRecordShow(cmd.Context(), s, o, args[0], when)
		},
	}
	o.addFlags(cmd.Flags(), "record")
	o.addAnyway(cmd.Flags())
	cmd.Flags().StringVar(&o.text, "text", "", "print only this `part`, word for word: case or kit")
	return cmd
}

// runRecordShow prints a record, or a part of it.
func runRecordShow(ctx context.Context, s Streams, o recordShowOptions, code, when string) error {
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	f, err := openRecords(o.in)
	if err != nil {
		return err
	}
	defer f.Close()
	r, err := o.read(f, code, when)
	if err != nil {
		return err
	}
	if o.text != "" {
		return o.printPart(s, r)
	}
	if o.answer.json {
		return o.answer.print(ctx, s, r)
	}
	d, err := answer.Filed(ctx, r)
	if err != nil {
		return fmt.Errorf("%w; --json prints the record as it was filed", err)
	}
	return o.answer.print(ctx, s, d)
}

// printPart prints the case or the kit.
func (o *recordShowOptions) printPart(s Streams, r *record.Record) error {
	text := r.Case
	switch o.text {
	case "case":
	case "kit":
		text = r.Kit
	default:
		return fmt.Errorf("there is no part %q: choose case or kit", o.text)
	}
	if text == "" {
		return errors.New("the record holds no kit of its own: the case has it in place, or has none")
	}
	_, err := io.WriteString(s.Out, text)
	return err
}
