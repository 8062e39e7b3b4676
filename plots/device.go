package plots

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
	"sightpost/plots/units"
)

// housing returns the device housing in chair axes.
func (s *scene) housing(screen frame.Pose) space.Shape {
	middle, half := s.job.Device.Screen.Housing()
	return space.Shape{Pose: screen.Mul(frame.Translate(middle)), HalfMM: half}
}

// housingCorners returns the corners of the housing in chair axes.
func (s *scene) housingCorners(screen frame.Pose) []r3.Vec {
	box := s.housing(screen)
	corners := make([]r3.Vec, 8)
	for i := range corners {
		corners[i] = box.Pose.Apply(box.Corner(i))
	}
	return corners
}

// display returns the outline of the display area.
func (s *scene) display(screen frame.Pose) []r2.Vec {
	var corners []r2.Vec
	for _, c := range cornersOf(s.job.Device.Screen.Display()) {
		corners = append(corners, s.flat(screen.Apply(r3.Vec{X: c.X, Y: c.Y})))
	}
	return hull(corners)
}

// screen adds the housing of the screen with its display area.
func (s *scene) screen() {
	s.housed(s.shown.Screen, lookHousing)
	s.explain(lookHousing, "device housing")
	s.explain(lookDisplay, "display area")
}

// housed adds the housing about a screen in a look, with the display area on it: dotted
// where the viewer sees its back.
func (s *scene) housed(pose frame.Pose, l look) {
	s.solid(s.housing(pose), l, ofScreen)
	display := lookDisplay
	if !s.faces(pose) {
		display = look{line: stroke(ink, 0.8, 0.8, 1.8)}
	}
	s.onLast(func() { s.outline(s.display(pose), display) })
}

// faces reports whether the viewer sees the face of a screen, or it is turned away by no more
// than half a degree, which is drawn as its edge.
func (s *scene) faces(screen frame.Pose) bool {
	const edge = -0.01
	return r3.Dot(screen.Rot.Z, s.toward()) > edge
}

// volumeCorners returns the corners of the tracking volume at a depth (mm), going
// round, in chair axes.
func (s *scene) volumeCorners(depth float64) []r3.Vec {
	t := s.job.Device.Tracker
	axis := t.Axis()
	up := r3.Cross(axis, r3.Vec{X: 1})
	wide, high := depth*math.Tan(t.Across.Radians()/2), depth*math.Tan(t.UpDown.Radians()/2)
	var out []r3.Vec
	for _, c := range [4]r2.Vec{{X: -wide, Y: -high}, {X: wide, Y: -high}, {X: wide, Y: high}, {X: -wide, Y: high}} {
		out = append(out, s.shown.Screen.Apply(r3.Add(t.Place(), r3.Add(r3.Scale(depth, axis), r3.Add(r3.Vec{X: c.X}, r3.Scale(c.Y, up))))))
	}
	return out
}

// trackingVolume draws the edges of the space that the tracker sees.
func (s *scene) trackingVolume() {
	t := s.job.Device.Tracker
	near, far := s.volumeCorners(t.NearMM), s.volumeCorners(t.FarMM)
	at := s.shown.Screen.Apply(t.Place())
	for i := range near {
		next := (i + 1) % len(near)
		s.seen(lookRay, at, near[i], ofKeep)
		s.seen(lookVolume.line, near[i], far[i], ofKeep)
		s.seen(lookVolume.line, near[i], near[next], ofKeep)
		s.seen(lookVolume.line, far[i], far[next], ofKeep)
	}
	s.explain(lookVolume, "tracker (triangle) and tracking volume")
}

// sight draws the line from the eyes to the middle of the screen, with its length where it
// is not seen end on, and, from the side, a plumb line through that middle.
func (s *scene) sight() {
	eyes, middle := chairFromHead(s.shown).At, s.shown.Screen.At
	s.seen(lookSight.line, eyes, middle, ofKeep)
	s.explain(lookSight, "line of sight")
	s.explain(look{line: faintly}, "hidden")
	a, b, long := s.flat(eyes), s.flat(middle), r3.Norm(r3.Sub(middle, eyes))
	if r2.Norm(r2.Sub(b, a)) > long/2 {
		s.notes = append(s.notes, note{at: r2.Scale(0.5, r2.Add(a, b)), along: r2.Sub(b, a), text: s.units.Length(long)})
	}
	if s.v == Side && !s.compact {
		half := s.job.Device.Screen.HeightMM / 2
		s.line(stroke(grey(0.45), 0.35, 2, 1.5), r2.Vec{X: b.X, Y: b.Y - half}, r2.Vec{X: b.X, Y: b.Y + half})
	}
}

// tiltWords tells the tilt of a screen in chair axes, to half a degree as everywhere.
func tiltWords(screen frame.Pose) string {
	up := math.Round(2*mount.AttitudeOf(screen.Rot).Tilt.Degrees()) / 2
	if up < 0 {
		return "tilt " + units.UpTo(-up, 3) + "° forward"
	}
	return "tilt " + units.UpTo(up, 3) + "° back"
}
