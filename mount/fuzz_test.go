package mount_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// FuzzKit puts odd numbers into every kind of part. Whatever they are, a kit is
// refused or gives a chain with finite poses that can be solved and written.
func FuzzKit(f *testing.F) {
	f.Add(300.0, 700.0, 1.0, 450.0, 25.0, 2.0, 80.0, 0.8, 12.0, false)
	f.Add(-1.0, 1.0, 0.1, 0.0, 0.0, 0.0, 1.0, 3.0, -7.0, true)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, false)
	f.Add(1e300, -1e300, 1e-300, 1e308, 5e4, 1e-9, 9e4, 3.14159, 1e5, true)
	f.Fuzz(func(t *testing.T, low, high, step, preferred, outside, wall, radius, angle, offset float64, indexed bool) {
		r := mount.Range{Low: low, High: high, Step: step, Preferred: preferred, Indexed: indexed}
		small := mount.Range{Low: low / 1000, High: high / 1000, Step: step / 100, Preferred: preferred / 1000, Indexed: indexed}
		v := r3.Vec{X: offset, Y: wall, Z: -offset}
		side := mount.OnLeft
		if indexed {
			side = mount.OnRight
		}
		kit := mount.Kit{Parts: []mount.Part{
			mount.Clamp{Name: "clamp", Index: small, IndexAbout: mount.Left, OffsetMM: v},
			mount.Tube{
				Name: "post", Section: mount.Section{OutsideMM: outside, WallMM: wall}, Slide: r,
				Shape: mount.Centerline{BendRadiusMM: radius, EndMM: wall, Bends: []mount.Bend{{StraightMM: offset, Turn: frame.Angle(angle), Angle: frame.Angle(angle)}}},
			},
			mount.Elbow{Name: "elbow", Elevation: mount.Range{Low: -1, High: 1, Step: 0.1}, ElevationToEndMM: v},
			mount.Ball{Name: "joint", Cone: frame.Angle(angle), StemMM: offset},
			mount.Plate{Name: "plate", OffsetMM: v},
		}}
		c, err := kit.Chain(mount.Mounting{
			ClampMM: v, Axes: mount.Axes{Rotation: frame.Angle(angle), Tilt: frame.Angle(low)}, Side: side,
			SlideLowMM: low, SlideHighMM: high, SlideAlong: r3.Vec{X: angle, Y: offset},
		})
		if err != nil {
			return
		}
		pose, rates := jacobian(t, c, c.Preferred())
		if !pose.IsFinite() {
			t.Fatalf("preferred settings of a checked kit: pose %v", pose)
		}
		for _, r := range rates {
			if !frame.IsFinite(r.Move) || !frame.IsFinite(r.Turn) {
				t.Fatalf("rate %v", r)
			}
		}
		if _, err := c.Links(c.Preferred()); err != nil {
			t.Fatal(err)
		}
		got, err := solve(c, pose, mount.Options{Starts: 1})
		if r3.Norm(pose.At) > 100e3 && err != nil {
			return // farther away than any target
		}
		if _, err := c.Forward(got.Settings); err != nil {
			t.Fatalf("settings %v: %v", got.Settings, err)
		}
		for i, j := range c.Moving() {
			if rounded := j.Round(got.Settings[i]); rounded < j.Low-1e-6 || rounded > j.High+1e-6 {
				t.Fatalf("%s: %v is rounded to %v, outside %v to %v", j.Name, got.Settings[i], rounded, j.Low, j.High)
			}
		}
	})
}
