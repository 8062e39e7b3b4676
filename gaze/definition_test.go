package gaze_test

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// A definition tells from projected angles and depths whether conditions hold at
// an eye, as one would measure them, and knows of no planes, arcs or gradients.
type definition struct {
	device    gaze.Device
	gazeRange gaze.GazeRange
	screen    frame.Pose // carrierFromScreen
	head      frame.Rotation
	used      gaze.EyesUsed
	// conditions are those of each eye
	conditions [2][]gaze.Condition
}

func define(d gaze.Device, p gaze.Person, screen frame.Pose, st *gaze.PostureInCarrier) definition {
	return definition{
		device: d, gazeRange: p.GazeRange, screen: screen, head: st.Head.Rot, used: p.Eyes,
		conditions: [2][]gaze.Condition{conditions(gaze.LeftEye), conditions(gaze.RightEye)},
	}
}

// conditions lists every condition at one eye.
func conditions(eye gaze.Eye) []gaze.Condition {
	var all []gaze.Condition
	for kind := gaze.TooNear; kind <= gaze.PastBottom; kind++ {
		all = append(all, gaze.Condition{Kind: kind, Eye: eye})
	}
	for kind := gaze.GazeLimit; kind <= gaze.BeyondDown; kind++ {
		for corner := gaze.TopLeft; corner <= gaze.BottomRight; corner++ {
			all = append(all, gaze.Condition{Kind: kind, Eye: eye, Corner: corner})
		}
	}
	return all
}

// slack returns by how much a condition holds for an eye at a place in carrier
// axes: mm for the depths, radians for all others, positive when it holds.
func (d definition) slack(c gaze.Condition, eye r3.Vec) float64 {
	switch {
	case c.Kind <= gaze.PastBottom:
		return d.viewSlack(c.Kind, eye)
	case c.Kind == gaze.GazeLimit:
		return d.gazeSlack(d.device.Screen.Used.Corner(c.Corner), eye)
	default:
		return d.reachSlack(c.Kind, d.device.Screen.Used.Corner(c.Corner), eye)
	}
}

// viewSlack projects the eye into the tracker's own axes.
func (d definition) viewSlack(kind gaze.ConditionKind, eye r3.Vec) float64 {
	t := d.device.Tracker
	// The tracker's axes: screen axes at the tracker, nose turned up.
	screenFromTracker := frame.Translate(r3.Vec{Y: -t.BelowMM, Z: t.InFrontMM}).Mul(frame.Rotate(-t.AimedUp, r3.Vec{X: 1}))
	p := screenFromTracker.ApplyInverse(d.screen.ApplyInverse(eye))
	switch kind {
	case gaze.TooNear:
		return p.Z - t.NearMM
	case gaze.TooFar:
		return t.FarMM - p.Z
	case gaze.PastLeft:
		return t.Across.Radians()/2 - math.Atan2(-p.X, p.Z)
	case gaze.PastRight:
		return t.Across.Radians()/2 - math.Atan2(p.X, p.Z)
	case gaze.PastTop:
		return t.UpDown.Radians()/2 - math.Atan2(p.Y, p.Z)
	default:
		return t.UpDown.Radians()/2 - math.Atan2(-p.Y, p.Z)
	}
}

// gazeSlack measures the angle at the eye between the tracker and a place on the
// screen by the law of cosines, from the three distances.
func (d definition) gazeSlack(place, eye r3.Vec) float64 {
	t := d.device.Tracker
	tracker := d.screen.Apply(r3.Vec{Y: -t.BelowMM, Z: t.InFrontMM})
	target := d.screen.Apply(place)
	a, b, c := r3.Norm(r3.Sub(tracker, eye)), r3.Norm(r3.Sub(target, eye)), r3.Norm(r3.Sub(tracker, target))
	return t.GazeLimit.Radians() - math.Acos(min(max((a*a+b*b-c*c)/(2*a*b), -1), 1))
}

// reachSlack reads azimuth or elevation of a place on the screen in the head.
func (d definition) reachSlack(kind gaze.ConditionKind, place, eye r3.Vec) float64 {
	v := d.head.ApplyInverse(r3.Sub(d.screen.Apply(place), eye))
	switch kind {
	case gaze.BeyondLeft:
		return d.gazeRange.Left.Radians() - math.Atan2(v.Y, v.X)
	case gaze.BeyondRight:
		return d.gazeRange.Right.Radians() - math.Atan2(-v.Y, v.X)
	case gaze.BeyondUp:
		return d.gazeRange.Up.Radians() - math.Atan2(v.Z, v.X)
	default:
		return d.gazeRange.Down.Radians() - math.Atan2(-v.Z, v.X)
	}
}

// holds reports whether every condition holds for enough of the eyes when the
// head of st is moved by v (carrier axes).
func (d definition) holds(st *gaze.PostureInCarrier, v r3.Vec) bool {
	for _, set := range eyesNeeded(d.used) {
		if !slices.ContainsFunc(set, func(eye gaze.Eye) bool { return !d.holdsAt(eye, r3.Add(st.Eyes[eye], v)) }) {
			return true
		}
	}
	return false
}

// holdsAt reports whether every condition holds for one eye at a place.
func (d definition) holdsAt(eye gaze.Eye, at r3.Vec) bool {
	for _, c := range d.conditions[eye] {
		if d.slack(c, at) < 0 {
			return false
		}
	}
	return true
}

// inRange reports whether a place on the screen is within the gaze limit and the
// gaze range of one eye.
func (d definition) inRange(place, eye r3.Vec) bool {
	ok := d.gazeSlack(place, eye) >= 0
	for kind := gaze.BeyondLeft; kind <= gaze.BeyondDown; kind++ {
		ok = ok && d.reachSlack(kind, place, eye) >= 0
	}
	return ok
}

// marginByMarching returns the shortest way of the head out of the region in
// which the conditions hold, over many directions, with each way found by
// marching and halving on the definition alone (mm); negative when they do not
// hold to begin with. No ellipsoid of movement is taken off.
func (d definition) marginByMarching(st *gaze.PostureInCarrier, directions []r3.Vec) float64 {
	if !d.holds(st, r3.Vec{}) {
		return -1
	}
	const stepMM, farMM = 12.0, 2000.0
	least := farMM
	for _, dir := range directions {
		lo := 0.0
		for lo < least && d.holds(st, r3.Scale(lo+stepMM, dir)) {
			lo += stepMM
		}
		if lo >= least {
			continue
		}
		hi := lo + stepMM
		for range 30 {
			mid := (lo + hi) / 2
			if d.holds(st, r3.Scale(mid, dir)) {
				lo = mid
			} else {
				hi = mid
			}
		}
		least = min(least, hi)
	}
	return least
}

// spread returns n directions evenly spread over the sphere (a Fibonacci
// lattice: equal steps in height, golden-angle steps around).
func spread(n int) []r3.Vec {
	golden := math.Pi * (3 - math.Sqrt(5))
	all := make([]r3.Vec, n)
	for i := range all {
		z := 1 - (2*float64(i)+1)/float64(n)
		s, c := math.Sincos(golden * float64(i))
		r := math.Sqrt(1 - z*z)
		all[i] = r3.Vec{X: r * c, Y: r * s, Z: z}
	}
	return all
}
