package plots

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount/fit"
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
	h := s.held()
	s.hiddenByMount(h, a.Floor)
	s.shadows(&a)
	s.person()
	s.screen()
	s.hold(h, lookTube, tubeWords)
	s.paint()
	s.line(lookSight.line, r2.Vec{}, r2.Vec{X: max(s.hiX, 0)}) // ahead of the eyes, as far as anything is drawn
	s.explain(lookSight, "midline of the chair")
	return s.figure()
}

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
		return
	}
	s.outline(s.flatAll(a.Both.Outline...), lookHidden)
	s.explain(lookHidden, "hidden from both eyes by the housing")
	b := &a.Both
	tell := func(where *lane, way r2.Vec, text string, mm float64, more string) { // at the corner that is furthest that way
		corner := slices.MaxFunc(s.flatAll(b.Outline...), func(p, q r2.Vec) int { return cmp.Compare(r2.Dot(p, way), r2.Dot(q, way)) })
		*where = append(*where, label{corner, text + s.units.Number(mm) + more})
	}
	far := ""
	if b.Endless {
		far = " and beyond"
	}
	tell(&s.left, r2.Vec{X: -1}, "hidden from ", b.NearMM, "")
	tell(&s.right, r2.Vec{X: 1}, "hidden to ", b.FarMM, far)
	tell(&s.right, r2.Vec{Y: 1}, "left ", b.LeftMM, "")
	tell(&s.right, r2.Vec{Y: -1}, "right ", -b.RightMM, "")
}

// hiddenByMount draws the floor that tubes of the mount, or a tube and the housing together,
// hide from both eyes: all pairs of what one hides from the left eye and one, which may be
// another, from the right. Bars, whose form is not known, are left out.
func (s *scene) hiddenByMount(h *held, byHousing [2]gaze.Shadow) {
	if h == nil {
		return
	}
	var parts []straight
	for _, t := range h.tubes {
		parts = append(parts, t.straights()...)
	}
	eyes := s.shown.Eyes()
	show := func(floor []r3.Vec) {
		if len(floor) > 2 {
			s.outline(s.flatAll(floor...), lookHiddenByMount)
			s.explain(lookHiddenByMount, "hidden from both eyes by tubes of the mount")
		}
	}
	for _, left := range parts {
		one := left.hides(eyes[gaze.LeftEye], gaze.LookedAt(chairFromHead(s.shown).At.X))
		for _, right := range parts {
			show(right.hides(eyes[gaze.RightEye], one))
		}
		for eye, at := range eyes {
			show(left.hides(at, byHousing[1-eye].Outline))
		}
	}
}

// hides returns the part of a convex polygon on the floor that a tube below an eye hides
// from it: what is inside of four planes through the eye and the edges of its outline.
func (t straight) hides(eye r3.Vec, floor []r3.Vec) []r3.Vec {
	a, b := t.from, t.to
	side := r3.Cross(r3.Sub(b, a), r3.Sub(a, eye))
	if r3.Norm(side) == 0 || !(eye.Z > max(a.Z, b.Z)) {
		return nil
	}
	side = r3.Scale(t.radius, r3.Unit(side))
	corners := [4]r3.Vec{r3.Add(a, side), r3.Add(b, side), r3.Sub(b, side), r3.Sub(a, side)}
	for i, p := range corners {
		inward := r3.Cross(r3.Sub(p, eye), r3.Sub(corners[(i+1)%4], eye))
		floor = gaze.Clip(floor, inward, r3.Dot(inward, eye))
	}
	return floor
}
