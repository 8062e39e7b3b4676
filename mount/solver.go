package mount

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Solver solves for one chain again and again with the same buffers. It is not for
// use by several goroutines at once; make one for each.
type Solver struct {
	moving []Joint
	search *search
	random *rand.Rand
	seed   *rand.PCG
	stops  [][]float64 // of every setting; nil where there are none
	best   []float64   // settings, mm or rad
	draw   []float64
}

// Solver returns a solver for c, or what [Chain.Check] reports.
func (c Chain) Solver() (*Solver, error) {
	k, err := c.Compile()
	if err != nil {
		return nil, err
	}
	s := &Solver{moving: c.Moving(), seed: rand.NewPCG(1, 2)}
	s.random = rand.New(s.seed)
	s.search = newSearch(k, s.moving)
	n := len(s.moving)
	s.best, s.draw = make([]float64, n), make([]float64, n)
	s.stops = make([][]float64, n)
	for i, j := range s.moving {
		s.stops[i] = j.Stops()
	}
	return s, nil
}

var _ = r3.Vec{}
var _ = frame.Identity
var _ = math.Pi
