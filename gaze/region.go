package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Edge is where a straight movement of the head leaves the region in which the
// tracker works: the place of the point midway between the eyes, and what fails
// there.
type Edge struct {
	At        r3.Vec // carrier axes (mm)
	DistMM    float64
	Condition Condition
}

// Cut returns the edge of the region in which the head may be, in the plane
// through origin spanned by the unit vectors across and up: n edges on rays
// evenly spread from across toward up, for a head that keeps its attitude and
// does not move otherwise. It is the part of the region that a straight movement
// from origin can reach. Cut returns nil when the tracker does not work with the
// head at origin, or n is below 1.
//
// Points and directions are in carrier axes (mm).
func (j *Judge) Cut(screen frame.Pose, st *PostureInCarrier, origin, across, up r3.Vec, n int) []Edge {
	still := *st
	still.MovementMM = r3.Vec{}
	still = still.Moved(r3.Sub(origin, st.Head.At))
	if mm, _ := j.Margin(screen, &still); !(mm >= 0) || n < 1 {
		return nil
	}
	edges := make([]Edge, 0, n)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		edges = append(edges, j.Edge(screen, &still, r3.Add(r3.Scale(c, across), r3.Scale(s, up))))
	}
	return edges
}

const (
	// edgeMM is how near an edge is followed: far below what a tape shows.
	edgeMM = 1e-7
	// farthestMM ends a ray that nothing ends; no tracker sees so far.
	farthestMM = 1e5
)

// Edge returns the first place at which the head of posture st, moved straight
// along the unit direction dir (carrier axes), runs out of margin. The margin at
// the start must not be negative.
//
// No margin shrinks faster than the head moves, so a step by the least margin never
// passes an edge; the margin of a plane shrinks evenly, so for planes the step
// that ends it is known at once.
func (j *Judge) Edge(screen frame.Pose, st *PostureInCarrier, dir r3.Vec) Edge {
	var buf [2 * perEye]ConditionMargin
	dist := 0.0
	for range 1000 {
		moved := st.Moved(r3.Scale(dist, dir))
		margins := j.Margins(buf[:0], screen, &moved)
		step, ends := math.Inf(1), 0
		for i := range margins {
			if s := margins[i].step(dir); s < step {
				step, ends = s, i
			}
		}
		if step < edgeMM || dist > farthestMM {
			return Edge{At: moved.Head.At, DistMM: dist, Condition: margins[ends].Condition}
		}
		dist += step
	}
	moved := st.Moved(r3.Scale(dist, dir)) // a ray that grazes an arc: near enough
	_, c := j.Margin(screen, &moved)
	return Edge{At: moved.Head.At, DistMM: dist, Condition: c}
}

// step returns how far the head may certainly move along dir.
func (r *ConditionMargin) step(dir r3.Vec) float64 {
	if r.Condition.Kind == GazeLimit {
		return r.MM
	}
	if shrink := -r3.Dot(r.Inward, dir); shrink > 0 {
		return r.MM / shrink
	}
	return math.Inf(1)
}
