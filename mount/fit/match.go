package fit

import (
	"errors"
	"fmt"
	"math"

	"sightpost/mount"
)

// Candidate is a kit that could be used, with the places where it could be
// clamped.
type Candidate struct {
	Name   string
	Kit    mount.Kit
	Places []Place
}

// Place is a place where a kit could be clamped, on either side.
type Place struct {
	Name     string
	Mounting mount.Mounting
}

// MatchOptions adjust [Match]. The zero value is usable.
type MatchOptions struct {
	// Share, when not nil, returns the share of draws that track (0 to 1) for a
	// job and its result, as [Simulate] finds it. It is called from several
	// goroutines at once.
	Share func(job *Job, r *Result) (float64, error)
	// Workers is how many places are worked on at the same time; zero means as
	// many as there are processors. The ranking does not depend on it.
	Workers int
}

// Ranked is how a kit at one place would do.
type Ranked struct {
	// Candidate and Place are places in the candidates given, and Name and
	// PlaceName their names.
	Candidate, Place int
	Name, PlaceName  string
	// Result is [Solve] for this kit at this place alone. Result.Set.Mounting is
	// Place; where the target is out of reach, Result.Set.Held says what would free
	// it.
	Result *Result
	// ShortMM is by how much the worst of what is asked for is missed: the margin,
	// a space to be kept clear, the distance of the face. It is 0 when all is met.
	ShortMM float64
	// MarginMM is the least margin at the readable settings.
	MarginMM float64
	// Share is the share of draws that track; nil when nobody asked for it.
	Share *float64
	// Touch is the number of settings that are not where they are best left.
	Touch int
	// CarriedKG is what hangs on the carrier: the mount and the device.
	CarriedKG float64
	// Clearance is the gap with the least to spare; nil when nothing is to be kept clear.
	Gap *Clearance
	// Reasons say in plain words why this one is above the next: what decided
	// first, then what speaks for the next. Empty for the last.
	Reasons []string
}

// Match solves a job for every candidate at every place and ranks the outcomes;
// the job's own mount, if any, is left out of account. Those come first that
//
//   - work, before those that do not;
//   - miss the least of what is asked for;
//   - have the larger margin;
//   - have the larger share of draws that track, when Options.Share is given;
//   - have fewer settings away from where they are best left;
//   - are lighter.
//
// Lengths count as alike within the same 5 mm, shares within the same percent and
// masses within the same 100 g; what is alike in everything keeps the order given.
// The error wraps [ErrJob] or what Share returned, and names the candidate.
func Match(job *Job, candidates []Candidate, opt MatchOptions) ([]Ranked, error) {
	var out []Ranked
	for i, c := range candidates {
		for k, p := range c.Places {
			out = append(out, Ranked{Candidate: i, Place: k, Name: c.Name, PlaceName: p.Name})
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%w: there is no candidate with a place to clamp it", ErrJob)
	}
	failed := make([]error, len(out))
	inBlocks(len(out), 1, opt.Workers, nil, func() func(block, from, to int) {
		return func(_, from, to int) {
			for i := from; i < to; i++ {
				if err := out[i].work(job, &candidates[out[i].Candidate], opt); err != nil {
					failed[i] = fmt.Errorf("%s: %w", out[i].title(), err)
				}
			}
		}
	})
	if err := errors.Join(failed...); err != nil {
		return nil, err
	}
	rank(out)
	return out, nil
}

// title names a kit and its place.
func (r *Ranked) title() string {
	if r.PlaceName == "" {
		return r.Name
	}
	return r.Name + ", " + r.PlaceName
}

// work solves the job for a candidate at one place.
func (r *Ranked) work(job *Job, c *Candidate, opt MatchOptions) error {
	own := *job
	own.Mount = &MountJob{Kit: c.Kit, Mountings: []mount.Mounting{c.Places[r.Place].Mounting}}
	result, err := Solve(&own)
	if err != nil {
		return err
	}
	r.Result, r.MarginMM = result, result.MarginMM()
	r.measure(&own)
	if opt.Share != nil {
		share, err := opt.Share(&own, result)
		if err != nil {
			return err
		}
		r.Share = &share
	}
	result.Set.Mounting = r.Place
	return nil
}

// measure fills in what is compared, from the result.
func (r *Ranked) measure(job *Job) {
	set := r.Result.Set
	spare := math.Inf(1)
	for i, g := range r.Result.Clearances {
		if over := g.MM - g.KeepClear.RequiredMM; over < spare {
			spare, r.Gap = over, &r.Result.Clearances[i]
		}
	}
	r.ShortMM = max(0, job.Preferences.MarginMM-r.MarginMM, withoutRounding(-spare), withoutRounding(-r.Result.faceMM(job)))
	for i, j := range set.Chain.Moving() {
		if !still(j, set.Settings[i], j.Preferred) && !still(j, set.Settings[i], j.Round(j.Preferred)) {
			r.Touch++
		}
	}
	r.CarriedKG = r.Result.Load.CarriedKG
}

// withoutRounding returns mm, or 0 when it is within what rounding may miss.
func withoutRounding(mm float64) float64 {
	if mm <= roundingMM {
		return 0
	}
	return mm
}
