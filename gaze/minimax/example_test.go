package minimax_test

import (
	"fmt"

	"sightpost/gaze/minimax"
)

// The tip of two planes and a hill: maximize the least of x, 2 - x - y and
// 1 - (y - 1/2)², within a square.
func ExampleSolver_Maximize() {
	var solver minimax.Solver
	sol, err := solver.Maximize(minimax.Problem{
		Terms: 3,
		Functions: func(x, f, grad []float64) {
			f[0], f[1], f[2] = x[0], 2-x[0]-x[1], 1-(x[1]-0.5)*(x[1]-0.5)
			if grad != nil {
				copy(grad, []float64{1, 0, -1, -1, 0, 1 - 2*x[1]})
			}
		},
		Lower: []float64{-3, -3}, Upper: []float64{3, 3}, Unit: []float64{1, 1},
	}, []float64{0, 2}, minimax.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	// All three are equal at the top: y² - 3y/2 + 1/4 = 0 and x = 1 - y/2.
	fmt.Printf("%.4f at (%.4f, %.4f)\n", sol.Score, sol.X[0], sol.X[1])
	// Output:
	// 0.9045 at (0.9045, 0.1910)
}
