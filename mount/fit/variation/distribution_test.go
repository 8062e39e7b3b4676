package variation_test

import (
	"fmt"
	"math"
	"testing"

	"sightpost/mount/fit/variation"
)

// R. G. Newcombe, "Two-sided confidence intervals for the single proportion:
// comparison of seven methods", Statistics in Medicine 17, 1998, 857-872, table I
// (from memory), score method: 81 of 263 gives 0.2553 to 0.3662.
func ExampleNewProportion() {
	p, err := variation.NewProportion(81, 263)
	fmt.Printf("%.4f, %.4f to %.4f %v\n", p.Share, p.Low, p.High, err)
	// Output:
	// 0.3080, 0.2553 to 0.3662 <nil>
}

func TestNewProportion(t *testing.T) {
	const tolerance = 1e-14 // the same formula in doubles
	// scipy.stats.binomtest(k, n).proportion_ci(method="wilson") of SciPy 1.10.1.
	for _, row := range []struct {
		hits, of  int
		low, high float64
	}{
		{81, 263, 0.2552885198782742, 0.36620957698280004},
		{15, 148, 0.06238639953073629, 0.16048724172330803},
		{0, 20, 0, 0.16112515805281935},
		{1, 29, 0.006113214292762667, 0.17175521879320282},
		{29, 29, 0.8830302015002592, 1},
		{98765, 100000, 0.9869465095159855, 0.9883160261753121},
		{100000, 100000, 0.9999615868874169, 1},
	} {
		t.Run(fmt.Sprintf("%d of %d", row.hits, row.of), func(t *testing.T) {
			p, err := variation.NewProportion(row.hits, row.of)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(p.Low-row.low) > tolerance || math.Abs(p.High-row.high) > tolerance {
				t.Errorf("got %.17g to %.17g, want %.17g to %.17g", p.Low, p.High, row.low, row.high)
			}
			if !(0 <= p.Low && p.Low <= p.Share && p.Share <= p.High && p.High <= 1) {
				t.Errorf("%v to %v does not hold %v", p.Low, p.High, p.Share)
			}
		})
	}
	for _, bad := range [][2]int{{0, 0}, {-1, 5}, {6, 5}, {0, -3}} {
		if p, err := variation.NewProportion(bad[0], bad[1]); err == nil {
			t.Errorf("NewProportion(%d, %d) = %v, want an error", bad[0], bad[1], p)
		}
	}
}
