package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// swingParts is what swings and what stands in the way, in carrier axes.
type swingParts struct {
	// moving holds the housing first, then the tubes beyond the joint; movers are
	// their names. A tube that grows as it slides is taken as one that moves: what it
	// leaves behind is where it has been, and what it is pulled in by comes out behind.
	moving []space.Shape
	movers []string
	// fixed holds the keep-clear zones first, then the tubes that stay, then the
	// floor.
	fixed    []space.Shape
	standers []string
	keeps    []placed // the spaces to keep clear
	touching []bool   // by moving and fixed: touch by construction
}

// jointMM is about the size of what holds two tubes together; an assumption. So
// much of the tubes that stay is left out about the swinging joint, where those that
// swing are fastened to them.
const jointMM = 60

// floorMM is how far the floor reaches each way, and how thick it is taken to be.
const floorMM = 10_000

// sortParts sorts the mount into what swings about joint k of the chain and what stays.
func (s *swing) sortParts(k int, screen frame.Pose, tubes []TubePiece) swingParts {
	p := swingParts{moving: []space.Shape{housing(s.job.Device).Moved(screen)}, movers: []string{"housing"}}
	for _, keep := range s.keeps {
		if keep.posture == s.must[0] {
			p.keeps = append(p.keeps, keep)
			p.fixed, p.standers = append(p.fixed, keep.shape), append(p.standers, keep.keep.Name)
		}
	}
	for _, t := range tubes {
		if t.Carrier >= k {
			p.moving, p.movers = append(p.moving, t.Shape), append(p.movers, t.Part)
			continue
		}
		for _, piece := range beyond(t.Shape, s.centre, r3.Vec{}, jointMM) {
			p.fixed, p.standers = append(p.fixed, piece), append(p.standers, t.Part)
		}
	}
	floor := space.Shape{
		Pose:   s.lead().Carrier.Inverse().Mul(frame.Translate(r3.Vec{Z: -floorMM})),
		HalfMM: r3.Vec{X: floorMM, Y: floorMM, Z: floorMM},
	}
	p.fixed, p.standers = append(p.fixed, floor), append(p.standers, "floor")
	p.touching = make([]bool, len(p.moving)*len(p.fixed))
	for m := 1; m < len(p.moving); m++ {
		for f := len(p.keeps); f < len(p.fixed); f++ {
			p.touching[m*len(p.fixed)+f] = space.Between(p.moving[m], p.fixed[f]).MM <= space.FineMM
		}
	}
	return p
}

// adjoining reports whether a tube that swings touches one that stays, or the floor
// that a stand is on, as it is built.
func (p *swingParts) adjoining(moving, fixed int) bool { return p.touching[moving*len(p.fixed)+fixed] }

// lead returns the stance of the leading posture.
func (b *problem) lead() *gaze.PostureInCarrier { return &b.stances[b.must[0]] }

// beyond returns what is left of a piece of tube when all of its middle line is
// cut out that is within a radius of the line through a point along a unit
// direction, or of the point if the direction is zero: none, one or two pieces.
//
// With q(t) the square of the distance at t from one end to the other, which is a
// quadratic a t² + 2 b t + c, the part within is where q(t) < r².
func beyond(tube space.Shape, through, along r3.Vec, radiusMM float64) []space.Shape {
	half := r3.Scale(tube.HalfMM.X, tube.Pose.Rot.X)
	across := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, along), along)) }
	from, way := across(r3.Sub(r3.Sub(tube.Pose.At, half), through)), across(r3.Scale(2, half))
	a, b, c := r3.Dot(way, way), r3.Dot(from, way), r3.Dot(from, from)-radiusMM*radiusMM
	root := b*b - a*c
	if c < 0 && a == 0 {
		return nil
	}
	if a == 0 || root <= 0 {
		return []space.Shape{tube}
	}
	in, out := (-b-math.Sqrt(root))/a, (-b+math.Sqrt(root))/a
	var left []space.Shape
	if in > 0 {
		left = append(left, part(tube, 0, min(in, 1)))
	}
	if out < 1 {
		left = append(left, part(tube, max(out, 0), 1))
	}
	if in >= 1 || out <= 0 {
		return []space.Shape{tube}
	}
	return left
}

// part returns the part of a piece of tube between two shares of its length.
func part(tube space.Shape, from, to float64) space.Shape {
	tube.Pose.At = r3.Add(tube.Pose.At, r3.Scale((from+to-1)*tube.HalfMM.X, tube.Pose.Rot.X))
	tube.HalfMM.X *= to - from
	return tube
}
