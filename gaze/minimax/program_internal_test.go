package minimax

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// TestProgramAgainstLibrary compares the dual simplex with gonum's simplex on
// random bounded programs: the reference is a general-purpose library.
func TestProgramAgainstLibrary(t *testing.T) {
	const tolerance = 1e-8 // both work in doubles on numbers of order one
	rng := rand.New(rand.NewPCG(1, 1))
	for trial := range 200 {
		n, rows := 2+rng.IntN(6), 3+rng.IntN(40)
		var p program
		p.reset(n)
		for i := range n {
			p.c[i] = rng.NormFloat64()
		}
		for range rows {
			row := p.row(rng.Float64())
			for i := range row {
				row[i] = rng.NormFloat64()
			}
		}
		for k := range n { // a box, from whose best corner the simplex starts
			p.basis[k] = len(p.b)
			if p.c[k] < 0 {
				p.basis[k]++
			}
			p.row(2)[k] = 1
			p.row(2)[k] = -1
		}
		if !p.solve() {
			t.Fatalf("trial %d: no vertex", trial)
		}
		got := 0.0
		for i, c := range p.c {
			got += c * p.x[i]
		}
		if want := dualByLibrary(t, &p); math.Abs(got-want) > tolerance {
			t.Errorf("trial %d: %d variables, %d rows: got %.12g, want %.12g", trial, n, len(p.b), got, want)
		}
	}
}

// dualByLibrary solves min b·y subject to aᵀy = c, y >= 0.
func dualByLibrary(t *testing.T, p *program) float64 {
	t.Helper()
	a := mat.NewDense(p.n, len(p.b), nil)
	for j := range p.b {
		for i := range p.n {
			a.Set(i, j, p.a[j*p.n+i])
		}
	}
	value, _, err := lp.Simplex(p.b, a, p.c, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	return value
}
