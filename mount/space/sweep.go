package space

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Path is how shapes move together: they turn about a line or slide along it.
// The zero Path has no direction and is none.
type Path struct {
	Through r3.Vec // a point on the line (mm); of no meaning for a slide
	Along   r3.Vec // direction of the line, of unit length
	// Slides says that the shapes move along the line, by mm. Otherwise they turn
	// about it by the right-hand rule, by radians.
	Slides bool
}

// Pose returns where the shapes have been carried at a place on p: radians of a
// turn, mm of a slide.
func (p Path) Pose(by float64) frame.Pose {
	if p.Slides {
		return frame.Translate(r3.Scale(by, p.Along))
	}
	return frame.RotateAround(p.Through, frame.Angle(by), p.Along)
}

// isPath reports whether p has a point within [LimitMM] and a direction of unit length.
func (p Path) isPath() bool {
	return math.Abs(r3.Norm(p.Along)-1) < rotationSlack && length(p.Through) <= LimitMM
}

const (
	// FineMM is how near shapes come that count as in contact (mm).
	FineMM = 0.01
	// LeastMM is to within what a [Sweep] finds a least gap (mm): a tenth of what a
	// tape shows.
	LeastMM = 0.1
)

const (
	// maxLooks bounds how often one call of [Sweep.Free] or [Sweep.Least] looks at its
	// pairs of shapes, so that it takes no longer than some hundredths of a second. A
	// pair of a real mount needs some tens of looks; what is said when that is not
	// enough is said there.
	maxLooks = 100_000
	// fewLooks is what is left for each pair when others have used up all.
	fewLooks = 1000
)

// Sweep is shapes that move together along a path, among shapes that stand
// still. Nothing between two looks is missed.
//
// # Why nothing is missed
//
// Let f be the gap of a pair at place a on the path, and n the unit direction in
// which they are that far apart (see [Clearance]). Seen along n alone, the moving shape
// lies beyond the other by f, and the gap is never less than what is seen along
// any one direction. A point at distance r from the line moves at r per radian
// along w × r, so along the n that is kept it moves no faster than
//
//	|n·(w × r)| = |(n × w)·r| <= |n × w| R,
//
// where w is the line's direction and R the greatest distance of any of the
// shape's points from it. In a slide every point moves by n·w per mm. So with
// that fall s the gap is at least f - s |b - a| at any other place b:
//
//   - no contact lies nearer to a than f/s, and [Sweep.Free] advances by that;
//   - between two looks at a and b the gap is at least where the two lines that
//     fall from either cross, and [Sweep.Least] looks again only where this is
//     below the least found so far.
//
// In a turn the second bound is poor where the gap hardly changes, as that of an arm to
// the post that it turns on. There Least follows the corners of the moving box
// instead. Seen along n, a corner p that turns by t about the line is at
//
//	n·p + sin t n·(w × p) - (1 - cos t) n·p', p' the part of p square to w,
//
// from the line, a wave of which the least between two places is known; and no point of a
// box is less far along n than all of its corners.
//
// References: B. Mirtich, "Impulse-based dynamic simulation of rigid body
// systems", 1996, for the advance and the bound along a direction that is kept;
// S. A. Piyavskii, "An algorithm for finding the absolute extremum of a
// function", 1972, for the bound from two sides (both from memory).
type Sweep struct {
	path    Path
	pairs   []pair
	unknown bool // a shape or the path is none
}

// pair is two shapes of a sweep, and their places among the moving and the fixed.
type pair struct {
	m             *mover
	f             *Shape
	moving, fixed int
}

// mover is a shape that moves, and the farthest that any of its points is from the
// line.
type mover struct {
	Shape
	reachMM float64
}

// NewSweep returns the sweep of the moving shapes, as they are at place 0 of the
// path, among the fixed ones. Pairs for which skip is true are not looked at, such as
// parts that are fastened to each other; nil skips none.
//
// Where a shape or the path is none, or a place on it not a finite number, the first pair
// counts as in contact by [LimitMM] at place 0, as in [Between].
func NewSweep(path Path, moving, fixed []Shape, skip func(moving, fixed int) bool) *Sweep {
	none := func(s Shape) bool { return !s.isShape() }
	s := &Sweep{path: path, unknown: !path.isPath() || slices.ContainsFunc(moving, none) || slices.ContainsFunc(fixed, none)}
	for i, shape := range moving {
		m := &mover{shape, shape.ReachMM(path.Through, path.Along)}
		for k := range fixed {
			if skip == nil || !skip(i, k) {
				s.pairs = append(s.pairs, pair{m, &fixed[k], i, k})
			}
		}
	}
	return s
}

// Closest is a gap met on a path.
type Closest struct {
	Clearance
	By            float64 // place on the path: radians of a turn, mm of a slide
	Moving, Fixed int     // which two shapes; -1 for none
}

// look is what is known of the gap of one pair at one place, and how fast that can
// fall from there.
type look struct {
	by, mm      float64 // the gap is mm or more
	ahead, back float64 // mm per unit of the path, toward higher and lower places
	toward      r3.Vec  // the direction in which the pair is that far apart
}

// look returns the gap of a pair at one place.
func (s *Sweep) look(p *pair, by float64) (look, Clearance) {
	g := Between(p.m.Moved(s.path.Pose(by)), *p.f)
	return s.falling(p.m, by, g.MM, g.Toward), g
}

// falling returns the look at which a moving shape is seen mm away along the unit
// direction n.
func (s *Sweep) falling(m *mover, by, mm float64, n r3.Vec) look {
	if s.path.Slides {
		rate := r3.Dot(n, s.path.Along)
		return look{by: by, mm: mm, ahead: max(-rate, 0), back: max(rate, 0), toward: n}
	}
	fall := length(r3.Cross(n, s.path.Along)) * m.reachMM
	return look{by: by, mm: mm, ahead: fall, back: fall, toward: n}
}

// roughMM is by how much more than is asked for a pair has to be apart for a rough look
// to do: less would save the close look and cost many rough ones.
const roughMM = 20

// rough returns what is known at one place from the ball about the moving shape, and
// whether the pair is so far apart that this will do: more than mm. It costs a tenth of
// a close look.
func (s *Sweep) rough(p *pair, by, mm float64) (look, bool) {
	m, f := p.m, p.f
	out := f.beyondBox(s.path.Pose(by).Apply(m.Pose.At))
	far := length(out)
	gap := far - f.RoundMM - m.ballMM()
	if far == 0 || !(gap > mm+roughMM) {
		return look{}, false
	}
	return s.falling(m, by, gap, f.Pose.Rot.Apply(r3.Scale(1/far, out))), true
}

// Free returns how far the shapes can move from place 0 toward the given place
// with no contact on the way, and the pair that stops them there; both of its
// shapes are -1 if nothing does. The pair is more than [FineMM] / 2 apart at the
// place returned, unless that is 0: then it is in contact from the beginning. Shapes
// that creep past each other for longer than can be looked at count as stopped.
func (s *Sweep) Free(to float64) Closest {
	if s.unknown || !isFinite(to) {
		return unknown
	}
	stop, looks := Closest{By: to, Moving: -1, Fixed: -1}, maxLooks
	for i := range s.pairs {
		p := &s.pairs[i]
		looks = max(looks, fewLooks)
		at, g, met := s.advance(p, stop.By, &looks)
		if met && (stop.Fixed < 0 || math.Abs(at) < math.Abs(stop.By)) {
			stop = Closest{Clearance: g, By: at, Moving: p.moving, Fixed: p.fixed}
		}
	}
	return stop
}

var unknown = Closest{Clearance: Clearance{MM: -LimitMM, Toward: r3.Vec{Z: 1}}}

func isFinite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// advance moves one pair from 0 toward a place and returns where it gets, whether it
// is in contact there, and the gap if it is. It stops half of FineMM short of
// contact, so that it ends just free of it. looks is how many are left.
func (s *Sweep) advance(p *pair, to float64, looks *int) (at float64, g Clearance, met bool) {
	for {
		*looks--
		l, far := s.rough(p, at, 0)
		if !far || *looks == 0 {
			l, g = s.look(p, at)
		}
		if l.mm <= FineMM || *looks == 0 {
			return at, g, true
		}
		fall, way := l.ahead, to-at
		if way < 0 {
			fall = l.back
		}
		step := l.mm - FineMM/2
		if step >= fall*math.Abs(way) {
			return to, g, false
		}
		at += math.Copysign(step/fall, way)
	}
}

// Least returns the least gap of any pair between two places on the path. The gap
// occurs at the place returned, and nowhere between is any smaller by more than
// [LeastMM]. Where that would take too many looks at a pair, MM is a bound that the
// pair's gap never falls below, if that is less than all gaps seen, and the place and
// points are those at which the pair was looked at last. With nothing to look at both
// shapes are -1 and the gap is [LimitMM].
func (s *Sweep) Least(from, to float64) Closest {
	if s.unknown || !isFinite(from) || !isFinite(to) {
		return unknown
	}
	if from > to {
		from, to = to, from
	}
	f := finder{Sweep: s, looks: maxLooks, best: Closest{Clearance: Clearance{MM: LimitMM, Toward: r3.Vec{Z: 1}}, By: from, Moving: -1, Fixed: -1}}
	ends := make([][2]look, len(s.pairs))
	for i := range s.pairs {
		f.pair = &s.pairs[i]
		ends[i] = [2]look{f.keep(from), f.keep(to)}
	}
	for i := range s.pairs {
		f.pair, f.looks = &s.pairs[i], max(f.looks, fewLooks)
		f.between(ends[i][0], ends[i][1])
	}
	return f.best
}

// finder is the state of one [Sweep.Least].
type finder struct {
	*Sweep
	*pair // at hand
	best  Closest
	looks int // how many are left
}

// keep looks at the pair at hand, and keeps what it sees if that is the least so far.
func (f *finder) keep(by float64) look {
	if l, far := f.rough(f.pair, by, f.best.MM); far {
		return l
	}
	l, g := f.look(f.pair, by)
	if l.mm < f.best.MM {
		f.found(g, by)
	}
	return l
}

func (f *finder) found(g Clearance, by float64) {
	f.best = Closest{Clearance: g, By: by, Moving: f.moving, Fixed: f.fixed}
}

// between looks at the pair at hand between two looks, as often as it takes.
func (f *finder) between(a, b look) {
	at, mm := lowest(a, b)
	if mm >= f.best.MM-LeastMM {
		return
	}
	if !f.path.Slides && b.by-a.by < math.Pi &&
		f.turned(f.m, a, at) >= f.best.MM-LeastMM && f.turned(f.m, b, at) >= f.best.MM-LeastMM {
		return
	}
	if f.looks--; f.looks < 0 {
		_, g := f.look(f.pair, at)
		g.MM = mm
		f.found(g, at)
		return
	}
	const inside = 0.1 // of the way, from either end, so that every look gains ground
	way := b.by - a.by
	at = min(max(at, a.by+inside*way), b.by-inside*way)
	l := f.keep(at)
	f.between(a, l)
	f.between(l, b)
}

// turned returns a bound of the gap all the way from a look to another place less than
// half a turn from it: the least that any corner of the moving box comes to, seen along the
// look's direction.
func (s *Sweep) turned(m *mover, l look, to float64) float64 {
	shape, axis := m.Moved(s.path.Pose(l.by)), s.path.Along
	sin, cos := math.Sincos(to - l.by)
	across := r3.Sub(l.toward, r3.Scale(r3.Dot(l.toward, axis), axis))
	around := r3.Cross(l.toward, axis) // n·(w × p) = (n × w)·p
	now, least := math.Inf(1), math.Inf(1)
	for i := range 8 {
		p := r3.Sub(shape.Pose.Apply(shape.Corner(i)), s.path.Through)
		here, rate, level := r3.Dot(l.toward, p), r3.Dot(around, p), r3.Dot(across, p)
		now, least = min(now, here), min(least, here+leastOfWave(rate, level, sin, cos))
	}
	return l.mm + min(least-now, 0)
}

// leastOfWave returns the least of rate sin t + level (cos t - 1) from t = 0 to where sine
// and cosine are given, less than half a turn away either way. Its trough, when it is on
// the way, is where the wave falls at the beginning and rises at the end.
func leastOfWave(rate, level, sin, cos float64) float64 {
	end := rate*sin + level*(cos-1)
	begins, ends := math.Copysign(rate, rate*sin), math.Copysign(1, sin)*(rate*cos-level*sin)
	if begins < 0 && ends > 0 {
		return -math.Sqrt(rate*rate+level*level) - level
	}
	return min(end, 0)
}

// lowest returns where the bounds that fall from two looks cross, and how low that
// is. Nowhere between the looks is the gap less.
func lowest(a, b look) (by, mm float64) {
	fall := a.ahead + b.back
	if fall == 0 {
		return a.by, max(a.mm, b.mm)
	}
	way := b.by - a.by
	on := min(max((a.mm-b.mm+b.back*way)/fall, 0), way)
	return a.by + on, max(a.mm-a.ahead*on, b.mm-b.back*(way-on))
}
