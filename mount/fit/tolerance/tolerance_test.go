package tolerance_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/tolerance"
	"sightpost/testdata/trials"
)

func TestMain(m *testing.M) { trials.Main(m) }

func tolerances(t *testing.T, r *fit.Result) []tolerance.Tolerance {
	t.Helper()
	list, err := tolerance.Of(context.Background(), r)
	if err != nil {
		t.Fatalf("Tolerances: %v", err)
	}
	if len(list) != len(r.Set.Settings) {
		t.Fatalf("%d tolerances of %d settings", len(list), len(r.Set.Settings))
	}
	return list
}

// marginWith returns the margin that Check reports with setting i at v.
func marginWith(t *testing.T, r *fit.Result, i int, v float64) float64 {
	t.Helper()
	job := r.Job
	s := slices.Clone(r.Set.Settings)
	s[i] = v
	c, err := fit.Check(t.Context(), job, r.Set.Mounting, s)
	if err != nil {
		t.Fatalf("Check with setting %d at %v: %v", i, v, err)
	}
	return c.MarginMM()
}

// ended says what ends a range by losing the tracker.
func ended(b tolerance.Bound) string {
	if b.Limit {
		return "limit"
	}
	return b.Condition.String()
}

func ExampleOf() {
	job := adult() // invented
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := tolerance.Of(context.Background(), r)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range list {
		if t.Joint.Name == "post.height" || t.Joint.Name == "joint.tilt" {
			fmt.Println(t.Joint.Name, t.Joint.Format(t.Set))
			for _, e := range []tolerance.End{t.Low, t.High} {
				fmt.Printf("  to %s: %s\n", t.Joint.Format(e.Readable), ended(e.Bound))
			}
		}
	}
	// Output:
	// post.height 405 mm
	//   to 340 mm: limit
	//   to 510 mm: left eye leaves the tracking volume at the bottom
	// joint.tilt 15°
	//   to 1°: right eye leaves the tracking volume at the top
	//   to 23°: left eye leaves the tracking volume at the bottom
}

// worksWith reports whether Check finds nothing wrong with setting i at v, and what.
func worksWith(t *testing.T, r *fit.Result, i int, v float64) (bool, []fit.Reason) {
	t.Helper()
	job := r.Job
	s := slices.Clone(r.Set.Settings)
	s[i] = v
	c, err := fit.Check(t.Context(), job, r.Set.Mounting, s)
	if err != nil {
		t.Fatalf("Check with setting %d at %v: %v", i, v, err)
	}
	return c.Works, c.Reasons
}

// TestToleranceEnds: a mount works wherever Check looks within a tolerance, and at its
// readable ends; just beyond it does not, and something ends as wanted.
func TestToleranceEnds(t *testing.T) {
	for _, tt := range []struct {
		name string
		job  func() *fit.Job
		want fit.ReasonKind
		why  fit.ReasonKind // of what Check finds beyond
	}{
		{"tracking", adult, fit.NotTracking, fit.NotTracking},
		{"a slide to no mark", func() *fit.Job { return sliding(adult(), 18) }, fit.NotTracking, fit.NotTracking},
		{"two postures", tilted, fit.NotTracking, fit.NotTracking},
		{"a preferred range", adult, fit.OutOfRange, fit.OutOfRange},
		{"a margin wished for", func() *fit.Job { return wishing(adult(), fit.Preferences{MarginMM: 30}) }, fit.MarginShort, fit.MarginShort},
		{"the face", func() *fit.Job { return wishing(adult(), fit.Preferences{FaceMM: 570}) }, fit.FaceTooClose, fit.FaceTooClose},
		{"spaces", kneeInTheWay, fit.TooClose, fit.TooClose},
		{"the floor", func() *fit.Job { return hanging(adult(), 1080) }, fit.NearFloor, fit.NearFloor},
		{"a joint", func() *fit.Job { return hardlyHeld(adult()) }, fit.JointSlips, fit.JointSlips},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := tt.job()
			r := solve(t, job)
			if !r.Works {
				t.Fatalf("it does not work: %+v", r.Reasons)
			}
			said := endsWithCheck(t, r, tt.want)
			if !slices.ContainsFunc(said, func(why fit.Reason) bool { return why.Kind == tt.why }) {
				t.Errorf("beyond the ends of kind %d Check finds %+v, want kind %d", tt.want, said, tt.why)
			}
		})
	}
}

// wishing returns a job with other wishes of distance and margin, 0 being as they are.
func wishing(job *fit.Job, w fit.Preferences) *fit.Job {
	job.Preferences.MarginMM = max(job.Preferences.MarginMM, w.MarginMM)
	job.Preferences.FaceMM = max(job.Preferences.FaceMM, w.FaceMM)
	return job
}

// sliding returns a job whose clamp slides so far.
func sliding(job *fit.Job, highMM float64) *fit.Job {
	job.Mount.Mountings[0].SlideHighMM, job.Mount.Mountings[0].SlideAlong.X = highMM, 1
	return job
}

// hanging returns a job with a post of a given length.
func hanging(job *fit.Job, totalMM float64) *fit.Job {
	post := job.Mount.Kit.Parts[1].(mount.Tube)
	post.TotalMM = totalMM
	job.Mount.Kit.Parts[1] = post
	return job
}

// hardlyHeld returns a job with an elbow that holds hardly more than acts on it.
func hardlyHeld(job *fit.Job) *fit.Job {
	elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
	elbow.Elevation.Stiffness.SlipLoad = 1000
	job.Mount.Kit.Parts[2] = elbow
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		panic(err)
	}
	for _, j := range r.Load.Joints {
		if j.Name == "elbow.elevation" {
			elbow.Elevation.Stiffness.SlipLoad = 1.02 * j.Load
		}
	}
	job.Mount.Kit.Parts[2] = elbow
	return job
}

// beyond is how far beyond an end Check looks, in steps of the joint: far less than can be
// read, and enough for the slowest of what fails to show.
const beyond = 0.05

// endsWithCheck compares the tolerances of a job with Check and returns what that says
// beyond the ends of a kind, of which there must be one.
func endsWithCheck(t *testing.T, r *fit.Result, kind fit.ReasonKind) []fit.Reason {
	t.Helper()
	var said []fit.Reason
	rng := rand.New(rand.NewPCG(31, uint64(kind)))
	for i, tol := range tolerances(t, r) {
		j := tol.Joint
		looks := []float64{tol.Low.At, tol.High.At, tol.Low.Readable, tol.High.Readable}
		for range trials.Of(3, 12) { // places within
			v := tol.Low.At + rng.Float64()*(tol.High.At-tol.Low.At)
			looks = append(looks, v)
			if read := j.Round(v); read >= tol.Low.Readable && read <= tol.High.Readable {
				looks = append(looks, read)
			}
		}
		for _, v := range looks {
			if ok, why := worksWith(t, r, i, v); !ok && !j.Indexed {
				t.Errorf("%s at %v, within %v to %v: %+v", j.Name, v, tol.Low.At, tol.High.At, why)
			}
		}
		for side, e := range map[float64]tolerance.End{-1: tol.Low, 1: tol.High} {
			v := e.At + side*beyond*j.Step
			if limit := max(side*j.Low, side*j.High) * side; e.Limit && (e.At != limit || !j.Indexed && e.Readable != limit) {
				t.Errorf("%s ends at its limit %v as %v, read %v", j.Name, limit, e.At, e.Readable)
			}
			if e.Limit || j.Indexed || v < j.Low || v > j.High {
				continue
			}
			ok, why := worksWith(t, r, i, v)
			if ok {
				t.Errorf("%s ends at %v with %+v, but works at %v", j.Name, e.At, e.Reason, v)
			}
			if e.Kind == kind {
				said = append(said, why...)
			}
		}
	}
	return said
}

// TestToleranceByBruteForce walks from the set value in steps of half of what can be
// read.
func TestToleranceByBruteForce(t *testing.T) {
	compared := 0
	for trial := range trials.Of(6, 24) {
		job := fittest.NewClinic(21, uint64(trial)).Job()
		r := solve(t, job)
		if !r.Works {
			continue
		}
		for i, tol := range tolerances(t, r) {
			if tol.Joint.Indexed {
				continue
			}
			for side, e := range map[float64]tolerance.End{-1: tol.Low, 1: tol.High} {
				compared++
				want := bruteEnd(t, r, i, side)
				if off := (e.At - want) * side; off < -1e-9 || off > tol.Joint.Step/2+1e-9 {
					t.Errorf("trial %d: %s ends at %v, by brute force at %v", trial, tol.Joint.Name, e.At, want)
				}
			}
		}
	}
	if compared < 2*trials.Of(6, 25) {
		t.Errorf("only %d ends were compared", compared)
	}
}

// bruteEnd returns the last of the halves of a step from the set value, on one side, up
// to which Check finds nothing wrong.
func bruteEnd(t *testing.T, r *fit.Result, i int, side float64) float64 {
	t.Helper()
	j := r.Set.Chain.Moving()[i]
	set := r.Set.Settings[i]
	for k := 1.0; ; k++ {
		v := set + side*k*j.Step/2
		if v < j.Low || v > j.High {
			return j.Clamp(v)
		}
		if ok, _ := worksWith(t, r, i, v); !ok {
			return set + side*(k-1)*j.Step/2
		}
	}
}

// TestToleranceRates compares the rates with Check 10 mm or 5° to either side, or
// at the end where that is nearer.
func TestToleranceRates(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	for i, tol := range tolerances(t, r) {
		if tol.Joint.Indexed {
			continue
		}
		for side, e := range map[float64]tolerance.End{-1: tol.Low, 1: tol.High} {
			h := 10.0
			if tol.Joint.Motion == mount.Turn {
				h = 5 * degree
			}
			h = min(h, math.Abs(e.At-tol.Set))
			want := 0.0
			if h > 0 {
				want = (marginWith(t, r, i, tol.Set+side*h) - tol.MarginMM) / h
			}
			if math.Abs(e.Rate-want) > sameMM*(1+math.Abs(want)) {
				t.Errorf("%s toward %v: rate %v, by differences %v", tol.Joint.Name, side, e.Rate, want)
			}
		}
		if tol.Joint.Motion == mount.Turn {
			if got, want := tol.RatePerReading(tol.High), tol.High.Rate*degree; got != want {
				t.Errorf("%s: %v mm per degree, want %v", tol.Joint.Name, got, want)
			}
		} else if got := tol.RatePerReading(tol.High); got != tol.High.Rate {
			t.Errorf("%s: %v mm per mm, want %v", tol.Joint.Name, got, tol.High.Rate)
		}
	}
}

// TestToleranceOfWhatDoesNotTrack: no margin, no tolerance, and why.
func TestToleranceOfWhatDoesNotTrack(t *testing.T) {
	job := adult()
	r := solve(t, job)
	s := slices.Clone(r.Set.Settings)
	for i, j := range r.Set.Chain.Moving() {
		if j.Name == "post.height" {
			s[i] = j.High
		}
	}
	r, err := fit.Check(t.Context(), job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	if r.MarginMM() >= 0 {
		t.Fatalf("still tracks, with %v mm", r.MarginMM())
	}
	for _, tol := range tolerances(t, r) {
		if tol.Why == nil || tol.Low.At != tol.Set || tol.High.Readable != tol.Set || tol.Low.Limit {
			t.Errorf("%s: %+v is not empty", tol.Joint.Name, tol)
		}
	}
}

func TestTolerancesNeedAMount(t *testing.T) {
	job := adult()
	r := solve(t, job)
	job.Mount = nil
	bare := solve(t, job)
	for name, r := range map[string]*fit.Result{"no result": nil, "no mount": bare} {
		if _, err := tolerance.Of(context.Background(), r); !errors.Is(err, fit.ErrJob) {
			t.Errorf("%s: got %v, want ErrJob", name, err)
		}
	}
	other := *r
	other.Job = tilted()
	if _, err := tolerance.Of(context.Background(), &other); !errors.Is(err, fit.ErrJob) {
		t.Errorf("another job's result: got %v, want ErrJob", err)
	}
}

func BenchmarkTolerances(b *testing.B) {
	job := tilted()
	r, err := fit.Solve(b.Context(), job)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := tolerance.Of(context.Background(), r); err != nil {
			b.Fatal(err)
		}
	}
}

// TestToleranceSeesDips: a plate joint that is read in whole turns is where it
// was at the next reading, but the screen faces away in between.
func TestToleranceSeesDips(t *testing.T) {
	job := adult()
	job.Scene.Person.MovementMM = r3.Vec{}
	r := solve(t, job)
	for i, p := range job.Mount.Kit.Parts {
		if p, ok := p.(mount.Turns); ok {
			p.Tilt = turn(-360, 360, 360)
			job.Mount.Kit.Parts[i] = p
		}
	}
	r, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	for i, tol := range tolerances(t, r) {
		if tol.Joint.Name != "joint.tilt" {
			continue
		}
		for _, v := range []float64{0, 360 * degree} {
			if mm := marginWith(t, r, i, v); mm < 0 {
				t.Fatalf("at tilt %s the margin is %v mm", tol.Joint.Format(v), mm)
			}
		}
		if tol.High.Limit || tol.High.Readable != tol.Set || tol.High.At > 180*degree {
			t.Errorf("tilt at %s: %+v runs across a dip", tol.Joint.Format(tol.Set), tol.High)
		}
		if tol.Low.Limit || tol.Low.Readable != 0 || tol.Low.At > 0 {
			t.Errorf("tilt at %s: %+v, want to end below 0°, its last reading", tol.Joint.Format(tol.Set), tol.Low)
		}
	}
}
