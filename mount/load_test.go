package mount_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Every part hands its rating and its grips on to the chain, on either side.
func TestGripsAndRatings(t *testing.T) {
	kit := everything()
	swing := mount.JointStiffness{SlipLoad: 30, Compliance: 0.1 * deg}
	post := kit.Parts[1].(mount.Tube)
	post.RatedKG, post.Turn.Stiffness = 4, swing
	kit.Parts[1] = post
	ball := kit.Parts[7].(mount.Ball)
	ball.Stiffness = mount.JointStiffness{SlipLoad: 12}
	kit.Parts[7] = ball
	for _, at := range []mount.Mounting{placed(), mirrored(placed())} {
		c, err := kit.Chain(at)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Rated) != len(kit.Parts) {
			t.Fatalf("%d ratings of %d parts", len(c.Rated), len(kit.Parts))
		}
		next := 0
		for i, r := range c.Rated {
			if r.Part != kit.Parts[i].PartName() || r.First != next || r.Next < r.First {
				t.Errorf("rating %+v comes after joint %d", r, next)
			}
			for _, j := range c.Joints[r.First:r.Next] {
				if !strings.HasPrefix(j.Name, r.Part+".") {
					t.Errorf("joint %q counts as of part %q", j.Name, r.Part)
				}
			}
			next = r.Next
		}
		if next != len(c.Joints) || c.Rated[1].KG != 4 || c.Rated[0].KG != 0 {
			t.Errorf("ratings %+v of %d joints", c.Rated, len(c.Joints))
		}
		want := map[string]mount.JointStiffness{"post.swing": swing, "joint.lean": {SlipLoad: 12, AnyAxis: true}}
		for _, j := range c.Joints {
			if j.Stiffness != want[j.Name] {
				t.Errorf("joint %q has grip %+v, want %+v", j.Name, j.Stiffness, want[j.Name])
			}
		}
	}
}

// The mass of a part sits in a frame of its own, even where nothing can be set, so
// that it does not count as the mass of the part before.
func TestMassesAreOfTheirPart(t *testing.T) {
	kit := mount.Kit{Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{Name: "post", Shape: mount.Centerline{EndMM: 300}},
		mount.Elbow{Name: "elbow", MassKG: 0.5, ElevationToEndMM: r3.Vec{X: 30}},
		mount.Turns{Name: "joint", MassKG: 0.2},
		mount.Plate{Name: "plate", MassKG: 1.5, PlateKG: 0.2, CenterMM: r3.Vec{Z: -20}},
	}}
	c, err := kit.Chain(mount.Mounting{})
	if err != nil {
		t.Fatal(err)
	}
	frames, err := c.Frames(nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		part string
		kg   float64
		at   r3.Vec
	}{
		{"elbow", 0.5, r3.Vec{Z: 300}},
		{"joint", 0.2, r3.Vec{X: 30, Z: 300}},
		{"plate", 0.2, r3.Vec{X: 50, Z: 300}}, // the plate faces back, so behind it is ahead
		{"plate.screen", 1.3, r3.Vec{X: 50, Z: 300}},
	}
	if len(c.Masses) != len(want) {
		t.Fatalf("masses %+v", c.Masses)
	}
	for i, w := range want {
		m := c.Masses[i]
		if at := frames[m.Carrier].Apply(m.AtMM); m.Part != w.part || math.Abs(m.KG-w.kg) > 1e-12 || r3.Norm(r3.Sub(at, w.at)) > exactMM {
			t.Errorf("mass %d: %+v at %v, want %+v", i, m, at, w)
		}
		for _, r := range c.Rated {
			if r.Part == m.Part && (m.Carrier < r.First || m.Carrier >= r.Next) && r.Part != "plate" {
				t.Errorf("the mass of %q is carried by joint %d, its joints are %d to %d", m.Part, m.Carrier, r.First, r.Next)
			}
		}
	}
}

// TestPlateCarriesWhatIsOnIt: the plate's own mass is nothing that it carries, also
// where nobody knows what the screen weighs.
func TestPlateCarriesWhatIsOnIt(t *testing.T) {
	for _, tt := range []struct {
		name  string
		plate mount.Plate
		want  []mount.Mass
	}{
		{"screen and plate", mount.Plate{Name: "plate", MassKG: 2.5, PlateKG: 0.5}, []mount.Mass{{Part: "plate", KG: 0.5}, {Part: "plate.screen", KG: 2}}},
		{"screen unknown", mount.Plate{Name: "plate", MassKG: 0.5, PlateKG: 0.5}, []mount.Mass{{Part: "plate", KG: 0.5}}},
		{"plate unknown", mount.Plate{Name: "plate", MassKG: 2}, []mount.Mass{{Part: "plate.screen", KG: 2}}},
		{"both unknown", mount.Plate{Name: "plate"}, nil},
	} {
		c, err := mount.Kit{Parts: []mount.Part{mount.Clamp{Name: "clamp"}, tt.plate}}.Chain(mount.Mounting{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range tt.want {
			tt.want[i].Carrier = len(c.Joints)
		}
		if !slices.Equal(c.Masses, tt.want) {
			t.Errorf("%s: masses %+v, want %+v", tt.name, c.Masses, tt.want)
		}
	}
}

func TestLoadProblems(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name   string
		change func(*mount.Chain)
		want   string
	}{
		{"end not a number", func(c *mount.Chain) { c.Spans[0].Shape.EndMM = nan }, `part "post": straight at the end NaN mm`},
		{"total not a number", func(c *mount.Chain) { c.Spans[0].TotalMM = nan }, `part "post": total length NaN mm`},
		{"place not a pose", func(c *mount.Chain) { c.Spans[0].FromTube = frame.Pose{} }, `part "post": its place`},
		{"slides with a turn", func(c *mount.Chain) { c.Spans[0].Slide = 3 }, `part "post": its tube slides with joint "post.swing"`},
		{"bends not numbers", func(c *mount.Chain) { c.Spans[0].Shape.Bends[0].Turn = frame.Angle(nan) }, "rotation NaN°"},
		{"bend angle not a number", func(c *mount.Chain) { c.Spans[0].Shape.Bends[0].Angle = frame.Angle(nan) }, "angle NaN°"},
		{"radius not a number", func(c *mount.Chain) { c.Spans[0].Shape.BendRadiusMM = nan }, "bend radius NaN mm"},
		{"diameter not a number", func(c *mount.Chain) { c.Spans[0].Section.OutsideMM = nan }, "outside diameter NaN mm"},
		{"mass not a number", func(c *mount.Chain) { c.Masses[0].KG = nan }, `part "joint": mass NaN kg`},
		{"mass nowhere", func(c *mount.Chain) { c.Masses[0].AtMM.Y = nan }, `part "joint": its center of mass, {0 NaN 0} mm`},
		{"rating not a number", func(c *mount.Chain) { c.Rated[1].KG = nan }, `part "post": rated mass NaN kg`},
		{"rating of no joint", func(c *mount.Chain) { c.Rated[1].Next = 99 }, `part "post": joints`},
		{"stiffness not a number", func(c *mount.Chain) { c.Joints[1].Stiffness.SlipLoad = nan }, "slip load NaN"},
		{"grip of what does not move", func(c *mount.Chain) { c.Joints[0].Stiffness.SlipLoad = 1 }, "does not move"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := everything().Chain(placed())
			if err != nil {
				t.Fatal(err)
			}
			tt.change(&c)
			err = c.Check()
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q in it", err, tt.want)
			}
			if _, err := c.Links(c.Preferred()); err == nil {
				t.Error("tubes are drawn all the same")
			}
		})
	}
}
