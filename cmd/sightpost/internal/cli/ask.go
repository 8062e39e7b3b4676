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
	c := &command{Command: described("check CASE --set NAME=VALUE...", oneCase)}
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
		return c.conclude(rep, c.unitsOr(p.Units()), files, verdict(p.Label, p.Result.Works))
	})
	return &c.Command
}

func newVary() *cobra.Command {
	c := &command{Command: described("vary CASE", oneCase)}
	var o answer.VaryOptions
	c.addAnswer("vary")
	c.addSettings()
	c.addSave("")
	c.addSimulations(&o.Size, &o.Seed, answer.VarySimulations, "`number` of simulations of all errors")
	c.RunE = c.onCase(func(p *answer.Placed) error {
		set, end := c.progress("simulations", answer.VarySteps(o.Size))
		o.Progress = set
		v, err := p.Vary(c.Context(), o)
		end()
		if err != nil {
			return err
		}
		u := c.unitsOr(p.Units())
		files, err := c.withObject(c.out, v.Figures(answer.Look{Units: u}), "vary.json", v.Vary)
		if err != nil {
			return err
		}
		return c.conclude(v, u, files, verdict(p.Label, p.Result.Works))
	})
	return &c.Command
}

func newRefit() *cobra.Command {
	c := &command{Command: described("refit CASE --settings FILE", oneCase)}
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
		u := c.unitsOr(p.Units())
		mm, err := answer.WantedMargin(margin, u)
		if err != nil {
			return fmt.Errorf("--margin %s: %w", margin, err)
		}
		plan, err := p.Refit(c.Context(), mm)
		if err != nil {
			return withFlags(err)
		}
		if c.before == "" && !c.json && p.ClampAsMeasured() {
			note(&c.Command, "the clamp counts as measured at the seat tilt that the case has now; if that has changed, add --before with the earlier case")
		}
		files, err := c.refitFiles(plan)
		if err != nil {
			return fmt.Errorf("%s: %w", p.Label, err)
		}
		return c.conclude(plan, u, files, verdict(p.Label, plan.Restored))
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
	c := &command{Command: described("match CASE KIT...", takes(func(n int) bool { return n > 1 }, "a case and at least one kit: name their files", ""))}
	var o answer.MatchOptions
	var clamps []string
	c.addAnswer("match")
	c.Flags().BoolVar(&o.Sides, "sides", false, "try the other side of the chair as well")
	c.Flags().StringArrayVar(&clamps, "clamp", nil, "clamp position to try: `forward/left/up`, 380/260/480mm")
	c.addSimulations(&o.Simulations, &o.Seed, answer.MatchSimulations, "`number` of simulations of all errors for each")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if i := slices.Index(args, stdinName); i >= 0 && slices.Contains(args[i+1:], stdinName) {
			return errStdinTwice
		}
		one, err := c.readCase(args[0], nil)
		if err != nil {
			return err
		}
		u := c.unitsOr(one.Units())
		for _, text := range clamps {
			if err := o.AddClamp(text, u); err != nil {
				return withHint(fmt.Errorf("--clamp %q: %w", text, err), "write it as forward/left/up: 380/260/480mm")
			}
		}
		if _, err := one.Mountings(o.Sides, o.Clamps...); err != nil {
			return fmt.Errorf("%s: %w", args[0], err)
		}
		kits := answer.ReadKits(args[1:], func(kit string) (io.ReadCloser, error) { return c.open(kit) })
		match, err := one.Match(c.Context(), kits, o)
		if err != nil {
			return err
		}
		return c.conclude(match, u, nil, cmp.Or(answer.UnjudgedError(match.Unjudged), verdict(one.Label, match.Works)))
	}
	return &c.Command
}
