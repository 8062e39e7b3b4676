package tolerance

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Motion is a way in which a [Sweep] moves the screen from where it is.
type Motion int

// The motions of a sweep. OverDistance moves the screen along the line of sight
// of the leading posture, facing as it does, from half the distance to one and a
// half times the distance. OverTilt turns it by up to 30 degrees either way about the
// level line through its middle from left to right of the viewer's; positive turns
// the face up.
const (
	OverDistance Motion = iota
	OverTilt
)

// sweptTilt is how far OverTilt turns the screen.
const sweptTilt = 30 * frame.Degree

// Sweep is how the margin of every posture that must work changes as the screen
// is moved one way.
type Sweep struct {
	Motion Motion
	// Leading is the name of the posture whose eyes a distance is measured from.
	Leading string
	// Chosen is where the screen is: a distance (mm), or 0 radians.
	Chosen float64
	Curves []Curve
}

// Curve is the margin of one posture.
type Curve struct {
	Posture gaze.Posture
	Samples []Sample
}

// Sample is the margin at one place of the screen, or at one value of a posture's number.
type Sample struct {
	At       float64 // mm, or radians of a turn
	MarginMM float64
	Limiting gaze.Condition // the one with the least margin
}

// MarginSweep samples the margin at n places of the screen, spread evenly over
// the motion; with n odd the middle one is where the screen is. The error wraps
// [fit.ErrJob], also when n is below 2.
func MarginSweep(r *fit.Result, over Motion, n int) (*Sweep, error) {
	if err := fit.CheckResult(r); err != nil {
		return nil, err
	}
	if n < 2 {
		return nil, fmt.Errorf("%w: a sweep of %d samples; take 2 or more", fit.ErrJob, n)
	}
	if over != OverDistance && over != OverTilt {
		return nil, fmt.Errorf("%w: motion %d is none", fit.ErrJob, over)
	}
	job := r.Job
	lead := job.Leading()
	if !r.Postures[lead].Held.IsFinite() {
		return nil, fmt.Errorf("%w: the screen's place is not a number", fit.ErrJob)
	}
	eyes, screen := r.Postures[lead].InCarrier.Head.At, r.Postures[lead].Held
	s := &Sweep{Motion: over, Leading: job.Postures[lead].Name}
	low, high := -sweptTilt.Radians(), sweptTilt.Radians()
	if over == OverDistance {
		s.Chosen = r3.Norm(r3.Sub(screen.At, eyes))
		low, high = s.Chosen/2, s.Chosen*3/2
	}
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	for i := range r.Postures {
		if !job.Postures[i].MustWork {
			continue
		}
		c := Curve{Posture: job.Postures[i], Samples: make([]Sample, n)}
		here := r.Postures[i].Held.Mul(screen.Inverse()) // by how much it sags otherwise than in the leading posture
		for k := range c.Samples {
			at := low + (high-low)*float64(k)/float64(n-1)
			mm, limiting := judge.Margin(here.Mul(moved(screen, eyes, over, at)), &r.Postures[i].InCarrier)
			c.Samples[k] = Sample{At: at, MarginMM: mm, Limiting: limiting}
		}
		s.Curves = append(s.Curves, c)
	}
	return s, nil
}

// moved returns the screen where a sweep has it: at a distance from the eyes along
// the line of sight, or turned about its middle.
func moved(screen frame.Pose, eyes r3.Vec, over Motion, at float64) frame.Pose {
	if over == OverTilt {
		screen.Rot = screen.Rot.Mul(frame.About(r3.Vec{X: 1}, frame.Angle(-at)))
		return screen
	}
	screen.At = r3.Add(eyes, r3.Scale(at, r3.Unit(r3.Sub(screen.At, eyes))))
	return screen
}
