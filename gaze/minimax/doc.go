// Package minimax maximizes the least of several smooth functions within bounds.
//
// The problem is
//
//	maximize  min f_i(x) - Σ rate_k |c_k(x)|
//	subject to  h_j(x) >= 0,  lower <= x <= upper
//
// with a few variables (up to some twenty) and dozens to hundreds of functions.
// The maximum usually lies where several functions are equal, a kink at which
// methods for smooth functions stall. [Solver] replaces every function by its
// tangent within a box about the best point so far, solves that linear program,
// and widens or narrows the box by how well the tangents foretold the change:
// sequential linear programming with a trust region and an exact penalty.
//
// References: K. Madsen and H. Schjaer-Jacobsen, "Linearly constrained minimax
// optimization", Mathematical Programming 14 (1978) 208-223, from memory;
// R. Fletcher and E. Sainz de la Maza, "Nonlinear programming and nonsmooth
// optimization by successive linear programming", Mathematical Programming 43
// (1989) 235-256, from memory.
package minimax
