package casefile

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// Body dimensions of adults, mm: the mean of the means of 4082 men and 1986 women,
// computed from the open data files of the survey.
//
// Reference: C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army
// Personnel: Methods and Summary Statistics", NATICK/TR-15/007, 2014.
const (
	headBreadthMM    = (154.3 + 147.8) / 2
	headLengthMM     = (199.5 + 189.8) / 2 // from between the brows
	crownAboveEyesMM = (113.8 + 108.9) / 2 // sitting height less eye height
	napeBelowEyesMM  = (125.1 + 123.9) / 2 // the lowest bone of the neck
	shouldersMM      = (510.4 + 450.3) / 2 // across the upper arms
	bellyDepthMM     = (254.7 + 229.7) / 2
	thighMM          = (180.5 + 167.9) / 2 // above the seat
	thighLengthMM    = (618.0 + 590.6) / 2 // back of the buttocks to front of the knee
)

// eyesBehindBrowMM is how far the eyes are behind the point between the brows.
//
// Reference: S. Pheasant, "Bodyspace: Anthropometry, Ergonomics and the Design of
// Work", 2nd edition, Taylor & Francis, 1996 (title page from memory), whose definition
// of head length an online text on anthropometry reproduces: "approximately 20 mm".
const eyesBehindBrowMM = 20

// neckBelowEyesMM is how far the neck point is below the eyes in adults: the default
// of person.neck_to_eyes.
const neckBelowEyesMM = 75

// Choices of this tool, mm.
const (
	chinBelowEyesMM = 110
	thighsApartMM   = 200
	faceGapMM       = 100
	trunkGapMM      = 50
	thighGapMM      = 20
	leastTrunkMM    = 100
)

// bodySpaces returns the spaces that the body takes up.
func (r *reader) bodySpaces(f *caseForm, seat seatPlace) []kept {
	b := &f.Body
	var all []kept
	if b.Face == nil || b.Face.Word.Word != "none" {
		all = append(all, r.face(b, seat))
	}
	if b.Trunk == nil || b.Trunk.Word.Word != "none" {
		all = append(all, r.trunk(b, seat))
	}
	if b.Thighs == nil || b.Thighs.Word.Word != "none" {
		all = append(all, r.thighs(b, seat)...)
	}
	return all
}

// face returns head and face as a rounded box in head axes. It begins behind the
// eyes, which it must not hold.
func (r *reader) face(b *bodyForm, seat seatPlace) kept {
	given, at := &headSizeForm{}, b.At
	if b.Face != nil && b.Face.Form != nil {
		given, at = b.Face.Form, b.Face.Form.At
	}
	m := measures{part: seat.part}
	breadth := m.body(given.Breadth, "breadth", headBreadthMM)
	behind := m.body(given.Length, "from the eyes to the back", headLengthMM-eyesBehindBrowMM)
	above := m.body(given.Above, "above the eyes", crownAboveEyesMM)
	below := m.size(given.Below, "below the eyes", chinBelowEyesMM)
	gap := m.gap(given.Clearance, "clearance", faceGapMM)
	from := source("gordon2014")
	if given.Length == nil {
		from += ", and " + source("pheasant")
	}
	m.tell(r, "body.face", "space of head and face", from)
	shape := rounded(frame.Identity(),
		r3.Vec{X: -behind, Y: -breadth / 2, Z: -below}, r3.Vec{X: -eyeMM, Y: breadth / 2, Z: above})
	return kept{at: at, KeepClear: fit.KeepClear{Name: "face", With: fit.WithHead, Shape: shape, RequiredMM: gap, Assumed: m.open}}
}

// trunk returns trunk and upper arms as a rounded box against the back support, in
// chair axes as measured. It ends as far below the neck point as the lowest bone of
// the neck does.
func (r *reader) trunk(b *bodyForm, seat seatPlace) kept {
	given, at := &trunkSizeForm{}, b.At
	if b.Trunk != nil && b.Trunk.Form != nil {
		given, at = b.Trunk.Form, b.Trunk.Form.At
	}
	m := measures{part: seat.part}
	breadth := m.body(given.Breadth, "breadth", shouldersMM)
	depth := m.body(given.Depth, "depth", bellyDepthMM)
	measured := seat.scene.Measured
	neck := r3.Sub(measured.EyesMM, measured.Head.Turn().Apply(seat.scene.Person.NeckToEyesMM))
	below := (napeBelowEyesMM - neckBelowEyesMM) * seat.part
	height := m.follows(given.Height, "height", max(seat.alongBack(neck)-below, leastTrunkMM))
	gap := m.gap(given.Clearance, "clearance", trunkGapMM)
	m.tell(r, "body.trunk", "space of the trunk", source("gordon2014"))
	shape := rounded(seat.chair.Mul(seat.back()), r3.Vec{Y: -breadth / 2}, r3.Vec{X: depth, Y: breadth / 2, Z: height})
	return kept{at: at, KeepClear: fit.KeepClear{Name: "trunk", With: fit.WithTrunk, Shape: shape, RequiredMM: gap, Assumed: m.open}}
}

// thighs returns both thighs with their knees as capsules on the seat.
func (r *reader) thighs(b *bodyForm, seat seatPlace) []kept {
	given, at := &thighSizesForm{}, b.At
	if b.Thighs != nil && b.Thighs.Form != nil {
		given, at = b.Thighs.Form, b.Thighs.Form.At
	}
	m := measures{part: seat.part}
	thick := m.body(given.Thickness, "thickness", thighMM)
	long := m.body(given.Length, "length", thighLengthMM)
	apart := m.size(given.Spacing, "spacing", thighsApartMM)
	gap := m.gap(given.Clearance, "clearance", thighGapMM)
	m.tell(r, "body.thighs", "space of the thighs and knees", source("gordon2014"))
	var both []kept
	for _, side := range []struct {
		name string
		y    float64
	}{{"left thigh", apart / 2}, {"right thigh", -apart / 2}} {
		hip := r3.Vec{X: thick / 2, Y: side.y, Z: seat.heightMM + thick/2}
		knee := r3.Vec{X: max(long-thick/2, thick/2), Y: side.y, Z: hip.Z}
		shape, _ := space.Capsule(hip, knee, thick/2) // lengths in files are bounded
		both = append(both, kept{at: at, KeepClear: fit.KeepClear{
			Name: side.name, By: gaze.Seat, Shape: seat.onSeat(shape), RequiredMM: gap, Assumed: m.open,
		}})
	}
	return both
}
