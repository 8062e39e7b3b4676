package casefile

import (
	"fmt"
	"math"
	"reflect"
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
func (r *reader) surroundings(c *Case, f *caseForm) {
	var all []kept
	for i := range f.Keep {
		k := f.Keep[i].build(c.Job.Scene)
		all = append(all, kept{KeepClear: k, at: f.Keep[i].At})
	}
	named := func(name string) bool {
		return slices.ContainsFunc(all, func(k kept) bool { return k.Name == name })
	}
	seat := r.seat(f, c.Job.Scene)
	c.Job.Seated = fit.Seated{JunctionMM: seat.InSeat().Apply(seat.JunctionMM()), Part: seat.Part}
	for _, k := range append(r.chairZones(&f.Chair, seat), r.bodyZones(&f.Body, seat)...) {
		if !named(k.Name) {
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
	stance := s.InCarrier(p)
	shape := k.Shape.Moved(k.Pose(s, p))
	mm = math.Inf(1)
	for _, e := range []gaze.Eye{gaze.LeftEye, gaze.RightEye} {
		if gap := space.FromPoint(stance.Carrier.Apply(stance.Eyes[e]), shape).MM; gap < mm {
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
		gap := math.Floor(clamp)
		r.warn(k.at, "an assumed "+k.Name+" near the clamp", "its measurements; until then its clearance is taken as "+mmValue(gap).String())
		k.RequiredMM = gap
	case less <= k.Shape.RoundMM/2:
		r.warn(k.at, "an assumed "+k.Name+" that reaches an eye or the clamp", "its measurements; until then it is taken "+mmValue(less).String()+" smaller all round, and its clearance as 0")
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
	along := r3.Unit(m.SlideAlong)
	return max(
		clampGap(s, k, p, r3.Add(m.ClampMM, r3.Scale(m.SlideLowMM, along))),
		clampGap(s, k, p, r3.Add(m.ClampMM, r3.Scale(m.SlideHighMM, along))))
}

// seat returns where the seat is. A tilt pivot says nothing of the seat's height: pivots
// lie anywhere below it.
func (r *reader) seat(f *caseForm, scene gaze.Scene) body.Seat {
	c := &f.Chair
	at := c.At.under("seat_height")
	switch {
	case c.SeatHeight == nil && c.BackHinge != nil:
		c.SeatHeight = &length{}
		*c.SeatHeight = c.BackHinge.Up
		c.SeatHeight.place(at)
		c.SeatHeight.assume()
		r.assumed(at.Key, "top of the seat above the floor", valueOf(c.SeatHeight), "the height of chair.back_hinge; "+unsourced)
	default:
		r.complete(reflect.ValueOf(c).Elem(), c.At, "seat_height")
	}
	height := c.SeatHeight.mm()
	if c.TiltPivot != nil {
		return body.SeatOf(scene, height, scene.Chair.TiltPivotMM)
	}
	return body.SeatOf(scene, height, r3.Vec{Z: height}) // the junction stays where it is
}

// rolls reports whether the mount moves with a chair: furniture does not pass
// doors.
func (f *caseForm) rolls() bool {
	by := f.Mount.CarriedBy.Word
	return f.Mount.Clamp != nil && (by == "seat" || by == "base")
}

// passage returns what chair and mount must pass, and notes what of it is assumed.
func (r *reader) passage(f *caseForm) fit.Passage {
	p := fit.Passage{Bed: f.Mount.CarriedBy.Word == "bed"}
	if f.rolls() && f.Chair.Size == nil {
		f.Chair.Size = &chairSizeForm{}
	}
	if f.rolls() && f.Passage == nil {
		f.Passage = &passageForm{}
	}
	if s := f.Chair.Size; s != nil {
		r.complete(reflect.ValueOf(s).Elem(), f.Chair.At.under("size"))
		p.WidthMM, p.BehindMM, p.AheadMM = s.Width.mm(), s.Behind.mm(), s.Ahead.mm()
	}
	if f.Passage == nil {
		return p
	}
	if f.rolls() {
		r.complete(reflect.ValueOf(f.Passage).Elem(), f.At.under("passage"))
	}
	p.DoorMM = or0(f.Passage.Doorway)
	if c := f.Passage.ClearFloor; c != nil {
		p.FloorWidthMM, p.FloorLengthMM = c.Width.mm(), c.Length.mm()
	}
	return p
}

// aboutSense reports a joint that cannot swing the mount aside.
func (r *reader) aboutSense(c *Case, p *passageForm) {
	if p == nil || p.About == nil || c.Job.Passage.About != "" {
		return
	}
	chain, err := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[0])
	if err != nil {
		return // SetKit has found it sound
	}
	var turns []string
	slides := false
	for _, j := range chain.Moving() {
		if j.Motion == mount.Turn {
			turns = append(turns, j.Name)
		} else {
			slides = slides || j.Name == p.About.Text
		}
	}
	found := "the unknown joint "
	if slides {
		found = "the slide "
	}
	r.senselessNear(p.About.At, found+quoted(p.About.Text), p.About.Text, "one that turns: ", turns)
}

// passageSense reports a joint of a mount that is not there.
func (r *reader) passageSense(f *caseForm) {
	if p := f.Passage; p != nil && p.About != nil && p.About.valid && f.Mount.Kit == nil {
		r.senseless(p.About.At, "a joint to swing the mount about", "mount.kit, the mount that has it")
	}
}
