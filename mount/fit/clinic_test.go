package fit_test

import (
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// clinic draws jobs over the whole range that a clinic could meet, and somewhat
// beyond: children and tall adults, upright to lying, one eye or two, trackers
// and screens of all sizes, mounts on either side of a chair, a table or a bed.
type clinic struct{ *rand.Rand }

func (c clinic) in(low, high float64) float64 { return low + c.Float64()*(high-low) }
func (c clinic) deg(low, high float64) frame.Angle {
	return frame.Angle(c.in(low, high)) * frame.Degree
}
func (c clinic) chance(p float64) bool { return c.Float64() < p }
func (c clinic) vec(low, high r3.Vec) r3.Vec {
	return r3.Vec{X: c.in(low.X, high.X), Y: c.in(low.Y, high.Y), Z: c.in(low.Z, high.Z)}
}

func (c clinic) head() gaze.Head {
	return gaze.Head{Rotation: c.deg(-30, 30), Flexion: c.deg(-25, 30), LateralFlexion: c.deg(-25, 25)}
}

func (c clinic) job() *fit.Job {
	job := adult()
	p := &job.Scene.Person
	p.PupilSpacingMM = c.in(40, 75)
	p.NeckToEyesMM = c.vec(r3.Vec{X: 50, Y: -5, Z: 40}, r3.Vec{X: 110, Y: 5, Z: 110})
	p.Eyes = gaze.EyesUsed(c.IntN(4))
	p.GazeRange = gaze.GazeRange{Left: c.deg(5, 45), Right: c.deg(5, 45), Up: c.deg(3, 30), Down: c.deg(5, 50)}
	p.MovementMM = c.vec(r3.Vec{}, r3.Vec{X: 60, Y: 80, Z: 50})
	if c.chance(0.5) {
		p.RestGaze = &gaze.GazeDirection{Down: c.deg(-10, 40), Left: c.deg(-20, 20)}
	}
	m := &job.Scene.Measured
	m.SeatTilt, m.BackAngle = c.deg(-5, 50), c.deg(80, 180)
	m.EyesMM = c.vec(r3.Vec{X: -700, Y: -80, Z: 600}, r3.Vec{X: 350, Y: 80, Z: 1400})
	m.Head = c.head()
	job.Scene.Chair = gaze.Chair{TiltPivotMM: c.vec(r3.Vec{Z: 200}, r3.Vec{X: 300, Z: 500}), BackHingeMM: c.vec(r3.Vec{X: -50, Z: 350}, r3.Vec{X: 50, Z: 550})}
	job.Scene.Carrier = gaze.Carrier(c.IntN(2))
	c.device(job)
	c.postures(job)
	job.Preferences.Upright = gaze.Upright(c.IntN(2))
	job.Preferences.FaceMM = c.in(0, 450)
	if c.chance(0.1) {
		job.Preferences.Rates = gaze.Rates{}
	}
	at := &job.Mount.Mountings[0]
	at.ClampMM = c.vec(r3.Vec{X: 100, Y: 180, Z: 300}, r3.Vec{X: 700, Y: 400, Z: 750})
	if c.chance(0.5) {
		at.Side = mount.OnRight
		at.ClampMM.Y *= -1
	}
	if c.chance(0.3) {
		at.SlideHighMM, at.SlideAlong = c.in(20, 200), r3.Vec{X: 1}
	}
	c.load(job)
	if c.chance(0.2) {
		box, err := space.Box(frame.Translate(c.vec(r3.Vec{X: 100, Y: -200, Z: 550}, r3.Vec{X: 500, Y: 200, Z: 800})), r3.Vec{X: 200, Y: 150, Z: 100})
		if err == nil {
			job.KeepClear = []fit.KeepClear{{Name: "lap", By: gaze.Carrier(c.IntN(2)), Shape: box, RequiredMM: c.in(0, 50)}}
		}
	}
	return job
}

// load draws tubes, joints that give and hold, and what is asked of them.
func (c clinic) load(job *fit.Job) {
	grip := func() mount.JointStiffness {
		if c.chance(0.4) {
			return mount.JointStiffness{}
		}
		return mount.JointStiffness{SlipLoad: c.in(5, 150), Compliance: c.in(0, 0.1) * degree}
	}
	for i, p := range job.Mount.Kit.Parts {
		switch p := p.(type) {
		case mount.Tube:
			p.Section.OutsideMM = c.in(18, 30)
			p.Section.WallMM = c.in(1.5, 3)
			p.Slide.Grip, p.Turn.Grip = mount.JointStiffness{SlipLoad: 10 * c.in(2, 40)}, grip()
			if p.Turn == (mount.Range{Grip: p.Turn.Grip}) {
				p.Turn = mount.Range{} // nothing can be set there
			}
			job.Mount.Kit.Parts[i] = p
		case mount.Elbow:
			p.Pan.Grip, p.Elevation.Grip = grip(), grip()
			job.Mount.Kit.Parts[i] = p
		case mount.Turns:
			p.Pan.Grip, p.Tilt.Grip, p.Roll.Grip = grip(), grip(), grip()
			job.Mount.Kit.Parts[i] = p
		}
	}
	if c.chance(0.5) {
		job.Demand = fit.Demand{ShockFactor: c.in(1, 2.5), SafetyFactor: c.in(1, 2)}
	}
}

func (c clinic) device(job *fit.Job) {
	t := &job.Device.Tracker
	t.NearMM = c.in(300, 600)
	t.BestMM = t.NearMM + c.in(20, 200)
	t.FarMM = t.BestMM + c.in(20, 300)
	t.Across, t.UpDown = c.deg(15, 70), c.deg(12, 60)
	t.BelowMM, t.InFrontMM = c.in(-150, 250), c.in(-20, 60)
	t.AimedUp, t.GazeLimit = c.deg(-10, 35), c.deg(15, 60)
	s := &job.Device.Screen
	s.WidthMM, s.HeightMM = c.in(120, 500), c.in(90, 320)
	s.HousingMM = r3.Vec{X: s.WidthMM + 40, Y: s.HeightMM + 60, Z: c.in(10, 80)}
	s.Used, s.MassKG = s.Display(), c.in(0.3, 2.9)
}

func (c clinic) postures(job *fit.Job) {
	first := job.Scene.Measured.AsMeasured("measured")
	first.MustWork = true
	job.Postures = []gaze.Posture{first}
	for range c.IntN(3) {
		p := first
		p.Name, p.MustWork = "changed", c.chance(0.7)
		p.SeatTilt += c.deg(-10, 25)
		p.BackAngle = min(p.BackAngle+c.deg(-10, 30), math.Pi)
		p.SlumpMM = c.in(-10, 60)
		if c.chance(0.3) {
			p.Head = c.head()
		}
		if c.chance(0.2) {
			at := r3.Add(job.Scene.Measured.EyesMM, c.vec(r3.Vec{X: -80, Y: -50, Z: -80}, r3.Vec{X: 80, Y: 50, Z: 30}))
			p.EyesMM = &at
		}
		job.Postures = append(job.Postures, p)
	}
}

// trials returns how many random jobs to try: SIGHTPOST_TRIALS, or 200 if SIGHTPOST_LONG
// is set, or 40.
func trials() int {
	if n, err := strconv.Atoi(os.Getenv("SIGHTPOST_TRIALS")); err == nil && n > 0 {
		return n
	}
	if os.Getenv("SIGHTPOST_LONG") != "" {
		return 200
	}
	return 40
}

// TestClinic solves random jobs: no panic, no number that is none, every setting
// readable and within its limits, every margin confirmed in another way. Each
// mountingSolver has random numbers of its own, so that one can be run again alone.
func TestClinic(t *testing.T) {
	n := trials()
	var reached, works atomic.Int64
	var group sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		group.Go(func() {
			for trial := worker; trial < n; trial += workers {
				job := clinic{rand.New(rand.NewPCG(7, uint64(trial)))}.job()
				r, err := fit.Solve(t.Context(), job)
				if err != nil {
					t.Errorf("trial %d: %v", trial, err)
					continue
				}
				checkSettings(t, trial, r)
				checkMargins(t, trial, job, r)
				checkSag(t, trial, job, r)
				checkAgain(t, trial, job, r)
				if r.Set.Reached {
					reached.Add(1)
				}
				if r.Works {
					works.Add(1)
				}
			}
		})
	}
	group.Wait()
	t.Logf("of %d random jobs %d targets were reached and %d work", n, reached.Load(), works.Load())
	if few := int64(n / 10); n >= 100 && (reached.Load() < few || works.Load() < few) {
		t.Error("too few to show anything")
	}
}

// checkSettings reports settings that nobody could set.
func checkSettings(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	for i, j := range r.Set.Chain.Moving() {
		v := r.Set.Settings[i]
		if !(v >= j.Low-sameMM && v <= j.High+sameMM && math.Abs(j.Round(v)-v) <= sameMM) {
			t.Errorf("trial %d: %s at %v is not a readable setting within %v to %v", trial, j.Name, v, j.Low, j.High)
		}
	}
}

// checkMargins reports margins that another way of computing them does not
// confirm, and a verdict that does not follow from them.
func checkMargins(t *testing.T, trial int, job *fit.Job, r *fit.Result) {
	t.Helper()
	// confirmedMM is by how much the independent margin may differ where it is
	// positive: the arc is searched to about a millionth of its length. Outside,
	// only the sign is defined.
	const confirmedMM = 1e-4
	least := math.Inf(1)
	for i := range r.Postures {
		f := &r.Postures[i]
		want := independentMargin(job, f)
		inside := f.MarginMM > 0 || want > 0
		if !(math.Abs(f.MarginMM-want) <= confirmedMM) && (inside || math.IsNaN(f.MarginMM)) {
			t.Errorf("trial %d, posture %d: margin %.6f, another way %.6f (%v)", trial, i, f.MarginMM, want, f.Limiting())
		}
		if !(f.Share >= 0 && f.Share <= 1) {
			t.Errorf("trial %d, posture %d: share %v", trial, i, f.Share)
		}
		if f.Posture.MustWork {
			least = min(least, f.MarginMM)
		}
	}
	if least != r.MarginMM() {
		t.Errorf("trial %d: margin %v, least of the postures %v", trial, r.MarginMM(), least)
	}
	if r.Works != (len(r.Reasons) == 0) || r.Works && least < 0 {
		t.Errorf("trial %d: works %v with margin %v and reasons %v", trial, r.Works, least, r.Reasons)
	}
}

// checkSag reports a screen that stands elsewhere than where its mount sags to, a
// mount whose failures are not told, and places along its bent tubes that are
// nearer to a space than the gap that is told.
func checkSag(t *testing.T, trial int, job *fit.Job, r *fit.Result) {
	t.Helper()
	sagging := newSagging(job, r)
	for i := range r.Postures {
		f := &r.Postures[i]
		want := sagging.held(r.Set.Settings, &f.Stance)
		if off := want.Inverse().Mul(f.Held); r3.Norm(off.At) > sameMM || off.Rot.Angle() > 1e-8 {
			t.Errorf("trial %d, posture %d: screen %v mm off where it sags to", trial, i, r3.Norm(off.At))
		}
		if chair := r3.Sub(f.Stance.Carrier.Apply(r3.Add(r.Screen.At, f.Stance.Carrier.Rot.ApplyInverse(f.Sag.ShiftMM))), f.Screen.At); r3.Norm(chair) > sameMM {
			t.Errorf("trial %d, posture %d: the sag leads %v mm past the screen", trial, i, r3.Norm(chair))
		}
	}
	if fails := slices.ContainsFunc(r.Reasons, func(why fit.Reason) bool { return why.OfStrength() }); fails && r.Works {
		t.Errorf("trial %d: works in spite of %v", trial, r.Reasons)
	}
	st := &r.Postures[r.Load.Posture].Stance
	for _, g := range r.Clearances {
		shape := g.KeepClear.Shape.Moved(st.Carrier.Inverse().Mul(g.KeepClear.Pose(job.Scene, st.Posture)))
		for _, at := range r.Load.Lines {
			radius := 0.0
			for _, span := range r.Set.Chain.Spans {
				if span.Part == at.Part {
					radius = span.Section.OutsideMM / 2
				}
			}
			const chordMM = 0.2 // between a bent tube and the straight pieces it is taken as
			if mm := space.FromPoint(r3.Add(at.AtMM, at.Sag.ShiftMM), shape).MM - radius; mm < g.MM-chordMM {
				t.Errorf("trial %d: %s is %v mm from %s, told as %v mm", trial, at.Part, mm, g.KeepClear.Name, g.MM)
			}
		}
	}
}

// checkAgain reports a solution that comes out otherwise when its settings are checked.
func checkAgain(t *testing.T, trial int, job *fit.Job, r *fit.Result) {
	t.Helper()
	back, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Errorf("trial %d: Check: %v", trial, err)
		return
	}
	if back.MarginMM() != r.MarginMM() || back.Works != r.Works || len(back.Reasons) != len(r.Reasons) {
		t.Errorf("trial %d: margin %v, works %v; by Check %v, %v", trial, r.MarginMM(), r.Works, back.MarginMM(), back.Works)
	}
}
