package fit_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

func capsule(a, b r3.Vec, radiusMM float64) space.Shape {
	s, err := space.Capsule(a, b, radiusMM)
	if err != nil {
		panic(err)
	}
	return s
}

// surroundings are invented spaces about a seated adult, of about the right sizes.
func surroundings() []fit.Keep {
	tray, err := space.Box(frame.Translate(r3.Vec{X: 330, Z: 700}), r3.Vec{X: 300, Y: 380, Z: 30})
	if err != nil {
		panic(err)
	}
	return []fit.Keep{
		{Name: "face", With: fit.WithHead, Shape: capsule(r3.Vec{X: -60}, r3.Vec{X: -60, Z: -80}, 75), GapMM: 150, Assumed: true},
		{Name: "trunk", With: fit.WithTrunk, Shape: capsule(r3.Vec{X: 60, Z: 600}, r3.Vec{X: 90, Z: 950}, 140), GapMM: 50, Assumed: true},
		{Name: "left thigh", By: gaze.Seat, Shape: capsule(r3.Vec{X: 100, Y: 100, Z: 580}, r3.Vec{X: 480, Y: 110, Z: 600}, 75), GapMM: 30, Assumed: true},
		{Name: "right thigh", By: gaze.Seat, Shape: capsule(r3.Vec{X: 100, Y: -100, Z: 580}, r3.Vec{X: 480, Y: -110, Z: 600}, 75), GapMM: 30, Assumed: true},
		{Name: "joystick", By: gaze.Seat, Shape: capsule(r3.Vec{X: 300, Y: -260, Z: 700}, r3.Vec{X: 300, Y: -260, Z: 780}, 30), GapMM: 40, Assumed: true},
		{Name: "tray", By: gaze.Seat, Shape: tray, GapMM: 20, Assumed: true},
	}
}

// kneeInTheWay returns the adult's job with a space where the device would best be.
func kneeInTheWay() *fit.Job {
	job := adult()
	job.Keep = []fit.Keep{{
		Name: "knee", By: gaze.Seat, GapMM: 30,
		Shape: capsule(r3.Vec{X: 620, Y: -40, Z: 900}, r3.Vec{X: 760, Y: -40, Z: 930}, 80),
	}}
	return job
}

// TestKneeInTheWay: a knee where the device would best be is kept clear, at the cost
// of margin, and that is said with the margin to be had without it.
func TestKneeInTheWay(t *testing.T) {
	job := kneeInTheWay()
	r := solve(t, job)
	free := solve(t, adult())
	if r.Gaps[0].MM < job.Keep[0].GapMM-0.01 {
		t.Errorf("the %s comes within %v mm", r.Gaps[0].Part, r.Gaps[0].MM)
	}
	if len(r.InTheWay) != 1 {
		t.Fatalf("in the way: %+v", r.InTheWay)
	}
	o := r.InTheWay[0]
	if o.Keep.Name != "knee" || o.ShortMM < 5 || o.MarginMM != free.MarginMM() || !o.Works || r.MarginMM() > free.MarginMM() {
		t.Errorf("%+v; margin %v, without the knee %v", o, r.MarginMM(), free.MarginMM())
	}
	// taken out of the way as said, it costs nothing; a little less does cost
	for _, short := range []float64{0, 5} {
		away := kneeInTheWay()
		to := map[fit.Way]r3.Vec{
			fit.Lower: {Z: -1}, fit.FurtherBack: {X: -1}, fit.FurtherForward: {X: 1},
			fit.FurtherLeft: {Y: 1}, fit.FurtherRight: {Y: -1}, fit.Higher: {Z: 1},
		}[o.Out]
		away.Keep[0].Shape = away.Keep[0].Shape.Moved(frame.Translate(r3.Scale(o.OutMM-short, to)))
		moved := solve(t, away)
		if out := len(moved.InTheWay) == 0; out != (short == 0) || out && moved.MarginMM() != free.MarginMM() {
			t.Errorf("%.0f mm %v less %v mm: margin %v, in the way %+v", o.OutMM, o.Out, short, moved.MarginMM(), moved.InTheWay)
		}
	}
	if len(free.InTheWay) != 0 {
		t.Errorf("nothing to keep clear, but in the way: %+v", free.InTheWay)
	}
}

// TestFarSpacesChangeNothing: what is far from everything is watched by nobody.
func TestFarSpacesChangeNothing(t *testing.T) {
	job := tilted()
	job.Keep = []fit.Keep{{Name: "wall", By: gaze.Base, Shape: capsule(r3.Vec{X: 3000}, r3.Vec{X: 3000, Z: 1000}, 10), GapMM: 50}}
	r, free := solve(t, job), solve(t, tilted())
	if r.MarginMM() != free.MarginMM() || len(r.InTheWay) != 0 || r.Gaps[0].MM < 1000 {
		t.Errorf("margin %v, without the wall %v; gaps %+v, in the way %+v", r.MarginMM(), free.MarginMM(), r.Gaps, r.InTheWay)
	}
}

// TestGapsAreOfTheSaggedMount puts a space just below the arm's end: the gap is less
// by the sag there.
func TestGapsAreOfTheSaggedMount(t *testing.T) {
	job := gripped(2.8, 0)
	s := stretched(t, job)
	r := checked(t, job, s)
	links, err := r.Set.Chain.Links(s)
	if err != nil {
		t.Fatal(err)
	}
	arm := links[len(links)-1].LineMM
	end := r3.Add(r3.Scale(0.7, arm[0]), r3.Scale(0.3, arm[len(arm)-1]))
	job.Keep = []fit.Keep{{Name: "below", By: gaze.Seat, Shape: capsule(r3.Add(end, r3.Vec{Z: -300}), r3.Add(end, r3.Vec{Z: -60}), 10)}}
	sagging := checked(t, job, s).Gaps[0]
	rigid := checked(t, stiff(job), s).Gaps[0].MM
	if sank := -r.Postures[0].Sag.ShiftMM.Z; sagging.Part != "arm" || sagging.MM > rigid-0.1*sank || sagging.MM < rigid-sank || sank < 1 {
		t.Errorf("the %s is %v mm away, stiff %v mm; the screen sinks by %v mm", sagging.Part, sagging.MM, rigid, sank)
	}
}

func BenchmarkSolveCrowded(b *testing.B) {
	for name, job := range map[string]*fit.Job{"two postures, six spaces": tilted(), "knee": kneeInTheWay()} {
		if job.Keep == nil {
			job.Keep = surroundings()
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := fit.Solve(job); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestBestCompromise: a space about the clamp cannot be kept clear, which is no
// reason to come too near to another.
func TestBestCompromise(t *testing.T) {
	job := kneeInTheWay()
	at := job.Mount.Mountings[0].ClampMM
	job.Keep = append(job.Keep, fit.Keep{Name: "wheel", By: gaze.Seat, GapMM: 10, Shape: capsule(r3.Add(at, r3.Vec{Z: -200}), r3.Add(at, r3.Vec{Z: 60}), 20)})
	r := solve(t, job)
	if r.Works || len(r.Why) != 1 || r.Gaps[1].MM > 0 {
		t.Errorf("works %v: %q; gaps %+v", r.Works, r.Why, r.Gaps)
	}
	if r.Gaps[0].MM < job.Keep[0].GapMM-0.01 {
		t.Errorf("the %s comes within %v mm of the knee", r.Gaps[0].Part, r.Gaps[0].MM)
	}
	names := map[string]bool{}
	for _, o := range r.InTheWay {
		names[o.Keep.Name] = true
	}
	if !names["wheel"] || !names["knee"] {
		t.Errorf("in the way: %+v", r.InTheWay)
	}
}
