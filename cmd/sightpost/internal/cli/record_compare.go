package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
)

// recordCompareOptions are the flags of "record compare".
type recordCompareOptions struct {
	recordOptions
	save saveOptions
}

func newRecordCompare(s Streams) *cobra.Command {
	var o recordCompareOptions
	cmd := &cobra.Command{
		Use:   "compare --in FOLDER CODE [OLD NEW]",
		Short: "show what changed between two assessments, and what to expect next",
		Long: `Compare shows what changed of the person, what of screen, mount and settings, how
the margin changed, how much of that comes from the person, and what follows if the
person changes by as much again. Of a code alone, it compares the two latest
assessments. --out writes the figures (side, top and front view) and comparison.json
into a folder.`,
		Example: `  sightpost record compare --in records bench-07
  sightpost record compare --in records bench-07 2026-10-14 latest --out changed`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 && len(args) != 3 {
				return seeHelp(cmd, errors.New("compare needs a code, and takes the dates of two assessments"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runRecordCompare(cmd.Context(), s, o, args) },
	}
	o.addFlags(cmd.Flags(), "comparison")
	o.addAnyway(cmd.Flags())
	o.save.addFlags(cmd.Flags(), "")
	return cmd
}

// runRecordCompare compares two records of the code args[0].
func runRecordCompare(ctx context.Context, s Streams, o recordCompareOptions, args []string) error {
	before, after, err := o.readBoth(ctx, args)
	if err != nil {
		return err
	}
	c, err := record.Compare(ctx, before, after)
	if err != nil {
		return err
	}
	if o.save.out != "" {
		files, err := o.files(before, after, c)
		if err != nil {
			return err
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := o.save.write(s, files); err != nil {
			return err
		}
	}
	return o.answer.print(ctx, s, c)
}

// readBoth returns the two assessments that args name, the older first.
func (o *recordCompareOptions) readBoth(ctx context.Context, args []string) (before, after record.Assessment, err error) {
	f, err := openRecords(o.in)
	if err != nil {
		return before, after, err
	}
	defer f.Close()
	if len(args) == 1 {
		older, newer, err := answer.LastTwo(f, args[0])
		if err != nil {
			return before, after, err
		}
		args = []string{args[0], older.String(), newer.String()}
	}
	for i, into := range []*record.Assessment{&before, &after} {
		r, err := o.read(f, args[0], args[1+i])
		if err != nil {
			return before, after, err
		}
		if *into, err = answer.Reevaluate(ctx, r); err != nil {
			return before, after, err
		}
	}
	return before, after, nil
}

// files returns the figures of what changed, and the comparison as an object.
func (o *recordCompareOptions) files(before, after record.Assessment, c *document.Comparison) ([]file, error) {
	all, err := answer.ChangeFigures(before, after, o.answer.units)
	if errors.Is(err, answer.ErrNothingShared) {
		err = fmt.Errorf("%w; leave out --out", err)
	}
	if err != nil {
		return nil, err
	}
	return o.save.withObject(all, "comparison.json", c)
}
