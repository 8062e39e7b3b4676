package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// HiddenFloor returns the figure of what the device housing hides of the floor
// ahead in one posture, from above: from the left eye, from the right eye and from
// both, with the distances ahead of the eyes and to the sides of the chair's
// midline; and of what tubes of the mount hide from both eyes, as those that run across
// do however thin they are. Distances are those of the housing alone.
//
// The figure is to scale, at the largest of 1:10, 1:15, 1:20, 1:25, 1:30, 1:40,
// 1:50, 1:75, 1:100, 1:150 and 1:200 that fits. The error wraps [ErrFigure].
func HiddenFloor(r *fit.Result, opt Options) (Figure, error) {
	s, err := newScene(r, Top, "floor that the screen hides", opt)
	if err != nil {
		return Figure{}, err
	}
	s.scales = []int{10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200}
	s.from = r3.Vec{X: chairFromHead(s.shown).At.X}
	s.acrossName, s.upName = "ahead of the eyes", "to the left of the chair's midline"
	a := s.job.Device.Ahead(heldScreen(s.shown), &s.shown.InCarrier)
	more := s.mountShadows()
	s.shadows(&a)
	s.person()
	s.screen()
	s.hold(s.held(), lookTube, tubeWords)
	s.paint()
	s.line(lookSight.line, r2.Vec{}, r2.Vec{X: max(s.hiX, 0)}) // ahead of the eyes, as far as anything is drawn
	s.explain(lookSight, "midline of the chair")
	s.say("The housing covers %.0f%% of the forward field: %.0f° to either side of straight ahead, %.0f° above and %.0f° below (US NRC, NUREG-0700).",
		100*a.Share, gaze.FieldAside.Degrees(), gaze.FieldAbove.Degrees(), gaze.FieldBelow.Degrees())
	if more != "" {
		s.say("%s", more)
	}
	return s.figure()
}

// mountShadows draws the floor that tubes of the mount hide from both eyes, and says
// how much of it there is.
func (s *scene) mountShadows() string {
	parts, areaMM2 := s.hiddenByMount()
	if areaMM2 < leastShownMM2 {
		return ""
	}
	for _, p := range parts {
		s.outline(s.flatAll(p...), lookHiddenByMount)
	}
	s.explain(lookHiddenByMount, "hidden from both eyes by tubes of the mount")
	unit, mm := "m", 1e3
	if s.units == units.Inch {
		unit, mm = "ft", 12*s.units.MM()
	}
	return fmt.Sprintf("Beyond that, tubes of the mount hide %.1f %s² from both eyes, of the floor to %.0f %s ahead.", areaMM2/(mm*mm), unit, gaze.LookMM/mm, unit)
}

// leastShownMM2 is the least area of floor that is worth telling, a choice.
const leastShownMM2 = 5e4

// shadows draws the hidden floor and its distances.
func (s *scene) shadows(a *gaze.Ahead) {
	for eye, shadow := range a.Floor {
		l := lookHiddenFrom[eye]
		s.outline(s.flatAll(shadow.Outline...), l)
		if shadow.Hides {
			s.explain(l, "hidden from the "+gaze.Eye(eye).String()+" by the housing")
		}
	}
	if !a.Both.Hides {
		s.say("No floor is hidden from both eyes.")
		return
	}
	s.outline(s.flatAll(a.Both.Outline...), lookHidden)
	s.explain(lookHidden, "hidden from both eyes by the housing")
	b := &a.Both
	at := func(way r2.Vec, format string, mm float64) label { // at the corner that is furthest that way
		corner := slices.MaxFunc(s.flatAll(b.Outline...), func(p, q r2.Vec) int { return cmp.Compare(r2.Dot(p, way), r2.Dot(q, way)) })
		return label{at: corner, text: fmt.Sprintf(format, s.units.Number(mm))}
	}
	far := "hidden to %s"
	if b.Endless {
		far = "hidden to %s, as far as is looked, and beyond"
	}
	s.top = append(s.top, at(r2.Vec{X: -1}, "hidden from %s", b.NearMM))
	s.right = append(s.right, at(r2.Vec{X: 1}, far, b.FarMM),
		at(r2.Vec{Y: 1}, "left %s", b.LeftMM), at(r2.Vec{Y: -1}, "right %s", -b.RightMM))
}

// hiddenByMount returns the parts of the floor (chair axes, mm) that the mount's tubes,
// or a tube and the housing together, hide from both eyes, and the area of what the
// housing alone does not hide (mm²). The parts are convex and may overlap.
//
// What both eyes do not see is what some part hides from the one and some part, which
// may be another, hides from the other: all pairs of the parts' shadows. Bars, whose
// form is not known, are left out.
func (s *scene) hiddenByMount() (parts [][]r3.Vec, areaMM2 float64) {
	h := s.held()
	if h == nil {
		return nil, 0
	}
	solids := [][]r3.Vec{s.housingCorners(s.shown.Screen)}
	for _, t := range h.tubes {
		for i := 1; i < len(t.line); i++ {
			solids = append(solids, append(ringAt(t.line[i-1], t.line[i], t.radius), ringAt(t.line[i], t.line[i-1], t.radius)...))
		}
	}
	x := chairFromHead(s.shown).At.X
	var cones [2][]cone
	for eye, at := range s.shown.Eyes() {
		for _, points := range solids {
			cones[eye] = append(cones[eye], coneOf(at, points))
		}
	}
	var housing [][]r3.Vec
	for i, left := range cones[gaze.LeftEye] {
		one := left.of(gaze.LookedAt(x))
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
	return parts, areaTogether(slices.Concat(parts, housing), x) - areaTogether(housing, x)
}

// cone is what something hides from an eye: all that is on the inner side of planes
// through the eye. Without planes it hides nothing.
type cone struct {
	eye    r3.Vec
	inward []r3.Vec // normals of the planes
}

// coneOf returns what the hull of points hides from an eye; nothing where the hull is
// beside the eye or around it, or the eye not above the floor. The floor is taken to be
// beyond the hull, as it is for one above it.
//
// Square to the way to the hull's middle the cone is a convex outline, each edge of
// which makes a plane through the eye.
func coneOf(eye r3.Vec, points []r3.Vec) cone {
	c := cone{eye: eye}
	if !(eye.Z > 0) {
		return c
	}
	var middle r3.Vec
	for _, p := range points {
		middle = r3.Add(middle, r3.Scale(1/float64(len(points)), p))
	}
	way := r3.Unit(r3.Sub(middle, eye))
	across := plane{x: r3.Unit(r3.Cross(way, squareTo(way))), from: eye}
	across.y = r3.Cross(way, across.x)
	flat := make([]r2.Vec, len(points))
	for i, p := range points {
		far := r3.Dot(r3.Sub(p, eye), way)
		if !(far > 0) {
			return c
		}
		flat[i] = r2.Scale(1/far, across.flat(p))
	}
	ray := func(q r2.Vec) r3.Vec {
		return r3.Add(way, r3.Add(r3.Scale(q.X, across.x), r3.Scale(q.Y, across.y)))
	}
	if edge := hull(flat); len(edge) > 2 {
		for i, q := range edge { // inward: x, y and way are right-handed
			c.inward = append(c.inward, r3.Cross(ray(q), ray(edge[(i+1)%len(edge)])))
		}
	}
	return c
}

// of returns the part of a convex polygon on the floor that is in the cone.
func (c cone) of(floor []r3.Vec) []r3.Vec {
	for _, n := range c.inward {
		floor = gaze.Clip(floor, n, r3.Dot(n, c.eye))
	}
	if len(c.inward) == 0 || len(floor) < 3 {
		return nil
	}
	return floor
}

// areaTogether returns the area of floor that convex polygons cover together, ahead of
// x as far as is looked: in strips of 10 mm, which leaves an error far below what is
// told.
func areaTogether(polygons [][]r3.Vec, x float64) float64 {
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
func acrossAt(polygon []r3.Vec, x float64) (low, high float64) {
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
