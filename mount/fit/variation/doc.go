// Package variation asks how a result does when everything that was measured and set is
// a little off at the same time.
//
// A [Budget] says how far each measure and setting may be off. [Simulate] draws all errors
// many times over and counts how often the postures still track; [Shares] says which error
// the scatter of the margin comes from. Read [Simulations] first.
package variation
