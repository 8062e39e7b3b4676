package gaze

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"sightpost/gaze/frame"
	"sightpost/gaze/minimax"
)

// Target is where the screen should be.
type Target struct {
	Aim Aim
	// Pose is carrierFromScreen.
	Pose frame.Pose
	// Score is the margin less the costs of the aim (mm).
	Score float64
	// MarginMM is the least margin over the postures, Limiting its condition and
	// Posture the place of the posture it belongs to.
	MarginMM float64
	Limiting Condition
	Posture  int
	// BrokenMM is how far a limit is broken; zero when all are kept.
	BrokenMM float64
	// Forced says that comfort has given way: the best score of all does not work.
	Forced bool
}

// ErrRequest marks a request that cannot be worked on.
var ErrRequest = errors.New("gaze: request cannot be worked on")

// Preferred returns the aim preferred in posture st: the resting gaze, the
// tracker's best distance, square and unrolled.
func Preferred(st *PostureInCarrier, t Tracker) Aim {
	return Aim{Left: st.Rest.Left, Down: st.Rest.Down, DistanceMM: t.BestMM}
}

// Place returns the pose of the screen with the best score,
//
//	least margin over the postures - Σ rate · |deviation from the preferred aim|
//
// among those within the ranges and limits that have the required margin, or where none is
// found, the one with the greatest margin. It searches from the preferred aim and from a
// fixed set of aims around it, so that the same request gives the same answer.
//
// Whether the margin is good enough is the caller's to say. The error wraps [ErrRequest].
func Place(r Request) (Target, error) {
	return r.workingFirst(func(p *placing) (minimax.Solution, error) {
		best, err := p.search()
		if err == nil && r.Judge.eyes == Either {
			best = p.eyeByEye(best)
		}
		return best, err
	})
}

// PlaceNear is [Place] with a search from the one given aim, for a request that
// differs little from one whose target has that aim.
func PlaceNear(r Request, aim Aim) (Target, error) {
	return r.workingFirst(func(p *placing) (minimax.Solution, error) {
		var solver minimax.Solver
		return solver.Maximize(p.problem, aim.Vector(), minimax.Options{})
	})
}

// TieBreak returns what is left of rates where the greatest margin is sought: enough to
// choose between equals.
func TieBreak(rates []float64) []float64 {
	small := slices.Clone(rates)
	for k := range small {
		small[k] *= 1e-3
	}
	return small
}

// workingFirst searches for the best score. Where that does not work, it searches for the
// greatest margin and, from a screen that works, for the best score of those that do.
func (r *Request) workingFirst(search func(*placing) (minimax.Solution, error)) (Target, error) {
	if len(r.Postures) == 0 {
		return Target{}, fmt.Errorf("%w: no posture must work", ErrRequest)
	}
	p := newPlacing(r)
	find := func() (Target, error) {
		best, err := search(p)
		if err != nil {
			return Target{}, fmt.Errorf("%w: %w", ErrRequest, err)
		}
		return p.target(best)
	}
	t, err := find()
	if err != nil || t.works(r) {
		return t, err
	}
	p.problem.Rates, p.tough = TieBreak(p.problem.Rates), true
	widest, err := find()
	if err != nil || !widest.works(r) {
		return widest, err
	}
	t, err = p.comfort(t.Aim, widest)
	t.Forced = true
	return t, err
}

// comfort returns the target with the best score among those that work: found from one
// that does, and from the aim with the best score of all.
func (p *placing) comfort(wished Aim, works Target) (Target, error) {
	r := &p.scorer.r
	floor := r.RequiredMM + negligibleMM
	p.problem.Rates, p.problem.Floor = r.Rates.vector(), &floor
	opt := minimax.Options{Penalty: 1000 * max(1, slices.Max(p.problem.Rates))}
	var solver minimax.Solver
	best := works
	for _, from := range [2]Aim{works.Aim, wished} {
		sol, err := solver.Maximize(p.problem, from.Vector(), opt)
		if err != nil {
			return Target{}, fmt.Errorf("%w: %w", ErrRequest, err)
		}
		if t, err := p.target(sol); err == nil && t.works(r) && t.Score > best.Score+clearMM {
			best = t
		}
	}
	return best, nil
}

// negligibleMM is the rounding of a search's last step.
const negligibleMM = 1e-6

// works reports whether a target has the required margin and keeps all limits.
func (t *Target) works(r *Request) bool {
	return t.MarginMM >= r.RequiredMM && t.BrokenMM <= negligibleMM
}

// target returns the screen at the end of a search.
func (p *placing) target(best minimax.Solution) (Target, error) {
	r := &p.scorer.r
	t := Target{Aim: AimOf(best.X)}
	t.Pose = p.aiming.pose(t.Aim)
	t.MarginMM, t.Limiting, t.Posture = r.Judge.Worst(t.Pose, r.Postures)
	t.Score = t.MarginMM
	for k, rate := range r.Rates.vector() {
		t.Score -= rate * math.Abs(best.X[k]-p.prefer[k])
	}
	for _, l := range r.Limits {
		t.BrokenMM = max(t.BrokenMM, -l.Margin(t.Pose).MM)
	}
	if !isFinite(t.Score) || !isFinite(t.MarginMM) || !t.Pose.IsFinite() {
		return Target{}, fmt.Errorf("%w: its numbers are too large", ErrRequest)
	}
	return t, nil
}

// brokenCost ranks answers that break a limit behind those that do not.
const brokenCost = 1000

// Worst returns the least margin over the postures, its condition and the place
// of the posture it belongs to, the first of those that differ by rounding alone; 0 mm and
// the place -1 without a posture.
func (j *Judge) Worst(screen frame.Pose, postures []PostureInCarrier) (mm float64, c Condition, posture int) {
	posture = -1
	for i := range postures {
		if m, cond := j.Margin(screen, &postures[i]); i == 0 || Less(m, mm) || math.IsNaN(m) {
			mm, c, posture = m, cond, i
		}
	}
	return mm, c, posture
}

// placing is a request made ready for the search over aims.
type placing struct {
	scorer  *Scorer
	aiming  aiming
	prefer  []float64
	problem minimax.Problem
	// tough says that the best score does not work.
	tough bool
}

func newPlacing(r *Request) *placing {
	p := &placing{scorer: NewScorer(*r), prefer: r.Prefer.Vector()}
	p.aiming = p.scorer.aiming
	p.problem = minimax.Problem{
		Terms:     p.scorer.Terms(),
		Limits:    len(p.scorer.r.Limits),
		Rates:     r.Rates.vector(),
		Functions: p.evaluate,
		Lower:     r.Ranges.Low.Vector(),
		Upper:     r.Ranges.High.Vector(),
		Unit:      aimUnit(),
	}
	return p
}

// evaluate computes every margin, limit and cost of the screen at aim x.
func (p *placing) evaluate(x, f, grad []float64) {
	const n = 6
	aim := AimOf(x)
	slopes := p.scorer.margins(p.aiming.pose(aim))
	for i := range slopes {
		f[i] = slopes[i].MM
	}
	costs := f[len(slopes):]
	for k := range costs {
		costs[k] = x[k] - p.prefer[k]
	}
	if grad == nil {
		return
	}
	tw := p.aiming.twists(aim)
	for i := range slopes {
		for k := range tw {
			grad[i*n+k] = slopes[i].Along(tw[k].shift, tw[k].turn)
		}
	}
	unit := grad[len(slopes)*n:]
	clear(unit)
	for k := range costs {
		unit[k*n+k] = 1
	}
}

// around are the steps from one aim to those from which the search starts as
// well: directions in which a margin can have a hill of its own.
var around = [...][6]float64{
	{},
	{0, 0.35, 0, 0, 0, 0},
	{0, -0.35, 0, 0, 0, 0},
	{0, 0, 0, 0.3, 0, 0},
	{0.3, 0, 0, 0, -0.3, 0},
	{-0.3, 0, 0, 0, 0.3, 0},
	{0, 0, 0, 0, 0.2, 0.3},
	{0, 0, 0, 0, -0.2, -0.3},
	{0, 0, 0, 0, 0.3, 0},
	{0, 0, 0, 0, -0.3, 0},
	{0, -0.3, 100, 0.5, 0, 0},
	{0, -0.1, 60, 0.3, 0.3, 0},
	{0, -0.1, 60, 0.3, -0.3, 0},
	{0.4, 0, 60, 0, 0.2, 0},
	{-0.4, 0, 60, 0, -0.2, 0},
}

// eyeByEye returns the best of what was found with either eye and of what is found
// from the best aims for each eye alone: the margin of the better eye has valleys
// between hills that belong to one eye each.
func (p *placing) eyeByEye(best minimax.Solution) minimax.Solution {
	var solver minimax.Solver
	for _, eyes := range [2]EyesUsed{LeftOnly, RightOnly} {
		sol, err := p.again(eyes).search()
		if err != nil {
			continue
		}
		sol, err = solver.Maximize(p.problem, sol.X, minimax.Options{})
		if err == nil && merit(sol) > merit(best)+clearMM {
			best = sol
		}
	}
	return best
}

// again returns the same search for some eyes and another goroutine.
func (p *placing) again(eyes EyesUsed) *placing {
	r := p.scorer.r
	r.Judge.eyes = eyes
	own := newPlacing(&r)
	own.problem.Rates, own.problem.Floor, own.tough = p.problem.Rates, p.problem.Floor, p.tough
	return own
}

// search climbs from the preferred aim and from aims around it, coarsely, and
// then from the best of them to the very top. Where none of them is any good, it
// also climbs from further away: conditions that cannot all be met leave many
// hills. Missed by half a meter, they are left at that.
func (p *placing) search() (minimax.Solution, error) {
	c := climbing{placing: p, merit: math.Inf(-1)}
	if err := c.from(around[:], func() bool { return true }); err != nil {
		return minimax.Solution{}, err
	}
	for away := farAway(); len(away) > 0 && c.poor(); away = away[atOnce:] {
		if err := c.from(away[:atOnce], c.poor); err != nil {
			return minimax.Solution{}, err
		}
	}
	var solver minimax.Solver
	return solver.Maximize(p.problem, c.best.X, minimax.Options{})
}

// poor reports whether the best so far is worth searching further away from: a screen that
// works at a poor score, or one that does not where the greatest margin is sought.
func (c *climbing) poor() bool {
	t, err := c.target(c.best)
	works := err == nil && t.works(&c.scorer.r)
	if c.tough {
		return !works && c.merit > hopelessMM
	}
	return works && c.merit < 0
}

// farAway returns the steps to the starts further away: one of each pair of further,
// added up.
func farAway() [][6]float64 {
	steps := make([][6]float64, 1<<len(further))
	for k := range steps {
		for i, f := range further {
			for v := range steps[k] {
				steps[k][v] += f[k>>i&1][v]
			}
		}
	}
	return steps
}

// atOnce is how many starts further away are climbed from before it is asked again
// whether more are wanted. It divides their number.
const atOnce = 4

// clearMM is by how much a solution must be better than one found before to take its place:
// what differs by less may differ by rounding, otherwise on another processor.
const clearMM = 1e-3

// merit ranks solutions.
func merit(s minimax.Solution) float64 { return s.Score - brokenCost*s.Missed }

const hopelessMM = -500

// further are pairs of steps; one of each pair, added up, lead to a start further
// away: to either side, up or down, and turned either way.
var further = [...][2][6]float64{
	{{0.35, 0, 0, 0, 0, 0}, {-0.35, 0, 0, 0, 0, 0}},
	{{0, 0.3, 0, 0, 0, 0}, {0, -0.3, 0, 0, 0, 0}},
	{{0, 0, 0, 0.2, 0, 0}, {0, 0, 80, -0.2, 0, 0}},
	{{0, 0, 0, 0, 0.3, 0.2}, {0, 0, 0, 0, -0.3, -0.2}},
	{{0, 0, 0, 0, 0, 0.2}, {0, 0, 0, 0, 0, -0.2}},
}

// climbing keeps the best of several coarse climbs.
type climbing struct {
	*placing
	best  minimax.Solution
	merit float64
}

// from climbs from the preferred aim and each of several steps away from it, on as many
// processors as there are, and takes what that finds in the order of the steps, for as
// long as more is wanted: the same on any number of processors.
func (c *climbing) from(steps [][6]float64, more func() bool) error {
	found, failed := make([]minimax.Solution, len(steps)), make([]error, len(steps))
	var next atomic.Int64
	climb := func(p *placing) {
		var solver minimax.Solver
		for i := int(next.Add(1)) - 1; i < len(steps); i = int(next.Add(1)) - 1 {
			start := steps[i]
			for k, v := range p.prefer {
				start[k] += v
			}
			found[i], failed[i] = solver.Maximize(p.problem, start[:], minimax.Options{Tolerance: 0.02, Steps: 40})
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(steps)) - 1 {
		others.Go(func() { climb(c.again(c.scorer.r.Judge.eyes)) })
	}
	climb(c.placing)
	others.Wait()
	for i := range steps {
		if failed[i] != nil {
			return failed[i]
		}
		if m := merit(found[i]); more() && m > c.merit+clearMM {
			c.best, c.merit = found[i], m
		}
	}
	return nil
}
