package variation_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/variation"
)

func simulate(t *testing.T, r *fit.Result, s variation.Budget, opt variation.Options) variation.Simulations {
	t.Helper()
	sim, err := variation.Simulate(t.Context(), r, s, opt)
	if err != nil {
		t.Fatalf("Simulate: %v", err)
	}
	return sim
}

func ExampleSimulate() {
	job := adult() // invented
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := variation.DefaultBudget(r)
	s.Measures[variation.EyesUp].Size, s.Measures[variation.HeadFlexion].Size = 30, (12 * frame.Degree).Radians() // hastily measured
	sim, err := variation.Simulate(context.Background(), r, s, variation.Options{Size: 10_000, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := sim.Together.Tracks
	fmt.Printf("tracks in %.1f %% of the draws (95 %%: %.1f to %.1f %%)\n", 100*p.Share, 100*p.Low, 100*p.High)
	fmt.Printf("margin: half of them from %.0f to %.0f mm\n", sim.Together.Margin.P25MM, sim.Together.Margin.P75MM)
	// Output:
	// tracks in 71.9 % of the draws (95 %: 71.0 to 72.7 %)
	// margin: half of them from -11 to 80 mm
}

// TestSimulateWithoutErrors: no error, no spread, and the margin of the result.
func TestSimulateWithoutErrors(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	sim := simulate(t, r, variation.Budget{}, variation.Options{Size: 3000})
	for i, tally := range append(sim.Postures, sim.Together) {
		want := r.MarginMM()
		if i < len(r.Postures) {
			want = r.Postures[i].MarginMM
		}
		m := tally.Margin
		if math.Abs(m.LeastMM-want) > sameMM || math.Abs(m.MostMM-want) > sameMM || m.SDMM > sameMM || math.Abs(m.P5MM-want) > sameMM {
			t.Errorf("tally %d: %+v, want %v mm throughout", i, m, want)
		}
		if tally.Tracks.Hits != 3000 && want >= 0 {
			t.Errorf("tally %d: %+v", i, tally.Tracks)
		}
	}
}

// TestSimulateOnAnyWorkers: the same bits, and another seed other draws.
func TestSimulateOnAnyWorkers(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	s := variation.DefaultBudget(r)
	run := func(workers int, seed uint64) (variation.Simulations, variation.ErrorShares) {
		sim := simulate(t, r, s, variation.Options{Size: 5000, Seed: seed, Workers: workers})
		shares, err := variation.Shares(t.Context(), r, s, variation.Options{Size: 1024, Seed: seed, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		return sim, shares
	}
	sim, shares := run(1, 7)
	for _, workers := range []int{2, 5} {
		a, b := run(workers, 7)
		if !reflect.DeepEqual(a, sim) || !reflect.DeepEqual(b, shares) {
			t.Errorf("%d workers give another result", workers)
		}
	}
	if a, b := run(1, 8); reflect.DeepEqual(a, sim) || reflect.DeepEqual(b, shares) {
		t.Error("another seed gives the same result")
	}
}

// TestSimulateOneError: with the eyes' height off evenly by up to h, the share that
// tracks is the part of that interval with a margin, which Check finds by halving.
func TestSimulateOneError(t *testing.T) {
	const h, draws = 200.0, 50_000
	job := adult()
	r := solve(t, job)
	margin := func(up float64) float64 {
		is := *job
		is.Scene.Measured.EyesMM.Z += up
		c, err := fit.Check(t.Context(), &is, r.Set.Mounting, r.Set.Settings)
		if err != nil {
			t.Fatal(err)
		}
		return c.MarginMM()
	}
	edge := func(in, out float64) float64 {
		for range 50 {
			if mid := (in + out) / 2; margin(mid) >= 0 {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	want := (edge(0, h) - edge(0, -h)) / (2 * h)
	sim := simulate(t, r, variation.Budget{Measures: [variation.MeasureCount]variation.Uncertainty{variation.EyesUp: {Kind: variation.Uniform, Size: h}}}, variation.Options{Size: draws, Seed: 3})
	const standard = 4
	if got := sim.Together.Tracks.Share; math.Abs(got-want) > standard*math.Sqrt(want*(1-want)/draws) {
		t.Errorf("%v of the draws track, want %v", got, want)
	}
	if p := sim.Together.Tracks; !(want > 0.1 && want < 0.9) || p.Low > p.Share || p.High < p.Share {
		t.Errorf("share %+v, want %v: no test of anything", p, want)
	}
}

// TestDistribution: quantiles rise, bins hold every draw, and those below zero are
// the draws that do not track.
func TestDistribution(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	s := variation.DefaultBudget(r)
	s.Measures[variation.EyesUp].Size *= 6
	sim := simulate(t, r, s, variation.Options{Size: 20_000, Seed: 4})
	for i, tally := range append(sim.Postures, sim.Together) {
		m := tally.Margin
		rising := []float64{m.LeastMM, m.P5MM, m.P25MM, m.P50MM, m.P75MM, m.P95MM, m.MostMM}
		if !slices.IsSorted(rising) || m.MeanMM < m.LeastMM || m.MeanMM > m.MostMM {
			t.Errorf("tally %d: %v, mean %v", i, rising, m.MeanMM)
		}
		all, below := 0, 0
		for k, b := range m.Bins {
			all += b.Count
			if b.HighMM <= 0 {
				below += b.Count
			}
			if b.LowMM < 0 && b.HighMM > 0 || k > 0 && b.LowMM != m.Bins[k-1].HighMM {
				t.Errorf("tally %d: bin %+v after %+v", i, b, m.Bins[max(k-1, 0)])
			}
		}
		if all != sim.Count || below != sim.Count-tally.Tracks.Hits || len(m.Bins) > 41 {
			t.Errorf("tally %d: %d draws in %d bins, %d below zero; want %d and %d", i, all, len(m.Bins), below, sim.Count, sim.Count-tally.Tracks.Hits)
		}
		if tally.Tracks.Hits == sim.Count {
			t.Errorf("tally %d: every draw tracks: no test of anything", i)
		}
	}
	if sim.Together.Tracks.Hits > min(sim.Postures[0].Tracks.Hits, sim.Postures[1].Tracks.Hits) {
		t.Errorf("together %v, apart %v and %v", sim.Together.Tracks, sim.Postures[0].Tracks, sim.Postures[1].Tracks)
	}
}

func TestSimulateTellsProgress(t *testing.T) {
	job := adult()
	r := solve(t, job)
	last, calls := 0, 0
	simulate(t, r, variation.DefaultBudget(r), variation.Options{Size: 5000, Workers: 4, Progress: func(done int) {
		if done <= last {
			t.Errorf("%d done after %d", done, last)
		}
		last, calls = done, calls+1
	}})
	if last != 5000 || calls != 5 {
		t.Errorf("%d done in %d calls, want 5000 in 5", last, calls)
	}
}

// TestEndsWithItsContext: simulating ends when it is canceled, with that error.
func TestEndsWithItsContext(t *testing.T) {
	r := solve(t, adult())
	budget := variation.DefaultBudget(r)
	ctx, cancel := context.WithCancel(t.Context())
	opt := variation.Options{Workers: 1, Progress: func(int) { cancel() }}
	if _, err := variation.Simulate(ctx, r, budget, opt); !errors.Is(err, context.Canceled) {
		t.Errorf("Simulate: %v", err)
	}
	if _, err := variation.Shares(ctx, r, budget, variation.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("Shares: %v", err)
	}
}

func TestBadSpreads(t *testing.T) {
	job := adult()
	r := solve(t, job)
	for _, row := range []struct {
		name, says string
		spoil      func(*variation.Budget)
	}{
		{"negative", `"eyes up": -1mm is outside 0 to 500mm`, func(s *variation.Budget) { s.Measures[variation.EyesUp].Size = -1 }},
		{"not a number", `"head flexion"`, func(s *variation.Budget) { s.Measures[variation.HeadFlexion].Size = math.NaN() }},
		{"infinite", `"clamp left"`, func(s *variation.Budget) { s.Measures[variation.ClampLeft].Size = math.Inf(1) }},
		{"half a meter and more", `"pupil spacing": 501mm`, func(s *variation.Budget) { s.Measures[variation.PupilSpacing].Size = 501 }},
		{"more than square", `"seat tilt": 91° is outside 0 to 90°`, func(s *variation.Budget) { s.Measures[variation.SeatTilt].Size = (91 * frame.Degree).Radians() }},
		{"degrees for radians", `"joint.tilt": 171.9° is outside`, func(s *variation.Budget) { s.Settings[7].Size = 3 }},
		{"no kind", `"slump": kind 7`, func(s *variation.Budget) { s.Measures[variation.Slump].Kind = 7 }},
		{"too few settings", "uncertainties of 2 settings, but the mount has", func(s *variation.Budget) { s.Settings = s.Settings[:2] }},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := variation.DefaultBudget(r)
			row.spoil(&s)
			_, err := variation.Simulate(t.Context(), r, s, variation.Options{Size: 10})
			if err == nil || !strings.Contains(err.Error(), row.says) {
				t.Errorf("Simulate: %v, want %q in it", err, row.says)
			}
			if _, err2 := variation.Shares(t.Context(), r, s, variation.Options{}); fmt.Sprint(err2) != fmt.Sprint(err) {
				t.Errorf("Shares: %v, Simulate: %v", err2, err)
			}
		})
	}
	for _, draws := range []int{-1, 1 << 40} {
		if _, err := variation.Simulate(t.Context(), r, variation.Budget{}, variation.Options{Size: draws}); err == nil {
			t.Errorf("%d draws: no error", draws)
		}
	}
	for _, rows := range []int{-1, 100, 1 << 40} {
		if _, err := variation.Shares(t.Context(), r, variation.Budget{}, variation.Options{Size: rows}); err == nil {
			t.Errorf("%d rows: no error", rows)
		}
	}
	if _, err := variation.Simulate(t.Context(), nil, variation.Budget{}, variation.Options{}); !errors.Is(err, fit.ErrJob) {
		t.Errorf("no result: %v, want ErrJob", err)
	}
	r.Postures[0].Mount = nil
	if _, err := variation.Simulate(t.Context(), r, variation.Budget{}, variation.Options{}); !errors.Is(err, fit.ErrJob) {
		t.Errorf("a mount that is nowhere: %v, want ErrJob", err)
	}
}

// TestWithoutAMount: what was measured of the person is as uncertain without a mount.
func TestWithoutAMount(t *testing.T) {
	job := adult()
	job.Mount = nil
	r := solve(t, job)
	s := variation.DefaultBudget(r)
	if len(s.Settings) != 0 {
		t.Errorf("uncertainties of %d settings of no mount", len(s.Settings))
	}
	sim := simulate(t, r, s, variation.Options{Size: 4000})
	if sim.Together.Margin.SDMM == 0 || math.Abs(sim.Together.Margin.P50MM-r.MarginMM()) > 15 {
		t.Errorf("margin %+v about %v mm", sim.Together.Margin, r.MarginMM())
	}
}

// FuzzSpreads: any sizes give an error or numbers.
func FuzzSpreads(f *testing.F) {
	job := tilted()
	r, err := fit.Solve(f.Context(), job)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(5.0, 0.02, 2.0, false, uint64(1))
	f.Add(500.0, 1.57, 500.0, true, uint64(2))
	f.Add(0.0, 0.0, 0.0, true, uint64(3))
	f.Add(-1.0, math.Inf(1), math.NaN(), false, uint64(4))
	f.Add(5e-324, 1e-300, 1e-17, true, uint64(5))
	f.Fuzz(func(t *testing.T, length, angle, setting float64, uniform bool, seed uint64) {
		kind := variation.Normal
		if uniform {
			kind = variation.Uniform
		}
		l, a := variation.Uncertainty{Kind: kind, Size: length}, variation.Uncertainty{Kind: kind, Size: angle}
		s := variation.DefaultBudget(r)
		s.Measures[variation.EyesForward], s.Measures[variation.EyesUp], s.Measures[variation.PupilSpacing], s.Measures[variation.NeckUp], s.Measures[variation.ClampLeft], s.Measures[variation.Slump] = l, l, l, l, l, l
		s.Measures[variation.SeatTilt], s.Measures[variation.HeadRotation], s.Measures[variation.HeadFlexion], s.Measures[variation.BackAngle] = a, a, a, a
		s.Settings[1] = variation.Uncertainty{Kind: kind, Size: setting}
		sim, err := variation.Simulate(t.Context(), r, s, variation.Options{Size: 200, Seed: seed})
		shares, err2 := variation.Shares(t.Context(), r, s, variation.Options{Size: 1024, Seed: seed})
		if (err == nil) != (err2 == nil) {
			t.Fatalf("Simulate: %v, Shares: %v", err, err2)
		}
		if err != nil {
			return
		}
		m := sim.Together.Margin
		sum := m.MeanMM + m.SDMM + m.LeastMM + m.MostMM + shares.SDMM
		for _, e := range shares.Sources {
			sum += e.First + e.FirstSE + e.Total + e.TotalSE
			if e.Total < 0 {
				t.Errorf("%s: total share %v", e.Name, e.Total)
			}
		}
		if math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Errorf("not a number among %+v and %+v", m, shares)
		}
	})
}

// BenchmarkSimulate100k draws 100,000 times for one posture on all processors.
func BenchmarkSimulate100k(b *testing.B) {
	job := adult()
	r, err := fit.Solve(b.Context(), job)
	if err != nil {
		b.Fatal(err)
	}
	s := variation.DefaultBudget(r)
	for b.Loop() {
		if _, err := variation.Simulate(b.Context(), r, s, variation.Options{Size: 100_000}); err != nil {
			b.Fatal(err)
		}
	}
}
