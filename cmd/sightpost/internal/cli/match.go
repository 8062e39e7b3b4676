package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/report"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// matchOptions are the flags of "match".
type matchOptions struct {
	answer answerOptions
	sides  bool
	clamps []string
	draws  int
	seed   uint64
}

func (o *matchOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlagsFor(f, "match")
	f.BoolVar(&o.sides, "sides", false, "try the other side of the chair as well")
	f.StringArrayVar(&o.clamps, "clamp", nil, "a place of the clamp to try: `forward/left/up`, 380/260/480mm")
	f.IntVar(&o.draws, "draws", 5000, "`number` of times that all errors are drawn for each")
	f.Uint64Var(&o.seed, "seed", 1, "`number` that the draws are chosen by")
}

func newMatch(s Streams) *cobra.Command {
	var o matchOptions
	cmd := &cobra.Command{
		Use:   "match CASE KIT...",
		Short: "rank kits, sides and places of the clamp for one case",
		Long: `Match solves a case with every kit in place of its own, and ranks them: those that
work first, then by the room at settings that can be read off, by how often they
track when everything is a little off, by how many settings have to be set, and by
weight. For those that fail it tells what would free them.

Every kit is clamped where the case says, or at each --clamp in turn; with --sides
also at the mirror image of that place on the other side of the chair.`,
		Example: `  sightpost match case.yaml kits/*.yaml --sides
  sightpost match case.yaml kit.yaml --clamp 380/260/480mm --clamp 420/260/480mm`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 2 {
				return seeHelp(cmd, errors.New("match needs a case and at least one kit: name their files"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runMatch(cmd.Context(), s, o, args[0], args[1:]) },
	}
	o.addFlags(cmd.Flags())
	return cmd
}

// runMatch prints the ranking of kits for a case.
func runMatch(ctx context.Context, s Streams, o matchOptions, name string, kits []string) error {
	if _, err := o.answer.parsedUnits(); err != nil {
		return err
	}
	if o.draws < 1 {
		return withHint(errors.New("--draws must be at least 1"), "leave it out for 5000")
	}
	if inputs := append([]string{name}, kits...); len(slices.DeleteFunc(inputs, func(n string) bool { return n != stdinName })) > 1 {
		return errors.New("standard input, -, can be read only once")
	}
	places, err := o.places()
	if err != nil {
		return err
	}
	c, err := readCase(s, name)
	if err != nil {
		return err
	}
	at, err := c.Mountings(o.sides, places...)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	m := report.Matched{Case: c, Draws: o.draws, Seed: o.seed, Files: kits}
	candidates, err := fitted(s, &m, at)
	if err != nil {
		return err
	}
	err = untilDone(ctx, func() (err error) {
		m.Ranking, err = fit.Match(&c.Job, candidates, fit.MatchOptions{Share: o.share(c)})
		return err
	})
	if err != nil {
		return err
	}
	answer, err := report.NewMatch(m)
	if err != nil {
		return err
	}
	if err := o.answer.print(ctx, s, answer); err != nil {
		return err
	}
	if !answer.Works {
		return unmet(c.Label, answer.Ranking[0].Fails)
	}
	return nil
}

// fitted returns the kits of m as candidates and fills in the case with each of
// them. The error names everything that is wrong with the kits.
func fitted(s Streams, m *report.Matched, at []mount.Mounting) ([]fit.Candidate, error) {
	var candidates []fit.Candidate
	var wrong []error
	for _, file := range m.Files {
		kit, err := readKit(s, file)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		c, err := m.Case.WithKit(file, kit, at)
		if err != nil {
			wrong = append(wrong, fmt.Errorf("%s: %w", file, err))
			continue
		}
		candidate := fit.Candidate{Name: kit.Name, Kit: c.Job.Mount.Kit}
		for _, place := range at {
			candidate.Places = append(candidate.Places, fit.Place{Name: report.PlaceName(place, at), Mounting: place})
		}
		candidates, m.Cases = append(candidates, candidate), append(m.Cases, c)
	}
	return candidates, errors.Join(wrong...)
}

// share returns what draws all errors of a case with one of the kits.
func (o *matchOptions) share(c *casefile.Case) func(*fit.Job, *fit.Result) (float64, error) {
	return func(job *fit.Job, r *fit.Result) (float64, error) {
		spreads, _ := c.Spreads(r)
		// the kits themselves are worked on side by side
		sim, err := fit.Simulate(job, r, spreads, fit.SimOptions{Draws: o.draws, Seed: o.seed, Workers: 1})
		return sim.Together.Tracks.Share, err
	}
}

// readKit reads the kit in the file called name.
func readKit(s Streams, name string) (mount.Kit, error) {
	if name == stdinName {
		return casefile.ReadKit("standard input", s.In)
	}
	f, err := openFile(name)
	if err != nil {
		return mount.Kit{}, err
	}
	defer f.Close()
	return casefile.ReadKit(name, f)
}

// places returns the places of --clamp in chair axes (mm).
func (o *matchOptions) places() ([]r3.Vec, error) {
	var places []r3.Vec
	for _, text := range o.clamps {
		at, err := placeOf(text)
		if err != nil {
			return nil, withHint(fmt.Errorf("--clamp %q: %w", text, err), "write it as forward/left/up: 380/260/480mm")
		}
		places = append(places, at)
	}
	return places, nil
}

// placeOf returns the place written as three lengths with slashes between. A unit
// after the last counts for those without one.
func placeOf(text string) (r3.Vec, error) {
	parts := strings.Split(text, "/")
	if len(parts) != 3 {
		return r3.Vec{}, fmt.Errorf("%d lengths, not three", len(parts))
	}
	unit := strings.TrimLeft(strings.TrimSpace(parts[2]), "+-0123456789. ")
	var at [3]float64
	for i, part := range parts {
		if i < 2 && !strings.HasSuffix(strings.TrimSpace(part), unit) {
			part += unit
		}
		mm, err := casefile.ParseLength(part)
		if err != nil {
			return r3.Vec{}, err
		}
		at[i] = mm
	}
	return r3.Vec{X: at[0], Y: at[1], Z: at[2]}, nil
}
