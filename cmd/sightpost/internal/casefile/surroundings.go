package casefile

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/body"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// kept is a keep-clear zone, and where the file speaks of it.
type kept struct {
	fit.KeepClear
	at spot
}

// surroundings puts the keep-clear zones into the case: those that the file
// gives as they are, then what it says of the chair and leaves open of the body. A
// given zone that contains an eye or the clamp is a problem; an assumed one is made
// smaller or left out, with a warning.
func (r *reader) surroundings(c *Case) {
	var all []kept
	for _, k := range c.form.list("keep_clear") {
		all = append(all, kept{KeepClear: keepClear(k, c.Job.Scene), at: k.at})
	}
	r.seat = r.seatOf(c.form.get("chair"), c.Job.Scene)
	c.Job.Seated = fit.Seated{JunctionMM: r.seat.InSeat().Apply(r.seat.JunctionMM()), Part: r.seat.Part}
	for _, k := range r.zones(c.form) {
		if !slices.ContainsFunc(all, func(given kept) bool { return given.Name == k.Name }) {
			all = append(all, k)
		}
	}
	for _, k := range all {
		if k.Assumed {
			r.trim(c, &k)
		} else {
			r.clear(c, k)
		}
		if k.Shape != (space.Shape{}) {
			c.Job.KeepClear = append(c.Job.KeepClear, k.KeepClear)
		}
	}
}

// clear reports a given zone that contains an eye in one of the postures, or
// the clamp as measured.
func (r *reader) clear(c *Case, k kept) {
	const expected = "a zone that does not contain it; measure both again"
	for _, p := range c.Job.Postures {
		eye, mm := nearestEye(c.Job.Scene, k.KeepClear, p)
		if mm <= 0 {
			r.senseless(k.at, fmt.Sprintf("the %s within %s when %s", eye, quoted(k.Name), p.Name), expected)
			return
		}
	}
	measured := c.Job.Scene.Measured.AsMeasured("")
	for _, m := range c.mountings {
		if clampGap(c.Job.Scene, k.KeepClear, measured, m.ClampMM) < 0 {
			r.senseless(k.at, "the clamp within "+quoted(k.Name), expected)
			return
		}
	}
}

// nearestEye returns the eye that is nearer to k in posture p, and its distance
// (mm), negative within.
func nearestEye(s gaze.Scene, k fit.KeepClear, p gaze.Posture) (eye gaze.Eye, mm float64) {
	there := s.InCarrier(p)
	shape := k.Shape.Moved(k.Pose(s, p))
	mm = math.Inf(1)
	for _, e := range []gaze.Eye{gaze.LeftEye, gaze.RightEye} {
		if gap := space.FromPoint(there.Carrier.Apply(there.Eyes[e]), shape).MM; gap < mm {
			eye, mm = e, gap
		}
	}
	return eye, mm
}

// clampGap returns how far (mm) k is in posture p from a place given in the axes of
// what carries the mount, negative within.
func clampGap(s gaze.Scene, k fit.KeepClear, p gaze.Posture, at r3.Vec) float64 {
	chairFromCarrier := s.Carrier.Pose(s.Chair, p.SeatTilt)
	return space.FromPoint(chairFromCarrier.Apply(at), k.Shape.Moved(k.Pose(s, p))).MM
}

// clampMM is how far an assumed zone stays from the middle of the clamp beyond
// its clearance: half of a clamp, and the tube in it. A choice of this tool.
const clampMM = 40

// trim makes an assumed zone smaller, its clearance first, until it contains neither an eye
// nor the clamp, or leaves it out: what is not measured must not make a case
// unworkable.
func (r *reader) trim(c *Case, k *kept) {
	eyes, clamp := math.Inf(1), math.Inf(1) // what is free beside them
	for _, p := range c.Job.Postures {
		_, mm := nearestEye(c.Job.Scene, k.KeepClear, p)
		eyes = min(eyes, mm-body.BehindEyesMM)
		for _, m := range c.mountings {
			clamp = min(clamp, farthest(c.Job.Scene, k.KeepClear, p, m)-clampMM)
		}
	}
	less := math.Ceil(max(0, -eyes, -clamp))
	switch {
	case less == 0 && clamp >= k.RequiredMM:
	case less == 0:
		r.warn(k.at, "an assumed "+k.Name+" near the clamp", "its measurements; until then less clearance is kept")
		k.RequiredMM = math.Floor(clamp)
	case less <= k.Shape.RoundMM/2:
		r.warn(k.at, "an assumed "+k.Name+" that reaches an eye or the clamp", "its measurements; until then it is taken smaller, without clearance")
		k.Shape.RoundMM -= less
		k.RequiredMM = 0
	default:
		r.warn(k.at, "an assumed "+k.Name+" that contains an eye or the clamp", "its measurements; until then it is left out")
		k.Shape = space.Shape{}
	}
}

// farthest returns the greatest distance (mm) of the clamp from k over the range in
// which it slides. The distance from a convex shape is convex along a line, so that it
// is greatest at an end.
func farthest(s gaze.Scene, k fit.KeepClear, p gaze.Posture, m mount.Mounting) float64 {
	if m.SlideLowMM == 0 && m.SlideHighMM == 0 {
		return clampGap(s, k, p, m.ClampMM)
	}
	gap := func(mm float64) float64 {
		return clampGap(s, k, p, r3.Add(m.ClampMM, r3.Scale(mm, r3.Unit(m.SlideAlong))))
	}
	return max(gap(m.SlideLowMM), gap(m.SlideHighMM))
}

// seatOf returns where the seat is. A tilt pivot says nothing of the seat's height: pivots
// lie anywhere below it.
func (r *reader) seatOf(chair *node, scene gaze.Scene) body.Seat {
	if hinge := chair.get("back_hinge.up"); hinge != nil && !chair.has("seat_height") {
		r.derive(chair, "seat_height", "top of the seat above the floor", hinge.Low, "the height of chair.back_hinge; "+unsourced)
	}
	r.complete(chair, "seat_height")
	height := chair.number("seat_height")
	if chair.has("tilt_pivot") {
		return body.SeatOf(scene, height, scene.Chair.TiltPivotMM)
	}
	return body.SeatOf(scene, height, r3.Vec{Z: height}) // the junction stays where it is
}

// passage returns what chair and mount must pass, and notes what of it is assumed: doors
// for a mount that moves with a chair, but not for furniture.
func (r *reader) passage(f *node) fit.Passage {
	by := f.word("mount.carried_by")
	rolls := f.has("mount.clamp") && (by == "seat" || by == "base")
	if rolls || f.has("chair.size") {
		r.complete(f.get("chair").group("size"))
	}
	if rolls {
		r.complete(f.group("passage"))
	}
	size, ground := f.get("chair.size"), 0.0
	if rolls { // a stand is on the floor
		ground = f.number("passage.ground_clearance")
	}
	return fit.Passage{
		Bed:     by == "bed",
		WidthMM: size.number("width"), BehindMM: size.number("behind"), AheadMM: size.number("ahead"),
		DoorMM: f.number("passage.doorway"), GroundMM: ground,
		FloorWidthMM: f.number("passage.clear_floor.width"), FloorLengthMM: f.number("passage.clear_floor.length"),
	}
}

// aboutSense reports a joint that cannot swing the mount clear.
func (r *reader) aboutSense(c *Case) {
	about := c.form.get("passage.about")
	if about == nil || c.Job.Passage.About != "" {
		return
	}
	found := "the unknown joint "
	if slices.ContainsFunc(c.chain().Told(), func(j mount.Joint) bool { return j.Name == about.Word }) {
		found = "the slide "
	}
	r.unknown(about, found, "one that turns: ", c.SettingNames(about.row))
}

// IsSetting reports whether e names a setting of the mount.
func (e *Entry) IsSetting() bool { return e.names != nil }

// SettingNames returns the settings of the mount that an entry which names one may name.
func (c *Case) SettingNames(e *Entry) (all []string) {
	if c.Job.Mount == nil {
		return nil
	}
	for _, j := range c.chain().Told() {
		if e.names(j) {
			all = append(all, j.Name)
		}
	}
	return all
}

func anySetting(mount.Joint) bool { return true }

// swings reports whether a mount can be swung clear about a joint as it is told: not about a
// ball, which is told by what its plate shows.
func swings(j mount.Joint) bool { return j.Motion == mount.Turn && !j.Stiffness.AnyAxis }
