package fit

import "math"

// guard is something that must not give out while one number changes.
type guard interface {
	// look returns what is left when the number is v, and how far it may then change.
	// Only changes of up to ahead, with its sign, are asked about.
	look(v, ahead float64) (slack, error)
}

// slack is what is left of something before it gives out.
type slack struct {
	left float64 // in a unit of its own; positive as long as nothing gives out
	// safe is how far the number may change with certainty that something is left.
	safe  float64
	first Bound // what has the least left; its At is not set
}

const (
	// nothing is what counts as nothing left: of mm a thousandth of a thousandth of what
	// can be measured.
	nothing = 1e-6
	// nudge (mm or radians) starts a way at whose beginning nothing is left.
	nudge = 1e-5
	// mostSteps ends a way along which what is left hardly falls: too early, if at all,
	// never too late.
	mostSteps = 20_000
)

// advance changes a number from one value toward a limit, in steps that a guard is
// certain of, and returns where that first gives out. So it cannot pass over a dip,
// however narrow. Nothing may have given out to begin with.
//
// Reference: B. Mirtich, "Impulse-based dynamic simulation of rigid body systems", 1996,
// for the conservative advance (from memory).
func advance(g guard, from, limit float64) (Bound, error) {
	way, at := math.Copysign(1, limit-from), from
	l, err := g.look(at, limit-at)
	if err == nil && !(l.left > nothing) {
		at += way * min(nudge, math.Abs(limit-from))
		if l, err = g.look(at, limit-at); err == nil && !(l.left > nothing) {
			return l.at(from), nil
		}
	}
	for range mostSteps {
		if err != nil {
			return Bound{}, err
		}
		if !(l.left > nothing) {
			break
		}
		if l.safe >= math.Abs(limit-at) {
			return Bound{At: limit, Limit: true, Posture: -1}, nil
		}
		next := at + way*l.safe
		if next == at {
			break
		}
		at = next
		l, err = g.look(at, limit-at)
	}
	return l.at(at), nil
}

// at returns what has the least left, as giving out next after v.
func (l slack) at(v float64) Bound {
	l.first.At = v
	return l.first
}

// lessen makes l what is left of two things together.
func (l *slack) lessen(other slack) {
	if other.left < l.left {
		l.left, l.first = other.left, other.first
	}
	l.safe = min(l.safe, other.safe)
}

// unlimited is the slack of what cannot give out.
func unlimited() slack { return slack{left: math.Inf(1), safe: math.Inf(1)} }

// over returns how far something may change that loses at most so much for each unit.
func over(left, rate float64) float64 {
	if rate > 0 {
		return left / rate
	}
	return math.Inf(1)
}
