package fit_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// tilted is the adult with a second posture, tilted by 20°, that must work too,
// before a mount on the seat.
func tilted() *fit.Job {
	job := adult()
	job.Scene.Carrier = 0
	rested := job.Postures[0]
	rested.Name, rested.SeatTilt, rested.BackAngle = "rested", 20*frame.Degree, 108*frame.Degree
	job.Postures = append(job.Postures, rested)
	return job
}

func tolerances(t *testing.T, job *fit.Job, r *fit.Result) []fit.Tolerance {
	t.Helper()
	list, err := fit.Tolerances(job, r)
	if err != nil {
		t.Fatalf("Tolerances: %v", err)
	}
	if len(list) != len(r.Set.Settings) {
		t.Fatalf("%d tolerances of %d settings", len(list), len(r.Set.Settings))
	}
	return list
}

// marginWith returns the margin that Check reports with setting i at v.
func marginWith(t *testing.T, job *fit.Job, r *fit.Result, i int, v float64) float64 {
	t.Helper()
	s := slices.Clone(r.Set.Settings)
	s[i] = v
	c, err := fit.Check(job, r.Set.Mounting, s)
	if err != nil {
		t.Fatalf("Check with setting %d at %v: %v", i, v, err)
	}
	return c.MarginMM()
}

func ExampleTolerances() {
	job := adult() // invented
	r, err := fit.Solve(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := fit.Tolerances(job, r)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range list {
		if t.Joint.Name == "post.height" || t.Joint.Name == "joint.tilt" {
			fmt.Println(t.Joint.Name, t.Joint.Format(t.Set))
			for _, e := range []fit.ToleranceEnd{t.Low, t.High} {
				fmt.Printf("  to %s: %v\n", t.Joint.Format(e.Readable), e)
			}
		}
	}
	// Output:
	// post.height 510 mm
	//   to 450 mm: limit of its range
	//   to 615 mm: left eye leaves the view at the bottom
	// joint.tilt 15°
	//   to -1°: right eye leaves the view at the top
	//   to 23°: left eye leaves the view at the bottom
}

// TestToleranceEndsWithCheck: the readable end tracks and the next readable
// value does not.
func TestToleranceEndsWithCheck(t *testing.T) {
	for name, job := range map[string]*fit.Job{"one posture": adult(), "two postures": tilted()} {
		t.Run(name, func(t *testing.T) {
			r := solve(t, job)
			for i, tol := range tolerances(t, job, r) {
				j := tol.Joint
				for side, e := range map[float64]fit.ToleranceEnd{-1: tol.Low, 1: tol.High} {
					if mm := marginWith(t, job, r, i, e.Readable); mm < 0 {
						t.Errorf("%s at %s: margin %v mm", j.Name, j.Format(e.Readable), mm)
					}
					next := j.Round(e.Readable + side*j.Step)
					if (next-e.Readable)*side < j.Step/2 {
						if !e.Limit {
							t.Errorf("%s ends at its last value %s by %v, not by its limit", j.Name, j.Format(e.Readable), e)
						}
						continue
					}
					if mm := marginWith(t, job, r, i, next); !(mm < 0) {
						t.Errorf("%s ends at %s, but at %s the margin is %v mm", j.Name, j.Format(e.Readable), j.Format(next), mm)
					}
				}
			}
		})
	}
}

// TestToleranceByBruteForce walks from the set value in hundredths of a step,
// which shows dips between readable values too.
func TestToleranceByBruteForce(t *testing.T) {
	compared := 0
	for trial := range 16 {
		job := clinic{rand.New(rand.NewPCG(21, uint64(trial)))}.job()
		r := solve(t, job)
		if r.MarginMM() < 0 {
			continue
		}
		for i, tol := range tolerances(t, job, r) {
			if tol.Joint.Indexed {
				continue
			}
			for side, e := range map[float64]fit.ToleranceEnd{-1: tol.Low, 1: tol.High} {
				compared++
				want := bruteEnd(job, r, i, side)
				if off := math.Abs(e.At - want); off > tol.Joint.Step/100+1e-9 {
					t.Errorf("trial %d: %s ends at %v, by brute force at %v", trial, tol.Joint.Name, e.At, want)
				}
			}
		}
	}
	if compared < 50 {
		t.Errorf("only %d ends were compared", compared)
	}
}

// bruteEnd returns the last of the hundredths of a step from the set value, on
// one side, up to which the margin is not negative.
func bruteEnd(job *fit.Job, r *fit.Result, i int, side float64) float64 {
	j := r.Set.Chain.Moving()[i]
	s := slices.Clone(r.Set.Settings)
	margin := newMargins(job, r)
	set := s[i]
	for k := 1.0; ; k++ {
		s[i] = set + side*k*j.Step/100
		if s[i] < j.Low || s[i] > j.High {
			return j.Clamp(s[i])
		}
		if margin.least(s) < 0 {
			return set + side*(k-1)*j.Step/100
		}
	}
}

// TestToleranceRates compares the rates with Check 10 mm or 5° to either side, or
// at the end where that is nearer.
func TestToleranceRates(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	for i, tol := range tolerances(t, job, r) {
		if tol.Joint.Indexed {
			continue
		}
		for side, e := range map[float64]fit.ToleranceEnd{-1: tol.Low, 1: tol.High} {
			h := 10.0
			if tol.Joint.Motion == mount.Turn {
				h = 5 * degree
			}
			h = min(h, math.Abs(e.At-tol.Set))
			want := 0.0
			if h > 0 {
				want = (marginWith(t, job, r, i, tol.Set+side*h) - tol.MarginMM) / h
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
	r, err := fit.Check(job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	if r.MarginMM() >= 0 {
		t.Fatalf("still tracks, with %v mm", r.MarginMM())
	}
	for _, tol := range tolerances(t, job, r) {
		if tol.Why == "" || tol.Low.At != tol.Set || tol.High.Readable != tol.Set || tol.Low.Limit {
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
		if _, err := fit.Tolerances(job, r); !errors.Is(err, fit.ErrJob) {
			t.Errorf("%s: got %v, want ErrJob", name, err)
		}
	}
	two := tilted()
	if _, err := fit.Tolerances(two, r); !errors.Is(err, fit.ErrJob) {
		t.Errorf("another job's result: got %v, want ErrJob", err)
	}
}

func BenchmarkTolerances(b *testing.B) {
	job := tilted()
	r, err := fit.Solve(job)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := fit.Tolerances(job, r); err != nil {
			b.Fatal(err)
		}
	}
}

// TestToleranceSeesDips: a plate joint that is read in whole turns is where it
// was at the next reading, but the screen faces away in between.
func TestToleranceSeesDips(t *testing.T) {
	job := adult()
	r := solve(t, job)
	for i, p := range job.Mount.Kit.Parts {
		if p, ok := p.(mount.Turns); ok {
			p.Tilt = turn(-360, 360, 360)
			job.Mount.Kit.Parts[i] = p
		}
	}
	r, err := fit.Check(job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	for i, tol := range tolerances(t, job, r) {
		if tol.Joint.Name != "joint.tilt" {
			continue
		}
		for _, v := range []float64{0, 360 * degree} {
			if mm := marginWith(t, job, r, i, v); mm < 0 {
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
