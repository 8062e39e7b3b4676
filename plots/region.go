package plots

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Region returns the figure of where the point midway between the eyes may be
// with the screen where it is: the cut, in the plane of the view through the
// eyes, of the region in which the tracker works, for a head that keeps its
// attitude. What ends the region is labeled where it is nearest to the eyes.
//
// The region of the posture drawn is filled; those of other postures that must
// work are outlines, placed as the screen sees them. Each has its eyes and
// the ellipse of usual movement, dashed like its outline, which lies within its
// region where the posture works. The figure is to scale, at the largest of 1:1 to 1:5,
// 1:10, 1:15, 1:20, 1:25 and 1:50 that fits. The error wraps [ErrFigure].
func Region(r *fit.Result, v View, opt Options) (Figure, error) {
	s, err := newScene(r, v, "where the eyes may be, "+v.String()+", distances in this plane", opt)
	if err != nil {
		return Figure{}, err
	}
	s.scales = []int{1, 2, 3, 4, 5, 10, 15, 20, 25, 50}
	s.working(s.shown, look{})
	for i, f := range s.others() {
		s.working(f, look{line: curveLook(i + 1)})
	}
	return s.figure()
}

// working draws the cut of a posture, that of another than the one drawn in a look, and
// labels what ends it.
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
	eyes := s.flat(s.shown.InCarrier.Carrier.Apply(f.InCarrier.Head.At))
	s.sign(eyes, cross)
	s.left = append(s.left, label{eyes, "eyes' middle, " + name})
	if !inside {
		words := name + " does not work"
		if f.Least >= 0 && f.Least < len(f.Margins) {
			words += ": " + f.Margins[f.Least].Condition.String()
		}
		s.explain(look{}, words)
	}
	if !inside || f != s.shown {
		return
	}
	for kind, words := range endWords {
		ends := slices.DeleteFunc(slices.Clone(edges), func(e gaze.Edge) bool { return e.Condition.Kind != gaze.ConditionKind(kind) })
		if len(ends) >= leastRays {
			nearest := slices.MinFunc(ends, func(a, b gaze.Edge) int { return cmp.Compare(a.DistMM, b.DistMM) })
			s.aside(s.flat(chairFromHead(f).At).X, s.flat(f.InCarrier.Carrier.Apply(nearest.At)), words+", after "+s.units.Length(nearest.DistMM))
		}
	}
}

// leastRays is along how many rays a condition must end the region to have a label.
const leastRays = regionRays / 60

// movement draws the usual movement of a posture's head about the eyes, where
// they are before the screen.
func (s *scene) movement(f *fit.PostureResult, l look, words string) {
	carrier, st := s.shown.InCarrier.Carrier, &f.InCarrier
	semi := scaled(st.MovementMM, carrier.Rot.Mul(st.Seat))
	s.outline(s.ellipsoid(carrier.Apply(st.Head.At), semi), l)
	s.explain(l, words)
}

// scaled returns the semi-axes of an ellipsoid that lies along the axes of rot.
func scaled(semi r3.Vec, rot frame.Rotation) [3]r3.Vec {
	return [3]r3.Vec{r3.Scale(semi.X, rot.X), r3.Scale(semi.Y, rot.Y), r3.Scale(semi.Z, rot.Z)}
}

// region draws the cut of the region in which the tracker works, in the plane of
// the view through the eyes.
func (s *scene) region() {
	edges, inside := s.edges(s.shown)
	s.outline(s.edgePoints(edges), lookRegion)
	if len(edges) > 0 {
		s.explain(lookRegion, whereEyes(inside))
	}
	s.movement(s.shown, lookMovement, "usual head movement")
}

// regionRays is how many rays the edge of a region is followed along.
const regionRays = 240

// whereEyes says what a region is, for eyes inside or outside it.
func whereEyes(inside bool) string {
	if inside {
		return "where the eyes' middle may be"
	}
	return "where the eyes' middle would have to be"
}

// edges returns the edge of the region in the plane of the view through the
// eyes of a posture, and whether the eyes are inside. From eyes outside, the edge
// is looked for around the point of that plane that the tracker sees best; there
// may be none.
func (s *scene) edges(f *fit.PostureResult) (edges []gaze.Edge, inside bool) {
	judge := gaze.NewJudge(s.job.Device, s.job.Scene.Person)
	back := f.InCarrier.Carrier.Rot
	across, up := back.ApplyInverse(s.x), back.ApplyInverse(s.y)
	eyes, screen := f.InCarrier.Head.At, heldScreen(f)
	if edges = judge.Cut(screen, &f.InCarrier, eyes, across, up, regionRays); len(edges) > 0 {
		return edges, true
	}
	t := s.job.Device.Tracker
	best := r3.Sub(screen.Apply(r3.Add(t.Place(), r3.Scale(t.BestMM, t.Axis()))), eyes)
	inPlane := r3.Add(r3.Scale(r3.Dot(best, across), across), r3.Scale(r3.Dot(best, up), up))
	return judge.Cut(screen, &f.InCarrier, r3.Add(eyes, inPlane), across, up, regionRays), false
}

// edgePoints returns edges in the view.
func (s *scene) edgePoints(edges []gaze.Edge) []r2.Vec {
	points := make([]r2.Vec, len(edges))
	for i, e := range edges {
		points[i] = s.flat(s.shown.InCarrier.Carrier.Apply(e.At))
	}
	return points
}
