package cli

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
)

func newCheck() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "check CASE --set NAME=VALUE...",
		Short: "find the head-movement margin of a mount as set",
		Long: `Check is the reverse of solve: from the settings as found on the mount to the
position of the screen and the head-movement margin in every posture. Give every
setting by --set, by --settings, or both; --set wins. --out writes the sheet of these
settings, as solve does.`,
		Example: `  sightpost check case.yaml --settings settings.csv
  sightpost check case.yaml --settings settings.csv --set post.height=412mm --set joint.tilt=-12deg`,
		Args: oneCase,
	}}
	c.addAnswer("result")
	c.addSheet()
	c.needSettings()
	c.RunE = c.onCase(func(p *answer.Placed) error {
		rep, err := p.Report(c.Context())
		if err != nil {
			return err
		}
		files, err := c.files(c.out, p, rep)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Label, err)
		}
		return c.conclude(rep, files, verdict(p.Label, p.Result.Works))
	})
	return &c.Command
}

func newVary() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "vary CASE",
		Short: "count how often the tracker works when everything is a little off",
		Long: `Vary simulates errors of everything that was measured and set, all at once. It
counts how often the tracker works in every posture; names the error that costs the
most margin; gives the range of tilt, recline, slump and head angles that the screen
serves, with the mount on the seat and on the base; and compares one setup for all
postures with one for each. The case gives the size of the errors under "uncertainty".

Without --set or --settings, the mount is set as solve finds. The same seed gives the
same answer on any machine.`,
		Example: `  sightpost vary case.yaml
  sightpost vary case.yaml --settings settings.csv --simulations 1000000 --seed 7
  sightpost vary case.yaml --out sheet --format svg,pdf`,
		Args: oneCase,
	}}
	var o answer.VaryOptions
	c.addAnswer("vary")
	c.addSettings()
	c.addSave("")
	c.addSimulations(&o.Draws, &o.Seed, answer.VaryDraws, "`number` of simulations of all errors")
	c.RunE = c.onCase(func(p *answer.Placed) error {
		set, end := c.progress("simulations", o.Steps())
		o.Progress = set
		v, err := p.Vary(c.Context(), o)
		end()
		if err != nil {
			return err
		}
		files, err := c.withObject(c.out, v.Figures(answer.Look{Units: c.units}), "vary.json", v.Vary)
		if err != nil {
			return err
		}
		return c.conclude(v, files, verdict(p.Label, p.Result.Works))
	})
	return &c.Command
}

func newRefit() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "refit CASE --settings FILE",
		Short: "find the least to change when the person sits differently",
		Long: `Refit takes a case as the person sits now and the settings as found on the mount. It
gives the margin that is left and the settings that restore it with the least effort:
from what to what, and the steps in the order of work. --full adds which cheaper
changes are not enough. It compares them with a full re-setup. --out writes the sheet
of the changes, changes.pdf, and that of the settings that they lead to, as check does.

With --before, it also gives the margin that was lost since that case was measured, and
asks for that margin, up to the one that the case prefers. Where the seat is tilted
differently, clamp, keep-clear zones, eyes and head with the numbers of before are taken
to have moved along. What cannot have changed by itself is warned of.`,
		Example: `  sightpost refit now.yaml --settings settings.csv --before then.yaml
  sightpost refit now.yaml --settings settings.csv --margin 20mm`,
		Args: oneCase,
	}}
	var margin string
	c.addAnswer("refit")
	c.addSheet()
	c.needSettings()
	c.Flags().StringVar(&margin, "margin", "", "`margin` to restore instead: 20mm")
	addParsed(c.Flags(), &c.before, "before", "", "the `case` as it was when the mount was set", func(text string) (string, error) {
		if text == stdinName {
			return "", errors.New("the case of --before cannot come from standard input")
		}
		return text, nil
	})
	c.RunE = c.onCase(func(p *answer.Placed) error {
		mm, err := answer.WantedMargin(margin, c.units)
		if err != nil {
			return fmt.Errorf("--margin %s: %w", margin, err)
		}
		plan, err := p.Refit(c.Context(), mm)
		if err != nil {
			return withFlags(err)
		}
		files, err := c.refitFiles(plan)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Label, err)
		}
		return c.conclude(plan, files, verdict(p.Label, plan.Restored))
	})
	return &c.Command
}

// refitFiles returns the sheet of the changes, and all that is written for the settings
// that they lead to; none without a folder.
func (c *command) refitFiles(plan *answer.Refit) ([]disk.File, error) {
	if c.out == "" {
		return nil, nil
	}
	rep, err := plan.Report(c.Context())
	if err != nil {
		return nil, err
	}
	files, err := c.files(c.out, plan.Set, rep)
	if err != nil {
		return nil, err
	}
	object, err := answer.JSON(plan, true)
	if err != nil {
		return nil, err
	}
	files = append(files, disk.File{Name: filepath.Join(c.out, "refit.json"), Text: object})
	if d := plan.ChangeSheet(); d != nil {
		changes, err := c.sheets(c.out, "changes", plan.Set, d)
		if err != nil {
			return nil, err
		}
		files = append(files, changes...)
	}
	return files, nil
}

func newMatch() *cobra.Command {
	c := &command{Command: cobra.Command{
		Use:   "match CASE KIT...",
		Short: "rank kits, sides and clamp positions for one case",
		Long: `Match solves a case with every kit in place of its own and ranks them: those that
work first, then by margin at readable settings, by how often the tracker works when
everything is a little off, by how many settings to change, and by mass. For kits
that fail, it says what would help. Kits that cannot be judged are listed with the
reason, and the exit code is then 2.

Every kit is clamped where the case says, or at each --clamp in turn; with --sides,
also at the mirror image of that position on the other side of the chair.`,
		Example: `  sightpost match case.yaml kits/*.yaml --sides
  sightpost match case.yaml kit.yaml --clamp 380/260/480mm --clamp 420/260/480mm`,
		Args: takes(func(n int) bool { return n > 1 }, "a case and at least one kit: name their files", ""),
	}}
	var o answer.MatchOptions
	var clamps []string
	c.addAnswer("match")
	c.Flags().BoolVar(&o.Sides, "sides", false, "try the other side of the chair as well")
	c.Flags().StringArrayVar(&clamps, "clamp", nil, "clamp position to try: `forward/left/up`, 380/260/480mm")
	c.addSimulations(&o.Draws, &o.Seed, answer.MatchDraws, "`number` of simulations of all errors for each")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if i := slices.Index(args, stdinName); i >= 0 && slices.Contains(args[i+1:], stdinName) {
			return errStdinTwice
		}
		for _, text := range clamps {
			if err := o.AddClamp(text, c.units); err != nil {
				return withHint(fmt.Errorf("--clamp %q: %w", text, err), "write it as forward/left/up: 380/260/480mm")
			}
		}
		one, err := c.readCase(args[0], nil)
		if err != nil {
			return err
		}
		if _, err := one.Mountings(o.Sides, o.Clamps...); err != nil {
			return fmt.Errorf("%s: %w", args[0], err)
		}
		kits := answer.ReadKits(args[1:], func(kit string) (io.ReadCloser, error) { return c.open(kit) })
		match, err := one.Match(c.Context(), kits, o)
		if err != nil {
			return err
		}
		return c.conclude(match, nil, cmp.Or(answer.UnjudgedError(match.Unjudged), verdict(one.Label, match.Works)))
	}
	return &c.Command
}
