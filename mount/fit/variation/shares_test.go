package variation_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/variation"
)

func shares(t *testing.T, r *fit.Result, s variation.Budget, opt variation.Options) variation.ErrorShares {
	t.Helper()
	found, err := variation.Shares(t.Context(), r, s, opt)
	if err != nil {
		t.Fatalf("Shares: %v", err)
	}
	return found
}

func ExampleShares() {
	job := adult() // invented
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := variation.Shares(context.Background(), r, variation.DefaultBudget(r), variation.Options{Size: 1024, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range found.Sources[:3] {
		fmt.Printf("%s: %.0f %% of the variance\n", s.Name, 100*s.Total)
	}
	// Output:
	// head flexion: 85 % of the variance
	// head rotation: 11 % of the variance
	// eyes up: 6 % of the variance
}

// TestSharesOfNearlyStraight: for small errors the margin is a plane, m + Σ a_i e_i
// away from kinks (so all errors here are in the plane of symmetry), and the share of source i is (a_i s_i)² over their sum.
func TestSharesOfNearlyStraight(t *testing.T) {
	job := adult()
	lower := solve(t, job).Set.Settings
	lower[1] -= 10
	r, err := fit.Check(t.Context(), job, 0, lower)
	if err != nil {
		t.Fatal(err)
	}
	s := variation.Budget{Measures: [variation.MeasureCount]variation.Uncertainty{
		variation.EyesForward: {Size: 0.02},
		variation.EyesUp:      {Kind: variation.Uniform, Size: 0.02},
		variation.ClampUp:     {Size: 0.01},
		variation.HeadFlexion: {Size: (0.001 * frame.Degree).Radians()},
	}}
	slots := []int{variation.EyesForward, variation.EyesUp, variation.ClampUp, variation.HeadFlexion}
	sd := []float64{0.02, 0.02 / math.Sqrt(3), 0.01, s.Measures[variation.HeadFlexion].Size}
	names := []string{"eyes forward", "eyes up", "clamp up", "head flexion"}
	want, sum := map[string]float64{}, 0.0
	for i, slot := range slots {
		const h = 1e-4
		_, high := under(t, r, map[int]float64{slot: h})
		_, low := under(t, r, map[int]float64{slot: -h})
		part := math.Pow((high-low)/(2*h)*sd[i], 2)
		want[names[i]] = part
		sum += part
	}
	found := shares(t, r, s, variation.Options{Size: 1 << 13, Seed: 5})
	if len(found.Sources) != len(slots) || found.Evaluations != (1<<13)*6 {
		t.Fatalf("%d sources in %d evaluations", len(found.Sources), found.Evaluations)
	}
	if math.Abs(found.SDMM/math.Sqrt(sum)-1) > 0.02 {
		t.Errorf("standard deviation %v mm, want %v", found.SDMM, math.Sqrt(sum))
	}
	for _, f := range found.Sources {
		w := want[f.Name] / sum
		const straight = 1e-4 // what bends of the margin may add
		if math.Abs(f.First-w) > 4*f.FirstSE+straight || math.Abs(f.Total-w) > 4*f.TotalSE+straight {
			t.Errorf("%s: first %.4f ± %.4f, total %.4f ± %.4f, want %.4f", f.Name, f.First, f.FirstSE, f.Total, f.TotalSE, w)
		}
	}
}

// TestSharesAreShares: with the default errors first shares sum to at most one,
// totals to at least one, each first at most its total, but for their errors.
func TestSharesAreShares(t *testing.T) {
	job := tilted()
	r := solve(t, job)
	found := shares(t, r, variation.DefaultBudget(r), variation.Options{Size: 2048, Seed: 6})
	var first, total, se float64
	for i, f := range found.Sources {
		first, total, se = first+f.First, total+f.Total, se+f.FirstSE+f.TotalSE
		if f.First > f.Total+4*(f.FirstSE+f.TotalSE) {
			t.Errorf("%s: first %v ± %v is more than total %v ± %v", f.Name, f.First, f.FirstSE, f.Total, f.TotalSE)
		}
		if i > 0 && f.Total > found.Sources[i-1].Total {
			t.Errorf("%s stands after a smaller share", f.Name)
		}
	}
	if first > 1+se || total < 1-se {
		t.Errorf("first shares sum to %v, totals to %v (± %v)", first, total, se)
	}
	sim := simulate(t, r, variation.DefaultBudget(r), variation.Options{Size: 20_000, Seed: 6})
	if ratio := found.SDMM / sim.Together.Margin.SDMM; math.Abs(ratio-1) > 0.05 {
		t.Errorf("standard deviation %v mm, by Simulate %v", found.SDMM, sim.Together.Margin.SDMM)
	}
}

func TestSharesOfNoErrors(t *testing.T) {
	job := adult()
	r := solve(t, job)
	if found := shares(t, r, variation.Budget{}, variation.Options{Size: 1024}); found.SDMM > sameMM || len(found.Sources) != 0 {
		t.Errorf("shares of no errors: %+v", found)
	}
}

func BenchmarkShares(b *testing.B) {
	job := adult()
	r, err := fit.Solve(b.Context(), job)
	if err != nil {
		b.Fatal(err)
	}
	s := variation.DefaultBudget(r)
	for b.Loop() {
		if _, err := variation.Shares(b.Context(), r, s, variation.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
