package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// hiddenByMount returns the parts of the floor (chair axes, mm) that the mount's tubes,
// or a tube and the housing together, hide from both eyes, and the area of what the
// housing alone does not hide (mm²). The parts are convex and may overlap.
//
// What both eyes do not see is what some part hides from the one and some part, which
// may be another, hides from the other: all pairs of the parts' shadows. Bars, whose
// form is not known, are left out.
func (s *scene) hiddenByMount() (parts [][]r2.Vec, areaMM2 float64, err error) {
	if s.r.Set == nil {
		return nil, 0, nil
	}
	h, err := s.held()
	if err != nil {
		return nil, 0, err
	}
	solids := [][]r3.Vec{s.housingCorners(s.shown.Screen)}
	for _, t := range h.tubes {
		for i := 1; i < len(t.line); i++ {
			solids = append(solids, append(ringAt(t.line[i-1], t.line[i], t.radius), ringAt(t.line[i], t.line[i-1], t.radius)...))
		}
	}
	eyes, x := s.shown.Eyes(), chairFromHead(s.shown).At.X
	var cones [2][]cone
	for eye := range cones {
		for _, points := range solids {
			cones[eye] = append(cones[eye], coneOf(eyes[eye], points))
		}
	}
	var housing [][]r2.Vec
	for i, left := range cones[gaze.LeftEye] {
		one := left.of(lookedAt(x))
		for j, right := range cones[gaze.RightEye] {
			both := right.of(one)
			switch {
			case both == nil:
			case i == 0 && j == 0:
				housing = append(housing, both)
			default:
				parts = append(parts, both)
			}
		}
	}
	return parts, areaTogether(slices.Concat(parts, housing), x) - areaTogether(housing, x), nil
}

// lookedAt returns the floor that is looked at from eyes at x: as far as [gaze.Ahead]
// looks.
func lookedAt(x float64) []r2.Vec {
	return []r2.Vec{{X: x, Y: gaze.LookMM}, {X: x, Y: -gaze.LookMM}, {X: x + gaze.LookMM, Y: -gaze.LookMM}, {X: x + gaze.LookMM, Y: gaze.LookMM}}
}

// cone is what something hides from an eye, as it cuts the floor: the points p of it
// for which n·p ≥ least for every edge. Without edges it hides nothing.
type cone []struct {
	n     r2.Vec
	least float64
}

// coneOf returns what the hull of points hides from an eye; nothing where the hull is
// beside the eye or around it, or the eye not above the floor. The floor is taken to be
// beyond the hull, as it is for one above it.
//
// The cone has its tip in the eye. Square to the way to the hull's middle it is a convex
// outline, each edge of which makes a plane through the eye.
func coneOf(eye r3.Vec, points []r3.Vec) cone {
	if !(eye.Z > 0) {
		return nil
	}
	var middle r3.Vec
	for _, p := range points {
		middle = r3.Add(middle, r3.Scale(1/float64(len(points)), p))
	}
	way := r3.Unit(r3.Sub(middle, eye))
	x := r3.Unit(r3.Cross(way, squareTo(way)))
	y := r3.Cross(way, x)
	flat := make([]r2.Vec, len(points))
	for i, p := range points {
		d := r3.Sub(p, eye)
		far := r3.Dot(d, way)
		if !(far > 0) {
			return nil
		}
		flat[i] = r2.Vec{X: r3.Dot(d, x) / far, Y: r3.Dot(d, y) / far}
	}
	edge := hull(flat)
	if len(edge) < 3 {
		return nil
	}
	ray := func(q r2.Vec) r3.Vec { return r3.Add(way, r3.Add(r3.Scale(q.X, x), r3.Scale(q.Y, y))) }
	c := make(cone, len(edge))
	for i, q := range edge {
		n := r3.Cross(ray(q), ray(edge[(i+1)%len(edge)])) // inward: x, y and way are right-handed
		c[i].n, c[i].least = r2.Vec{X: n.X, Y: n.Y}, r3.Dot(n, eye)
	}
	return c
}

// of returns the part of a convex polygon on the floor that is in the cone.
func (c cone) of(floor []r2.Vec) []r2.Vec {
	if len(c) == 0 {
		return nil
	}
	for _, edge := range c {
		if floor = halved(floor, edge.n, edge.least); floor == nil {
			return nil
		}
	}
	return floor
}

// halved returns the part of a convex polygon for whose points p n·p ≥ least.
func halved(polygon []r2.Vec, n r2.Vec, least float64) []r2.Vec {
	var out []r2.Vec
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		a, b := r2.Dot(n, p)-least, r2.Dot(n, q)-least
		if (a < 0) != (b < 0) {
			out = append(out, r2.Add(p, r2.Scale(a/(a-b), r2.Sub(q, p))))
		}
		if b >= 0 {
			out = append(out, q)
		}
	}
	if len(out) < 3 {
		return nil
	}
	return out
}

// areaTogether returns the area of floor that convex polygons cover together, ahead of
// x as far as is looked: in strips of 10 mm, which leaves an error far below what is
// told.
func areaTogether(polygons [][]r2.Vec, x float64) float64 {
	const stripMM = 10
	sum := 0.0
	var across [][2]float64
	for at := x + stripMM/2; at < x+gaze.LookMM; at += stripMM {
		across = across[:0]
		for _, p := range polygons {
			if low, high := acrossAt(p, at); low < high {
				across = append(across, [2]float64{low, high})
			}
		}
		slices.SortFunc(across, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
		reached := math.Inf(-1)
		for _, s := range across {
			sum += stripMM * max(0, s[1]-max(s[0], reached))
			reached = max(reached, s[1])
		}
	}
	return sum
}

// acrossAt returns from where to where a convex polygon reaches across x; low above
// high where it does not.
func acrossAt(polygon []r2.Vec, x float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		if (p.X < x) != (q.X < x) {
			y := p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X)
			low, high = min(low, y), max(high, y)
		}
	}
	return low, high
}
