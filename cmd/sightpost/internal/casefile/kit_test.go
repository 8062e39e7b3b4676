package casefile_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
	"sightpost/plots/units"
)

func TestReadKitShipped(t *testing.T) {
	for _, path := range glob(t, "kits/*.yaml") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			kit, err := casefile.ReadKit(path, bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if err := kit.Check(); err != nil {
				t.Error(err)
			}
			if !strings.Contains(string(text), "nvented") {
				t.Error("the file does not say that the kit is invented")
			}
		})
	}
}

// TestOffsetPost: two equal and opposite bends of the shipped offset post, 345 mm above
// its foot and 210 mm apart, set its upper end off ahead, parallel to its foot, by plane
// trigonometry; the tube is as long as the file says.
func TestOffsetPost(t *testing.T) {
	kit := shippedKit(t, "two-tube-offset.yaml")
	const tol = 0.5 // mm: the file rounds the total to whole mm
	post := kit.Parts[1].(mount.Tube)
	end := post.Shape.End()
	const radius, between = 115, 210.0
	sin, cos := math.Sincos(50 * math.Pi / 180)
	want := r3.Vec{X: 2*radius*(1-cos) + between*sin, Z: 345 + 2*radius*sin + between*cos + 105}
	if r3.Norm(r3.Sub(end.At, want)) > tol || math.Abs(post.Shape.LengthMM()-post.TotalMM) > tol {
		t.Errorf("end at %v, want %v; length %.1f of %.1f", end.At, want, post.Shape.LengthMM(), post.TotalMM)
	}
}

// TestOffsetBends: the same post is told by the offset of its second bend, which is how far
// its upper end is beside its foot.
func TestOffsetBends(t *testing.T) {
	sin, cos := math.Sincos(50 * math.Pi / 180)
	offset := "offset: " + strconv.FormatFloat(2*115*(1-cos)+210*sin, 'f', 6, 64) + " mm"
	kit := shippedKit(t, "two-tube-offset.yaml", "straight: 210 mm", offset)
	if got := kit.Parts[1].(mount.Tube).Shape.Bends[1].StraightMM; math.Abs(got-210) > 1e-5 {
		t.Errorf("%s gives %.6f mm between the bends, not 210", offset, got)
	}
}

// TestWeighedTube: the mass of a tube is its section times length times density, and so the
// mass that this comes to changes nothing, and twice as much adds it once more.
func TestWeighedTube(t *testing.T) {
	const each = math.Pi / 4 * (27*27 - 22.6*22.6) * 861e-9 * 2700 // kg
	carried := func(replace ...string) float64 {
		kit := shippedKit(t, "two-tube-offset.yaml", replace...)
		chain, err := kit.Chain(mount.Mounting{})
		if err != nil {
			t.Fatal(err)
		}
		mass := 0.0
		for _, m := range chain.Masses {
			mass += m.KG
		}
		for _, s := range chain.Spans {
			mass += tube.PropertiesOf(s.Section).KGPerMM * s.TotalMM
		}
		return mass
	}
	weighed := func(kg float64) float64 {
		return carried("total: 861 mm", "total: 861 mm\n      mass: "+strconv.FormatFloat(kg, 'f', 9, 64)+" kg")
	}
	asComputed := carried()
	for _, v := range []struct{ got, want float64 }{
		{weighed(each), asComputed},
		{weighed(2 * each), asComputed + each},
		{carried("position_step: 5 mm", "position_step: 5 mm\n      mass: 300 g"), asComputed + 0.3},
	} {
		if math.Abs(v.got-v.want) > 1e-6 {
			t.Errorf("mass %.6f kg, want %.6f", v.got, v.want)
		}
	}
}

// shippedKit reads a shipped kit in which texts were replaced, each by the one after it.
func shippedKit(t *testing.T, name string, replace ...string) mount.Kit {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(shipped, "kits", name))
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.NewReplacer(replace...).Replace(string(text))
	if changed == string(text) && len(replace) > 0 {
		t.Fatalf("%s: nothing to replace", name)
	}
	kit, err := casefile.ReadKit(name, strings.NewReader(changed))
	if err != nil {
		t.Fatal(err)
	}
	return kit
}

// TestWarnsOfWeight: a tube that is weighed as more than twice its section times length times
// density is warned of where the kit says it. The post has 0.382 kg, 0.842 lb.
func TestWarnsOfWeight(t *testing.T) {
	caseText, kitText := casefile.Starter(units.MM)
	for weighed, warned := range map[string]bool{"2.2 lb": true, "0.4 lb": true, "390 g": false} {
		kit := strings.Replace(string(kitText), "total: 650 mm ", "total: 800 mm\n      mass: "+weighed+" ", 1)
		c, err := casefile.Read("a/case.yaml", bytes.NewReader(caseText), func(string) (io.ReadCloser, error) {
			return io.NopCloser(strings.NewReader(kit)), nil
		})
		if err != nil {
			t.Fatal(err)
		}
		want := "parts[2].post.mass: found \"" + weighed + "\", expected about 0.842 lb by section, length and material; weigh again"
		said := strings.Join(c.Warnings, "\n")
		if strings.Contains(said, want) != warned || warned && !strings.HasPrefix(said, filepath.Join("a", "kit.yaml")+":") {
			t.Errorf("%s: warnings %q; want %q: %t", weighed, said, want, warned)
		}
	}
}

// TestPlateCarriesScreen: from the plate, on the housing's back, to the middle of the
// display area is the housing's depth toward the viewer and, the housing's middle being 15
// mm below, 15 mm up; the masses hang where they are.
func TestPlateCarriesScreen(t *testing.T) {
	c := starter(t, "  mass: 1.6 kg", "  mass: 1.6 kg\n  fixed_at: {right: 20 mm, up: 5 mm}")
	plate := c.Job.Mount.Kit.Parts[len(c.Job.Mount.Kit.Parts)-1].(mount.Plate)
	const tol = 1e-9 // mm, kg: rounding
	if want := (r3.Vec{X: -20, Y: 170 + 15 - 5, Z: 40 + 45}); r3.Norm(r3.Sub(r3.Sub(plate.OffsetMM, plate.FixedAtMM), want)) > tol {
		t.Errorf("offset %v less %v, want %v", plate.OffsetMM, plate.FixedAtMM, want)
	}
	if math.Abs(plate.MassKG-1.78) > tol {
		t.Errorf("mass %v, want 1.78", plate.MassKG)
	}
	center := r3.Scale(1/1.78, r3.Add(r3.Scale(1.6, r3.Vec{Y: -15, Z: -22.5}), r3.Scale(0.18, r3.Vec{X: 20, Y: -10, Z: -45})))
	if r3.Norm(r3.Sub(plate.CenterMM, center)) > tol {
		t.Errorf("center %v, want %v", plate.CenterMM, center)
	}
}

// TestGrips: what joints hold and give arrives in the kit's own units.
func TestGrips(t *testing.T) {
	c := starter(t, "mass: 1.6 kg", "mass: 2 kg")
	kit := c.Job.Mount.Kit
	degree := math.Pi / 180
	post, elbow := kit.Parts[1].(mount.Tube), kit.Parts[2].(mount.Elbow)
	plate := kit.Parts[len(kit.Parts)-1].(mount.Plate)
	if post.Slide.Stiffness != (mount.JointStiffness{SlipLoad: 400}) || elbow.Elevation.Stiffness != (mount.JointStiffness{SlipLoad: 60, Compliance: 0.02 * degree}) {
		t.Errorf("grips %+v %+v", post.Slide.Stiffness, elbow.Elevation.Stiffness)
	}
	if clamp := kit.Parts[0].(mount.Clamp); clamp.PositionStiffness.SlipLoad != 400 || clamp.RatedKG != 5.5 || elbow.RatedKG != 4.5 || math.Abs(plate.MassKG-plate.PlateKG-2) > 1e-12 {
		t.Errorf("clamp %+v, elbow rated %v, %v kg with the plate's %v kg", clamp, elbow.RatedKG, plate.MassKG, plate.PlateKG)
	}
}

// TestBallGrip: a ball holds and gives as one.
func TestBallGrip(t *testing.T) {
	text := `{sightpost_kit: 1, name: a, parts: [
		{clamp: {}}, {post: {tube: {outside: 25, wall: 2, material: steel-S235}, end: 400}},
		{ball: {cone: 60 deg, slip_torque: 1200 N cm, compliance: 0.05 deg, rated: 2 kg}}, {plate: {faces: back}}]}`
	kit, err := casefile.ReadKit("kit", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	ball := kit.Parts[2].(mount.Ball)
	if math.Abs(ball.Stiffness.SlipLoad-12) > 1e-12 || math.Abs(ball.Stiffness.Compliance-0.05*math.Pi/180) > 1e-15 || ball.RatedKG != 2 {
		t.Errorf("ball %+v", ball)
	}
}

func TestSetKit(t *testing.T) {
	_, kitText := casefile.Starter(units.MM)
	kit, err := casefile.ReadKit("kit", bytes.NewReader(kitText))
	if err != nil {
		t.Fatal(err)
	}
	c := starter(t)
	before := c.Job.Mount
	if err := c.SetKit("same", kit); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, c.Job.Mount); diff != "" || c.KitName != "same" {
		t.Errorf("the same kit set again differs:\n%s", diff)
	}
	if err := c.SetKit("none", mount.Kit{}); err == nil {
		t.Error("an empty kit was taken")
	}
	caseText, _ := casefile.Starter(units.MM)
	head, _, _ := strings.Cut(string(caseText), "\nmount:")
	bare, err := casefile.Read("case", strings.NewReader(head+"\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if bare.Job.Mount != nil || !errors.Is(bare.SetKit("kit", kit), casefile.ErrNoClamp) {
		t.Error("a case without a clamp took a kit")
	}
}

// TestAboutAnotherKit: a joint to swing about belongs to the case's own kit; another
// kit that lacks it is left to the tool.
func TestAboutAnotherKit(t *testing.T) {
	c := starter(t)
	if c.Job.Passage.About != "post.swing" {
		t.Fatalf("about %q", c.Job.Passage.About)
	}
	own := c.Job.Mount.Kit
	parts := slices.Clone(own.Parts)
	post := parts[1].(mount.Tube)
	post.Turn = mount.Range{}
	parts[1] = post
	if err := c.SetKit("stiff", mount.Kit{Name: "stiff", Parts: parts}); err != nil || c.Job.Passage.About != "" {
		t.Errorf("SetKit: %v, about %q", err, c.Job.Passage.About)
	}
	if err := c.SetKit("own", own); err != nil || c.Job.Passage.About != "post.swing" {
		t.Errorf("SetKit: %v, about %q", err, c.Job.Passage.About)
	}
}

func TestEitherSide(t *testing.T) {
	c := starter(t, "side: left ", "side: either ", "  clamp:\n", "  clamp:\n    rotation: 10 deg\n    tilt: 5 deg\n    roll: 3 deg\n")
	ms := c.Job.Mount.Mountings
	if len(ms) != 2 || ms[0].Side != mount.OnLeft || ms[1].Side != mount.OnRight {
		t.Fatalf("mountings %+v", ms)
	}
	left, err := c.Job.Mount.Kit.Chain(ms[0])
	if err != nil {
		t.Fatal(err)
	}
	right, err := c.Job.Mount.Kit.Chain(ms[1])
	if err != nil {
		t.Fatal(err)
	}
	a, errA := left.Forward(left.Preferred())
	b, errB := right.Forward(right.Preferred())
	const tolMM, tol = 1e-6, 1e-6 // mm, rad: rounding of a long chain
	// In the mirror y = 0 right follows from up × normal.
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	up, normal := mirror(a.Rot.Y), mirror(a.Rot.Z)
	mirrored := frame.Pose{Rot: frame.Rotation{X: r3.Cross(up, normal), Y: up, Z: normal}, At: mirror(a.At)}
	off := mirrored.Inverse().Mul(b)
	if errA != nil || errB != nil || r3.Norm(off.At) > tolMM || off.Rot.Angle().Radians() > tol {
		t.Errorf("the sides are not mirror images: %v, %v %v", off, errA, errB)
	}
}
