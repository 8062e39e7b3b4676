package cli

import (
	"cmp"
	"context"
	"errors"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// solveOptions are the flags of "solve".
type solveOptions struct {
	answer answerOptions
	save   saveOptions
	side   string
	paper  string
}

func newSolve(s Streams) *cobra.Command {
	var o solveOptions
	cmd := &cobra.Command{
		Use:   "solve CASE...",
		Short: "find where the screen goes and how to set the mount",
		Long: `Solve reads a case and prints the verdict, warnings and safety rules, where the
screen goes, every setting of the mount with its tolerance and how to measure it,
what to check by tape, and the head-movement margin in every posture. It finds the
settings from the target by back-solve (inverse kinematics).

Several cases, or the case files of a folder, are answered in order; with --json, one
object per line. --out writes the setup sheet, the figures, result.json and
settings.csv into a folder, or into one folder per case.`,
		Example: `  sightpost solve case.yaml
  sightpost solve case.yaml --out sheet --format svg,pdf
  sightpost solve cases/ --json`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return seeHelp(cmd, errors.New("solve needs a case: name a file or a folder, or - for standard input"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runSolve(cmd.Context(), s, o, args) },
	}
	o.answer.addFlags(cmd.Flags())
	o.save.addFlags(cmd.Flags(), "")
	cmd.Flags().StringVar(&o.paper, "paper", "a4", "`paper` of the setup sheet: a4 or letter")
	cmd.Flags().StringVar(&o.side, "side", "", "`side` to clamp the mount on, if the case leaves it open: left or right")
	return cmd
}

// runSolve solves every case that args name and prints the answers in order.
func runSolve(ctx context.Context, s Streams, o solveOptions, args []string) error {
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	if err := checkFormats(o.save.format); err != nil {
		return err
	}
	if _, err := sheet.PaperNamed(o.paper); err != nil {
		return err
	}
	names, err := expand(args)
	if err != nil {
		return err
	}
	folders, err := o.save.folders(names)
	if err != nil {
		return err
	}
	several := len(names) > 1
	outcomes := inParallel(ctx, s, names, func(i int) outcome {
		return solveOne(ctx, s, o, names[i], folders[i], several)
	})
	return printAll(ctx, s, o, outcomes)
}

// outcome is what came of one case: what to print, what to write, and whether the
// case is met or something failed.
type outcome struct {
	text    []byte
	files   []file
	verdict error
	err     error
}

// solveOne solves the case in the file called name. Files are made for folder,
// unless it is empty.
func solveOne(ctx context.Context, s Streams, o solveOptions, name, folder string, several bool) outcome {
	p, err := place(ctx, s, settingsOptions{side: o.side}, name)
	if err != nil {
		return outcome{err: err}
	}
	rep, err := p.Report()
	if err != nil {
		return outcome{err: err}
	}
	units, err := o.answer.parsedUnits()
	if err != nil {
		return outcome{err: err}
	}
	out := outcome{verdict: verdict(p)}
	if out.text, out.err = o.answer.render(rep, several); out.err != nil || folder == "" {
		return out
	}
	out.files, out.err = o.files(folder, p, rep, units)
	return out
}

// files returns everything that is written for one case.
func (o *solveOptions) files(folder string, p *answer.Placed, rep *document.Report, units units.Units) ([]file, error) {
	paper, err := sheet.PaperNamed(o.paper)
	if err != nil {
		return nil, err
	}
	pages, err := sheets(p, folder, rep, units, paper)
	if err != nil {
		return nil, err
	}
	files, err := o.save.files(folder, p, rep, units)
	return append(pages, files...), err
}

// printAll prints the answers and writes the files, in order. What fails for one
// case is printed and does not stop the others; it decides the exit code in the end,
// before cases that are not met.
func printAll(ctx context.Context, s Streams, o solveOptions, outcomes []outcome) error {
	var failed, unmet error
	for i := range outcomes {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		out := &outcomes[i]
		if i > 0 && !o.answer.json && out.err == nil {
			out.text = append([]byte("\n"), out.text...)
		}
		if err := out.deliver(s, o); err != nil {
			tell(s.Err, err)
			failed = errSaid
		} else if out.verdict != nil {
			tell(s.Err, out.verdict)
			unmet = errors.Join(errSaid, errUnmet)
		}
	}
	return cmp.Or(failed, unmet)
}

// deliver writes the files of one case and prints its answer.
func (out *outcome) deliver(s Streams, o solveOptions) error {
	if out.err != nil {
		return out.err
	}
	if err := o.save.write(s, out.files); err != nil {
		return err
	}
	_, err := s.Out.Write(out.text)
	return err
}

// caseFolder returns the name of the folder for the case in the file called name,
// of several.
func caseFolder(name string) string {
	if name == stdinName {
		return "standard-input"
	}
	base := filepath.Base(name)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
