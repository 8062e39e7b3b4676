package casefile_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// short returns a case that leaves open all that it can, with more put into it:
// lines of its own, and lines of the chair, the mount and the screen.
func short(t testing.TB, own, chair, carriedBy string) *casefile.Case {
	t.Helper()
	c, err := readShort(own, chair, carriedBy)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func readShort(own, chair, carriedBy string) (*casefile.Case, error) {
	text := `sightpost: 1
label: a
measured:
  seat_tilt: 0 deg
  back_angle: 100 deg
  eyes: {forward: 150 mm, left: 0 mm, up: 1240 mm}
  head: {flexion: 0 deg, rotation: 0 deg, lateral_flexion: 0 deg}
person: {movement: {forward: 0, left: 0, up: 0}}
tracker: {near: 500, best: 600, far: 750, across: 40, up_down: 30, below: 110, in_front: 10, aimed_up: 15, gaze_limit: 36, accuracy: 0.7, precision: 0.3}
screen: {display: {width: 260, height: 165}, housing: {width: 300, height: 230, depth: 45, below: 15}, mass: 1.6 kg}
postures: [{name: upright}]
mount: {carried_by: ` + carriedBy + `, side: left, clamp: {at: {forward: 380, left: 260, up: 480}}}
chair: {back_hinge: {forward: 0, up: 500}` + chair + `}
` + own
	return casefile.Read("case", strings.NewReader(text), nil)
}

// keep returns the space of a name, moved to chair axes in a posture.
func keep(t testing.TB, c *casefile.Case, name string, p gaze.Posture) (fit.KeepClear, space.Shape) {
	t.Helper()
	for _, k := range c.Job.KeepClear {
		if k.Name == name {
			return k, k.Shape.Moved(k.Pose(c.Job.Scene, p))
		}
	}
	t.Fatalf("no space %q to keep clear", name)
	return fit.KeepClear{}, space.Shape{}
}

func measured(c *casefile.Case) gaze.Posture { return c.Job.Scene.Measured.AsMeasured("") }

// extent returns the corners of the box round a shape.
func extent(s space.Shape) (low, high r3.Vec) {
	along := func(way r3.Vec) (from, to float64) {
		half := s.RoundMM
		for _, e := range [3]struct {
			way  r3.Vec
			half float64
		}{{s.Pose.Rot.X, s.HalfMM.X}, {s.Pose.Rot.Y, s.HalfMM.Y}, {s.Pose.Rot.Z, s.HalfMM.Z}} {
			half += e.half * math.Abs(r3.Dot(e.way, way))
		}
		middle := r3.Dot(s.Pose.At, way)
		return middle - half, middle + half
	}
	low.X, high.X = along(r3.Vec{X: 1})
	low.Y, high.Y = along(r3.Vec{Y: 1})
	low.Z, high.Z = along(r3.Vec{Z: 1})
	return low, high
}

// TestAssumedBody: an adult's dimensions are the means of the published means of men
// and women, and each space is where the case has that part of the body.
func TestAssumedBody(t *testing.T) {
	c := short(t, "", "", "seat")
	const tolMM = 0.6 // published to a tenth, assumed to whole mm, halved on either side
	for _, want := range []struct {
		name      string
		with      fit.Body
		low, high r3.Vec
	}{
		// Head length 199.5 and 189.8 mm less the 20 mm from brow to eye; breadth 154.3
		// and 147.8 mm; crown above the eyes 113.8 and 108.9 mm.
		{"face", fit.WithHead, r3.Vec{X: 150 - 174.65, Y: -75.5, Z: 1240 - 110}, r3.Vec{X: 145, Y: 75.5, Z: 1240 + 111.35}},
		// Thigh clearance 180.5 and 167.9 mm; buttock to knee 618.0 and 590.6 mm.
		{"left thigh", fit.NoBody, r3.Vec{Y: 100 - 87.1, Z: 500}, r3.Vec{X: 604.3, Y: 100 + 87.1, Z: 500 + 174.2}},
		{"right thigh", fit.NoBody, r3.Vec{Y: -100 - 87.1, Z: 500}, r3.Vec{X: 604.3, Y: -100 + 87.1, Z: 500 + 174.2}},
	} {
		t.Run(want.name, func(t *testing.T) {
			k, shape := keep(t, c, want.name, measured(c))
			low, high := extent(shape)
			if r3.Norm(r3.Sub(low, want.low)) > 2*tolMM || r3.Norm(r3.Sub(high, want.high)) > 2*tolMM {
				t.Errorf("from %.1f to %.1f, want from %.1f to %.1f", low, high, want.low, want.high)
			}
			if !k.Assumed || k.With != want.with || k.By != gaze.Seat {
				t.Errorf("keep %+v", k)
			}
		})
	}
	// The trunk leans against the back support: 242 mm deep, 480 mm across, up to as
	// far below the eyes as the lowest bone of the neck, 124.5 mm, less what leaning
	// takes off.
	k, shape := keep(t, c, "trunk", measured(c))
	if k.With != fit.WithTrunk || !k.Assumed {
		t.Errorf("keep %+v", k)
	}
	lean := frame.About(r3.Vec{Y: -1}, 10*frame.Degree)
	own := space.Shape{Pose: frame.Pose{Rot: lean, At: r3.Vec{Z: 500}}.Inverse().Mul(shape.Pose), HalfMM: shape.HalfMM, RoundMM: shape.RoundMM}
	low, high := extent(own)
	neck := lean.ApplyInverse(r3.Vec{X: 150 - 80.5, Z: 1240 - 75 - 500}).Z
	if r3.Norm(r3.Sub(low, r3.Vec{Y: -240.2})) > 2*tolMM || r3.Norm(r3.Sub(high, r3.Vec{X: 242.2, Y: 240.2, Z: neck - 49.5})) > 2*tolMM {
		t.Errorf("trunk from %.1f to %.1f along the back support", low, high)
	}
}

// TestBodyMovesWithThePerson: the assumed head moves with the eyes, the trunk with the
// back support, the thighs with the seat.
func TestBodyMovesWithThePerson(t *testing.T) {
	c := short(t, "", ", tilt_pivot: {forward: 120, up: 430}", "seat")
	p := gaze.Posture{SeatTilt: 20 * frame.Degree, BackAngle: 120 * frame.Degree, Head: gaze.Head{Rotation: 30 * frame.Degree}}
	scene := c.Job.Scene
	const tolMM = 1e-9 // rounding
	for _, want := range []struct {
		name string
		pose frame.Pose
	}{
		{"face", scene.Chair.HeadPose(scene.Person, scene.Measured, p).Mul(frame.Translate(scene.Measured.EyesMM).Inverse())},
		{"trunk", scene.Chair.TrunkPose(scene.Measured, p)},
		{"left thigh", scene.Chair.SeatPose(p.SeatTilt)},
	} {
		_, before := keep(t, c, want.name, measured(c))
		_, after := keep(t, c, want.name, p)
		if off := r3.Norm(r3.Sub(after.Pose.At, want.pose.Apply(before.Pose.At))); off > tolMM {
			t.Errorf("%s is off by %v mm", want.name, off)
		}
	}
}

// TestBodyMeasured: a measure takes the place of a published one, all of them make a
// space that is not assumed, and none leaves it out.
func TestBodyMeasured(t *testing.T) {
	c := short(t, "body: {face: none, trunk: {breadth: 50 cm}, thighs: {thickness: 15 cm, length: 55 cm, spacing: 22 cm}}\n", "", "seat")
	names := make([]string, 0, len(c.Job.KeepClear))
	for _, k := range c.Job.KeepClear {
		names = append(names, fmt.Sprint(k.Name, " ", k.Assumed))
	}
	if diff := cmp.Diff([]string{"trunk true", "left thigh false", "right thigh false"}, names); diff != "" {
		t.Errorf("spaces (-want +got):\n%s", diff)
	}
	_, thigh := keep(t, c, "left thigh", measured(c))
	const tolMM = 1e-9 // rounding
	if low, high := extent(thigh); r3.Norm(r3.Sub(low, r3.Vec{Y: 35, Z: 500})) > tolMM || r3.Norm(r3.Sub(high, r3.Vec{X: 550, Y: 185, Z: 650})) > tolMM {
		t.Errorf("thigh from %v to %v", low, high)
	}
	_, trunk := keep(t, c, "trunk", measured(c))
	if low, high := extent(trunk); math.Abs(high.Y-low.Y-500) > tolMM {
		t.Errorf("trunk from %v to %v", low, high)
	}
}

// TestSmallBody: a child's body is assumed to be smaller in proportion.
func TestSmallBody(t *testing.T) {
	c := starter(t, "thighs: none ", "thighs: assumed ", "    up: 1180 mm ", "    up: 900 mm ")
	_, thigh := keep(t, c, "right thigh", measured(c))
	low, high := extent(thigh)
	// 150 mm forward and 400 mm up are 368 mm along a back support at 100 deg.
	part := (400*math.Sin(100*math.Pi/180) + 150*math.Cos(100*math.Pi/180)) / 560
	const tolMM = 0.5 // assumed to whole mm
	if math.Abs(high.X-part*604.3) > tolMM || math.Abs(high.Z-low.Z-part*174.2) > tolMM {
		t.Errorf("thigh from %v to %v", low, high)
	}
	said := slices.ContainsFunc(c.Assumptions, func(a casefile.Assumption) bool {
		return a.Key == "body.thighs" && strings.Contains(a.Source, "scaled to 0.66")
	})
	if !said {
		t.Errorf("the assumptions do not say so: %+v", c.Assumptions)
	}
}

// TestEyesInHeadAreSourced: who published how far the eyes are behind the brows is said
// where the tool has used it, and nowhere else.
func TestEyesInHeadAreSourced(t *testing.T) {
	for _, row := range []struct {
		name, own string
		want      bool
	}{
		{"assumed", "", true},
		{"measured", "body: {face: {length: 180}}\n", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			var named []string
			for _, a := range short(t, row.own, "", "seat").Assumptions {
				if a.Key == "body.face" {
					named = append(named, a.Source)
				}
			}
			sources := strings.Join(named, "; ")
			if !strings.Contains(sources, "NATICK/TR-15/007") || strings.Contains(sources, "Pheasant") != row.want {
				t.Errorf("sources %q, want Pheasant in them: %t", sources, row.want)
			}
		})
	}
}

// TestChairParts: armrests, joystick and tray are where the case has the seat.
func TestChairParts(t *testing.T) {
	c := short(t, "body: {thighs: none, trunk: none, face: none}\n",
		", armrests: yes, joystick: right, tray: {width: 500, top: 80 cm, clearance: 0}, seat_height: 480", "seat")
	const tolMM = 1e-9 // rounding
	for _, want := range []struct {
		name      string
		gap       float64
		low, high r3.Vec
	}{
		{"left armrest", 20, r3.Vec{X: 60, Y: 225, Z: 480 + 275 - 40}, r3.Vec{X: 400, Y: 285, Z: 480 + 275}},
		{"right armrest", 20, r3.Vec{X: 60, Y: -285, Z: 480 + 275 - 40}, r3.Vec{X: 400, Y: -225, Z: 480 + 275}},
		{"joystick", 40, r3.Vec{X: 340, Y: -300, Z: 755}, r3.Vec{X: 460, Y: -210, Z: 755 + 140}},
		{"tray", 0, r3.Vec{X: 250, Y: -250, Z: 785}, r3.Vec{X: 650, Y: 250, Z: 800}},
	} {
		k, shape := keep(t, c, want.name, measured(c))
		low, high := extent(shape)
		if r3.Norm(r3.Sub(low, want.low)) > tolMM || r3.Norm(r3.Sub(high, want.high)) > tolMM || k.RequiredMM != want.gap || !k.Assumed {
			t.Errorf("%s from %v to %v, gap %v, assumed %v", want.name, low, high, k.RequiredMM, k.Assumed)
		}
	}
	if bare := short(t, "", ", armrests: no, tray: no", "seat"); len(bare.Job.KeepClear) != 4 {
		t.Errorf("a bare chair has spaces %+v", bare.Job.KeepClear)
	}
}

// TestMeasuredButThickness: a tray of which all but the thickness was measured is no assumed
// zone, which could lose its clearance.
func TestMeasuredButThickness(t *testing.T) {
	const measured = "width: 500, top: 80 cm, back: 250, front: 600"
	for tray, assumed := range map[string]bool{measured: false, strings.TrimSuffix(measured, ", front: 600"): true} {
		c := short(t, "", ", tray: {"+tray+"}", "seat")
		k := c.Job.KeepClear[slices.IndexFunc(c.Job.KeepClear, func(k fit.KeepClear) bool { return k.Name == "tray" })]
		if k.Assumed != assumed {
			t.Errorf("%s: assumed %v", tray, k.Assumed)
		}
	}
}

// TestGivenTakesPlaceOfAssumed: a space of the same name is the measured one.
func TestGivenTakesPlaceOfAssumed(t *testing.T) {
	c := short(t, `keep_clear:
  - name: trunk
    box: {middle: {forward: 100, left: 0, up: 800}, size: {forward: 200, left: 400, up: 500}}
    carried_by: seat
    clearance: 30 mm
`, "", "seat")
	k, _ := keep(t, c, "trunk", measured(c))
	if len(c.Job.KeepClear) != 4 || k.Assumed || k.RequiredMM != 30 {
		t.Errorf("spaces %+v", c.Job.KeepClear)
	}
}

// TestPassage: what rolls must pass doors, with published widths unless others are
// given; furniture must not.
func TestPassage(t *testing.T) {
	published := fit.Passage{WidthMM: 660, BehindMM: 300, AheadMM: 915, DoorMM: 812.8, FloorWidthMM: 762, FloorLengthMM: 1219.2, GroundMM: 50}
	given := published
	given.WidthMM, given.DoorMM, given.GroundMM = 620, 812.8, 25.4
	for _, c := range []struct {
		name, own, chair, by string
		want                 fit.Passage
	}{
		{"seat", "", "", "seat", published},
		{"base", "", "", "base", published},
		{"given", "passage: {doorway: 32 in, ground_clearance: 1 in}\n", ", size: {width: 62 cm}", "seat", given},
		{"bed", "", "", "bed", fit.Passage{Bed: true}},
		{"floor", "passage: {doorway: 90 cm, ground_clearance: 5 cm}\n", "", "floor", fit.Passage{DoorMM: 900}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := short(t, c.own, c.chair, c.by)
			if diff := cmp.Diff(c.want, got.Job.Passage); diff != "" {
				t.Errorf("passage (-want +got):\n%s", diff)
			}
			assumed := slices.ContainsFunc(got.Assumptions, func(a casefile.Assumption) bool { return strings.HasPrefix(a.Key, "passage.") })
			if (c.by == "seat" || c.by == "base") != assumed {
				t.Errorf("assumptions %+v", got.Assumptions)
			}
		})
	}
}

// TestStability: wheels count for a mount that the chair carries, and for no other.
func TestStability(t *testing.T) {
	const wheels = ", stability: {front_wheels: 42 cm, rear_wheels: -20 mm, track: 480 mm, mass: 95 kg, front_mass: 38 kg}"
	want := fit.Wheels{FrontMM: 420, RearMM: -20, TrackMM: 480, KG: 95, FrontKG: 38}
	for _, by := range []string{"seat", "base", "floor", "table", "bed"} {
		got := short(t, "", wheels, by).Job.Wheels
		if chair := by == "seat" || by == "base"; chair && got != want || !chair && got != (fit.Wheels{}) {
			t.Errorf("%s: %+v", by, got)
		}
	}
}

func TestGlassesGridAndDriver(t *testing.T) {
	c := starter(t, "glasses: no ", "glasses: yes ", "drives: no ", "drives: yes ")
	if g := c.Job.Scene.Person.Glasses; g == nil || math.Abs(g.LensSlant.Degrees()-10) > 1e-12 || !c.Job.Drives {
		t.Errorf("glasses %+v, drives %t", g, c.Job.Drives)
	}
	if !slices.ContainsFunc(c.Assumptions, func(a casefile.Assumption) bool { return a.Key == "person.glasses.lens_slant" }) {
		t.Errorf("the slant of the lenses is not among the assumptions %+v", c.Assumptions)
	}
	if diff := cmp.Diff(&gaze.Grid{Rows: 3, Columns: 4, GapMM: 10}, c.Job.Grid); diff != "" {
		t.Errorf("grid (-want +got):\n%s", diff)
	}
	c = starter(t, "glasses: no ", "glasses: {lens_slant: -5 deg} ")
	if g := c.Job.Scene.Person.Glasses; g == nil || math.Abs(g.LensSlant.Degrees()+5) > 1e-12 || c.Job.Drives {
		t.Errorf("glasses %+v, drives %t", g, c.Job.Drives)
	}
	if c = starter(t); c.Job.Scene.Person.Glasses != nil {
		t.Error("glasses that nobody wears")
	}
}

// TestAssumptionsNeverBreakACase reads cases with clamp and eyes anywhere: what is
// assumed of the body gives way, with a warning, and holds neither.
func TestAssumptionsNeverBreakACase(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const draws = 300
	warned := 0
	for range draws {
		between := func(low, high float64) float64 { return math.Round(low + (high-low)*rng.Float64()) }
		text := fmt.Sprintf(`sightpost: 1
label: a
measured:
  seat_tilt: %g deg
  back_angle: %g deg
  eyes: {forward: %g, left: %g, up: %g}
  head: {flexion: %g, rotation: %g, lateral_flexion: %g}
person: {movement: {forward: 0, left: 0, up: 0}}
tracker: {near: 500, best: 600, far: 750, across: 40, up_down: 30, below: 110, in_front: 10, aimed_up: 15, gaze_limit: 36, accuracy: 0.7, precision: 0.3}
screen: {display: {width: 260, height: 165}, housing: {width: 300, height: 230, depth: 45, below: 15}, mass: 1.6 kg}
postures: [{name: a}, {name: bent, eyes: {forward: %g, left: %g, up: %g}, head: {flexion: 60, rotation: 0, lateral_flexion: 0}}]
mount: {carried_by: seat, side: either, clamp: {at: {forward: %g, left: %g, up: %g}}}
chair: {armrests: yes, tray: yes, joystick: left}
`, between(-20, 40), between(80, 130), between(-300, 300), between(-100, 100), between(700, 1300),
			between(-40, 40), between(-40, 40), between(-40, 40),
			between(0, 500), between(-200, 200), between(500, 900),
			between(-300, 600), between(0, 400), between(300, 900))
		c, err := casefile.Read("case", strings.NewReader(text), nil)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		warned += len(c.Warnings)
		clamps, err := c.Mountings(false)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range c.Job.Postures {
			stance := c.Job.Scene.InCarrier(p)
			for _, k := range c.Job.KeepClear {
				shape := k.Shape.Moved(k.Pose(c.Job.Scene, p))
				for _, eye := range stance.Eyes {
					if mm := space.FromPoint(stance.Carrier.Apply(eye), shape).MM; mm <= 0 {
						t.Fatalf("an eye is %v mm within %s\n%s", -mm, k.Name, text)
					}
				}
				for _, m := range clamps {
					if mm := space.FromPoint(stance.Carrier.Apply(m.ClampMM), shape).MM; mm < k.RequiredMM {
						t.Fatalf("the clamp is %v mm from %s, which keeps %v mm\n%s", mm, k.Name, k.RequiredMM, text)
					}
				}
			}
		}
	}
	if warned < draws/10 {
		t.Errorf("%d warnings in %d cases: nothing had to give way", warned, draws)
	}
}

// TestSeatedForFigures: figures have the seat where the case or the assumption has it,
// in the posture as measured, and a person as large as the assumed body.
func TestSeatedForFigures(t *testing.T) {
	const tolMM = 1e-9 // rounding
	tilted := readCase(t, shipped+"/cases/child.yaml")
	for _, c := range []struct {
		name string
		of   *casefile.Case
		at   r3.Vec // chair axes, as measured
		part float64
	}{
		{"of the hinge", short(t, "", "", "seat"), r3.Vec{Z: 500}, 1},
		{"given", short(t, "", ", seat_height: 470", "seat"), r3.Vec{Z: 470}, 1},
		{"assumed, tilted, small", tilted, tilted.Job.Scene.Chair.SeatPose(10 * frame.Degree).Apply(r3.Vec{Z: 495}), 411.2 / 560},
	} {
		t.Run(c.name, func(t *testing.T) {
			scene, seated := c.of.Job.Scene, c.of.Job.Seated
			at := gaze.Seat.Pose(scene.Chair, scene.Measured.SeatTilt).Apply(seated.JunctionMM)
			if r3.Norm(r3.Sub(at, c.at)) > tolMM {
				t.Errorf("the junction is at %v, want %v", at, c.at)
			}
			const tolPart = 0.0005 // of the eyes above the seat, computed by hand to a tenth of a mm
			if math.Abs(seated.Part-c.part) > tolPart {
				t.Errorf("the person is %v of an adult, want %v", seated.Part, c.part)
			}
		})
	}
}
