// Package match ranks the kits, sides and clamp places that could be used for a person.
//
// [Rank] solves a job for each of them; read [Ranked] first.
package match

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/parallel"
)

// Candidate is a kit that could be used, with the places where it could be
// clamped, on either side.
type Candidate struct {
	Kit    mount.Kit
	Places []mount.Mounting
}

// Options adjust [Rank]. The zero value is usable.
type Options struct {
	// Share, when not nil, returns the share of simulations that track (0 to 1) for a
	// result. It is called from several goroutines at once.
	Share func(ctx context.Context, r *fit.Result) (float64, error)
	// Workers is how many places are worked on at the same time; zero means as
	// many as there are processors. The ranking does not depend on it.
	Workers int
}

// Ranked is how a kit at one place would do.
type Ranked struct {
	// Candidate and Place are places in the candidates given.
	Candidate, Place int
	// Result is [fit.Solve] for this kit at this place alone, with [fit.Advise].
	// Result.Set.Mounting is Place; where the target is out of reach,
	// Result.Set.BindingLimits says what would free it.
	Result *fit.Result
	// ShortMM is by how much the worst of what is required is missed: the margin, a
	// clearance, the distance from the eyes. It is 0 when all is met.
	ShortMM float64
	// MarginMM is the least margin at the readable settings.
	MarginMM float64
	// Share is the share of simulations that track; nil when nobody asked for it.
	Share *float64
	// Touch is the number of settings that are not at their preferred values.
	Touch int
	// CarriedKG is the weight on the carrier: the mount and the device.
	CarriedKG float64
	// Reasons say why this one is above the next: what decided first, then what speaks
	// for the next. Empty for the last.
	Reasons []Reason
}

// Unjudged is a kit at one place for which there is no answer, and why.
type Unjudged struct {
	// Candidate and Place are places in the candidates given.
	Candidate, Place int
	// Err is that of [fit.SolveAt], or what Share returned.
	Err error
}

// Rank solves a job for every candidate at every place and ranks the outcomes; the
// job's own mount, if any, does not count. They are compared by [Criterion], the first
// in which they differ decides. What is equal in everything keeps the order given. What
// cannot be judged is left out of the ranking and told beside it.
//
// The error wraps [fit.ErrJob], or says that ctx was canceled.
func Rank(ctx context.Context, job *fit.Job, candidates []Candidate, opt Options) ([]Ranked, []Unjudged, error) {
	var all []Ranked
	for i, c := range candidates {
		for k := range c.Places {
			all = append(all, Ranked{Candidate: i, Place: k})
		}
	}
	if len(all) == 0 {
		return nil, nil, fmt.Errorf("%w: there is no candidate with a place to clamp it", fit.ErrJob)
	}
	failed := make([]error, len(all))
	err := parallel.Each(ctx, len(all), opt.Workers, func(i int) error {
		failed[i] = all[i].work(ctx, job, &candidates[all[i].Candidate], opt)
		return ctx.Err()
	})
	if err != nil {
		return nil, nil, err
	}
	var ranked []Ranked
	var unjudged []Unjudged
	for i, r := range all {
		if failed[i] != nil {
			unjudged = append(unjudged, Unjudged{r.Candidate, r.Place, failed[i]})
			continue
		}
		ranked = append(ranked, r)
	}
	rank(ranked)
	return ranked, unjudged, nil
}

// work solves the job for a candidate at one place.
func (r *Ranked) work(ctx context.Context, job *fit.Job, c *Candidate, opt Options) error {
	own := *job
	own.Mount = &fit.MountJob{Kit: c.Kit, Mountings: c.Places}
	if chain, err := c.Kit.Chain(c.Places[r.Place]); err == nil && !moves(chain, own.Passage.About) {
		own.Passage.About = "" // a joint of the case's own kit
	}
	result, err := fit.SolveAt(ctx, &own, r.Place)
	if err != nil {
		return err
	}
	if result, err = fit.Advise(ctx, result); err != nil {
		return err
	}
	r.Result, r.MarginMM, r.CarriedKG = result, result.MarginMM(), result.Load.CarriedKG
	missed := -result.FaceMarginMM()
	for _, g := range result.Clearances {
		missed = max(missed, g.KeepClear.RequiredMM-g.MM)
	}
	if missed <= fit.RoundingMM {
		missed = 0
	}
	r.ShortMM = max(missed, own.Preferences.MarginMM-r.MarginMM)
	for i, j := range result.Set.Chain.Moving() {
		if at := result.Set.Settings[i]; !j.Same(at, j.Preferred) && !j.Same(at, j.Round(j.Preferred)) {
			r.Touch++
		}
	}
	if opt.Share != nil {
		share, err := opt.Share(ctx, result)
		if err != nil {
			return err
		}
		r.Share = &share
	}
	return nil
}

// moves reports whether chain has a joint of that name that moves.
func moves(chain mount.Chain, name string) bool {
	return slices.ContainsFunc(chain.Moving(), func(j mount.Joint) bool { return j.Name == name })
}

// Criterion is one thing by which candidates are compared.
type Criterion int

// The criteria in the order in which they decide. Lengths count as alike within the same
// 5 mm, shares within the same percent and masses within the same 100 g.
const (
	Works         Criterion = iota // works, before those that do not
	MissesLess                     // misses less of what is required
	LargerMargin                   // has the larger margin
	TracksMore                     // has the larger share of simulations that track
	FewerSettings                  // has fewer settings away from their preferred values
	Lighter                        // weighs less
	FirstNamed                     // is alike in all of these and was named first
)

// Reason is a criterion in which a candidate differs from the next in the ranking.
type Reason struct {
	Criterion Criterion
	// ForNext says that it speaks for the next one.
	ForNext bool
}

// What counts as alike, so that a later criterion can decide: 5 mm is the step to which
// a slide is read, a percent about what some thousand simulations tell apart; 100 g is
// judgment.
const (
	alikeMM    = 5.0
	alikeShare = 0.01
	alikeKG    = 0.1
)

// compared is what each criterion compares; less is better.
var compared = [FirstNamed]func(r *Ranked) float64{
	Works: func(r *Ranked) float64 {
		if r.Result.Works {
			return 0
		}
		return 1
	},
	MissesLess:    func(r *Ranked) float64 { return math.Ceil(r.ShortMM/alikeMM - 1e-9) },
	LargerMargin:  func(r *Ranked) float64 { return -steps(r.MarginMM, alikeMM) },
	TracksMore:    func(r *Ranked) float64 { return -steps(r.TrackShare(), alikeShare) },
	FewerSettings: func(r *Ranked) float64 { return float64(r.Touch) },
	Lighter:       func(r *Ranked) float64 { return steps(r.CarriedKG, alikeKG) },
}

// steps returns how many whole steps go into v.
func steps(v, step float64) float64 { return math.Floor(v/step + 1e-9) }

// TrackShare returns the share of simulations that track, 0 when nobody asked for it.
func (r *Ranked) TrackShare() float64 {
	if r.Share == nil {
		return 0
	}
	return *r.Share
}

// rank puts the candidates in order and says why.
func rank(list []Ranked) {
	slices.SortStableFunc(list, func(a, b Ranked) int {
		for _, value := range compared {
			if d := cmp.Compare(value(&a), value(&b)); d != 0 {
				return d
			}
		}
		return 0
	})
	for i := range len(list) - 1 {
		list[i].Reasons = reasons(&list[i], &list[i+1])
	}
}

// reasons says why a is above b: the first difference, which decided, then every
// difference in b's favor.
func reasons(a, b *Ranked) []Reason {
	var out []Reason
	for c, value := range compared {
		if d := cmp.Compare(value(a), value(b)); d > 0 || d < 0 && len(out) == 0 {
			out = append(out, Reason{Criterion: Criterion(c), ForNext: d > 0})
		}
	}
	if len(out) == 0 {
		out = append(out, Reason{Criterion: FirstNamed})
	}
	return out
}
