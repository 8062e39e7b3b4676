package mount_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// names returns the names of the settings of c.
func names(c mount.Chain) []string {
	var names []string
	for _, j := range c.Moving() {
		names = append(names, j.Name)
	}
	return names
}

// with returns the preferred settings of c with one of them changed.
func with(t *testing.T, c mount.Chain, name string, v float64) mount.Settings {
	t.Helper()
	i := slices.Index(names(c), name)
	if i < 0 {
		t.Fatalf("no setting %q among %v", name, names(c))
	}
	s := c.Preferred()
	s[i] = v
	return s
}

func TestSettingNames(t *testing.T) {
	c, err := everything().Chain(placed())
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"clamp.position", "clamp.index", "post.height", "post.swing", "elbow.pan", "elbow.elevation",
		"arm.extension", "arm.twist", "elbow2.pan", "joint.lean_toward", "joint.lean", "joint.spin",
	}
	if got := names(c); !slices.Equal(got, want) {
		t.Errorf("settings %v, want %v", got, want)
	}
}

// What every setting does, against hand-made poses: the clamp at (380, 260, 480),
// post 450, arm 250, plate 50 in front of and 20 above the joint, facing back.
func TestWhatSettingsDo(t *testing.T) {
	c, err := twoTubes().Chain(mount.Mounting{ClampMM: r3.Vec{X: 380, Y: 260, Z: 480}})
	if err != nil {
		t.Fatal(err)
	}
	const quarter = 90 * deg
	back, up, right := r3.Vec{X: -1}, r3.Vec{Z: 1}, r3.Vec{Y: -1}
	joint := r3.Vec{X: 630, Y: 260, Z: 930} // of the plate, at preferred settings
	s30, c30 := math.Sincos(30 * deg)
	tests := []struct {
		setting            string
		v                  float64
		joint, normal, top r3.Vec
	}{
		{"post.height", 450, joint, back, up},
		{"post.height", 500, r3.Add(joint, r3.Vec{Z: 50}), back, up},
		{"arm.extension", 300, r3.Add(joint, r3.Vec{X: 50}), back, up},
		{"post.swing", quarter, r3.Vec{X: 380, Y: 510, Z: 930}, right, up}, // the arm goes left
		{"elbow.pan", quarter, r3.Vec{X: 380, Y: 510, Z: 930}, right, up},
		{"elbow.elevation", 30 * deg, r3.Vec{X: 380 + 250*c30, Y: 260, Z: 930 + 250*s30}, r3.Vec{X: -c30, Z: -s30}, r3.Vec{X: -s30, Z: c30}},
		{"joint.pan", quarter, joint, right, up}, // back turned left, seen from above, is right
		{"joint.tilt", 30 * deg, joint, r3.Vec{X: -c30, Z: s30}, r3.Vec{X: s30, Z: c30}},
		{"joint.roll", 30 * deg, joint, back, r3.Vec{Y: s30, Z: c30}}, // the top goes to the viewer's left
	}
	for _, tt := range tests {
		t.Run(tt.setting, func(t *testing.T) {
			got := mustForward(t, c, with(t, c, tt.setting, tt.v))
			want := frame.Pose{Rot: frame.Rotation{X: r3.Cross(tt.top, tt.normal), Y: tt.top, Z: tt.normal}}
			want.At = r3.Add(tt.joint, r3.Add(r3.Scale(20, tt.top), r3.Scale(50, tt.normal)))
			wantSamePose(t, tt.setting, got, want)
		})
	}
}

func TestFacing(t *testing.T) {
	tests := []struct {
		name   string
		faces  mount.Facing
		normal r3.Vec
	}{
		{"back", mount.FacesBack, r3.Vec{X: -1}},
		{"ahead", mount.FacesAhead, r3.Vec{X: 1}},
		{"left", mount.FacesLeft, r3.Vec{Y: 1}},
		{"right", mount.FacesRight, r3.Vec{Y: -1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			kit := mount.Kit{Parts: []mount.Part{
				mount.Clamp{Name: "clamp"},
				mount.Turns{Name: "joint", Tilt: turning(-60, 60)},
				mount.Plate{Name: "plate", Faces: tt.faces},
			}}
			c, err := kit.Chain(mount.Mounting{})
			if err != nil {
				t.Fatal(err)
			}
			p := mustForward(t, c, mount.Settings{0})
			if p.Rot.Z != tt.normal || p.Rot.Y != (r3.Vec{Z: 1}) {
				t.Errorf("normal %v, up %v, want normal %v", p.Rot.Z, p.Rot.Y, tt.normal)
			}
			tilted := mustForward(t, c, mount.Settings{30 * deg})
			if got, want := tilted.Rot.Z.Z, math.Sin(30*deg); math.Abs(got-want) > exactRad {
				t.Errorf("tilt by 30° lifts the normal to %v, want %v", got, want)
			}
		})
	}
}

// A ball leans by exactly its lean, in the direction that lean_toward says, and
// turns about the normal by lean_toward + spin when it does not lean.
func TestBall(t *testing.T) {
	kit := mount.Kit{Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Ball{Name: "joint", Cone: 40 * frame.Degree},
		mount.Plate{Name: "plate", Faces: mount.FacesAhead},
	}}
	c, err := kit.Chain(mount.Mounting{})
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(5, 1))
	for range 200 {
		s := randomSettings(rng, c)
		p := mustForward(t, c, s)
		sin, cos := math.Sincos(s[1])
		// The viewer looks back along the normal x: their right is y, so counter-
		// clockwise from up z is toward -y.
		want := r3.Vec{X: cos, Y: -sin * math.Sin(s[0]), Z: sin * math.Cos(s[0])}
		if d := r3.Norm(r3.Sub(p.Rot.Z, want)); d > exactRad {
			t.Fatalf("%v: normal %v, want %v", s, p.Rot.Z, want)
		}
		s[1] = 0
		flat := mustForward(t, c, s)
		wantUp := r3.Vec{Y: -math.Sin(s[0] + s[2]), Z: math.Cos(s[0] + s[2])}
		if d := r3.Norm(r3.Sub(flat.Rot.Y, wantUp)); d > exactRad {
			t.Fatalf("%v: up %v, want %v", s, flat.Rot.Y, wantUp)
		}
	}
	if _, err := c.Forward(mount.Settings{0, 41 * deg, 0}); err == nil {
		t.Error("a lean of 41° passes a cone of 40°")
	}
}

func TestAxesLean(t *testing.T) {
	tests := []struct {
		name string
		axes mount.Axes
		up   r3.Vec
	}{
		{"upright", mount.Axes{}, r3.Vec{Z: 1}},
		{"leaned back", mount.Axes{Tilt: 90 * frame.Degree}, r3.Vec{X: -1}},
		{"leaned left", mount.Axes{Roll: 90 * frame.Degree}, r3.Vec{Y: 1}},
		{"turned left, leaned back", mount.Axes{Rotation: 90 * frame.Degree, Tilt: 90 * frame.Degree}, r3.Vec{Y: -1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.axes.Matrix().Z; r3.Norm(r3.Sub(got, tt.up)) > exactRad {
				t.Errorf("up goes to %v, want %v", got, tt.up)
			}
		})
	}
}

// kitProblem is a kit that is refused, and a part of the reason.
type kitProblem struct {
	name  string
	parts []mount.Part
	want  string
}

func wantKitProblems(t *testing.T, rows []kitProblem) {
	t.Helper()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := mount.Kit{Name: "bad", Parts: row.parts}.Chain(mount.Mounting{})
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("error %v, want %q in it", err, row.want)
			}
		})
	}
}

func theClamp() mount.Clamp { return mount.Clamp{Name: "clamp"} }

func thePlate() mount.Plate { return mount.Plate{Name: "plate"} }

// between returns the parts of a kit with a clamp before and a plate behind them.
func between(parts ...mount.Part) []mount.Part {
	return append(append([]mount.Part{theClamp()}, parts...), thePlate())
}

// withPost returns the parts of a kit with the post of two tubes, changed.
func withPost(change func(*mount.Tube)) []mount.Part {
	p := twoTubes().Parts[1].(mount.Tube)
	change(&p)
	return between(p)
}

func TestPartProblems(t *testing.T) {
	wantKitProblems(t, []kitProblem{
		{"no parts", nil, "no parts"},
		{"missing part", []mount.Part{theClamp(), nil, thePlate()}, "part 2 is missing"},
		{"no plate", []mount.Part{theClamp()}, `part "clamp": the last part must be the plate`},
		{"no clamp", []mount.Part{thePlate()}, `part "plate": the first part must be the clamp`},
		{"two clamps", between(mount.Clamp{Name: "b"}), `part "b": only the first part can be a clamp`},
		{"plate inside", between(mount.Plate{Name: "b"}), `part "b": the plate must be the last part`},
		{"no name", between(mount.Elbow{}), "part 2 has no name"},
		{"name twice", between(mount.Elbow{Name: "plate"}), `part "plate": the name is used twice`},
		{"name with a dot", between(mount.Elbow{Name: "a.b"}), `part "a.b": a name has no dot`},
		{"offset not a number", between(mount.Bracket{Name: "b", OffsetMM: r3.Vec{X: math.NaN()}}), `part "b": offset`},
		{"axes not a number", between(mount.Bracket{Name: "b", Axes: mount.Axes{Rotation: frame.Angle(math.NaN())}}), `part "b": angle of the axes`},
		{"negative mass", between(mount.Turns{Name: "j", MassKG: -1}), `part "j": mass -1 kg`},
		{"facing nowhere", []mount.Part{theClamp(), mount.Plate{Name: "plate", Faces: 7}}, "faces: 7 is no way to face"},
		{"more plate than mass", []mount.Part{theClamp(), mount.Plate{Name: "plate", MassKG: 1, PlateKG: 2}}, `part "plate": 2 kg of the plate's own`},
		{"plate lighter than nothing", []mount.Part{theClamp(), mount.Plate{Name: "plate", MassKG: 1, PlateKG: -1}}, `part "plate": -1 kg of the plate's own`},
	})
}

func TestRangeProblems(t *testing.T) {
	wantKitProblems(t, []kitProblem{
		{"limits crossed", between(mount.Elbow{Name: "e", Pan: turning(30, -30)}), `part "e": pan: limits 30° to -30°: the lowest is above the highest`},
		{"no step", between(mount.Elbow{Name: "e", Pan: mount.Range{High: 1}}), `part "e": pan: step 0° must be more than 0`},
		{"preferred outside", withPost(func(p *mount.Tube) { p.Slide.Preferred = 0 }), `part "post": height: preferred 0 mm is outside 300 mm to 700 mm`},
		{"limits not numbers", withPost(func(p *mount.Tube) { p.Slide.High = math.NaN() }), `part "post": height: limits`},
		{"step not a number", withPost(func(p *mount.Tube) { p.Slide.Step = math.NaN() }), `part "post": height: step`},
		{"negative height", withPost(func(p *mount.Tube) { p.Slide.Low = -5 }), `part "post": height: limits -5 mm`},
		{"negative effort", withPost(func(p *mount.Tube) { p.Slide.Effort = -1 }), `part "post": height: effort -1 must be 0 or more`},
		{"nothing readable", withPost(func(p *mount.Tube) { p.Slide = mount.Range{Low: 301, High: 304, Step: 5, Preferred: 302} }), "no multiple of the step 5 mm lies within"},
		{"nothing to turn to", between(mount.Elbow{Name: "e", Pan: mount.Range{Low: 0.001, High: 0.002, Step: 0.25 * frame.Degree.Radians(), Preferred: 0.001}}), "no multiple of the step 0.25° lies within 0.057° to 0.115°"},
		{"too many stops", []mount.Part{mount.Clamp{Name: "clamp", Index: mount.Range{High: 1, Step: 1e-4, Indexed: true}}, thePlate()}, "10001 stops are more than 1000"},
		{"too many stops together", between(
			mount.Elbow{Name: "a", Pan: mount.Range{High: 1, Step: 0.01, Indexed: true}},
			mount.Elbow{Name: "b", Pan: mount.Range{High: 1, Step: 0.01, Indexed: true}},
		), `part "a": pan: the stops of all settings have 10201 combinations, more than 1000: give this one, `},
		{"no cone", between(mount.Ball{Name: "j"}), `part "j": cone 0° must be more than 0°`},
	})
}

func TestTubeProblems(t *testing.T) {
	wantKitProblems(t, []kitProblem{
		{"too short a tube", withPost(func(p *mount.Tube) { p.TotalMM = 650 }), "700 mm of tube are needed and the total length is 650 mm"},
		{"held on a bend", withPost(func(p *mount.Tube) {
			p.TotalMM = 0
			p.Shape = mount.Centerline{BendRadiusMM: 80, EndMM: 300, Bends: []mount.Bend{{Angle: 45 * frame.Degree}}}
			p.Slide.Low, p.Slide.Preferred = 200, 400
		}), "held 68.7 mm up its first bend; raise it to 270 mm or more"},
		{"runs left", withPost(func(p *mount.Tube) { p.Runs = mount.Left }), `part "post": runs`},
		{"wall too thick", withPost(func(p *mount.Tube) { p.Section.WallMM = 20 }), `part "post": wall 20 mm`},
		{"material", withPost(func(p *mount.Tube) { p.Section.Material = mount.Material{Name: "alloy", YoungMPa: math.NaN()} }), `part "post": material "alloy": Young's modulus NaN`},
		{"no wall", withPost(func(p *mount.Tube) { p.Section.WallMM = 0 }), `part "post": wall 0 mm must be from 0.01`},
		{"no shear modulus", withPost(func(p *mount.Tube) {
			p.Section.Material = mount.Material{Name: "alloy", YoungMPa: 7e4, DensityKGM3: 2700}
		}), `shear modulus 0 N/mm² must be more than 0`},
		{"bend tighter than the tube", withPost(func(p *mount.Tube) {
			p.Shape = mount.Centerline{BendRadiusMM: 12.5, Bends: []mount.Bend{{Angle: 1}}}
		}), `part "post": bend radius 12.5 mm must be more than half of the outside diameter 25 mm`},
		{"bend without radius", withPost(func(p *mount.Tube) { p.Shape.Bends = []mount.Bend{{Angle: 1}} }), `part "post": bend radius 0 mm`},
		{"bent back", withPost(func(p *mount.Tube) {
			p.Shape = mount.Centerline{BendRadiusMM: 80, Bends: []mount.Bend{{Angle: 180 * frame.Degree}}}
		}), "angle 180° must be"},
		{"negative straight", withPost(func(p *mount.Tube) {
			p.Shape = mount.Centerline{BendRadiusMM: 80, Bends: []mount.Bend{{StraightMM: -1}}}
		}), "bend 1: straight before it: -1 mm"},
	})
}

func TestStiffnessProblems(t *testing.T) {
	wantKitProblems(t, []kitProblem{
		{"rating", withPost(func(p *mount.Tube) { p.RatedKG = -1 }), `part "post": rated mass -1 kg`},
		{"stiffness of a setting", withPost(func(p *mount.Tube) { p.Turn.Stiffness.SlipLoad = math.NaN() }), `part "post": swing: slip load NaN`},
		{"grip of a slide", withPost(func(p *mount.Tube) { p.Slide.Stiffness.Compliance = 0.01 }), `part "post": height: a slide does not give`},
		{"too compliant", between(mount.Ball{Name: "j", Cone: 1, Stiffness: mount.JointStiffness{Compliance: 2}}), `part "j": lean: compliance 114.592° per N·m`},
		{"stiffness of the spin", between(mount.Ball{Name: "j", Cone: 1, Spin: mount.Range{High: 1, Step: 0.1, Stiffness: mount.JointStiffness{SlipLoad: 1}}}), `part "j": spin: a ball has one stiffness`},
		{"any axis", withPost(func(p *mount.Tube) { p.Turn.Stiffness.AnyAxis = true }), `part "post": swing: only a ball`},
	})
}

func TestMountingProblems(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name string
		m    mount.Mounting
		want string
	}{
		{"place", mount.Mounting{ClampMM: r3.Vec{X: nan}}, `part "clamp": place`},
		{"axes", mount.Mounting{Axes: mount.Axes{Roll: frame.Angle(nan)}}, `part "clamp": angle of the axes`},
		{"side", mount.Mounting{Side: 3}, "side 3 is neither left nor right"},
		{"slide crossed", mount.Mounting{SlideLowMM: 10, SlideHighMM: -10, SlideAlong: r3.Vec{X: 1}}, "the lowest is above the highest"},
		{"slide nowhere", mount.Mounting{SlideHighMM: 10}, "the direction along which is zero"},
		{"slide not a number", mount.Mounting{SlideHighMM: nan, SlideAlong: r3.Vec{X: 1}}, `part "clamp": position: limits`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := twoTubes().Chain(tt.m)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want %q in it", err, tt.want)
			}
		})
	}
}

// Several problems are reported together, each on a line of its own.
func TestAllProblemsAtOnce(t *testing.T) {
	kit := twoTubes()
	kit.RatedKG = -1
	kit.Parts[2] = mount.Elbow{Name: "elbow", Pan: turning(30, -30), Elevation: mount.Range{High: 1}}
	_, err := kit.Chain(mount.Mounting{Side: 9})
	if err == nil {
		t.Fatal("no error")
	}
	if got := strings.Count(err.Error(), "mount: "); got != 4 {
		t.Errorf("%d problems, want 4:\n%v", got, err)
	}
}
