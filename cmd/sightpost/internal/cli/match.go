package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount"
)

// matchOptions are the flags of "match".
type matchOptions struct {
	answer      answerOptions
	sides       bool
	clamps      []string
	simulations int
	seed        uint64
}

func (o *matchOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlagsFor(f, "match")
	f.BoolVar(&o.sides, "sides", false, "try the other side of the chair as well")
	f.StringArrayVar(&o.clamps, "clamp", nil, "clamp position to try: `forward/left/up`, 380/260/480mm")
	f.IntVar(&o.simulations, "simulations", answer.MatchDraws, "`number` of simulations of all errors for each")
	f.Uint64Var(&o.seed, "seed", 1, "`number` that the simulations start from")
}

func newMatch(s Streams) *cobra.Command {
	var o matchOptions
	cmd := &cobra.Command{
		Use:   "match CASE KIT...",
		Short: "rank kits, sides and clamp positions for one case",
		Long: `Match solves a case with every kit in place of its own and ranks them: those that
work first, then by margin at readable settings, by how often they track when
everything is a little off, by how many settings to change, and by mass. For those
that fail, it says what would help.

Every kit is clamped where the case says, or at each --clamp in turn; with --sides,
also at the mirror image of that position on the other side of the chair.`,
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
	if o.simulations < 1 {
		return withHint(errors.New("--simulations must be at least 1"), "leave it out for %d", answer.MatchDraws)
	}
	if inputs := append([]string{name}, kits...); len(slices.DeleteFunc(inputs, func(n string) bool { return n != stdinName })) > 1 {
		return errors.New("standard input, -, can be read only once")
	}
	opt, err := o.options()
	if err != nil {
		return err
	}
	c, err := readCase(s, name)
	if err != nil {
		return err
	}
	if _, err := c.Mountings(opt.Sides, opt.Clamps...); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	candidates, err := readKits(s, kits)
	if err != nil {
		return err
	}
	match, err := c.Match(ctx, candidates, opt)
	if err != nil {
		return err
	}
	if err := o.answer.print(ctx, s, match); err != nil {
		return err
	}
	if !match.Works {
		return unmet(c.Label)
	}
	return nil
}

// readKits reads the kits in the files of those names. The error names everything that
// is wrong with them.
func readKits(s Streams, names []string) ([]answer.NamedKit, error) {
	var kits []answer.NamedKit
	var wrong []error
	for _, name := range names {
		kit, err := readKit(s, name)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		kits = append(kits, answer.NamedKit{File: name, Kit: kit})
	}
	return kits, errors.Join(wrong...)
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

// options returns what the flags ask for.
func (o *matchOptions) options() (answer.MatchOptions, error) {
	opt := answer.MatchOptions{Sides: o.sides, Draws: o.simulations, Seed: o.seed}
	for _, text := range o.clamps {
		at, err := answer.ReadPlace(text)
		if err != nil {
			return opt, withHint(fmt.Errorf("--clamp %q: %w", text, err), "write it as forward/left/up: 380/260/480mm")
		}
		opt.Clamps = append(opt.Clamps, at)
	}
	return opt, nil
}
