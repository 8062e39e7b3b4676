package fit_test

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
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
func surroundings() []fit.KeepClear {
	tray, err := space.Box(frame.Translate(r3.Vec{X: 330, Z: 700}), r3.Vec{X: 300, Y: 380, Z: 30})
	if err != nil {
		panic(err)
	}
	return []fit.KeepClear{
		{Name: "face", With: fit.WithHead, Shape: capsule(r3.Vec{X: -60}, r3.Vec{X: -60, Z: -80}, 75), RequiredMM: 150, Assumed: true},
		{Name: "trunk", With: fit.WithTrunk, Shape: capsule(r3.Vec{X: 60, Z: 600}, r3.Vec{X: 90, Z: 950}, 140), RequiredMM: 50, Assumed: true},
		{Name: "left thigh", By: gaze.Seat, Shape: capsule(r3.Vec{X: 100, Y: 100, Z: 580}, r3.Vec{X: 480, Y: 110, Z: 600}, 75), RequiredMM: 30, Assumed: true},
		{Name: "right thigh", By: gaze.Seat, Shape: capsule(r3.Vec{X: 100, Y: -100, Z: 580}, r3.Vec{X: 480, Y: -110, Z: 600}, 75), RequiredMM: 30, Assumed: true},
		{Name: "joystick", By: gaze.Seat, Shape: capsule(r3.Vec{X: 300, Y: -260, Z: 700}, r3.Vec{X: 300, Y: -260, Z: 780}, 30), RequiredMM: 40, Assumed: true},
		{Name: "tray", By: gaze.Seat, Shape: tray, RequiredMM: 20, Assumed: true},
	}
}

// TestNothingInTheWayOfNothing: a knee is not in the way of a margin that is not to be had
// without the knee either.
func TestNothingInTheWayOfNothing(t *testing.T) {
	job := kneeInTheWay()
	job.Preferences.MarginMM = 500
	if r := advised(t, solve(t, job)); r.Works || len(r.InTheWay) > 0 {
		t.Errorf("works %v, in the way %+v", r.Works, r.InTheWay)
	}
}

// TestKneeInTheWay: a knee where the device would best be is kept clear, at the cost
// of margin, and that is said with the margin to be had without it.
func TestKneeInTheWay(t *testing.T) {
	job := kneeInTheWay()
	r := advised(t, solve(t, job))
	free := advised(t, solve(t, adult()))
	if r.Clearances[0].MM < job.KeepClear[0].RequiredMM-0.01 {
		t.Errorf("the %s comes within %v mm", r.Clearances[0].Part, r.Clearances[0].MM)
	}
	if len(r.InTheWay) != 1 {
		t.Fatalf("in the way: %+v", r.InTheWay)
	}
	o := r.InTheWay[0]
	if o.KeepClear.Name != "knee" || o.ShortMM < 5 || o.MarginMM != free.MarginMM() || !o.Works || r.MarginMM() > free.MarginMM() {
		t.Errorf("%+v; margin %v, without the knee %v", o, r.MarginMM(), free.MarginMM())
	}
	// taken out of the way as said, it changes nothing; a little less, and it does
	for _, short := range []float64{0, 5} {
		away := kneeInTheWay()
		to := map[fit.Way]r3.Vec{
			fit.Lower: {Z: -1}, fit.FurtherBack: {X: -1}, fit.FurtherForward: {X: 1},
			fit.FurtherLeft: {Y: 1}, fit.FurtherRight: {Y: -1}, fit.Higher: {Z: 1},
		}[o.Out]
		away.KeepClear[0].Shape = away.KeepClear[0].Shape.Moved(frame.Translate(r3.Scale(o.OutMM-short, to)))
		moved := advised(t, solve(t, away))
		if same := slices.Equal(moved.Set.Settings, free.Set.Settings); same != (short == 0) || same && len(moved.InTheWay) > 0 {
			t.Errorf("%.0f mm %v less %v mm: set to %v, without the knee %v; in the way %+v", o.OutMM, o.Out, short, moved.Set.Settings, free.Set.Settings, moved.InTheWay)
		}
	}
	if len(free.InTheWay) != 0 {
		t.Errorf("nothing to keep clear, but in the way: %+v", free.InTheWay)
	}
}

// TestFarSpacesChangeNothing: what is far from everything is watched by nobody.
func TestFarSpacesChangeNothing(t *testing.T) {
	job := tilted()
	job.KeepClear = []fit.KeepClear{{Name: "wall", By: gaze.Base, Shape: capsule(r3.Vec{X: 3000}, r3.Vec{X: 3000, Z: 1000}, 10), RequiredMM: 50}}
	r, free := advised(t, solve(t, job)), solve(t, tilted())
	if r.MarginMM() != free.MarginMM() || len(r.InTheWay) != 0 || r.Clearances[0].MM < 1000 {
		t.Errorf("margin %v, without the wall %v; gaps %+v, in the way %+v", r.MarginMM(), free.MarginMM(), r.Clearances, r.InTheWay)
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
	job.KeepClear = []fit.KeepClear{{Name: "below", By: gaze.Seat, Shape: capsule(r3.Add(end, r3.Vec{Z: -300}), r3.Add(end, r3.Vec{Z: -60}), 10)}}
	sagging := checked(t, job, s).Clearances[0]
	rigid := checked(t, stiff(job), s).Clearances[0].MM
	if sank := -r.Postures[0].Sag.ShiftMM.Z; sagging.Part != "arm" || sagging.MM > rigid-0.1*sank || sagging.MM < rigid-sank || sank < 1 {
		t.Errorf("the %s is %v mm away, stiff %v mm; the screen sinks by %v mm", sagging.Part, sagging.MM, rigid, sank)
	}
}

func BenchmarkSolveCrowded(b *testing.B) {
	for name, job := range map[string]*fit.Job{"two postures, six spaces": tilted(), "knee": kneeInTheWay()} {
		if job.KeepClear == nil {
			job.KeepClear = surroundings()
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := fit.Solve(b.Context(), job); err != nil {
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
	job.KeepClear = append(job.KeepClear, fit.KeepClear{Name: "wheel", By: gaze.Seat, RequiredMM: 10, Shape: capsule(r3.Add(at, r3.Vec{Z: -200}), r3.Add(at, r3.Vec{Z: 60}), 20)})
	r := advised(t, solve(t, job))
	if r.Works || len(r.Reasons) != 1 || r.Clearances[1].MM > 0 {
		t.Errorf("works %v: %+v; gaps %+v", r.Works, r.Reasons, r.Clearances)
	}
	if r.Clearances[0].MM < job.KeepClear[0].RequiredMM-0.01 {
		t.Errorf("the %s comes within %v mm of the knee", r.Clearances[0].Part, r.Clearances[0].MM)
	}
	names := map[string]bool{}
	for _, o := range r.InTheWay {
		names[o.KeepClear.Name] = true
	}
	if !names["wheel"] || !names["knee"] {
		t.Errorf("in the way: %+v", r.InTheWay)
	}
}

// TestOutOfReachAndInTheWay: a post that stands in a space is told of even where the
// target is out of reach.
func TestOutOfReachAndInTheWay(t *testing.T) {
	job := shortPost()
	at := job.Mount.Mountings[0].ClampMM
	job.KeepClear = []fit.KeepClear{{Name: "wheel", By: gaze.Seat, RequiredMM: 10, Shape: capsule(r3.Add(at, r3.Vec{Z: -200}), r3.Add(at, r3.Vec{Z: 60}), 20)}}
	r := advised(t, solve(t, job))
	if r.Set.Reached || !r.Clearances[0].TooClose() {
		t.Fatalf("reached %v, gaps %+v", r.Set.Reached, r.Clearances)
	}
	if len(r.InTheWay) != 1 || r.InTheWay[0].Part != "post" {
		t.Errorf("in the way: %+v", r.InTheWay)
	}
}

// TestOnlyWhatCostsIsInTheWay: of two spaces in the same place neither gives anything
// up alone, so neither is told of; the one that can be done without is, for all of the
// margin that it costs.
func TestOnlyWhatCostsIsInTheWay(t *testing.T) {
	job := kneeInTheWay()
	within := job.KeepClear[0]
	within.Name, within.RequiredMM = "within", 20
	job.KeepClear = append(job.KeepClear, within)
	r := advised(t, solve(t, job))
	if !r.Works || len(r.InTheWay) != 1 || r.InTheWay[0].KeepClear.Name != "knee" || r.InTheWay[0].MarginMM < r.MarginMM()+0.1 {
		t.Errorf("works %v, margin %v, in the way: %+v", r.Works, r.MarginMM(), r.InTheWay)
	}
	job.KeepClear[1].RequiredMM = job.KeepClear[0].RequiredMM
	if r := advised(t, solve(t, job)); !r.Works || len(r.InTheWay) != 0 {
		t.Errorf("works %v, margin %v, in the way: %+v", r.Works, r.MarginMM(), r.InTheWay)
	}
}

// TestEqualSpacesAreTwo: of two spaces that are alike in everything, each is one of its
// own.
func TestEqualSpacesAreTwo(t *testing.T) {
	job := kneeInTheWay()
	job.KeepClear = append(job.KeepClear, job.KeepClear[0])
	// both are in the way of the post where it is clamped
	at := job.Mount.Mountings[0].ClampMM
	for i := range job.KeepClear {
		job.KeepClear[i].Shape = capsule(r3.Add(at, r3.Vec{Z: -200}), r3.Add(at, r3.Vec{Z: 60}), 20)
	}
	r := advised(t, solve(t, job))
	if len(r.InTheWay) != 2 {
		t.Fatalf("in the way: %+v", r.InTheWay)
	}
	for _, o := range r.InTheWay {
		if o.Works {
			t.Errorf("without one of two, all works: %+v", o)
		}
	}
}

// TestPlaceThatWorksIsChosen: of two places of the clamp the one at which the joints
// hold is chosen though the other is less costly to set; where they hold at neither, the
// less costly, and what would help is said.
func TestPlaceThatWorksIsChosen(t *testing.T) {
	const costly, cheap = 0, 1
	for _, tt := range []struct {
		holdsNM float64 // 0: nobody knows
		chosen  int
		works   bool
	}{{0, cheap, true}, {3.0, costly, true}, {1, cheap, false}} {
		job := adult()
		elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
		elbow.Elevation.Stiffness.SlipLoad = tt.holdsNM
		job.Mount.Kit.Parts[2] = elbow
		outward := job.Mount.Mountings[0]
		outward.ClampMM = r3.Add(outward.ClampMM, r3.Vec{X: 50, Y: 120})
		job.Mount.Mountings = append(job.Mount.Mountings, outward)
		r := advised(t, solve(t, job))
		if r.Set.Mounting != tt.chosen || r.Works != tt.works {
			t.Errorf("holds %v N m: place %d, works %v (%+v); want place %d, %v", tt.holdsNM, r.Set.Mounting, r.Works, r.Reasons, tt.chosen, tt.works)
		}
		for _, why := range r.Reasons {
			if why.OfStrength() && len(why.Remedies) == 0 {
				t.Errorf("no remedy for %+v", why)
			}
		}
	}
}
