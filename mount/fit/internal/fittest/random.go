package fittest

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// Clinic draws jobs over the whole range that a clinic could meet, and somewhat
// beyond: children and tall adults, upright to lying, one eye or two, trackers
// and screens of all sizes, mounts on either side of a chair, a table or a bed.
type Clinic struct{ *rand.Rand }

// NewClinic returns a clinic with random numbers of its own for each trial of a test.
func NewClinic(test, trial uint64) Clinic { return Clinic{rand.New(rand.NewPCG(test, trial))} }

// In returns a number from low to high.
func (c Clinic) In(low, high float64) float64 { return low + c.Float64()*(high-low) }

// Deg returns an angle from low to high degrees.
func (c Clinic) Deg(low, high float64) frame.Angle {
	return frame.Angle(c.In(low, high)) * frame.Degree
}

// Chance returns true with probability p.
func (c Clinic) Chance(p float64) bool { return c.Float64() < p }

// Vec returns a vector with coordinates from low to high.
func (c Clinic) Vec(low, high r3.Vec) r3.Vec {
	return r3.Vec{X: c.In(low.X, high.X), Y: c.In(low.Y, high.Y), Z: c.In(low.Z, high.Z)}
}

// Head returns the angles of a head.
func (c Clinic) Head() gaze.Head {
	return gaze.Head{Rotation: c.Deg(-30, 30), Flexion: c.Deg(-25, 30), LateralFlexion: c.Deg(-25, 25)}
}

// Job returns a random job.
func (c Clinic) Job() *fit.Job {
	job := Adult()
	p := &job.Scene.Person
	p.PupilSpacingMM = c.In(40, 75)
	p.NeckToEyesMM = c.Vec(r3.Vec{X: 50, Y: -5, Z: 40}, r3.Vec{X: 110, Y: 5, Z: 110})
	p.Eyes = gaze.EyesUsed(c.IntN(4))
	p.GazeRange = gaze.GazeRange{Left: c.Deg(5, 45), Right: c.Deg(5, 45), Up: c.Deg(3, 30), Down: c.Deg(5, 50)}
	p.MovementMM = c.Vec(r3.Vec{}, r3.Vec{X: 60, Y: 80, Z: 50})
	if c.Chance(0.5) {
		p.RestGaze = &gaze.GazeDirection{Down: c.Deg(-10, 40), Left: c.Deg(-20, 20)}
	}
	m := &job.Scene.Measured
	m.SeatTilt, m.BackAngle = c.Deg(-5, 50), c.Deg(80, 180)
	m.EyesMM = c.Vec(r3.Vec{X: -700, Y: -80, Z: 600}, r3.Vec{X: 350, Y: 80, Z: 1400})
	m.Head = c.Head()
	job.Scene.Chair = gaze.Chair{TiltPivotMM: c.Vec(r3.Vec{Z: 200}, r3.Vec{X: 300, Z: 500}), BackHingeMM: c.Vec(r3.Vec{X: -50, Z: 350}, r3.Vec{X: 50, Z: 550})}
	job.Scene.Carrier = gaze.Carrier(c.IntN(2))
	c.device(job)
	c.postures(job)
	job.Preferences.Upright = gaze.Upright(c.IntN(2))
	job.Preferences.FaceMM = c.In(0, 450)
	if c.Chance(0.1) {
		job.Preferences.Rates = gaze.Rates{}
	}
	at := &job.Mount.Mountings[0]
	at.ClampMM = c.Vec(r3.Vec{X: 100, Y: 180, Z: 300}, r3.Vec{X: 700, Y: 400, Z: 750})
	if c.Chance(0.5) {
		at.Side = mount.OnRight
		at.ClampMM.Y *= -1
	}
	if c.Chance(0.3) {
		at.SlideHighMM, at.SlideAlong = c.In(20, 200), r3.Vec{X: 1}
	}
	c.load(job)
	if c.Chance(0.2) {
		box, err := space.Box(frame.Translate(c.Vec(r3.Vec{X: 100, Y: -200, Z: 550}, r3.Vec{X: 500, Y: 200, Z: 800})), r3.Vec{X: 200, Y: 150, Z: 100})
		if err == nil {
			job.KeepClear = []fit.KeepClear{{Name: "lap", By: gaze.Carrier(c.IntN(2)), Shape: box, RequiredMM: c.In(0, 50)}}
		}
	}
	return job
}

// load draws tubes, joints that give and hold, and what is asked of them.
func (c Clinic) load(job *fit.Job) {
	grip := func() mount.JointStiffness {
		if c.Chance(0.4) {
			return mount.JointStiffness{}
		}
		return mount.JointStiffness{SlipLoad: c.In(5, 150), Compliance: c.In(0, 0.1) * Degree}
	}
	for i, p := range job.Mount.Kit.Parts {
		switch p := p.(type) {
		case mount.Tube:
			p.Section.OutsideMM = c.In(18, 30)
			p.Section.WallMM = c.In(1.5, 3)
			p.Slide.Stiffness, p.Turn.Stiffness = mount.JointStiffness{SlipLoad: 10 * c.In(2, 40)}, grip()
			if p.Turn == (mount.Range{Stiffness: p.Turn.Stiffness}) {
				p.Turn = mount.Range{} // nothing can be set there
			}
			job.Mount.Kit.Parts[i] = p
		case mount.Elbow:
			p.Pan.Stiffness, p.Elevation.Stiffness = grip(), grip()
			job.Mount.Kit.Parts[i] = p
		case mount.Turns:
			p.Pan.Stiffness, p.Tilt.Stiffness, p.Roll.Stiffness = grip(), grip(), grip()
			job.Mount.Kit.Parts[i] = p
		}
	}
	if c.Chance(0.5) {
		job.Demand = fit.Demand{ShockFactor: c.In(1, 2.5), SafetyFactor: c.In(1, 2)}
	}
}

func (c Clinic) device(job *fit.Job) {
	t := &job.Device.Tracker
	t.NearMM = c.In(300, 600)
	t.BestMM = t.NearMM + c.In(20, 200)
	t.FarMM = t.BestMM + c.In(20, 300)
	t.Across, t.UpDown = c.Deg(15, 70), c.Deg(12, 60)
	t.BelowMM, t.InFrontMM = c.In(-150, 250), c.In(-20, 60)
	t.AimedUp, t.GazeLimit = c.Deg(-10, 35), c.Deg(15, 60)
	s := &job.Device.Screen
	s.WidthMM, s.HeightMM = c.In(120, 500), c.In(90, 320)
	s.HousingMM = r3.Vec{X: s.WidthMM + 40, Y: s.HeightMM + 60, Z: c.In(10, 80)}
	s.Used, s.MassKG = s.Display(), c.In(0.3, 2.9)
}

func (c Clinic) postures(job *fit.Job) {
	first := job.Scene.Measured.AsMeasured("measured")
	first.MustWork = true
	job.Postures = []gaze.Posture{first}
	for range c.IntN(3) {
		p := first
		p.Name, p.MustWork = "changed", c.Chance(0.7)
		p.SeatTilt += c.Deg(-10, 25)
		p.BackAngle = min(p.BackAngle+c.Deg(-10, 30), math.Pi)
		p.SlumpMM = c.In(-10, 60)
		if c.Chance(0.3) {
			p.Head = c.Head()
		}
		if c.Chance(0.2) {
			at := r3.Add(job.Scene.Measured.EyesMM, c.Vec(r3.Vec{X: -80, Y: -50, Z: -80}, r3.Vec{X: 80, Y: 50, Z: 30}))
			p.EyesMM, p.HeadPlumb = &at, true
		}
		job.Postures = append(job.Postures, p)
	}
}
