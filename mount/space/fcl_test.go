package space_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
	"sightpost/testdata/reference"
)

// splitMix is the generator SplitMix64 (Steele, Lea and Flood, 2014), by which
// testdata/reference/scripts/clearances.py draws its shapes.
type splitMix uint64

// next returns a number from 0 to 1.
func (s *splitMix) next() float64 {
	*s += 0x9E3779B97F4A7C15
	z := uint64(*s)
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	return float64((z^(z>>31))>>11) / (1 << 53)
}

// length returns a length in whole eighths of a mm.
func (s *splitMix) length(low, high float64) float64 {
	return math.Floor(8*(low+float64((high-low)*s.next()))) / 8
}

// shape returns a box, or a capsule along x.
func (s *splitMix) shape(capsule bool) space.Shape {
	var drawn space.Shape
	if capsule {
		drawn.HalfMM.X = s.length(20, 200)
		drawn.RoundMM = s.length(5, 50)
	} else {
		drawn.HalfMM = vec(s.length(5, 150), s.length(5, 150), s.length(5, 150))
	}
	var q [4]float64
	for i := range q {
		q[i] = 2*s.next() - 1
	}
	drawn.Pose.Rot = turnOf(q)
	drawn.Pose.At = vec(400*s.next()-200, 400*s.next()-200, 400*s.next()-200)
	return drawn
}

// turnOf returns the rotation of a quaternion w, x, y, z of any length.
func turnOf(q [4]float64) frame.Rotation {
	axis := vec(q[1], q[2], q[3])
	return frame.About(axis, frame.Angle(2*math.Atan2(r3.Norm(axis), q[0])))
}

// TestBetweenAgainstFCL compares ten thousand gaps with those of another library, of
// pairs drawn by the rule that testdata/reference/scripts/clearances.py tells. There it is said
// how good these are, and where Qhull has to help.
func TestBetweenAgainstFCL(t *testing.T) {
	cases := reference.Read[struct{ Clearances []float64 }](t, "clearances")
	if len(cases) != 1 || len(cases[0].Clearances) != 10_000 {
		t.Fatal("clearances.json does not hold ten thousand gaps")
	}
	rng := splitMix(1)
	touching, overlapping := 0, 0
	for i, want := range cases[0].Clearances {
		a, b := rng.shape(i%3 == 2), rng.shape(i%3 > 0)
		if i%10 == 0 {
			b.Pose.Rot = a.Pose.Rot
			along := vec(a.HalfMM.X+b.HalfMM.X+a.RoundMM+b.RoundMM, a.Pose.At.Y/8, a.Pose.At.Z/8)
			b.Pose.At = a.Pose.Apply(along)
		}
		got := space.Between(a, b).MM
		if !(math.Abs(got-want) < contactMM) {
			t.Errorf("pair %d: gap %.9f mm, want %.9f\na = %+v\nb = %+v", i, got, want, a, b)
		}
		switch {
		case math.Abs(want) < contactMM:
			touching++
		case want < 0:
			overlapping++
		}
	}
	if touching < 500 || overlapping < 1000 {
		t.Errorf("%d pairs touch and %d overlap: both should be common", touching, overlapping)
	}
}
