package tube_test

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/testdata/reference"
)

// referenceMount is a mount and how a solid model of it sags; see
// testdata/reference/scripts/sag.py.
type referenceMount struct {
	Name  string
	Tubes []struct {
		Joint                      [6]float64
		Outside, Wall, Radius, End float64
		Bends                      []struct{ Straight, Turn, Angle float64 }
	}
	Load struct {
		At [3]float64
		KG float64
	}
	Material             struct{ Young, Poisson, Density float64 }
	Gravity, Shift, Turn [3]float64
}

func vec(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

// fixedPose is x, y, z, then roll, pitch, yaw in degrees about fixed axes.
func fixedPose(o [6]float64) frame.Pose {
	turn := func(degrees float64, axis r3.Vec) frame.Pose {
		return frame.Rotate(frame.Angle(degrees)*frame.Degree, axis)
	}
	p := turn(o[5], r3.Vec{Z: 1}).Mul(turn(o[4], r3.Vec{Y: 1})).Mul(turn(o[3], r3.Vec{X: 1}))
	p.At = r3.Vec{X: o[0], Y: o[1], Z: o[2]}
	return p
}

// chain returns the mount as a chain whose screen is at the load, in the axes of the
// last tube's end.
func (r referenceMount) chain() mount.Chain {
	m := mount.Material{
		Name: "reference", YoungMPa: r.Material.Young, DensityKGM3: r.Material.Density,
		ShearMPa: r.Material.Young / (2 * (1 + r.Material.Poisson)),
	}
	c := mount.Chain{Tip: frame.Identity()}
	for i, t := range r.Tubes {
		l := mount.Centerline{BendRadiusMM: t.Radius, EndMM: t.End}
		for _, b := range t.Bends {
			l.Bends = append(l.Bends, mount.Bend{
				StraightMM: b.Straight, Turn: frame.Angle(b.Turn) * frame.Degree, Angle: frame.Angle(b.Angle) * frame.Degree,
			})
		}
		name := fmt.Sprintf("tube%d", i+1)
		c.Joints = append(c.Joints, mount.Joint{Name: name, Origin: c.Tip.Mul(fixedPose(t.Joint))})
		c.Spans = append(c.Spans, mount.Span{
			Part: name, Carrier: i, Slide: -1, FromTube: frame.Translate(r3.Vec{Z: l.End().At.Z}),
			Shape: l, Section: mount.Section{OutsideMM: t.Outside, WallMM: t.Wall, Material: m},
		})
		c.Tip = l.End()
	}
	c.Tip = c.Tip.Mul(frame.Translate(vec(r.Load.At)))
	return loaded(c, r.Load.KG)
}

// TestSagAgainstSolids compares with solid models. A solid is softer than beams by
// some tenths of a percent where it is free to change its section and stiffer where
// rigid bodies hold it.
func TestSagAgainstSolids(t *testing.T) {
	const straightPart, bentPart = 0.002, 0.005
	cases := reference.Read[referenceMount](t, "sag")
	if len(cases) < 12 {
		t.Fatalf("%d mounts, want 12 at least", len(cases))
	}
	for _, r := range cases {
		t.Run(r.Name, func(t *testing.T) {
			allowed := bentPart
			if strings.HasPrefix(r.Name, "straight") || strings.HasPrefix(r.Name, "L:") {
				allowed = straightPart
			}
			c := r.chain()
			gravity := vec(r.Gravity)
			got := loadOf(t, c, nil, gravity).Screen
			shift, turn := vec(r.Shift), vec(r.Turn)
			offShift := r3.Norm(r3.Sub(got.ShiftMM, shift)) / r3.Norm(shift)
			offTurn := r3.Norm(r3.Sub(got.Turn, turn)) / r3.Norm(turn)
			t.Logf("%-45s shift %.3f off %.3f %%, turn off %.3f %%", r.Name, r3.Norm(shift), 100*offShift, 100*offTurn)
			if !(offShift <= allowed && offTurn <= allowed) {
				t.Errorf("shift %v, the solid's is %v; turn %v, the solid's is %v", got.ShiftMM, shift, got.Turn, turn)
			}
		})
	}
}
