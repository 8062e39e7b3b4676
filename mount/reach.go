package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Reach is where a point of the screen can be at any settings of a chain: nowhere further
// along Normals[i] than MostMM[i].
type Reach struct {
	PointMM r3.Vec    // screen axes
	Normals []r3.Vec  // unit vectors, carrier axes
	MostMM  []float64 // never too little; of two kits that reach 1.5 m, at most 2.2 mm too much
}

// Reach returns the reach of a point that the last turns leave where it is, the center of
// a wrist, or else of the screen's middle. The chain must be sound, see [Chain.Check].
//
// How far a set of points extends along d is its support function h(d), the greatest d·x. A
// slide adds what the better end of its limits has along d, and a turn takes the greatest
// of h at d turned back by all that it may turn. Such a function is convex and homogeneous,
// so between directions at which it is known it is nowhere above what is linear there.
//
// Reference: R. T. Rockafellar, Convex Analysis (Princeton, 1970), section 13, from memory.
func (c Chain) Reach() Reach {
	last, point := c.wrist()
	r := Reach{PointMM: point}
	support, longest := func(r3.Vec) float64 { return 0 }, 0.0
	if last == len(c.Joints) {
		support, longest = func(d r3.Vec) float64 { return r3.Dot(d, c.Tip.At) }, r3.Norm(c.Tip.At)
		last--
	}
	for i := last; i >= 0; i-- {
		j, beyond := &c.Joints[i], support
		moved := support
		switch j.Motion {
		case Slide:
			moved = func(d r3.Vec) float64 {
				along := r3.Dot(d, j.Axis)
				return max(j.Low*along, j.High*along) + beyond(d)
			}
			longest += max(math.Abs(j.Low), math.Abs(j.High))
		case Turn:
			moved = j.swept(beyond, longest).at
		case Fixed:
		}
		support = func(d r3.Vec) float64 { return r3.Dot(d, j.Origin.At) + moved(j.Origin.Rot.ApplyInverse(d)) }
		longest += r3.Norm(j.Origin.At)
	}
	for octant := range 8 {
		each(octant, parts/2, func(_, _ int, d r3.Vec) {
			n := r3.Norm(d)
			r.Normals, r.MostMM = append(r.Normals, r3.Scale(1/n, d)), append(r.MostMM, support(d)/n)
		})
	}
	return r
}

// wrist returns the first joint whose origin is on the axes of all joints that move after
// it, which leave it where it is, and that point in screen axes. Without one they are the
// end of the chain and the screen's middle.
func (c Chain) wrist() (joint int, point r3.Vec) {
	var s Settings
	for _, j := range c.Moving() {
		s = append(s, j.Low)
	}
	frames := c.AppendFrames(nil, s)
	screen := frames[len(c.Joints)]
	joint = len(c.Joints)
	for i := joint - 1; i >= 0; i-- {
		if c.Joints[i].Motion == Slide {
			break
		}
		at, still := frames[i].At, c.Joints[i].Motion == Turn
		for k := i + 1; k < len(frames)-1 && still; k++ {
			j := &c.Joints[k]
			still = j.Motion == Fixed || r3.Norm(r3.Cross(frames[k].Rot.Apply(j.Axis), r3.Sub(at, frames[k].At))) < sameMM
		}
		if still {
			joint, point = i, screen.ApplyInverse(at)
		}
	}
	return joint, point
}

// supports is a support function at directions d with |x| + |y| + |z| = 1, by their octant
// and by how many parts of that x and y are.
type supports [8][parts + 2][parts + 2]float64

// parts is how finely: directions are some 4° apart, and what is linear between them is above
// a sphere by no more than 0.2% of its radius. sweepStep is how finely a turn is, rad.
const parts, sweepStep = 24, 0.06

// each calls f with the directions of an octant at which x, y and z are whole parts of n.
func each(octant, n int, f func(x, y int, d r3.Vec)) {
	part := func(bit, k int) float64 { return float64(1-2*(octant>>bit&1)) * float64(k) / float64(n) }
	for x := range n + 1 {
		for y := range n + 1 - x {
			f(x, y, r3.Vec{X: part(0, x), Y: part(1, y), Z: part(2, n-x-y)})
		}
	}
}

// swept returns the support function of points turned by all that a joint may turn, from
// that of the points. None is further than longest from the axis: between two turns
// that are tried, a cosine is above both by no more than that of half a step leaves.
func (j *Joint) swept(beyond func(r3.Vec) float64, longest float64) *supports {
	turns, slack := j.Stops(), 0.0 // of a joint without stops, a step apart
	if turns == nil {
		high := min(j.High, j.Low+2*math.Pi)
		n := int(math.Ceil((high - j.Low) / sweepStep))
		for k := range n + 1 {
			turns = append(turns, j.Low+(high-j.Low)*float64(k)/float64(max(n, 1)))
		}
		slack = 1 - math.Cos(sweepStep/2)
	}
	circle := make([][2]float64, len(turns))
	for k, turn := range turns {
		circle[k][0], circle[k][1] = math.Sincos(turn)
	}
	var along, a, b r3.Vec // of a direction, with the axis and square to it
	var most, steep float64
	best := 0
	at := func(turn int) float64 {
		sin, cos := circle[turn][0], circle[turn][1]
		h := beyond(r3.Vec{X: along.X + cos*a.X + sin*b.X, Y: along.Y + cos*a.Y + sin*b.Y, Z: along.Z + cos*a.Z + sin*b.Z})
		if h > most {
			most, best = h, turn
		}
		return h
	}
	// Supports differ by no more than longest times the way between their directions: where
	// that is not above the most, nothing is.
	var between func(from, to int)
	between = func(from, to int) {
		mid := (from + to) / 2
		h := at(mid)
		if from < mid && h+steep*(turns[mid]-turns[from]) > most {
			between(from, mid-1)
		}
		if mid < to && h+steep*(turns[to]-turns[mid]) > most {
			between(mid+1, to)
		}
	}
	s := new(supports)
	for octant := range s {
		each(octant, parts, func(x, y int, d r3.Vec) {
			along = r3.Scale(r3.Dot(d, j.Axis), j.Axis)
			a = r3.Sub(d, along)
			b = r3.Cross(a, j.Axis)
			most, steep = math.Inf(-1), longest*math.Sqrt(r3.Norm2(a))
			at(best) // of the direction before
			between(0, len(turns)-1)
			s[octant][x][y] = most + slack*steep
		})
	}
	return s
}

// at returns the support along d.
func (s *supports) at(d r3.Vec) float64 {
	x, y, z := math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)
	size := (x + y + z) / parts
	x, y = x/size, y/size
	octant := 0
	for bit, v := range [3]float64{d.X, d.Y, d.Z} {
		if v < 0 {
			octant |= 1 << bit
		}
	}
	i, k := int(x), int(y)
	x, y = x-float64(i), y-float64(k)
	v := &s[octant]
	// The corners of the triangle of d have weights that make d of them.
	if x+y <= 1 {
		return size * parts * ((1-x-y)*v[i][k] + x*v[i+1][k] + y*v[i][k+1])
	}
	return size * parts * ((x+y-1)*v[i+1][k+1] + (1-y)*v[i+1][k] + (1-x)*v[i][k+1])
}
