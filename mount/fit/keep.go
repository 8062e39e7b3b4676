package fit

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// Housing returns the device's housing as a shape in screen axes.
func Housing(d gaze.Device) space.Shape {
	middle, half := d.Screen.Housing()
	return space.Shape{Pose: frame.Translate(middle), HalfMM: half}
}

// placed is a keep-clear zone in one posture in which the mount is used.
type placed struct {
	keep    *KeepClear
	posture int
	// shape is in carrier axes; seen is where it is as the unloaded screen meets
	// it, see problem.sagged.
	shape, seen space.Shape
	// watched says that the search for the screen's place keeps the housing clear of
	// it. The others are far away, which is confirmed when the search has ended.
	watched bool
	// sagMM is by how much the mount's sag brings its tubes nearer, at settings
	// that the search has come to.
	sagMM float64
	// reliefMM is by how much less is to be kept, see mountingSolver.relaxKeepClear.
	reliefMM float64
}

// requiredMM returns what is to be kept.
func (p *placed) requiredMM() float64 { return p.keep.RequiredMM - p.reliefMM }

// placeKeeps places the keep-clear zones in all postures in which the mount is used, one that
// stands still in carrier axes as well: the mount sags differently.
func (b *problem) placeKeeps(watched bool) {
	for k := range b.job.KeepClear {
		keep := &b.job.KeepClear[k]
		for _, i := range b.asSet {
			own := keep.Pose(b.job.Scene, b.postures[i].Posture)
			shape := keep.Shape.Moved(b.postures[i].Carrier.Inverse().Mul(own))
			b.keeps = append(b.keeps, placed{keep: keep, posture: i, shape: shape, seen: shape, watched: watched})
		}
	}
}

// keepLimit is the limit that keeps the housing clear of one placed space.
type keepLimit struct {
	housing space.Shape
	placed  placed
}

// farMM is the clearance beyond which its exact value does not matter: a step of
// a search that goes further is taken back if it breaks a limit.
const farMM = 300

// Margin implements [gaze.Limit]: the clearance less what is required, or farMM if that
// is less. A point of the housing at arm from the screen's middle moves by δ + ω × arm,
// which widens the gap by its part along the direction toward the housing.
func (l *keepLimit) Margin(screen frame.Pose) gaze.Slope {
	moved := l.housing.Moved(screen)
	if space.FarApart(&moved, &l.placed.seen, farMM+l.placed.requiredMM()) {
		return gaze.Slope{MM: farMM}
	}
	gap := space.Between(moved, l.placed.seen)
	arm := r3.Sub(gap.On, screen.At)
	return gaze.Slope{MM: gap.MM - l.placed.requiredMM(), Shift: gap.Toward, Turn: r3.Cross(arm, gap.Toward)}
}

// nearest returns the least gap of tubes to a zone, and the place among them of
// the one that has it; -1 when there is none within the given distance.
func nearest(tubes []TubePiece, to *space.Shape, within float64) (gap space.Clearance, at int) {
	gap.MM, at = within, -1
	for i := range tubes {
		if space.FarApart(&tubes[i].Shape, to, gap.MM) {
			continue
		}
		if g := space.Between(tubes[i].Shape, *to); g.MM < gap.MM {
			gap, at = g, i
		}
	}
	return gap, at
}

// tubeMargin returns the least gap of the tubes to a zone, sag allowed for, less the
// clearance required (mm), that gap, and the joint that carries the tube; farMM and -1 when
// no tube is so near. Tubes that start inside the zone because they are clamped
// there count like any other: a zone drawn through its own clamp cannot be kept
// clear.
func tubeMargin(tubes []TubePiece, p *placed) (mm float64, gap space.Clearance, carrier int) {
	required := p.sagMM + p.requiredMM()
	gap, i := nearest(tubes, &p.shape, farMM+required)
	if i < 0 {
		return farMM, gap, -1
	}
	return gap.MM - required, gap, tubes[i].Carrier
}

// housingGap returns the gap of the housing of the unloaded screen at pose to a zone.
func (b *problem) housingGap(pose frame.Pose, p *placed) float64 {
	return space.Between(b.housing.Moved(pose), p.seen).MM
}

// gap returns the same of the housing and the loaded tubes, and what is nearest: "housing" or
// a part of the mount.
func (b *problem) gap(pose frame.Pose, poses LoadedPoses, p *placed) (mm float64, part string) {
	mm, part = b.housingGap(pose, p), "housing"
	tubes := poses.tubes(p.posture)
	if near, i := nearest(tubes, &p.shape, mm); i >= 0 {
		mm, part = near.MM, tubes[i].Part
	}
	return mm, part
}
