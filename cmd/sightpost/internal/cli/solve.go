package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/sheet"
)

// solveOptions are the flags of "solve".
type solveOptions struct {
	answer answerOptions
	save   saveOptions
	side   string
	paper  sheet.Paper
	prove  time.Duration
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
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("prove") && (o.prove <= 0 || o.prove > mostProof) {
				return fmt.Errorf("--prove %v: give a time above 0 and up to %v, such as 30s", o.prove, mostProof)
			}
			return runSolve(cmd.Context(), s, o, args)
		},
	}
	o.answer.addFlags(cmd.Flags(), "result")
	o.save.addFlags(cmd.Flags(), "")
	addParsed(cmd.Flags(), &o.paper, "paper", "a4", "`paper` of the setup sheet: a4 or letter", sheet.PaperNamed)
	addSide(cmd.Flags(), &o.side)
	cmd.Flags().DurationVar(&o.prove, "prove", 0, "`time` for proving that a case cannot be met, such as 30s")
	return cmd
}

// runSolve solves every case that args name and prints the answers in order.
func runSolve(ctx context.Context, s Streams, o solveOptions, args []string) error {
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
	if err := o.proveUnmet(ctx, s, p); err != nil {
		return outcome{err: err}
	}
	rep, err := p.Report()
	if err != nil {
		return outcome{err: err}
	}
	out := outcome{verdict: verdict(p.Label, p.Result.Works)}
	if out.text, out.err = o.answer.render(rep, several); out.err != nil || folder == "" {
		return out
	}
	o.save.out = folder
	if out.files, err = o.save.solved(p, rep, o.answer.units, o.paper); err != nil {
		out.err = fmt.Errorf("%s: %w", p.Label, err)
	}
	return out
}

// mostProof is how long a proof may take: longer is a slip of the pen.
const mostProof = 24 * time.Hour

// proveUnmet bounds what a case that was not met can have for the time asked for, if any.
func (o *solveOptions) proveUnmet(ctx context.Context, s Streams, p *answer.Placed) error {
	if o.prove == 0 {
		return nil
	}
	timed, end := context.WithTimeout(ctx, o.prove)
	defer end()
	bar, began := newProgress(s.Err, "proof, seconds", int(o.prove.Seconds())), time.Now()
	defer bar.finish()
	err := p.Prove(timed, math.MaxInt, func(float64) { bar.set(int(time.Since(began).Seconds())) })
	return cmp.Or(ctx.Err(), err)
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

// folders returns where the files of each case go: the folder itself for a single
// case, one folder each for several; empty when none are asked for.
func (o *saveOptions) folders(names []string) ([]string, error) {
	folders := make([]string, len(names))
	if o.out == "" {
		return folders, nil
	}
	if len(names) == 1 {
		return []string{o.out}, nil
	}
	taken := make(map[string]string, len(names))
	for i, name := range names {
		folders[i] = filepath.Join(o.out, caseFolder(name))
		if other, ok := taken[folders[i]]; ok {
			return nil, fmt.Errorf("%s and %s would both be written to %s: solve them one by one", other, name, folders[i])
		}
		taken[folders[i]] = name
	}
	return folders, nil
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
