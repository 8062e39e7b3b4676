package fit

import (
	"fmt"
	"math"
	"strconv"

	"sightpost/gaze"
)

// mostMM bounds every length of a job: more is a mistake, and a number that is none is
// not within it.
const mostMM = 100e3

// number is a number of a job by name, with the least that it may be.
type number struct {
	name     string
	v, least float64
}

// check reports what of a job cannot be meant.
func (j *Job) check() error {
	if j.Leading() < 0 {
		return fmt.Errorf("%w: no posture must work; mark at least one", ErrJob)
	}
	if err := j.Demand.check(); err != nil {
		return err
	}
	if err := j.Preferences.check(); err != nil {
		return err
	}
	for i := range j.KeepClear {
		if err := j.KeepClear[i].check(); err != nil {
			return err
		}
	}
	return withinReason(j.numbers())
}

// numbers returns the lengths of the job's passage and grid.
func (j *Job) numbers() []number {
	p := &j.Passage
	all := []number{
		{"the width of the chair", p.WidthMM, 0},
		{"the chair's reach behind", p.BehindMM, -mostMM},
		{"the chair's reach ahead", p.AheadMM, -mostMM},
		{"the width of the doorway", p.DoorMM, 0},
		{"the width of the floor space", p.FloorWidthMM, 0},
		{"the length of the floor space", p.FloorLengthMM, 0},
	}
	if j.Grid != nil {
		all = append(all, number{"the gap between targets", j.Grid.GapMM, 0})
	}
	return all
}

// withinReason reports a length that cannot be meant.
func withinReason(all []number) error {
	for _, n := range all {
		if !(n.v >= n.least && n.v <= mostMM) {
			return fmt.Errorf("%w: %s is %v mm; give %v to %v mm", ErrJob, n.name, n.v, n.least, float64(mostMM))
		}
	}
	return nil
}

// check reports wishes that cannot be meant.
func (w *Preferences) check() error {
	r := &w.Rates
	for _, cost := range []number{
		{"gaze", r.GazePerDegree, 0}, {"facing", r.FacingPerDegree, 0}, {"roll", r.RollPerDegree, 0}, {"distance", r.DistancePerMM, 0},
	} {
		if !(cost.v >= cost.least && !math.IsInf(cost.v, 1)) {
			return fmt.Errorf("%w: the cost of the screen's %s is %v; give 0 or more", ErrJob, cost.name, cost.v)
		}
	}
	for _, v := range w.bounds(&gaze.Aim{}) {
		most := float64(mostMM)
		if v.variable.Turns() {
			most = 4 * math.Pi
		}
		if !(v.low >= -most && v.low <= v.high && v.high <= most) {
			return fmt.Errorf("%w: the range wished for of the screen's %s is from %v to %v; give one that rises", ErrJob, v.variable.String(), v.low, v.high)
		}
	}
	return withinReason([]number{{"the distance to be kept from the eyes", w.FaceMM, 0}, {"the margin wished for", w.MarginMM, 0}})
}

// check reports a space that is none.
func (k *KeepClear) check() error {
	if err := k.Shape.Check(); err != nil {
		return fmt.Errorf("%w: to keep clear, %q: %w", ErrJob, k.Name, err)
	}
	if k.With < NoBody || k.With > WithHead {
		return fmt.Errorf("%w: to keep clear, %q: moves with part %d of the body, which is none", ErrJob, k.Name, k.With)
	}
	return withinReason([]number{{"the clearance to " + strconv.Quote(k.Name), k.RequiredMM, 0}})
}
