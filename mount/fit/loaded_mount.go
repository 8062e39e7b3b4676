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

// LoadedMount is a mount under the weight of its parts and of what it carries, in every
// posture of a job. It holds buffers: one serves one goroutine.
type LoadedMount struct {
	chain    mount.Chain // with all that it carries
	compiled *mount.Compiled
	model    *tube.Model
	unloaded *tubeGeometry
	gravity  []r3.Vec         // of every posture, m/s², carrier axes
	carriers []frame.Rotation // chairFromCarrier of every posture
}

// NewLoadedMount prepares a chain of the job's kit, with the device on it or taken off.
// The error wraps [ErrJob].
func NewLoadedMount(job *Job, chain mount.Chain, deviceOn bool) (*LoadedMount, error) {
	b, err := newProblem(job, false)
	if err != nil {
		return nil, err
	}
	if deviceOn {
		return b.withDevice(chain)
	}
	screen := len(chain.Joints)
	chain.Masses = slices.DeleteFunc(slices.Clone(chain.Masses), func(m mount.Mass) bool { return m.Carrier == screen })
	return newLoadedMount(b.postures, chain)
}

// withDevice prepares a chain of the job's kit with the device on it.
func (b *problem) withDevice(chain mount.Chain) (*LoadedMount, error) {
	return newLoadedMount(b.postures, withDevice(chain, b.job.Device))
}

// newLoadedMount prepares a chain with the masses that it has.
func newLoadedMount(postures []gaze.PostureInCarrier, chain mount.Chain) (*LoadedMount, error) {
	s := &LoadedMount{chain: chain}
	var err error
	if s.model, err = tube.NewModel(s.chain); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	if s.compiled, err = s.chain.Compile(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	if s.unloaded, err = newTubeGeometry(chain); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	for i := range postures {
		down := postures[i].Carrier.Rot.ApplyInverse(r3.Vec{Z: -1}) // carrier axes
		s.gravity = append(s.gravity, r3.Scale(gravity, down))
		s.carriers = append(s.carriers, postures[i].Carrier.Rot)
	}
	return s, nil
}

// withDevice returns a chain with the device among its masses. A plate without a mass of
// its own holds the device's at the middle of the housing.
func withDevice(chain mount.Chain, d gaze.Device) mount.Chain {
	screen := len(chain.Joints)
	atScreen := func(m mount.Mass) bool { return m.Carrier == screen }
	if d.Screen.MassKG > 0 && !slices.ContainsFunc(chain.Masses, atScreen) {
		middle, _ := d.Screen.Housing()
		chain.Masses = append(slices.Clone(chain.Masses), mount.Mass{Part: "device", Carrier: screen, AtMM: middle, KG: d.Screen.MassKG})
	}
	return chain
}

// under returns the motion of the screen with the mount at settings set under
// gravity (m/s²), carrier axes.
func (s *LoadedMount) under(set mount.Settings, gravity r3.Vec) (tube.Sag, frame.Pose, error) {
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
// moment of 20 N·m bends a tube of 25 mm by 0.03 mm over it.
const bentMM = 100

// LoadedPoses is a loaded mount in every posture; nil without a mount.
type LoadedPoses []*LoadedPose

// motions returns how the load moves the screen in every posture.
func (p LoadedPoses) motions() (out []frame.Pose) {
	for _, pose := range p {
		out = append(out, pose.Motion)
	}
	return out
}

// tubes returns the tubes in a posture.
func (p LoadedPoses) tubes(posture int) []TubePiece {
	if p == nil {
		return nil
	}
	return p[posture].Tubes
}

// Poses returns where the loaded mount is in every posture with the mount at settings set;
// where gravity acts alike, the same value.
func (s *LoadedMount) Poses(set mount.Settings) (LoadedPoses, error) {
	frames, err := s.chain.Frames(set)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	links := s.chain.LinksAt(set, frames)
	out := make(LoadedPoses, len(s.gravity))
	for i, g := range s.gravity {
		if i > 0 && g == s.gravity[i-1] {
			out[i] = out[i-1]
			continue
		}
		p := &LoadedPose{}
		if p.sag, p.Motion, err = s.under(set, g); err != nil {
			return nil, err
		}
		p.Joints, p.Lines = s.model.Frames(nil), s.bentLines(links)
		if p.Tubes, err = s.pieces(nil, p.Lines); err != nil {
			return nil, err
		}
		out[i] = p
	}
	return out, nil
}

// bentLines returns the middle lines of all tubes as the model has them loaded.
func (s *LoadedMount) bentLines(links []mount.Link) [][]r3.Vec {
	out := make([][]r3.Vec, len(links))
	for t := range links {
		out[t] = s.bent(t, &links[t])
	}
	return out
}

// bent returns the middle line of a tube as the model has it loaded, cut into straight
// pieces. That of the link is where it is without load.
func (s *LoadedMount) bent(t int, l *mount.Link) []r3.Vec {
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

// pieces appends to out the tubes as capsules along their middle lines.
func (s *LoadedMount) pieces(out []TubePiece, lines [][]r3.Vec) ([]TubePiece, error) {
	n := 0
	for _, line := range lines {
		n += len(line) - 1
	}
	out = slices.Grow(out, n)
	for t, line := range lines {
		span := &s.chain.Spans[t]
		for k := 1; k < len(line); k++ {
			shape, err := space.Capsule(line[k-1], line[k], span.Section.OutsideMM/2)
			if err != nil {
				return nil, fmt.Errorf("%w: tube of %s: %w", ErrJob, span.Part, err)
			}
			out = append(out, TubePiece{Part: span.Part, Carrier: span.Carrier, Shape: shape})
		}
	}
	return out, nil
}

// Drive returns what the load does to a setting that is freed in a posture: the force
// along it (N) or the moment about it (N·m), positive toward higher values; see
// [tube.Model.Drive].
func (s *LoadedMount) Drive(set mount.Settings, setting, posture int) (float64, error) {
	if _, _, err := s.under(set, s.gravity[posture]); err != nil {
		return 0, err
	}
	return s.model.Drive(s.chain.MovingPlaces()[setting]), nil
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

// Attitude returns how the plate is turned in the leading posture, with the device on it.
func (r *Result) Attitude() mount.Attitude {
	return mount.AttitudeOf(r.Postures[max(r.Job.Leading(), 0)].Screen.Rot)
}

// mostTurns bounds how often the sag is computed until it is that of the settings found.
const mostTurns = 50

// TurnPlate returns settings with those of the last ball such that the plate, under the
// load, is turned by an attitude in a posture. The error is that of [mount.Chain.TurnBall],
// or wraps [ErrJob].
func (s *LoadedMount) TurnPlate(set mount.Settings, to mount.Attitude, posture int) (mount.Settings, error) {
	const settled = 1e-11 // radians
	loaded := s.carriers[posture].Inverse().Mul(to.Matrix())
	unloaded := loaded
	ball, err := s.chain.BallAt(set)
	if err != nil {
		return nil, err
	}
	for range mostTurns {
		next, err := ball.Turn(set, unloaded) // that it cannot may be what the load does
		_, sag, failed := s.under(next, s.gravity[posture])
		if failed != nil {
			return nil, failed
		}
		set = next
		was := unloaded
		unloaded = sag.Rot.Inverse().Mul(loaded)
		if was.Inverse().Mul(unloaded).Angle() < settled {
			return readableBall(s.chain, set), err
		}
	}
	return nil, fmt.Errorf("%w: the plate sags too much to be turned as it should", ErrJob)
}

// readableBall returns settings with those of the last ball at a readable value where they
// miss one by no more than rounding.
func readableBall(c mount.Chain, s mount.Settings) mount.Settings {
	const rounding = 1e-6 * frame.Degree
	first, places := c.LastBall(), c.MovingPlaces()
	for i := first; i < first+3; i++ {
		if v := c.Joints[places[i]].Round(s[i]); frame.Angle(v-s[i]) < rounding && frame.Angle(s[i]-v) < rounding {
			s[i] = v
		}
	}
	return s
}
