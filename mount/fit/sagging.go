package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
	"sightpost/mount/tube"
)

// sagging is how one mount sags in every posture of a job. It holds buffers: one
// serves one goroutine.
type sagging struct {
	chain    mount.Chain // with all that it carries
	compiled *mount.Compiled
	model    *tube.Model
	gravity  []r3.Vec // of every posture, m/s², carrier axes

	screen []tube.Sag   // of every posture at the settings last given, carrier axes
	poses  []frame.Pose // the same as motions of the whole screen
}

// newSagging makes a chain of the job ready to be loaded, with the device on it.
func (b *problem) newSagging(chain mount.Chain) (*sagging, error) {
	return b.saggingOf(loaded(chain, b.job.Device))
}

// saggingOf makes a chain ready with the masses that it has.
func (b *problem) saggingOf(chain mount.Chain) (*sagging, error) {
	s := &sagging{chain: chain}
	var err error
	if s.model, err = tube.NewModel(s.chain); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	if s.compiled, err = s.chain.Compile(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	for i := range b.stances {
		s.gravity = append(s.gravity, r3.Scale(gravity, down(&b.stances[i])))
	}
	s.screen, s.poses = make([]tube.Sag, len(s.gravity)), make([]frame.Pose, len(s.gravity))
	return s, nil
}

// down returns the unit vector that points straight down in a posture, in carrier
// axes.
func down(st *gaze.PostureInCarrier) r3.Vec { return st.Carrier.Rot.ApplyInverse(r3.Vec{Z: -1}) }

// loaded returns a chain with the device among its masses. A plate without a mass of
// its own holds the device's at the middle of the housing.
func loaded(chain mount.Chain, d gaze.Device) mount.Chain {
	screen := len(chain.Joints)
	atScreen := func(m mount.Mass) bool { return m.Carrier == screen }
	if d.Screen.MassKG > 0 && !slices.ContainsFunc(chain.Masses, atScreen) {
		middle, _ := d.Screen.Housing()
		chain.Masses = append(slices.Clone(chain.Masses), mount.Mass{Part: "device", Carrier: screen, AtMM: middle, KG: d.Screen.MassKG})
	}
	return chain
}

// at returns the motion of the screen in every posture with the mount at settings
// set, carrier axes. The slice is reused by the next call.
func (s *sagging) at(set mount.Settings) ([]frame.Pose, error) {
	for i, g := range s.gravity {
		if i > 0 && g == s.gravity[i-1] {
			s.screen[i], s.poses[i] = s.screen[i-1], s.poses[i-1]
			continue
		}
		var err error
		if s.screen[i], s.poses[i], err = s.under(set, g); err != nil {
			return nil, err
		}
	}
	return s.poses, nil
}

// under returns the motion of the screen with the mount at settings set under
// gravity (m/s²), carrier axes.
func (s *sagging) under(set mount.Settings, gravity r3.Vec) (tube.Sag, frame.Pose, error) {
	sag, err := s.model.Screen(set, gravity)
	if err != nil {
		return sag, frame.Pose{}, fmt.Errorf("%w: %w", ErrJob, err)
	}
	return sag, sag.Pose(s.compiled.Pose(set).At), nil
}

// gravity is the standard acceleration of free fall (m/s²): 3rd General Conference on
// Weights and Measures, 1901.
const gravity = 9.80665

// bentMM is the length of the straight pieces as which a bent tube is taken. A
// moment of 20 N·m bends a tube of an inch by 0.03 mm over it.
const bentMM = 100

// stands returns how the mount stands in every posture. Where gravity acts alike it is
// the same.
func (s *sagging) stands(set mount.Settings) ([]*LoadedPose, error) {
	links, err := s.chain.Links(set)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	out := make([]*LoadedPose, len(s.gravity))
	for i, g := range s.gravity {
		if i > 0 && g == s.gravity[i-1] {
			out[i] = out[i-1]
			continue
		}
		if _, err := s.model.Screen(set, g); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrJob, err)
		}
		out[i] = &LoadedPose{Joints: s.model.Frames(nil)}
		for t := range links {
			out[i].Lines = append(out[i].Lines, s.bent(t, &links[t]))
		}
	}
	return out, nil
}

// bent returns the middle line of a tube as the model has it loaded, cut into straight
// pieces. That of the link is where it is without load.
func (s *sagging) bent(t int, l *mount.Link) []r3.Vec {
	along := 0.0
	if l.Held > 0 {
		along = -r3.Norm(r3.Sub(l.LineMM[l.Held], l.LineMM[0]))
	}
	line := []r3.Vec{r3.Add(l.LineMM[0], s.model.Along(t, along).Sag.ShiftMM)}
	for i := 1; i < len(l.LineMM); i++ {
		a, b := l.LineMM[i-1], l.LineMM[i]
		length := r3.Norm(r3.Sub(b, a))
		n := max(1, int(math.Ceil(length/bentMM)))
		if i == l.Held {
			n = 1 // what sticks out behind stays straight
		}
		for k := 1; k <= n; k++ {
			part := float64(k) / float64(n)
			at := r3.Add(a, r3.Scale(part, r3.Sub(b, a)))
			line = append(line, r3.Add(at, s.model.Along(t, along+part*length).Sag.ShiftMM))
		}
		along += length
	}
	return line
}

// tubes returns the tubes in every posture as capsules along their bent middle
// lines, in carrier axes.
func (s *sagging) tubes(set mount.Settings) ([][]tubeShape, error) {
	stands, err := s.stands(set)
	if err != nil {
		return nil, err
	}
	return s.shapes(stands)
}

// shapes returns the tubes of stands, see [sagging.tubes].
func (s *sagging) shapes(stands []*LoadedPose) ([][]tubeShape, error) {
	out := make([][]tubeShape, len(stands))
	for i, stand := range stands {
		if i > 0 && stand == stands[i-1] {
			out[i] = out[i-1]
			continue
		}
		for t, line := range stand.Lines {
			span := &s.chain.Spans[t]
			for k := 1; k < len(line); k++ {
				shape, err := space.Capsule(line[k-1], line[k], span.Section.OutsideMM/2)
				if err != nil {
					return nil, fmt.Errorf("%w: tube of %s: %w", ErrJob, span.Part, err)
				}
				out[i] = append(out[i], tubeShape{part: span.Part, carrier: span.Carrier, shape: shape})
			}
		}
	}
	return out, nil
}

// unloaded returns a chain without what sits on its plate.
func unloaded(chain mount.Chain) mount.Chain {
	screen := len(chain.Joints)
	chain.Masses = slices.DeleteFunc(slices.Clone(chain.Masses), func(m mount.Mass) bool { return m.Carrier == screen })
	return chain
}

// turned returns a sag in other axes.
func turned(s tube.Sag, r frame.Rotation) tube.Sag {
	return tube.Sag{ShiftMM: r.Apply(s.ShiftMM), Turn: r.Apply(s.Turn)}
}

const (
	// settledMM and settledTurn are how far apart the sags of two passes may be for
	// the search to have settled: far below what can be read.
	settledMM   = 0.01
	settledTurn = 0.001 * frame.Degree
)

// settled reports whether two sets of sags put a screen with its middle at a point
// to the same places, within so many times what is settled.
func settled(was, is []frame.Pose, middle r3.Vec, slack float64) bool {
	for i := range is {
		if r3.Norm(r3.Sub(was[i].Apply(middle), is[i].Apply(middle))) > slack*settledMM ||
			was[i].Rot.Inverse().Mul(is[i].Rot).Angle().Radians() > slack*settledTurn.Radians() {
			return false
		}
	}
	return true
}
