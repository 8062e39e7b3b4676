package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// casing returns the device's casing as a shape in screen axes.
func casing(d gaze.Device) space.Shape {
	middle, half := d.Screen.Casing()
	return space.Shape{Pose: frame.Translate(middle), HalfMM: half}
}

// placed is a space to keep clear in one posture in which the mount stands.
type placed struct {
	keep    *Keep
	posture int
	// shape is in carrier axes; seen is where it is as the unloaded screen meets
	// it, see bench.sagged.
	shape, seen space.Shape
	// watched says that the search for the screen's place keeps the casing clear of
	// it. The others are far away, which is confirmed when the search has ended.
	watched bool
	// sagMM is by how much the mount's sag brings its tubes nearer, at settings
	// that the search has come to.
	sagMM float64
	// reliefMM is by how much less is to be kept, see trial.relieve.
	reliefMM float64
}

// wantedMM returns what is to be kept.
func (p *placed) wantedMM() float64 { return p.keep.GapMM - p.reliefMM }

// placedKeeps returns the spaces to keep clear in some postures, one that stands
// still in carrier axes as well: the mount sags differently.
func (j *Job) placedKeeps(stances []gaze.Stance, postures []int) []placed {
	var out []placed
	for k := range j.Keep {
		keep := &j.Keep[k]
		for _, i := range postures {
			own := keep.Pose(j.Scene, stances[i].Posture)
			shape := keep.Shape.Moved(stances[i].Carrier.Inverse().Mul(own))
			out = append(out, placed{keep: keep, posture: i, shape: shape, seen: shape})
		}
	}
	return out
}

// keepLimit is the limit that keeps the casing clear of one placed space.
type keepLimit struct {
	casing space.Shape
	placed placed
}

// farMM is the room beyond which nobody looks how far exactly a space is: a step of
// a search that goes further is taken back if it breaks a limit.
const farMM = 300

// Room implements [gaze.Limit]: the gap less the least gap wanted, or farMM if it is
// more. A point of the casing at arm from the screen's middle moves by δ + ω × arm,
// which widens the gap by its part along the direction toward the casing.
func (l *keepLimit) Room(screen frame.Pose) (mm float64, shift, turn r3.Vec) {
	moved := l.casing.Moved(screen)
	if space.FarApart(&moved, &l.placed.seen, farMM+l.placed.wantedMM()) {
		return farMM, r3.Vec{}, r3.Vec{}
	}
	gap := space.Between(moved, l.placed.seen)
	arm := r3.Sub(gap.On, screen.At)
	return gap.MM - l.placed.wantedMM(), gap.Toward, r3.Cross(arm, gap.Toward)
}

// String implements [gaze.Limit].
func (l *keepLimit) String() string {
	return fmt.Sprintf("casing at least %.0f mm from %s", l.placed.keep.GapMM, l.placed.keep.Name)
}

// nearest returns the least gap of tubes to a space, and the place among them of
// the one that has it; -1 when there is none within the given distance.
func nearest(tubes []tubeShape, to *space.Shape, within float64) (gap space.Gap, at int) {
	gap.MM, at = within, -1
	for i := range tubes {
		if space.FarApart(&tubes[i].shape, to, gap.MM) {
			continue
		}
		if g := space.Between(tubes[i].shape, *to); g.MM < gap.MM {
			gap, at = g, i
		}
	}
	return gap, at
}

// tubeRoom returns the least gap of the tubes to a space, sag allowed for, less the
// gap wanted (mm), that gap, and the joint that carries the tube; farMM and -1 when
// no tube is so near. Tubes that start inside the space because they are clamped
// there count like any other: a space drawn through its own clamp cannot be kept
// clear.
func tubeRoom(tubes []tubeShape, p *placed) (mm float64, gap space.Gap, carrier int) {
	wanted := p.sagMM + p.wantedMM()
	gap, i := nearest(tubes, &p.shape, farMM+wanted)
	if i < 0 {
		return farMM, gap, -1
	}
	return gap.MM - wanted, gap, tubes[i].carrier
}

// touches reports whether a tube is nearer to a space than it may be.
func touches(tubes []tubeShape, p *placed) bool {
	_, i := nearest(tubes, &p.shape, p.sagMM+p.wantedMM())
	return i >= 0
}

// lowest returns how high above the floor (mm) the middle line of the tubes comes at
// its lowest in any posture in which the mount stands: a post that hangs far out of its
// clamp can reach the floor when the seat tilts. It is infinite without tubes.
func (b *bench) lowest(tubes []tubeShape) float64 {
	least := math.Inf(1)
	for _, i := range b.stands {
		mm, _ := b.lowestIn(i, tubes)
		least = min(least, mm)
	}
	return least
}

// lowestIn returns the same for one posture, and which part it is.
func (b *bench) lowestIn(posture int, tubes []tubeShape) (mm float64, part string) {
	mm = math.Inf(1)
	carrier := &b.stances[posture].Carrier
	for k := range tubes {
		for _, end := range tubes[k].ends() {
			if z := carrier.Apply(end).Z; z < mm {
				mm, part = z, tubes[k].part
			}
		}
	}
	return mm, part
}

// casingGap returns the gap of the casing of the unloaded screen at pose to a space.
func (b *bench) casingGap(pose frame.Pose, p *placed) float64 {
	return space.Between(b.casing.Moved(pose), p.seen).MM
}
