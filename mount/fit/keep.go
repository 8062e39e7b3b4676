package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// casing returns the device's casing as a shape in screen axes.
func casing(d gaze.Device) space.Shape {
	middle, half := d.Screen.Casing()
	return space.Shape{Pose: frame.Translate(middle), HalfMM: half}
}

// placed is a space to keep clear where it is in one posture, in carrier axes.
type placed struct {
	keep    *Keep
	posture int
	shape   space.Shape
}

// placedKeeps returns the spaces to keep clear in the postures that must work.
// One that is carried along with the screen stands still in carrier axes and is
// listed once.
func (j *Job) placedKeeps(stances []gaze.Stance, must []int) []placed {
	var out []placed
	for k := range j.Keep {
		keep := &j.Keep[k]
		for _, i := range must {
			own := keep.Pose(j.Scene, stances[i].Posture)
			carrierFromKeep := stances[i].Carrier.Inverse().Mul(own)
			out = append(out, placed{keep: keep, posture: i, shape: keep.Shape.Moved(carrierFromKeep)})
			if keep.With == NoBody && keep.By == j.Scene.Carrier {
				break
			}
		}
	}
	return out
}

// keepLimit is the limit that keeps the casing clear of one placed space.
type keepLimit struct {
	casing space.Shape
	placed placed
}

// Room implements [gaze.Limit]: the gap less the least gap wanted. A point of the
// casing at arm from the screen's middle moves by δ + ω × arm, which widens the
// gap by its part along the direction toward the casing.
func (l *keepLimit) Room(screen frame.Pose) (mm float64, shift, turn r3.Vec) {
	gap := space.Between(l.casing.Moved(screen), l.placed.shape)
	arm := r3.Sub(gap.On, screen.At)
	return gap.MM - l.placed.keep.GapMM, gap.Toward, r3.Cross(arm, gap.Toward)
}

// String implements [gaze.Limit].
func (l *keepLimit) String() string {
	return fmt.Sprintf("casing at least %.0f mm from %s", l.placed.keep.GapMM, l.placed.keep.Name)
}

// tubeShape is a straight piece of a mount's tube.
type tubeShape struct {
	part    string
	carrier int // place of the joint that carries the tube
	shape   space.Shape
}

// tubeShapes appends the tubes of a chain at settings s as capsules in carrier
// axes, one for each straight piece of their middle lines.
func tubeShapes(dst []tubeShape, chain mount.Chain, s mount.Settings) ([]tubeShape, error) {
	links, err := chain.Links(s)
	if err != nil {
		return nil, err
	}
	for k, l := range links {
		for i := 1; i < len(l.LineMM); i++ {
			shape, err := space.Capsule(l.LineMM[i-1], l.LineMM[i], l.RadiusMM)
			if err != nil {
				return nil, fmt.Errorf("fit: tube of %s: %w", l.Part, err)
			}
			dst = append(dst, tubeShape{part: l.Part, carrier: chain.Spans[k].Carrier, shape: shape})
		}
	}
	return dst, nil
}

// lowest returns how high above the floor (mm) the middle line of the tubes comes at
// its lowest in the postures that must work, and where: a post that hangs far out
// of its clamp can reach the floor when the seat tilts. It is infinite without
// tubes.
func (b *bench) lowest(tubes []tubeShape) (mm float64, part string, posture int) {
	mm = math.Inf(1)
	for _, i := range b.must {
		for _, t := range tubes {
			along := r3.Scale(t.shape.HalfMM.X, t.shape.Pose.Rot.X)
			for _, end := range [2]r3.Vec{r3.Add(t.shape.Pose.At, along), r3.Sub(t.shape.Pose.At, along)} {
				if z := b.stances[i].Carrier.Apply(end).Z; z < mm {
					mm, part, posture = z, t.part, i
				}
			}
		}
	}
	return mm, part, posture
}

// gaps returns the least gap of every space to keep clear to the casing and to
// the tubes at settings s, each in the posture in which it is least.
func (j *Job) gaps(screen frame.Pose, tubes []tubeShape, keeps []placed) []Gap {
	parts := append([]tubeShape{{part: "casing", shape: casing(j.Device).Moved(screen)}}, tubes...)
	var out []Gap
	at := map[*Keep]int{}
	for _, p := range keeps {
		best := Gap{Keep: *p.keep, Posture: p.posture, MM: math.Inf(1)}
		for _, part := range parts {
			if mm := space.Between(part.shape, p.shape).MM; mm < best.MM {
				best.MM, best.Part = mm, part.part
			}
		}
		if k, seen := at[p.keep]; !seen {
			at[p.keep] = len(out)
			out = append(out, best)
		} else if best.MM < out[k].MM {
			out[k] = best
		}
	}
	return out
}
