package mount

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// The 6×6 solver against gonum's.
func TestSolve6(t *testing.T) {
	const tol = 1e-9 // condition numbers here stay below 1e5
	rng := rand.New(rand.NewPCG(10, 1))
	for range 200 {
		var m mat6
		m.addDiagonal(0.01)
		for range 8 {
			w := vec6{}
			for i := range w {
				w[i] = 2*rng.Float64() - 1
			}
			m.addOuter(1, &w)
		}
		b := vec6{1, -2, 3, -4, 5, -6}
		full := mat.NewSymDense(6, nil)
		for i := range 6 {
			for j := 0; j <= i; j++ {
				full.SetSym(i, j, m[i][j])
			}
		}
		var chol mat.Cholesky
		var want mat.VecDense
		if !chol.Factorize(full) {
			t.Fatal("not positive definite")
		}
		if err := chol.SolveVecTo(&want, mat.NewVecDense(6, b[:])); err != nil {
			t.Fatal(err)
		}
		got := b
		if !m.solve(&got) {
			t.Fatal("solve says not positive definite")
		}
		for i := range got {
			if math.Abs(got[i]-want.AtVec(i)) > tol {
				t.Fatalf("got %v, want %v", got, mat.Formatted(want.T()))
			}
		}
	}
	var zero mat6
	if zero.solve(&vec6{1}) {
		t.Error("the zero matrix is solved")
	}
}

// A descent and a preferred step allocate nothing.
func TestSearchDoesNotAllocate(t *testing.T) {
	turn := func(name string, axis r3.Vec) Joint {
		return Joint{Name: name, Motion: Turn, Origin: frame.Translate(r3.Vec{X: 200}), Axis: axis, Low: -2, High: 2, Step: 0.1, Effort: 1}
	}
	c := Chain{Joints: []Joint{turn("a", r3.Vec{Z: 1}), turn("b", r3.Vec{Y: 1}), turn("c", r3.Vec{Z: 1})}, Tip: frame.Translate(r3.Vec{X: 100})}
	s, err := c.Solver()
	if err != nil {
		t.Fatal(err)
	}
	target, err := c.Forward(Settings{0.3, -0.4, 1.1})
	if err != nil {
		t.Fatal(err)
	}
	s.target = target
	s.lever = 0.1
	run := func() {
		s.known = s.known[:0]
		s.tried = -1
		s.attempt(s.next(), 0)
		s.bound(0, false)
		s.minimize(nil)
	}
	if n := testing.AllocsPerRun(20, run); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// The gradient of the cost against central differences, lever arm included.
func TestCostGradient(t *testing.T) {
	const (
		h   = 1e-5
		tol = 1e-4 // h² of a third derivative of about 1e5, and rounding
	)
	joint := func(name string, m Motion, axis r3.Vec, low, high float64) Joint {
		return Joint{Name: name, Motion: m, Origin: frame.Translate(r3.Vec{X: 150, Z: 30}), Axis: axis, Low: low, High: high, Step: 0.1, Effort: 2}
	}
	c := Chain{Tip: frame.Translate(r3.Vec{X: 100}), Joints: []Joint{
		joint("a", Turn, r3.Vec{Z: 1}, -2, 2), joint("b", Slide, r3.Vec{X: 1}, -300, 300),
		joint("c", Turn, r3.Vec{Y: 1}, -2, 2), joint("d", Turn, r3.Vec{Z: 1}, -2, 2),
	}}
	s, err := c.Solver()
	if err != nil {
		t.Fatal(err)
	}
	q := s.search
	q.target = frame.Translate(r3.Vec{X: 400, Y: 50})
	s.lever = 0.7
	copy(q.x, []float64{0.4, 0.12, -0.6, 0.9})
	q.look(q.x, &q.off)
	s.differentiate()
	got := append([]float64{}, q.slope...)
	for i := range got {
		v := q.x[i]
		q.x[i] = v + h
		up := s.cost()
		q.x[i] = v - h
		down := s.cost()
		q.x[i] = v
		if want := (up - down) / (2 * h); math.Abs(got[i]-want) > tol {
			t.Errorf("derivative %d is %v, differences give %v", i, got[i], want)
		}
	}
}
