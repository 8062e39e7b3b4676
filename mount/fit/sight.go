package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// No tube may reach into the space between an eye and the front of the device, a pyramid in screen
// axes: it would pass through the front, or hide part of it. Where one reaches into the housing
// behind the front, a box, settings are sought that keep all of them out; where none are found
// that work there is a warning: only the outside of the housing is known.

// sightSide is a side of such a space, through an edge of the front and, of the pyramid, the eye: a
// point of it, the unit normal outward, and what of a way from the edge is toward the eye, as a share
// of the whole way.
type sightSide struct{ edge, out, toEye r3.Vec }

// leastSightMM is how far in front an eye is taken to be at least: one behind the device
// sees nothing of it, but still no tube may pass through.
const leastSightMM = 100

// sightSpareMM is how far tubes are kept from the space between an eye and the front where one is
// within sightEdgeMM of it, so that a setting can be a little off, if that costs no more margin.
// A choice of this tool.
const sightSpareMM, sightEdgeMM = 5, 0.5

// sightOf returns the sides of the space between an eye, in screen axes, and the front.
func (b *problem) sightOf(eye r3.Vec) (s [5]sightSide) {
	middle, half := b.housing.Pose.At, b.housing.HalfMM
	z := max(eye.Z, leastSightMM)
	for i, sign := range [2]float64{-1, 1} {
		x, y := middle.X+sign*half.X, middle.Y+sign*half.Y
		s[i] = sightSide{r3.Vec{X: x}, r3.Vec{X: sign * z, Z: sign * (x - eye.X)}, r3.Vec{X: eye.X - x, Z: z}}
		s[2+i] = sightSide{r3.Vec{Y: y}, r3.Vec{Y: sign * z, Z: sign * (y - eye.Y)}, r3.Vec{Y: eye.Y - y, Z: z}}
	}
	for i := range s[:4] {
		s[i].out, s[i].toEye = r3.Unit(s[i].out), r3.Scale(1/r3.Norm2(s[i].toEye), s[i].toEye)
	}
	s[4].out.Z = -1
	return s
}

// insideOf returns the sides of the housing, so deep behind its front.
func (b *problem) insideOf(depthMM float64) (s [6]sightSide) {
	middle, half := b.housing.Pose.At, b.housing.HalfMM
	for i, sign := range [2]float64{-1, 1} {
		s[i] = sightSide{edge: r3.Vec{X: middle.X + sign*half.X}, out: r3.Vec{X: sign}}
		s[2+i] = sightSide{edge: r3.Vec{Y: middle.Y + sign*half.Y}, out: r3.Vec{Y: sign}}
	}
	s[4], s[5] = sightSide{edge: r3.Vec{Z: -depthMM}, out: r3.Vec{Z: -1}}, sightSide{out: r3.Vec{Z: 1}}
	return s
}

// sightGap is how far a tube stays out of the housing and of the space between an eye and the front.
type sightGap struct {
	MM      float64 // negative when it reaches into it; farMM when none is nearer
	Part    string
	posture int
	carrier int
	// on is the point of the tube at the gap, which it widens by moving along toward, and eye
	// the eye, which narrows it along shut; all in screen axes.
	on, toward, eye, shut r3.Vec
}

// crosses reports whether a tube is in that space, by more than rounding.
func (g sightGap) crosses() bool { return g.MM < -RoundingMM }

// sightAt is sightGap at settings.
func (b *problem) sightAt(m *LoadedMount, s mount.Settings) sightGap {
	m.unloaded.at(s)
	return b.sightGap(m.unloaded)
}

// sightGap returns the least gap of the tubes of a geometry, as last placed, in the postures
// that must work. Mount and device sag together: those without load are compared, and the
// eyes moved against it.
func (b *problem) sightGap(g *tubeGeometry) sightGap {
	least := sightGap{MM: farMM}
	for i := range b.request.Postures {
		if b.sightFrom(b.request.Postures[i].Eyes, g, &least) {
			least.posture = b.must[i]
		}
	}
	return least
}

// sightFrom makes the gap from the eyes in a posture the least if it is less, and reports
// whether it is. Of a plate that nobody has measured nothing is said.
func (b *problem) sightFrom(eyes [2]r3.Vec, g *tubeGeometry, least *sightGap) (less bool) {
	if g.behindMM < 0 {
		return false
	}
	screen := g.screen()
	if b.insideWatched {
		less = b.insideFrom(g, least)
	}
	for _, eye := range b.job.Scene.Person.Eyes.Needed() {
		at := screen.ApplyInverse(eyes[eye])
		s := b.sightOf(at)
		for k := range g.shapes {
			if least.nearer(s[:], &g.shapes[k], screen) {
				if least.eye, less = at, true; at.Z < leastSightMM {
					least.shut.Z = 0
				}
			}
		}
	}
	return less
}

// insideGap returns the least gap between the tubes of a geometry, as last placed, and the housing:
// as far back as a tube at the plate's joint leaves it. farMM if nobody has measured the plate.
func (b *problem) insideGap(g *tubeGeometry) sightGap {
	least := sightGap{MM: farMM}
	if g.behindMM >= 0 {
		b.insideFrom(g, &least)
	}
	return least
}

// insideFrom makes that gap the least if it is less, and reports whether it is.
func (b *problem) insideFrom(g *tubeGeometry, least *sightGap) (less bool) {
	inside := b.insideOf(min(g.behindMM, 2*b.housing.HalfMM.Z) - b.spareMM)
	for k := range g.shapes {
		less = least.nearer(inside[:], &g.shapes[k], g.screen()) || less
	}
	return less
}

// nearer makes the gap of a tube from a space the least if it is less, and reports whether it is.
//
// A point of the tube's middle line is out by the greatest of its distances from the sides,
// which are linear along the line. By duality the least of that along the line is the
// greatest of what each side has at the end where it is less, and of what any two, one that
// falls and one that rises, have where they meet.
func (g *sightGap) nearer(s []sightSide, t *TubePiece, screen frame.Pose) bool {
	ends := t.ends()
	from, way := screen.ApplyInverse(ends[0]), screen.Rot.ApplyInverse(r3.Sub(ends[1], ends[0]))
	var first, slope [6]float64
	for i := range s {
		first[i], slope[i] = r3.Dot(s[i].out, r3.Sub(from, s[i].edge)), r3.Dot(s[i].out, way)
	}
	gap := sightGap{MM: math.Inf(-1), Part: t.Part, carrier: t.Carrier}
	for i := range s {
		for k := range s {
			mm, share, weight := min(first[i], first[i]+slope[i])-t.Shape.RoundMM, 0.0, 1.0
			switch {
			case i != k && (slope[i] >= 0 || slope[k] <= 0):
				continue
			case i != k:
				share, weight = (first[i]-first[k])/(slope[k]-slope[i]), slope[k]/(slope[k]-slope[i])
				mm = first[i] + share*slope[i] - t.Shape.RoundMM
			case slope[i] < 0:
				share = 1
			}
			if mm >= g.MM {
				return false
			}
			if mm > gap.MM {
				gap.MM, gap.on = mm, r3.Add(from, r3.Scale(share, way))
				one, other := r3.Scale(weight, s[i].out), r3.Scale(1-weight, s[k].out)
				gap.toward, gap.shut = r3.Add(one, other), r3.Add(s[i].shared(gap.on, one), s[k].shared(gap.on, other))
			}
		}
	}
	*g = gap
	return true
}

// shared returns what of a motion of the eye a side makes at a point.
func (s *sightSide) shared(at, motion r3.Vec) r3.Vec {
	return r3.Scale(r3.Dot(s.toEye, r3.Sub(at, s.edge)), motion)
}
