package mount_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// bentTube is a tube whose end and length are known.
type bentTube struct {
	name string
	line mount.Centerline
	want frame.Pose
	long float64
}

// bentTubes returns tubes with closed forms: a bend by b in radius R leads to
// R (1 - cos b) aside and R sin b along; an S of two opposite bends with straight L
// between is offset by 2 R (1 - cos b) + L sin b and comes to 2 R sin b + L cos b.
func bentTubes() []bentTube {
	const r, l, b = 80.0, 50.0, 50 * frame.Degree
	sin, cos := math.Sincos(b.Radians())
	quarter := frame.Rotation{X: r3.Vec{Z: -1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{X: 1}}
	return []bentTube{
		{"nothing", mount.Centerline{}, frame.Identity(), 0},
		{"straight", mount.Centerline{EndMM: 300}, frame.Translate(r3.Vec{Z: 300}), 300},
		{
			"quarter ahead",
			mount.Centerline{BendRadiusMM: r, Bends: []mount.Bend{{StraightMM: 100, Angle: 90 * frame.Degree}}, EndMM: 30},
			frame.Pose{Rot: quarter, At: r3.Vec{X: r + 30, Z: 100 + r}},
			100 + r*math.Pi/2 + 30,
		},
		{
			"quarter to the left",
			mount.Centerline{BendRadiusMM: r, Bends: []mount.Bend{{Turn: 90 * frame.Degree, Angle: 90 * frame.Degree}}},
			frame.Pose{
				Rot: frame.Rotation{X: r3.Vec{X: 1}, Y: r3.Vec{Z: -1}, Z: r3.Vec{Y: 1}},
				At:  r3.Vec{Y: r, Z: r},
			},
			r * math.Pi / 2,
		},
		{
			"S",
			mount.Centerline{BendRadiusMM: r, Bends: []mount.Bend{
				{StraightMM: 200, Angle: b},
				{StraightMM: l, Turn: 180 * frame.Degree, Angle: b},
			}, EndMM: 60},
			frame.Translate(r3.Vec{X: 2*r*(1-cos) + l*sin, Z: 200 + 2*r*sin + l*cos + 60}),
			200 + 2*r*b.Radians() + l + 60,
		},
		{
			"U",
			mount.Centerline{BendRadiusMM: r, Bends: []mount.Bend{
				{Angle: 90 * frame.Degree},
				{StraightMM: l, Angle: 90 * frame.Degree},
			}, EndMM: 40},
			frame.Pose{
				Rot: frame.Rotation{X: r3.Vec{X: -1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: -1}},
				At:  r3.Vec{X: 2*r + l, Z: -40},
			},
			r*math.Pi + l + 40,
		},
		{
			"out of the plane",
			mount.Centerline{BendRadiusMM: r, Bends: []mount.Bend{
				{Angle: 90 * frame.Degree},
				{Turn: 90 * frame.Degree, Angle: 90 * frame.Degree},
			}},
			// Ahead first, then to the left: the frame's y ends pointing back.
			frame.Pose{
				Rot: frame.Rotation{X: r3.Vec{Z: -1}, Y: r3.Vec{X: -1}, Z: r3.Vec{Y: 1}},
				At:  r3.Vec{X: 2 * r, Y: r, Z: r},
			},
			r * math.Pi,
		},
	}
}

func TestCenterlineEnd(t *testing.T) {
	for _, tt := range bentTubes() {
		t.Run(tt.name, func(t *testing.T) {
			wantSamePose(t, "End", tt.line.End(), tt.want)
			if got := tt.line.LengthMM(); math.Abs(got-tt.long) > exactMM {
				t.Errorf("LengthMM %v, want %v", got, tt.long)
			}
		})
	}
}

// randomLine returns a tube of up to four bends.
func randomLine(rng *rand.Rand) mount.Centerline {
	l := mount.Centerline{BendRadiusMM: 30 + 100*rng.Float64(), EndMM: 100 * rng.Float64()}
	for range rng.IntN(5) {
		l.Bends = append(l.Bends, mount.Bend{
			StraightMM: 100 * rng.Float64(),
			Turn:       frame.Angle(6 * (rng.Float64() - 0.5)),
			Angle:      frame.Angle(3 * rng.Float64()),
		})
	}
	return l
}

// The frame moves along the tube at unit speed in the direction of its z, and
// never twists about it.
func TestCenterlineIsSmoothAndUntwisted(t *testing.T) {
	const (
		h = 1e-4
		// Differences err by h/2 times the curvature, at most 1/30 per mm.
		tol = 1e-5
	)
	rng := rand.New(rand.NewPCG(3, 1))
	for range 100 {
		l := randomLine(rng)
		for range 10 {
			at := rng.Float64() * (l.LengthMM() - h)
			p, q := l.At(at), l.At(at+h)
			dir := r3.Scale(1/h, r3.Sub(q.At, p.At))
			if d := r3.Norm(r3.Sub(dir, p.Rot.Z)); d > tol {
				t.Fatalf("%+v at %v mm: moves along %v, z is %v", l, at, dir, p.Rot.Z)
			}
			spin := r3.Scale(1/h, q.Rot.Mul(p.Rot.Inverse()).Vector())
			if twist := r3.Dot(spin, p.Rot.Z); math.Abs(twist) > tol {
				t.Fatalf("%+v at %v mm: twists by %v rad/mm", l, at, twist)
			}
		}
	}
}

// No point of the tube is farther from the polyline than the chord error asked for.
func TestCenterlinePoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	for range 100 {
		l := randomLine(rng)
		for _, chord := range []float64{0.1, 1} {
			points := l.Points(chord)
			if d := r3.Norm(r3.Sub(points[len(points)-1], l.End().At)); d > exactMM {
				t.Fatalf("%+v: the last point is %v mm from the end", l, d)
			}
			for range 20 {
				p := l.At(rng.Float64() * l.LengthMM()).At
				if d := offLine(points, p); d > chord+exactMM {
					t.Fatalf("%+v: %v is %v mm off the polyline, asked for %v", l, p, d, chord)
				}
			}
		}
	}
}

// offLine returns the distance of p from the polyline.
func offLine(line []r3.Vec, p r3.Vec) float64 {
	least := r3.Norm(r3.Sub(p, line[0]))
	for i := 1; i < len(line); i++ {
		a, ab := line[i-1], r3.Sub(line[i], line[i-1])
		if n := r3.Norm2(ab); n > 0 {
			t := math.Min(math.Max(r3.Dot(r3.Sub(p, a), ab)/n, 0), 1)
			least = math.Min(least, r3.Norm(r3.Sub(p, r3.Add(a, r3.Scale(t, ab)))))
		}
	}
	return least
}
