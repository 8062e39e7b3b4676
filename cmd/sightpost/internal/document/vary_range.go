package document

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
)

// PostureRange is the range of one number of a posture in which the screen works,
// all else as it is.
type PostureRange struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// The number that varies.
	Varies string `json:"varies"`
	// Unit of all numbers of this range.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// The number's value in the posture.
	Now float64 `json:"now"`
	// Why no range can be given, in plain words; both ranges are then absent.
	Unknown Text `json:"unknown,omitzero"`
	// What carries the mount in this case.
	CarriedBy string `json:"carried_by" jsonschema:"enum=seat,enum=base"`
	// With the screen carried by the seat, in the same place before this posture.
	OnSeat *Range `json:"on_seat,omitempty"`
	// With the screen carried by the base, in the same place before this posture.
	OnBase *Range `json:"on_base,omitempty"`
}

// Range is a range and what ends it.
type Range struct {
	// True when the screen works at the present value. Otherwise both ends are
	// there and say what fails.
	Works bool `json:"works"`
	// The lower end.
	From RangeEnd `json:"from"`
	// The upper end.
	To RangeEnd `json:"to"`
}

// RangeEnd is one end of a range.
type RangeEnd struct {
	// The last value that works.
	Value float64 `json:"value"`
	// What fails beyond it, in plain words; absent when the screen works as far as
	// was looked.
	EndedBy Text `json:"ended_by,omitzero"`
}

// SweepRange is between which values a number of a posture is looked at: mm for a
// slump, else radians. They are wider than what people and chairs do, by judgement,
// and widened further to hold the present value.
func SweepRange(v tolerance.PostureVariable, now float64) (low, high float64) {
	const d = float64(frame.Degree)
	switch v {
	case tolerance.SeatTilt:
		low, high = -30*d, 60*d
	case tolerance.BackAngle:
		low, high = 60*d, 180*d
	case tolerance.Slump:
		low, high = -100, 300
	case tolerance.HeadLateralFlexion:
		low, high = -45*d, 45*d
	case tolerance.HeadFlexion, tolerance.HeadRotation:
		low, high = -60*d, 60*d
	}
	return min(low, now), max(high, now)
}

// newRange returns the range of a curve.
func newRange(of *fit.Result, c *tolerance.PostureCurve) PostureRange {
	unit, show := "deg", func(v float64) float64 { return plain(frame.Angle(v).Degrees()) }
	if !c.Variable.Turns() {
		unit, show = "mm", plain
	}
	r := PostureRange{
		Posture: c.Posture.Name, Varies: c.Variable.String(), Unit: unit, Now: show(c.Present),
		CarriedBy: [...]string{"seat", "base"}[c.AsCarried.Carrier], Unknown: lacking(c, &of.Job.Scene),
	}
	if !r.Unknown.Empty() {
		return r
	}
	for _, curve := range []*tolerance.CarriedCurve{&c.AsCarried, &c.OtherCarrier} {
		into := &r.OnSeat
		if curve.Carrier == gaze.Base {
			into = &r.OnBase
		}
		*into = &Range{Works: curve.Works, From: newRangeEnd(of, curve.Low, show), To: newRangeEnd(of, curve.High, show)}
	}
	return r
}

func newRangeEnd(r *fit.Result, b tolerance.Bound, show func(float64) float64) RangeEnd {
	end := RangeEnd{Value: show(b.At)}
	if !b.Limit {
		end.EndedBy = Quote(EndWords(r, &b))
	}
	return end
}

// lacking says what the case would have to give for a curve to mean anything. An
// axis that is not given stands at the origin, on the floor, where none can be.
func lacking(c *tolerance.PostureCurve, scene *gaze.Scene) Text {
	switch {
	case c.Variable == tolerance.SeatTilt && scene.Chair.TiltPivotMM == (r3.Vec{}):
		return Say("the case gives no tilt axis of the seat")
	case c.Variable == tolerance.BackAngle && scene.Chair.BackHingeMM == (r3.Vec{}):
		return Say("the case gives no recline axis of the back support")
	}
	return Text{}
}

// SinglePostureSetup is a setup for one posture alone, beside the one for all that must work.
type SinglePostureSetup struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// Its margin in the best setup for all that must work.
	TogetherMM float64 `json:"together_mm"`
	// Its margin in the best setup for it alone.
	AloneMM float64 `json:"alone_mm"`
	// True when the mount is clamped at another place for it; no settings are
	// compared then.
	Elsewhere bool `json:"elsewhere"`
	// The settings that differ, from the clamp outward.
	Moved []Moved `json:"moved"`
}

// Moved is a setting that differs between two setups.
type Moved struct {
	// Part, dot, what moves.
	Name string `json:"name"`
	// Unit of both values.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// The one value.
	From float64 `json:"from"`
	// The other.
	To float64 `json:"to"`
	// Finest step that can be read off.
	Step float64 `json:"step"`
}

// newAlone returns what one setup for each posture would bring.
func newAlone(job *fit.Job, s *tolerance.SinglePostureSetups) []SinglePostureSetup {
	out := []SinglePostureSetup{}
	if s == nil {
		return out
	}
	for _, a := range s.Alone {
		out = append(out, SinglePostureSetup{
			Posture: job.Postures[a.Posture].Name, TogetherMM: plain(a.TogetherMM), AloneMM: plain(a.MarginMM), Elsewhere: a.Elsewhere,
			Moved: each(a.Moved, func(m tolerance.Moved) Moved { return newMoved(m.Joint, m.Together, m.Alone) }),
		})
	}
	return out
}

func newMoved(j mount.Joint, from, to float64) Moved {
	return Moved{Name: j.Name, Unit: unitOf(j), From: inUnit(j, from), To: inUnit(j, to), Step: inUnit(j, j.Step)}
}
