package answer

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/match"
	"sightpost/mount/fit/variation"
	"sightpost/plots/units"
)

// NamedKit is a kit and the name of its file, or what is wrong with it.
type NamedKit struct {
	File string
	Kit  mount.Kit
	Err  error
}

// ReadKits reads kits, each opened by its name.
func ReadKits(names []string, open Opener) []NamedKit {
	kits := make([]NamedKit, len(names))
	for i, name := range names {
		k := &kits[i]
		k.File = name
		f, err := open(name)
		if err != nil {
			k.Err = err
			continue
		}
		k.Kit, k.Err = casefile.ReadKit(name, f)
		_ = f.Close() // only read
	}
	return kits
}

// MatchSimulations is how many simulations of all errors there are for each candidate unless someone
// says otherwise.
const MatchSimulations = 5000

// MatchOptions say what a case is matched with. The zero value of every field but
// Simulations is usable.
type MatchOptions struct {
	// Sides has the other side of the chair tried as well.
	Sides bool
	// Clamps are places of the clamp to try, in chair axes (mm); that of the case if
	// there are none.
	Clamps []r3.Vec
	// Simulations is how many simulations of all errors there are for each candidate, Seed what they
	// are chosen by.
	Simulations int
	Seed        uint64
	// Workers is how many candidates are worked on at the same time; zero means one for
	// each processor.
	Workers int
}

// Match ranks kits, sides and places of the clamp for c. The error is that of the case, or,
// where no kit can be judged, what is wrong with each.
func (c *Case) Match(ctx context.Context, kits []NamedKit, o MatchOptions) (*document.Match, error) {
	at, err := c.Mountings(o.Sides, o.Clamps...)
	if err != nil {
		return nil, err
	}
	m := document.Matched{Case: c.Case, Simulations: o.Simulations, Seed: o.Seed}
	candidates := fitted(&m, kits, at)
	if len(candidates) > 0 {
		var failed []match.Unjudged
		if m.Ranking, failed, err = match.Rank(ctx, &c.Job, candidates, match.Options{Workers: o.Workers, Share: o.share(c.Case)}); err != nil {
			return nil, err
		}
		for _, u := range failed {
			file := m.Files[u.Candidate]
			m.Unjudged = append(m.Unjudged, unjudged(file, file+": "+placeWords(at, u.Place)+": ", u.Err))
		}
	}
	if len(m.Ranking) == 0 {
		return nil, UnjudgedError(m.Unjudged)
	}
	return document.NewMatch(m), nil
}

// placeWords says on which side one of some mountings is and, where that has several, which of
// them it is.
func placeWords(at []mount.Mounting, place int) string {
	otherSide := func(m mount.Mounting) bool { return m.Side != at[place].Side }
	n, of := len(slices.DeleteFunc(slices.Clone(at[:place+1]), otherSide)), len(slices.DeleteFunc(slices.Clone(at), otherSide))
	if of == 1 {
		return at[place].Side.String()
	}
	return fmt.Sprintf("%s, clamp position %d of %d", at[place].Side, n, of)
}

// unjudged returns the kit of a file that could not be judged, with each line of err behind
// where, which names the file unless err does.
func unjudged(file, where string, err error) document.Unjudged {
	u := document.Unjudged{KitFile: file}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		u.Why = append(u.Why, where+line)
	}
	return u
}

// UnjudgedError returns why kits could not be judged; nil without any.
func UnjudgedError(kits []document.Unjudged) error {
	var all []error
	for _, k := range kits {
		for _, why := range k.Why {
			all = append(all, errors.New(why))
		}
	}
	return errors.Join(all...)
}

// fitted returns the kits as candidates and fills in the case with each of them, and those
// that cannot be judged.
func fitted(m *document.Matched, kits []NamedKit, at []mount.Mounting) []match.Candidate {
	var candidates []match.Candidate
	for _, k := range kits {
		if k.Err != nil {
			m.Unjudged = append(m.Unjudged, unjudged(k.File, "", k.Err))
			continue
		}
		c, err := m.Case.WithKit(k.File, k.Kit, at)
		if err != nil {
			m.Unjudged = append(m.Unjudged, unjudged(k.File, k.File+": ", err))
			continue
		}
		candidate := match.Candidate{Kit: c.Job.Mount.Kit, Places: at}
		candidates, m.Cases, m.Files = append(candidates, candidate), append(m.Cases, c), append(m.Files, k.File)
	}
	return candidates
}

// share returns what simulates all errors of a case with one of the kits.
func (o MatchOptions) share(c *casefile.Case) func(context.Context, *fit.Result) (float64, error) {
	return func(ctx context.Context, r *fit.Result) (float64, error) {
		budget, _ := c.Uncertainty(r)
		// the kits themselves are worked on side by side
		sim, err := variation.Simulate(ctx, r, budget, variation.Options{Size: o.Simulations, Seed: o.Seed, Workers: 1})
		return sim.Together.Tracks.Share, err
	}
}

// AddClamp adds a place of the clamp, written as forward/left/up in chair axes, in bare units if
// it names none.
func (o *MatchOptions) AddClamp(text string, bare units.Units) error {
	at, err := readPlace(text, bare)
	o.Clamps = append(slices.Clone(o.Clamps), at)
	return err
}

// fraction matches one behind a whole number, as in 10 1/2.
var fraction = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`([0-9][ \x{a0}]+[0-9]+)/([0-9])`) })

// readPlace returns the place (mm) written as three lengths with slashes between,
// forward/left/up. A unit after the last counts for those without one, else bare does.
func readPlace(text string, bare units.Units) (r3.Vec, error) {
	parts := strings.Split(fraction().ReplaceAllString(text, "$1⁄$2"), "/")
	if len(parts) != 3 {
		return r3.Vec{}, fmt.Errorf("%d lengths instead of 3", len(parts))
	}
	number := strings.LastIndexFunc(parts[2], unicode.IsNumber) // also ½
	unit := strings.TrimSpace(strings.TrimLeftFunc(parts[2][max(0, number):], func(r rune) bool { return unicode.IsNumber(r) || r == '.' || r == ',' }))
	var at [3]float64
	for i, part := range parts {
		if i < 2 && !strings.HasSuffix(strings.TrimSpace(part), unit) {
			part += unit
		}
		mm, err := casefile.ParseLength(part, bare)
		if err != nil {
			return r3.Vec{}, err
		}
		at[i] = mm
	}
	return r3.Vec{X: at[0], Y: at[1], Z: at[2]}, nil
}
