package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount"
)

// aimGuard guards the ranges of the screen's aim in the leading posture.
type aimGuard struct{ *wandering }

// look implements [guard].
//
// The screen's middle moves at the speed V at most and the screen turns at W, its sag
// included. At the distance d the line of sight turns at s <= V/d. Its angle down changes
// as fast, its angle to the left by 1/cos(down) of it at most. The axes square to the
// line of sight turn with it and, to stay upright, about it by up to 1/sin u of it, u
// being its angle with what the upper edge follows. The face turns against those axes at
// f <= W + s (1 + 1/sin u): so fast may it turn up, and 1/cos(turned up) times so fast to
// the right or about its normal.
//
// All this holds for as long as d, the cosines and the sine are at least half of what
// they are now, which bounds the step; the rates are taken with the halves.
func (g aimGuard) look(v, _ float64) (slack, error) {
	sags, err := g.to(v)
	if err != nil {
		return slack{}, err
	}
	lead := g.must[0]
	stance := &g.stances[lead]
	pose := sags[lead].Mul(g.compiled.Pose(g.at))
	x := gaze.AimAt(pose, stance, g.job.Preferences.Upright)
	rates, safe := g.aimRates(&x, sightOf(pose.At, stance), stance)
	l := slack{left: math.Inf(1), safe: safe}
	for k, b := range g.job.Preferences.bounds(&x) {
		if b.variable.Turns() && b.high-b.low >= 2*math.Pi {
			continue // any
		}
		left := b.marginInside()
		if b.variable.Turns() && k != 1 && k != 3 { // these two go up and down and not around
			left = min(left, math.Pi-math.Abs(b.value))
		}
		l.lessen(slack{left, over(left, rates[k]), Bound{End: EndAim, Part: b.variable.String(), Posture: lead}})
	}
	return l, nil
}

// sightOf returns the unit line of sight to a point, carrier axes.
func sightOf(at r3.Vec, st *gaze.PostureInCarrier) r3.Vec { return r3.Unit(r3.Sub(at, st.Head.At)) }

// aimRates bounds how fast the variables of an aim change, in the order of
// [Preferences.bounds], and returns how far the setting may move for the bounds to hold.
func (w *wandering) aimRates(x *gaze.Aim, sight r3.Vec, st *gaze.PostureInCarrier) (rates [6]float64, safe float64) {
	speed, spin := 1.0, 0.0
	if w.joint.Motion == mount.Turn {
		speed, spin = w.middleMM, 1
	}
	speed, spin = speed+w.drift.screen.shift, spin+w.drift.screen.turn
	up := st.Carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	across := min(r3.Norm(r3.Cross(sight, up)), r3.Norm(r3.Cross(sight, st.Head.Rot.Z)))
	level, facing := math.Cos(x.Down.Radians()), math.Cos(x.FacingUp.Radians())
	sights := 2 * speed / x.DistanceMM
	faces := spin + sights*(1+2/across)
	safe = min(x.DistanceMM/2/speed, min(level, across)/2/sights, facing/2/faces)
	return [6]float64{2 * sights / level, sights, speed, faces, 2 * faces / facing, 2 * faces / facing}, safe
}

// faceGuard guards the distance of the housing from the eyes in the postures that must
// work.
type faceGuard struct{ *wandering }

// look implements [guard].
func (g faceGuard) look(v, _ float64) (slack, error) {
	if g.job.Preferences.FaceMM <= 0 {
		return unlimited(), nil
	}
	sags, err := g.to(v)
	if err != nil {
		return slack{}, err
	}
	pose, l := g.compiled.Pose(g.at), unlimited()
	speed := 1.0
	if g.joint.Motion == mount.Turn {
		speed = g.reachMM[len(g.reachMM)-1]
	}
	for k, i := range g.must {
		mm, _, _ := g.faces[k].Margin(sags[i].Mul(pose))
		left := mm + roundingMM
		l.lessen(slack{left, over(left, speed+g.drift.pointMM), Bound{End: EndFace, Part: "housing", Posture: i}})
	}
	return l, nil
}
