package minimax_test

import (
	"math"
	"testing"

	"sightpost/gaze/minimax"
)

// minimize turns a published "minimize the greatest of f" into the package's
// "maximize the least of -f", with bounds too wide to matter.
func minimize(n, terms, limits int, fg func(x, f []float64, g [][]float64)) minimax.Problem {
	p := minimax.Problem{Terms: terms, Limits: limits}
	for range n {
		p.Lower, p.Upper, p.Unit = append(p.Lower, -100), append(p.Upper, 100), append(p.Unit, 1)
	}
	p.Functions = func(x, f, grad []float64) {
		g := make([][]float64, terms+limits)
		for i := range g {
			g[i] = make([]float64, n)
		}
		fg(x, f, g)
		for i := range f {
			sign := 1.0
			if i < terms {
				sign = -1
			}
			f[i] *= sign
			for k := range n {
				if grad != nil {
					grad[i*n+k] = sign * g[i][k]
				}
			}
		}
	}
	return p
}

// TestPublishedProblems solves problems of the literature on minimax methods.
// Formulas and answers are from memory; the answers follow from the formulas,
// since the optimum is where this search and any other ends.
func TestPublishedProblems(t *testing.T) {
	for _, row := range []struct {
		name     string
		problem  minimax.Problem
		start    []float64
		want     float64
		at       []float64
		decimals float64 // to which the answer is published
	}{
		{
			// C. Charalambous and A. R. Conn, "An efficient method to solve the minimax
			// problem directly", SIAM J. Numer. Anal. 15 (1978), known as CB2.
			"Charalambous and Conn 2", minimize(2, 3, 0, cb2), []float64{1, -0.1}, 1.9522245, []float64{1.1390, 0.8996}, 1e-6,
		},
		{"Charalambous and Conn 2, far start", minimize(2, 3, 0, cb2), []float64{2, 2}, 1.9522245, []float64{1.1390, 0.8996}, 1e-6},
		{
			// The same paper, known as CB3.
			"Charalambous and Conn 3", minimize(2, 3, 0, cb3), []float64{2, 2}, 2, []float64{1, 1}, 1e-6,
		},
		{
			// V. F. Demyanov and V. N. Malozemov, Introduction to Minimax (1974), known as DEM.
			"Demyanov and Malozemov", minimize(2, 3, 0, dem), []float64{1, 1}, -3, []float64{0, -3}, 1e-6,
		},
		{
			// J. B. Rosen and S. Suzuki, "Construction of nonlinear programming test
			// problems", Comm. ACM 8 (1965), as a constrained problem.
			"Rosen and Suzuki, with constraints", minimize(4, 1, 3, rosenSuzuki), []float64{0, 0, 0, 0}, -44, []float64{0, 1, 2, -1}, 1e-5,
		},
		{
			// The same as a minimax problem with penalties of 10, known as RS.
			"Rosen and Suzuki, as minimax", minimize(4, 4, 0, rosenSuzukiMinimax), []float64{0, 0, 0, 0}, -44, []float64{0, 1, 2, -1}, 1e-5,
		},
		{
			// K. Madsen, "An algorithm for minimax solution of overdetermined systems of
			// non-linear equations", J. Inst. Math. Appl. 16 (1975).
			"Madsen", minimize(2, 6, 0, madsen), []float64{3, 1}, 0.6164324, []float64{0.4533, -0.9066}, 1e-6,
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			var solver minimax.Solver
			sol, err := solver.Maximize(row.problem, row.start, minimax.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !sol.Converged || !(math.Abs(-sol.Score-row.want) <= row.decimals) || sol.Missed > 1e-7 {
				t.Errorf("got %.8f at %v, missed %g, converged %v in %d steps; want %.7f", -sol.Score, sol.X, sol.Missed, sol.Converged, sol.Steps, row.want)
			}
			for k, v := range row.at {
				if d := math.Abs(math.Abs(sol.X[k]) - math.Abs(v)); !(d <= 1e-3) {
					t.Errorf("got %v, want %v", sol.X, row.at)
				}
			}
		})
	}
}

func set(g []float64, v ...float64) { copy(g, v) }

func cb2(x, f []float64, g [][]float64) {
	e := 2 * math.Exp(x[1]-x[0])
	f[0], f[1], f[2] = x[0]*x[0]+math.Pow(x[1], 4), (2-x[0])*(2-x[0])+(2-x[1])*(2-x[1]), e
	set(g[0], 2*x[0], 4*math.Pow(x[1], 3))
	set(g[1], 2*(x[0]-2), 2*(x[1]-2))
	set(g[2], -e, e)
}

func cb3(x, f []float64, g [][]float64) {
	cb2(x, f, g)
	f[0] = math.Pow(x[0], 4) + x[1]*x[1]
	set(g[0], 4*math.Pow(x[0], 3), 2*x[1])
}

func dem(x, f []float64, g [][]float64) {
	f[0], f[1], f[2] = 5*x[0]+x[1], -5*x[0]+x[1], x[0]*x[0]+x[1]*x[1]+4*x[1]
	set(g[0], 5, 1)
	set(g[1], -5, 1)
	set(g[2], 2*x[0], 2*x[1]+4)
}

// rosenSuzuki is one objective and three constraints >= 0.
func rosenSuzuki(x, f []float64, g [][]float64) {
	a, b, c, d := x[0], x[1], x[2], x[3]
	f[0] = a*a + b*b + 2*c*c + d*d - 5*a - 5*b - 21*c + 7*d
	f[1] = 8 - a*a - b*b - c*c - d*d - a + b - c + d
	f[2] = 10 - a*a - 2*b*b - c*c - 2*d*d + a + d
	f[3] = 5 - 2*a*a - b*b - c*c - 2*a + b + d
	set(g[0], 2*a-5, 2*b-5, 4*c-21, 2*d+7)
	set(g[1], -2*a-1, -2*b+1, -2*c-1, -2*d+1)
	set(g[2], -2*a+1, -4*b, -2*c, -4*d+1)
	set(g[3], -4*a-2, -2*b+1, -2*c, 1)
}

func rosenSuzukiMinimax(x, f []float64, g [][]float64) {
	rosenSuzuki(x, f, g)
	for i := 1; i < 4; i++ {
		f[i] = f[0] - 10*f[i]
		for k := range x {
			g[i][k] = g[0][k] - 10*g[i][k]
		}
	}
}

// madsen minimizes the greatest of |x² + y² + xy|, |sin x| and |cos y|.
func madsen(x, f []float64, g [][]float64) {
	f[0], f[1], f[2] = x[0]*x[0]+x[1]*x[1]+x[0]*x[1], math.Sin(x[0]), math.Cos(x[1])
	set(g[0], 2*x[0]+x[1], 2*x[1]+x[0])
	set(g[1], math.Cos(x[0]), 0)
	set(g[2], 0, -math.Sin(x[1]))
	for i := range 3 {
		f[3+i] = -f[i]
		set(g[3+i], -g[i][0], -g[i][1])
	}
}
