package plots

import (
	"cmp"
	"slices"

	"sightpost/gaze"
	"sightpost/mount/fit"
)

// Region returns the figure of where the point midway between the eyes may be
// with the screen where it is: the cut, in the plane of the view through the
// eyes, of the region in which the tracker works, for a head that keeps its
// attitude. Each part of its edge is labeled with what ends the region there.
//
// The region of the posture drawn is filled; those of other postures that must
// work are outlines, placed as the screen sees them. Each has its eyes and
// the ellipse of usual movement, dashed like its outline, which lies within its
// region where the posture works. The figure is to scale, at the largest of 1:1 to 1:5,
// 1:10, 1:15, 1:20, 1:25 and 1:50 that fits. The error wraps [ErrFigure].
func Region(r *fit.Result, v View, opt Options) (Figure, error) {
	s, err := newScene(r, v, "where the eyes may be, "+v.String(), opt)
	if err != nil {
		return Figure{}, err
	}
	s.scales = []int{1, 2, 3, 4, 5, 10, 15, 20, 25, 50}
	s.working(s.shown, look{})
	others := 0
	for i := range r.Postures {
		if f := &r.Postures[i]; i != s.at && f.Posture.MustWork {
			others++
			s.working(f, look{line: curveLook(others)})
		}
	}
	return s.figure()
}

// working draws the cut of a posture, that of another than the one drawn in a look, and
// labels what ends it or says, of another posture, what ends it nearest.
func (s *scene) working(f *fit.PostureResult, other look) {
	name := spoken(f.Posture.Name)
	edges, inside := s.edges(f)
	l, movement := lookRegion, lookMovement
	where, moves := whereEyes(inside)+", "+name, "usual head movement, "+name
	if f != s.shown {
		l, movement, where = other, other, "where it would have to be, "+name
		movement.line.Width *= 0.6
		if inside {
			where = "where it may be, " + name
		}
		if f.InCarrier.Carrier != s.shown.InCarrier.Carrier {
			moves += " (as seen from the screen)" // which has moved along
		}
	}
	if len(edges) > 0 {
		s.explain(l, where)
	}
	s.outline(s.edgePoints(edges), l)
	s.movement(f, movement, moves)
	s.eyeLabel(f)
	if !inside {
		s.outside(f)
		return
	}
	if f != s.shown {
		least := slices.MinFunc(edges, func(a, b gaze.Edge) int { return cmp.Compare(a.DistMM, b.DistMM) })
		s.say("Posture %s: nearest end after %s, %s.", name, s.units.Number(least.DistMM), endWords(least.Condition.Kind))
		return
	}
	for _, middle := range runsOf(edges) {
		e := edges[middle]
		s.aside(s.flat(chairFromHead(f).At).X, label{s.flat(f.InCarrier.Carrier.Apply(e.At)), endWords(e.Condition.Kind), "after " + s.units.Number(e.DistMM)})
	}
}

// outside says of a posture that the tracker does not work in it.
func (s *scene) outside(f *fit.PostureResult) {
	words := spoken(f.Posture.Name) + " does not work"
	if f.Least >= 0 && f.Least < len(f.Margins) {
		words += ": " + f.Margins[f.Least].Condition.String()
	}
	s.say("%s.", words)
}

// eyeLabel marks the middle between the eyes of a posture where it is to the screen.
func (s *scene) eyeLabel(f *fit.PostureResult) {
	at := s.flat(s.shown.InCarrier.Carrier.Apply(f.InCarrier.Head.At))
	s.sign(at, cross)
	s.left = append(s.left, label{at: at, text: "eyes' middle, " + spoken(f.Posture.Name)})
}

// leastRun is the least number of rays that a run needs for a label of its own.
const leastRun = regionRays / 60

// runsOf returns the middles of the runs of neighboring edges that the same kind of
// condition makes, going round.
func runsOf(edges []gaze.Edge) []int {
	n := len(edges)
	kind := func(i int) gaze.ConditionKind { return edges[i%n].Condition.Kind }
	start := 0
	for start < n && kind(start) == kind(start+n-1) {
		start++
	}
	if start == n {
		return []int{0}
	}
	var middles []int
	for i := start; i < start+n; {
		j := i
		for j < start+n && kind(j) == kind(i) {
			j++
		}
		if j-i >= leastRun {
			middles = append(middles, (i+(j-i)/2)%n)
		}
		i = j
	}
	return middles
}
