package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// housingBox returns the device housing in chair axes.
func (s *scene) housingBox(screen frame.Pose) space.Shape {
	middle, half := s.job.Device.Screen.Housing()
	return space.Shape{Pose: screen.Mul(frame.Translate(middle)), HalfMM: half}
}

// housingCorners returns the corners of the housing in chair axes.
func (s *scene) housingCorners(screen frame.Pose) []r3.Vec {
	box := s.housingBox(screen)
	corners := make([]r3.Vec, 8)
	for i := range corners {
		corners[i] = box.Pose.Apply(box.Corner(i))
	}
	return corners
}

// housing returns the outline of the housing.
func (s *scene) housing(screen frame.Pose) []r2.Vec { return s.shape(s.housingBox(screen)) }

// display returns the outline of the display area.
func (s *scene) display(screen frame.Pose) []r2.Vec {
	var corners []r2.Vec
	for _, c := range cornersOf(s.job.Device.Screen.Display()) {
		corners = append(corners, s.flat(screen.Apply(r3.Vec{X: c.X, Y: c.Y})))
	}
	return hull(corners)
}

// device draws the device housing.
func (s *scene) device() {
	s.outline(s.housing(s.shown.Screen), lookHousing)
	s.explain(lookHousing, "device housing")
}

// screen draws housing, display area and tracker.
func (s *scene) screen() {
	pose, d := s.shown.Screen, s.job.Device
	s.device()
	s.outline(s.display(pose), lookDisplay)
	s.explain(lookDisplay, "display area")
	s.sign(s.flat(pose.Apply(d.Tracker.Place())), trackerMark)
	if s.compact {
		s.locate("screen", pose.At)
	} else {
		s.locate("screen middle", pose.At)
	}
	if s.v != Top && !s.compact {
		corners := s.housingCorners(pose)
		byHeight := func(a, b r3.Vec) int { return cmp.Compare(a.Z, b.Z) }
		s.height(&s.right, "housing, highest corner", slices.MaxFunc(corners, byHeight))
		s.height(&s.right, "housing, lowest corner", slices.MinFunc(corners, byHeight))
	}
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

// trackingVolume draws the outline of the space that the tracker sees.
func (s *scene) trackingVolume() {
	t := s.job.Device.Tracker
	near, far := s.volumeCorners(t.NearMM), s.volumeCorners(t.FarMM)
	s.outline(hull(s.flatAll(append(near, far...)...)), lookVolume)
	at := s.flat(s.shown.Screen.Apply(t.Place()))
	for _, p := range hull(s.flatAll(near...)) {
		s.line(lookRay, at, p)
	}
	s.explain(lookVolume, "tracker (triangle) and tracking volume")
}

// sight draws the line from the eyes to the middle of the screen with its length,
// and, from the side, the tilt of the screen.
func (s *scene) sight() {
	eyes, middle := chairFromHead(s.shown).At, s.shown.Screen.At
	a, b := s.flat(eyes), s.flat(middle)
	s.line(lookSight.line, a, b)
	s.explain(lookSight, "line of sight")
	if s.v == Front {
		return
	}
	s.notes = append(s.notes, note{a, b, s.units.Length(r3.Norm(r3.Sub(middle, eyes)))})
	if s.v == Side && !s.compact {
		s.tilt()
	}
}

// tilt labels the tilt of the screen, beside a plumb line through
// its middle.
func (s *scene) tilt() {
	pose := s.shown.Screen
	half := s.job.Device.Screen.HeightMM / 4
	s.right = append(s.right, label{at: s.flat(pose.Apply(r3.Vec{Y: half})), text: tiltWords(pose)})
	plumb := s.flat(pose.At)
	s.line(stroke(grey(0.45), 0.35, 2, 1.5), r2.Vec{X: plumb.X, Y: plumb.Y - 2*half}, r2.Vec{X: plumb.X, Y: plumb.Y + 2*half})
}

// tiltWords tells the tilt of a screen in chair axes, to half a degree as everywhere.
func tiltWords(screen frame.Pose) string {
	up := math.Round(2*frame.Angle(math.Asin(min(max(screen.Rot.Z.Z, -1), 1))).Degrees()) / 2
	if up < 0 {
		return "screen tilt " + decimals(-up) + "° forward"
	}
	return "screen tilt " + decimals(up) + "° back"
}

// describe says the figure's numbers in words.
func (s *scene) describe() {
	s.toScale()
	for _, side := range []lane{s.left, s.right} {
		for _, l := range side {
			if l.measured {
				l.text += " " + s.v.seen().upOf
			}
			s.say("%s.", l.text)
		}
	}
	for _, l := range s.top {
		s.say("%s %s.", l.text, s.v.seen().acrossOf)
	}
	s.distance()
}

// distance says how far the screen is from the eyes.
func (s *scene) distance() {
	s.say("Eyes to screen middle %s.", s.units.Number(r3.Norm(r3.Sub(s.shown.Screen.At, chairFromHead(s.shown).At))))
}

// toScale says that the figure is to scale, and its units.
func (b *board) toScale() { b.say("To scale, lengths in %s.", inWords(b.units)) }
