package tolerance_test

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/tolerance"
	"sightpost/testdata/trials"
)

// about returns a sweep about the value in p, wide enough to lose the tracker.
func about(v tolerance.PostureVariable, p gaze.Posture) tolerance.PostureSweep {
	now, half := v.Of(p), 40*degree
	if !v.Turns() {
		half = 250
	}
	return tolerance.PostureSweep{Posture: p.Name, Variable: v, Low: now - half, High: now + half, Points: 41}
}

func curve(t *testing.T, r *fit.Result, s tolerance.PostureSweep) tolerance.PostureCurve {
	t.Helper()
	c, err := tolerance.CurvePosture(context.Background(), r, s)
	if err != nil {
		t.Fatalf("CurvePosture: %v", err)
	}
	return c
}

func ExampleCurvePosture() {
	job := adult() // invented
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := tolerance.CurvePosture(context.Background(), r, tolerance.PostureSweep{
		Variable: tolerance.SeatTilt, Low: -10 * degree, High: 45 * degree, Points: 101,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range []tolerance.CarriedCurve{c.AsCarried, c.OtherCarrier} {
		on := map[gaze.Carrier]string{gaze.Seat: "seat", gaze.Base: "base"}[c.Carrier]
		fmt.Printf("on the %s: tilt from %.0f° (%v) to %.0f° (%v)\n", on, c.Low.At/degree, ended(c.Low), c.High.At/degree, ended(c.High))
	}
	// Output:
	// on the seat: tilt from -10° (limit) to 45° (limit)
	// on the base: tilt from -8° (left eye too near) to 9° (right eye too far)
}

// TestCurvesWithCheck: a point of a curve is the margin of a job with the
// posture so changed.
func TestCurvesWithCheck(t *testing.T) {
	upright := gripped(2.8, 0) // sags by itself, from a seat that is not tilted at all
	jobs := []*fit.Job{upright}
	for trial := range trials.Of(3, 12) {
		jobs = append(jobs, fittest.NewClinic(23, uint64(trial)).Job())
	}
	for trial, job := range jobs {
		for i := range job.Postures {
			job.Postures[i].Name = strconv.Itoa(i)
			job.Postures[i].EyesMM, job.Postures[i].HeadPlumb = nil, false
		}
		r := solve(t, job)
		for at, p := range job.Postures {
			for _, v := range tolerance.PostureVariables() {
				c := curve(t, r, about(v, p))
				for k := 0; k < len(c.AsCarried.Points); k += 8 {
					point := c.AsCarried.Points[k]
					is := *job
					is.Postures = append([]gaze.Posture(nil), job.Postures...)
					is.Postures[at] = v.In(p, point.At)
					want, err := fit.Check(t.Context(), &is, r.Set.Mounting, r.Set.Settings)
					if err != nil {
						t.Fatal(err)
					}
					if math.Abs(point.MarginMM-want.Postures[at].MarginMM) > sameMM {
						t.Errorf("trial %d, posture %d, %v at %v: %v mm, by Check %v", trial, at, v, point.At, point.MarginMM, want.Postures[at].MarginMM)
					}
				}
			}
		}
	}
}

// TestCurveRangesByBruteForce walks from the present value in steps of a
// twentieth of a degree or mm.
func TestCurveRangesByBruteForce(t *testing.T) {
	compared := 0
	for trial := range trials.Of(5, 20) {
		job := fittest.NewClinic(24, uint64(trial)).Job()
		r := solve(t, job)
		judge, sag := gaze.NewJudge(job.Device, job.Scene.Person), fittest.Sagging(r)
		p := job.Postures[0]
		for _, v := range tolerance.PostureVariables() {
			s := about(v, p)
			c := curve(t, r, s)
			step := 0.05 * degree
			if !v.Turns() {
				step = 0.05
			}
			for side, end := range map[float64]tolerance.Bound{-1: c.AsCarried.Low, 1: c.AsCarried.High} {
				if !c.AsCarried.Works {
					continue
				}
				compared++
				want := s.Low
				if side > 0 {
					want = s.High
				}
				for k := 0.0; ; k++ {
					x := c.Present + side*k*step
					if x < s.Low || x > s.High {
						break
					}
					st := job.Scene.InCarrier(v.In(p, x))
					if mm, _ := judge.Margin(sag(r.Set.Settings, &st), &st); mm < 0 {
						want = x - side*step
						break
					}
				}
				if math.Abs(end.At-want) > step+1e-9 {
					t.Errorf("trial %d, %v: ends at %v (%v), by brute force at %v", trial, v, end.At, end, want)
				}
			}
		}
	}
	if compared < 2*trials.Of(5, 20) {
		t.Errorf("only %d ends were compared", compared)
	}
}

// TestCarriers: on the seat the screen goes along with a tilt, so the margin
// stays; on the base it does not; no other variable can tell the two apart.
func TestCarriers(t *testing.T) {
	job := stiff(tilted())
	r := solve(t, job)
	for at, p := range job.Postures {
		for _, v := range tolerance.PostureVariables() {
			c := curve(t, r, about(v, p))
			if c.AsCarried.Carrier != gaze.Seat || c.OtherCarrier.Carrier != gaze.Base || c.Present != v.Of(p) {
				t.Errorf("%v: carriers %v and %v about %v", v, c.AsCarried.Carrier, c.OtherCarrier.Carrier, c.Present)
			}
			most, differ := 0.0, 0.0
			for k, point := range c.AsCarried.Points {
				most = max(most, math.Abs(point.MarginMM-r.Postures[at].MarginMM))
				differ = max(differ, math.Abs(point.MarginMM-c.OtherCarrier.Points[k].MarginMM))
			}
			if v == tolerance.SeatTilt {
				if most > sameMM || differ < 1 || !c.AsCarried.High.Limit || c.OtherCarrier.High.Limit || c.OtherCarrier.High.Posture != at {
					t.Errorf("tilt: on the seat the margin changes by %v mm, on the base it differs by %v; %v", most, differ, c.OtherCarrier.High)
				}
			} else if most < 1 || differ > sameMM {
				t.Errorf("%v: the margin changes by %v mm and differs by %v between carriers", v, most, differ)
			}
		}
	}
}

// TestCurveAroundMeasuredEyes: at the present value the curve goes through the
// margin of the result, and lower eyes come with a slide.
func TestCurveAroundMeasuredEyes(t *testing.T) {
	aroundMeasured(t, &r3.Vec{X: 60, Y: 5, Z: 1160})
}

// TestCurveAroundMeasuredHead: likewise where only the head was read against plumb.
func TestCurveAroundMeasuredHead(t *testing.T) { aroundMeasured(t, nil) }

func aroundMeasured(t *testing.T, eyes *r3.Vec) {
	t.Helper()
	job := tilted()
	p := &job.Postures[1]
	p.EyesMM, p.SlumpMM, p.HeadPlumb = eyes, 15, true
	r := solve(t, job)
	for _, v := range tolerance.PostureVariables() {
		s := about(v, *p)
		s.Points = 3 // the one in the middle is the present
		c := curve(t, r, s)
		for _, carried := range []tolerance.CarriedCurve{c.AsCarried, c.OtherCarrier} {
			if got, want := carried.Points[1].MarginMM, r.Postures[1].MarginMM; math.Abs(got-want) > sameMM {
				t.Errorf("%v: %v mm at the present value, want %v", v, got, want)
			}
		}
		if v == tolerance.Slump && c.AsCarried.Points[0].MarginMM == c.AsCarried.Points[2].MarginMM {
			t.Errorf("a slide moves nothing")
		}
	}
}

func TestCurveOfWhatDoesNotTrack(t *testing.T) {
	job := adult()
	r := solve(t, job)
	away := job.Postures[0]
	away.Name, away.Head.Rotation = "away", 80*frame.Degree
	job.Postures = append(job.Postures, away)
	job.Postures[1].MustWork = false
	r, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	c := curve(t, r, tolerance.PostureSweep{Posture: "away", Variable: tolerance.HeadRotation, Low: 0, High: 1.5, Points: 101})
	if got := c.AsCarried; got.Works || got.Low.At != c.Present || got.High.Limit || got.Low.Posture != 1 || len(got.Points) != 101 {
		t.Errorf("works %v from %+v to %+v in %d points", got.Works, got.Low, got.High, len(got.Points))
	}
}

func TestBadCurves(t *testing.T) {
	job := adult()
	r := solve(t, job)
	for _, row := range []struct {
		name, says string
		sweep      tolerance.PostureSweep
	}{
		{"no such posture", `no posture is called "asleep"`, tolerance.PostureSweep{Posture: "asleep", High: 1}},
		{"no such variable", "there is no posture variable 9", tolerance.PostureSweep{Variable: 9, High: 1}},
		{"falling", "seat tilt from 10° to 0°", tolerance.PostureSweep{Low: 10 * degree}},
		{"not a number", "need a rising range", tolerance.PostureSweep{High: math.NaN()}},
		{"too wide", "within ±2000mm", tolerance.PostureSweep{Variable: tolerance.Slump, High: 2001}},
		{"without the present", "leaves out 100° of posture", tolerance.PostureSweep{Variable: tolerance.BackAngle, High: 1}},
		{"one point", "1 points", tolerance.PostureSweep{High: 1, Points: 1}},
		{"too many points", "points of a curve", tolerance.PostureSweep{High: 1, Points: 1 << 30}},
	} {
		t.Run(row.name, func(t *testing.T) {
			if _, err := tolerance.CurvePosture(context.Background(), r, row.sweep); err == nil || !strings.Contains(err.Error(), row.says) {
				t.Errorf("got %v, want %q in it", err, row.says)
			}
		})
	}
}

func BenchmarkCurvePosture(b *testing.B) {
	job := adult()
	r, err := fit.Solve(b.Context(), job)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := tolerance.CurvePosture(context.Background(), r, about(tolerance.HeadFlexion, job.Postures[0])); err != nil {
			b.Fatal(err)
		}
	}
}
