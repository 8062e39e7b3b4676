package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
)

// matchOptions are the flags of "match".
type matchOptions struct {
	answer answerOptions
	match  answer.MatchOptions
}

func (o *matchOptions) addFlags(f *pflag.FlagSet) {
	o.answer.addFlags(f, "match")
	f.BoolVar(&o.match.Sides, "sides", false, "try the other side of the chair as well")
	addParsed(f, &o.match, "clamp", "", "clamp position to try: `forward/left/up`, 380/260/480mm", o.withClamp)
	o.match.Draws = answer.MatchDraws
	addSimulations(f, &o.match.Draws, &o.match.Seed, "`number` of simulations of all errors for each")
}

// withClamp returns the options with one more position of the clamp.
func (o *matchOptions) withClamp(text string) (answer.MatchOptions, error) {
	more := o.match
	if err := more.AddClamp(text); err != nil {
		return more, withHint(fmt.Errorf("--clamp %q: %w", text, err), "write it as forward/left/up: 380/260/480mm")
	}
	return more, nil
}

func newMatch(s Streams) *cobra.Command {
	var o matchOptions
	cmd := &cobra.Command{
		Use:   "match CASE KIT...",
		Short: "rank kits, sides and clamp positions for one case",
		Long: `Match solves a case with every kit in place of its own and ranks them: those that
work first, then by margin at readable settings, by how often the tracker works when
everything is a little off, by how many settings to change, and by mass. For kits
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
	if inputs := append([]string{name}, kits...); len(slices.DeleteFunc(inputs, func(n string) bool { return n != stdinName })) > 1 {
		return errors.New("standard input, -, can be read only once")
	}
	c, err := readCase(s, name)
	if err != nil {
		return err
	}
	if _, err := c.Mountings(o.match.Sides, o.match.Clamps...); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	candidates, err := answer.ReadKits(kits, func(kit string) (io.ReadCloser, error) { return openInput(s, kit) })
	if err != nil {
		return err
	}
	match, err := c.Match(ctx, candidates, o.match)
	if err != nil {
		return err
	}
	return o.answer.conclude(ctx, s, match, c.Label, match.Works)
}
