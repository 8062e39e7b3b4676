package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount/space"
)

// Wheels is where the wheels of a chair touch the floor, and what stands on them: the chair
// with the person, without mount and device. The zero Wheels says that it is not known.
type Wheels struct {
	// FrontMM and RearMM are how far the contacts are forward of the junction of seat and
	// back support, TrackMM is the distance of the left from the right ones, of the pair
	// where it is less.
	FrontMM, RearMM, TrackMM float64
	// KG is the whole mass, FrontKG the part of it on the front wheels.
	KG, FrontKG float64
}

// centerMM returns the center of mass of chair and person: how far it is forward of the
// junction, by the balance of what front and rear wheels bear. Sideways it is taken to be in
// the midline.
func (w *Wheels) centerMM() float64 { return w.RearMM + (w.FrontMM-w.RearMM)*w.FrontKG/w.KG }

// TipSide is the side of the chair over which it would tip.
type TipSide int

// The choices of [TipSide], the person's own.
const (
	TipForward TipSide = iota
	TipBackward
	TipLeft
	TipRight
)

// side returns the direction out of a side, in chair axes, and how far out the line of
// wheel contacts and the center of mass of chair and person are.
func (w *Wheels) side(s TipSide) (out r3.Vec, lineMM, centerMM float64) {
	switch s {
	case TipForward:
		return r3.Vec{X: 1}, w.FrontMM, w.centerMM()
	case TipBackward:
		return r3.Vec{X: -1}, -w.RearMM, -w.centerMM()
	case TipLeft:
		return r3.Vec{Y: 1}, w.TrackMM / 2, 0
	case TipRight:
	}
	return r3.Vec{Y: -1}, w.TrackMM / 2, 0
}

// Tipping is how near mount and device bring a chair to tipping: at the worst over the
// postures in which the mount is set as given, the free range of its swing, and the sides.
// The chair is at rest on level ground with the person as weighed.
//
// It is the balance of moments about the line through two wheel contacts, about which the
// chair begins to turn once the other wheels bear nothing: the weight of mount and device
// outside it against that of chair and person inside. Chairs are tested for static
// stability, defined in ISO 7176-1 by the incline at which they tip; that also needs the
// height of the center of mass and is not computed here.
//
// Reference: J. L. Meriam and L. G. Kraige, Engineering Mechanics: Statics, chapter on
// equilibrium (from memory).
type Tipping struct {
	Side TipSide
	// Posture is the place of the posture, At the setting of the swing (radians or mm); 0
	// when nothing swings.
	Posture int
	At      float64
	// OverturningNM is the moment of mount and device about the line, negative while they are
	// inside it; RestoringNM that of chair and person.
	OverturningNM, RestoringNM float64
}

// Share is the part of the restoring moment that the overturning one takes up: the chair
// tips from 1 on.
func (t *Tipping) Share() float64 { return t.OverturningNM / t.RestoringNM }

// MostTippingShare is up to which share a chair is left without a warning: the rest is for
// slopes, for a person who leans or reaches, and for what pulls at the device. A choice of
// this tool, no source.
const MostTippingShare = 0.25

// tippingOf returns how near the mount of a result comes to tipping the chair; nil when the
// wheels are not known. The mount is taken to be where it is without load.
func tippingOf(b *problem, r *Result, s *LoadedMount) (*Tipping, error) {
	w := &b.job.Wheels
	if *w == (Wheels{}) {
		return nil, nil
	}
	if _, _, err := s.under(r.Set.Settings, s.gravity[0]); err != nil {
		return nil, err
	}
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	k := len(frames) - 1 // what swings; without a swing the screen, which stays
	var path space.Path
	var low, inUse, high float64
	if a := r.SwingClear; a != nil {
		k = r.Set.Chain.MovingPlaces()[a.Joint]
		path, low, inUse, high = swingPath(&r.Set.Chain.Joints[k], frames[k]), a.Low.At, a.InUse, a.High.At
	}
	allKG, all := s.model.Beyond(0)
	swungKG, swung := s.model.Beyond(k)
	still := r3.Sub(all, swung) // kg mm
	var worst *Tipping
	for _, i := range b.asSet {
		chairFromCarrier := b.postures[i].Carrier
		for side := TipForward; side <= TipRight; side++ {
			out, lineMM, centerMM := w.side(side)
			restoring := w.KG * (lineMM - centerMM)
			outward := chairFromCarrier.Rot.ApplyInverse(out)
			beyondLine := allKG * (r3.Dot(out, chairFromCarrier.At) - lineMM)
			arm := r3.Sub(swung, r3.Scale(swungKG, path.Through)) // kg mm
			for _, by := range farthest(path, arm, outward, low-inUse, high-inUse) {
				moved := path.Pose(by)
				there := r3.Add(moved.Rot.Apply(swung), r3.Scale(swungKG, moved.At))
				overturning := beyondLine + r3.Dot(outward, r3.Add(still, there))
				t := &Tipping{
					Side: side, Posture: i, At: inUse + by,
					OverturningNM: overturning * gravity / 1000, RestoringNM: restoring * gravity / 1000,
				}
				if worst == nil || gaze.Less(worst.Share(), t.Share()) {
					worst = t
				}
			}
		}
	}
	return worst, nil
}

// farthest returns the places on a path from one end to the other at one of which the end of
// an arm, from the path's line, is farthest along a direction: the ends, and the tops of its
// arc between them.
func farthest(path space.Path, arm, along r3.Vec, from, to float64) []float64 {
	at := []float64{from, to}
	if path.Slides || from == to {
		return at
	}
	arm = r3.Sub(arm, r3.Scale(r3.Dot(arm, path.Along), path.Along))
	top := math.Atan2(r3.Dot(along, r3.Cross(path.Along, arm)), r3.Dot(along, arm))
	const round = 2 * math.Pi
	for by := top + round*math.Ceil((from-top)/round); by <= to; by += round {
		at = append(at, by)
	}
	return at
}
