package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Ahead is what a device's housing hides of the way ahead from someone who drives.
type Ahead struct {
	// Floor is the part of the floor that each eye does not see, by [Eye], and Both
	// what neither of them sees.
	Floor [2]Shadow
	Both  Shadow
	// SolidSR is the solid angle that the housing covers, seen from midway between
	// the eyes (steradians), and Share its share of the forward field, 0 to 1.
	SolidSR, Share float64
	// Remedies are what would be left hidden if the screen were moved, in the order
	// of [Move].
	Remedies [moves]Remedy
}

// Move is a way to give some of the view back.
type Move int

// The moves that are tried. Turns are of a size that any mount with a turning joint
// has, a choice of this tool.
const (
	// Lowered is straight down by LowerMM, the tilt kept.
	Lowered Move = iota
	// TiltedBack turns the screen's upper edge away by TiltAngle, about the middle of
	// the display area, so that it is seen flatter from above.
	TiltedBack
	// SwungLeft and SwungRight turn the screen about the vertical through the point
	// midway between the eyes by SwingAngle, so that it faces them as before.
	SwungLeft
	SwungRight
	moves
)

// How far the moves of [Move] go.
const (
	LowerMM    = 50.0
	TiltAngle  = 10 * frame.Degree
	SwingAngle = 10 * frame.Degree
)

// Of returns carrierFromScreen after move m of a screen at that pose, before a person
// in posture st: what [Device.Ahead] tries, so that what else the move does can be
// judged. Moves are along the chair's axes, so they differ from posture to posture where
// what carries the screen tilts.
func (m Move) Of(screen frame.Pose, st *PostureInCarrier) frame.Pose {
	v := viewerOf(st)
	return st.Carrier.Inverse().Mul(v.moved(st.Carrier.Mul(screen), m))
}

// Remedy is what would be hidden after a move of the screen: as [Ahead] has it.
type Remedy struct {
	Move  Move
	Both  Shadow
	Share float64
}

// The forward field, from a horizontal line of sight straight ahead: where
// displays that are frequently monitored belong.
//
// Reference: US NRC, NUREG-0700 Rev. 2, guideline 11.1.2-6: not more than 35° to
// the left or right, not more than 20° above and 40° below.
const (
	FieldAside = 35 * frame.Degree
	FieldAbove = 20 * frame.Degree
	FieldBelow = 40 * frame.Degree
)

// vastMM is further than anything about a chair can be; what is given as further
// off is taken to be nowhere, so that no product of lengths can overflow.
const vastMM = 1e9

// Ahead returns what d's housing hides with the screen at pose carrierFromScreen
// and a person in posture st who faces forward, the way the chair drives.
//
// Eyes that are not above the floor see none of it, so that nothing of it is
// hidden. An eye inside the housing sees nothing at all. A place that is no number
// or further than 1000 km off gives the zero Ahead with its remedies named.
func (d Device) Ahead(screen frame.Pose, st *PostureInCarrier) Ahead {
	chair, v, box := st.Carrier.Mul(screen), viewerOf(st), d.Screen.box()
	var a Ahead
	box.at = chair
	a.Floor, a.Both = v.floor(&box)
	a.SolidSR, a.Share = v.covers(&box)
	for m := range moves {
		r := &a.Remedies[m]
		r.Move, box.at = m, v.moved(chair, m)
		_, r.Both = v.floor(&box)
		_, r.Share = v.covers(&box)
	}
	return a
}

// viewer is who looks ahead, in chair axes.
type viewer struct {
	eyes   [2]r3.Vec
	middle r3.Vec // between the eyes
}

func viewerOf(st *PostureInCarrier) viewer {
	left, right := st.Carrier.Apply(st.Eyes[LeftEye]), st.Carrier.Apply(st.Eyes[RightEye])
	return viewer{eyes: [2]r3.Vec{left, right}, middle: r3.Scale(0.5, r3.Add(left, right))}
}

// moved returns chairFromScreen after a move.
func (v *viewer) moved(chair frame.Pose, m Move) frame.Pose {
	switch m {
	case Lowered:
		chair.At.Z -= LowerMM
	case TiltedBack:
		return chair.Mul(frame.Rotate(-TiltAngle, r3.Vec{X: 1}))
	case SwungLeft:
		return frame.RotateAround(v.middle, SwingAngle, r3.Vec{Z: 1}).Mul(chair)
	case SwungRight:
		return frame.RotateAround(v.middle, -SwingAngle, r3.Vec{Z: 1}).Mul(chair)
	default: // no move
	}
	return chair
}

// covers returns the solid angle that b covers, seen from midway between the eyes,
// and its share of the forward field.
//
// The faces that are seen tile what is seen of a box. Each is a quadrangle, of which
// the four planes of the field through the eye leave a polygon; so the share is
// exact.
func (v *viewer) covers(b *box) (solidSR, share float64) {
	if !b.near(v.middle) {
		return 0, 0
	}
	faces := b.seen(v.middle)
	if len(faces) == 0 {
		return 4 * math.Pi, 1
	}
	field := forwardField()
	inField := 0.0
	for _, f := range faces {
		solidSR += solidAngle(f)
		for _, n := range field {
			f = Clip(f, n, 0)
		}
		inField += solidAngle(f)
	}
	return solidSR, min(1, inField/fieldSolid())
}

// forwardField returns the normals, inward, of the planes through the eye that
// bound the forward field, in chair axes.
func forwardField() [4]r3.Vec {
	sa, ca := math.Sincos(FieldAside.Radians())
	su, cu := math.Sincos(FieldAbove.Radians())
	sd, cd := math.Sincos(FieldBelow.Radians())
	return [4]r3.Vec{{X: sa, Y: -ca}, {X: sa, Y: ca}, {X: su, Z: -cu}, {X: sd, Z: cd}}
}

// fieldSolid returns the solid angle of the forward field (steradians): of the
// rectangle in which a plane at distance 1 cuts it.
func fieldSolid() float64 {
	w, up, down := math.Tan(FieldAside.Radians()), math.Tan(FieldAbove.Radians()), -math.Tan(FieldBelow.Radians())
	return solidAngle([]r3.Vec{{X: 1, Y: w, Z: up}, {X: 1, Y: -w, Z: up}, {X: 1, Y: -w, Z: down}, {X: 1, Y: w, Z: down}})
}
