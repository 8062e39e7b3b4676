package mount

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// unitTolerance is how far an axis may be from unit length and a rotation from an
// orthonormal one: what numbers written with twelve digits give.
const unitTolerance = 1e-9

// Check reports everything that is wrong with the chain, joined: names, axes,
// poses, limits, and stops whose combinations are more than can be tried. Limits
// of a turn may go from -360° to 360°. A chain from [Kit.Chain] passes.
func (c Chain) Check() error {
	var errs []error
	say := func(format string, args ...any) { errs = append(errs, fmt.Errorf("mount: "+format, args...)) }
	names := make(map[string]bool, len(c.Joints))
	stops := 1.0
	for i, j := range c.Joints {
		switch {
		case j.Name == "":
			say("joint %d has no name", i+1)
		case names[j.Name]:
			say("joint %q: the name is used twice", j.Name)
		}
		names[j.Name] = true
		for _, msg := range j.problems() {
			say("joint %q: %s", j.Name, msg)
		}
		if j.Indexed && len(errs) == 0 {
			stops *= float64(len(j.Stops()))
		}
	}
	if stops > maxStops {
		say("the stops of the indexed joints have %.0f combinations, more than %d", stops, maxStops)
	}
	if !soundPose(c.Tip) {
		say("the tip is not a pose within 100 m")
	}
	errs = append(errs, c.loadProblems()...)
	return errors.Join(errs...)
}

// problems says what is wrong with one joint.
func (j Joint) problems() []string {
	var msgs []string
	if !soundPose(j.Origin) {
		msgs = append(msgs, "its origin is not a pose within 100 m")
	}
	switch j.Motion {
	case Fixed:
		if j.Stiffness != (JointStiffness{}) {
			msgs = append(msgs, "it does not move and has no stiffness")
		}
		return msgs
	case Slide, Turn:
		msgs = append(msgs, j.Stiffness.problems(j.Motion)...)
	default:
		return append(msgs, fmt.Sprintf("%v is neither fixed nor a slide nor a turn", j.Motion))
	}
	if !(math.Abs(r3.Norm(j.Axis)-1) <= unitTolerance) {
		msgs = append(msgs, fmt.Sprintf("axis %v is not of unit length", j.Axis))
	}
	most := maxMM
	if j.Motion == Turn {
		most = 2 * math.Pi
	}
	return append(msgs, j.rangeProblems(-most, most)...)
}

// soundPose reports whether p is finite, near enough, and a proper rotation.
func soundPose(p frame.Pose) bool {
	if !p.IsFinite() || r3.Norm(p.At) > maxMM {
		return false
	}
	x, y, z := p.Rot.X, p.Rot.Y, p.Rot.Z
	return math.Abs(r3.Norm(x)-1) <= unitTolerance && math.Abs(r3.Norm(y)-1) <= unitTolerance &&
		math.Abs(r3.Dot(x, y)) <= unitTolerance && r3.Norm(r3.Sub(r3.Cross(x, y), z)) <= 3*unitTolerance
}
