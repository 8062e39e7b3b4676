package plots

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
)

// tol is rounding error of sums of numbers up to some hundreds.
const tol = 1e-9

func TestSpread(t *testing.T) {
	for _, tt := range []struct {
		name string
		want []float64
		out  []float64
	}{
		{"none", nil, nil},
		{"apart already", []float64{10, 20, 30}, []float64{10, 20, 30}},
		{"two on one spot", []float64{50, 50}, []float64{48, 52}},
		{"pushed by a limit", []float64{0, 1}, []float64{0, 4}},
		{"pushed by the other limit", []float64{99, 100}, []float64{96, 100}},
		{"three around one", []float64{49, 50, 51}, []float64{46, 50, 54}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := spread(tt.want, 4, 0, 100)
			if !slices.EqualFunc(got, tt.out, func(a, b float64) bool { return math.Abs(a-b) <= tol }) {
				t.Errorf("spread(%v) = %v, want %v", tt.want, got, tt.out)
			}
		})
	}
}

// TestSpreadKeepsOrderAndGap tries many lanes: in order, apart, within limits, and
// nowhere better for a small move of one label.
func TestSpreadKeepsOrderAndGap(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		want := make([]float64, 1+rng.IntN(12))
		for i := range want {
			want[i] = 100 * rng.Float64()
		}
		slices.Sort(want)
		const gap = 4.0
		got := spread(want, gap, 0, 100)
		for i := range got {
			if got[i] < -tol || got[i] > 100+tol || (i > 0 && got[i]-got[i-1] < gap-tol) {
				t.Fatalf("spread(%v) = %v", want, got)
			}
			for _, step := range []float64{-0.01, 0.01} {
				p := got[i] + step
				free := p >= 0 && p <= 100 && (i == 0 || p-got[i-1] >= gap) && (i == len(got)-1 || got[i+1]-p >= gap)
				if free && math.Abs(p-want[i]) < math.Abs(got[i]-want[i])-tol {
					t.Fatalf("spread(%v) = %v: label %d could be nearer at %v", want, got, i, p)
				}
			}
		}
	}
	if got := spread([]float64{1, 2, 3}, 90, 0, 100); got[2]-got[0] > 100+tol {
		t.Errorf("three labels of 90 in 100 are at %v", got)
	}
}

// TestHull checks that a hull holds its points, turns left everywhere, and is
// made of the points.
func TestHull(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		points := make([]r2.Vec, 3+rng.IntN(40))
		for i := range points {
			points[i] = r2.Vec{X: float64(rng.IntN(20)), Y: float64(rng.IntN(20))}
		}
		h := hull(slices.Clone(points))
		if len(h) < 3 {
			continue
		}
		for i, a := range h {
			b := h[(i+1)%len(h)]
			for _, p := range points {
				if r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) < 0 {
					t.Fatalf("%v is outside the hull %v", p, h)
				}
			}
			if !slices.Contains(points, a) {
				t.Fatalf("%v is none of the points", a)
			}
		}
	}
}

// TestEllipsoidOutline compares the outline of a sphere and of an ellipsoid along
// the axes with circles and ellipses.
func TestEllipsoidOutline(t *testing.T) {
	semi := [3]r3.Vec{{X: 30}, {Y: 40}, {Z: 20}}
	for v, want := range map[View]r2.Vec{Side: {X: 30, Y: 20}, Top: {X: 30, Y: 40}, Front: {X: 40, Y: 20}} {
		for _, p := range views[v].plane.ellipsoid(r3.Vec{}, semi) {
			if off := math.Hypot(p.X/want.X, p.Y/want.Y) - 1; math.Abs(off) > tol {
				t.Errorf("%v: %v is off the ellipse %v by %v", v, p, want, off)
			}
		}
	}
	if got := views[Side].plane.ellipsoid(r3.Vec{}, [3]r3.Vec{}); got != nil {
		t.Errorf("an ellipsoid of no size has the outline %v", got)
	}
}

// TestSlab measures the outline of a capsule and of a rounded slab, from the side and end on.
func TestSlab(t *testing.T) {
	for _, tt := range []struct {
		name        string
		half, round float64
		view        View
		wide, high  float64
	}{
		{"capsule", 0, 10, Side, 120, 20},
		{"capsule end on", 0, 10, Front, 20, 20},
		{"slab from above", 30, 10, Top, 120, 80},
		{"slab end on", 30, 10, Front, 80, 20},
	} {
		v := views[tt.view].plane
		low, high := extent(v.shape(slab(r3.Vec{}, r3.Vec{X: 100}, tt.half, tt.round)))
		if math.Abs(high.X-low.X-tt.wide) > tol || math.Abs(high.Y-low.Y-tt.high) > tol {
			t.Errorf("%s: %v to %v, want %v by %v", tt.name, low, high, tt.wide, tt.high)
		}
	}
	across := slab(r3.Vec{}, r3.Vec{Y: 100}, 0, 10)
	if err := across.Check(); err != nil {
		t.Error(err)
	}
}

// TestStraights: a tube's round ends end where the tube does, and it is whole at its bends.
func TestStraights(t *testing.T) {
	tube := tubeLine{line: []r3.Vec{{}, {X: 100}, {X: 100, Z: 300}}, radius: 15}
	want := []straight{{r3.Vec{X: 15}, r3.Vec{X: 100}, 15}, {r3.Vec{X: 100}, r3.Vec{X: 100, Z: 285}, 15}}
	if got := tube.straights(); !slices.Equal(got, want) {
		t.Errorf("straights are %v, want %v", got, want)
	}
}

func extent(points []r2.Vec) (low, high r2.Vec) {
	low, high = points[0], points[0]
	for _, p := range points {
		low = r2.Vec{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = r2.Vec{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	return low, high
}

func TestRoundTo(t *testing.T) {
	for least, want := range map[float64]float64{100: 100, 150: 200, 0.3: 0.5, 7: 10, 50: 50, 51: 100, 2: 2} {
		if got := roundTo(least, 1, 2, 5); math.Abs(got-want) > tol*want {
			t.Errorf("roundTo(%v) = %v, want %v", least, got, want)
		}
	}
	ticks := ticksIn(1, -0.6, 0.6, 0.5)
	if len(ticks) != 3 || ticks[0].Label != "-0.5" || ticks[1].Label != "0.0" {
		t.Errorf("ticksIn = %v", ticks)
	}
}

// TestHatching fills a square and an angle bracket: every line lies inside, and
// together they are as long as the area over the gap.
func TestHatching(t *testing.T) {
	square := []vg.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	bracket := []vg.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 40}, {X: 40, Y: 40}, {X: 40, Y: 100}, {X: 0, Y: 100}}
	for name, shape := range map[string]struct {
		outline []vg.Point
		area    float64
	}{"square": {square, 10000}, "bracket": {bracket, 6400}} {
		const gap = 0.5
		path := hatching(shape.outline, gap)
		sum := 0.0
		for i := 0; i < len(path); i += 2 {
			a, b := path[i].Pos, path[i+1].Pos
			sum += math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
			for _, p := range []vg.Point{a, b} {
				if p.X < -tol || p.Y < -tol || p.X > 100+tol || p.Y > 100+tol {
					t.Errorf("%s: %v is outside", name, p)
				}
			}
		}
		if got := sum * gap; math.Abs(got-shape.area) > 0.01*shape.area {
			t.Errorf("%s: lines stand for an area of %.0f, want %.0f", name, got, shape.area)
		}
	}
}

// TestFlatBoard lays out a drawing that on paper is lower than the name of its
// axis is long: cut to what it needs, it still has to fit.
func TestFlatBoard(t *testing.T) {
	b := &board{title: "flat", size: Landscape(), upName: views[Front].upName, scales: []int{2, 3, 5, 10}}
	b.outline([]r2.Vec{{X: 0, Y: 0}, {X: 900, Y: 0}, {X: 900, Y: 30}, {X: 0, Y: 30}}, look{line: stroke(ink, 1)})
	f, err := b.figure()
	if err != nil {
		t.Fatal(err)
	}
	if f.Scale != 5 {
		t.Errorf("drawn 1:%d; 900 mm should be 1:5 on 277 mm of paper", f.Scale)
	}
}
