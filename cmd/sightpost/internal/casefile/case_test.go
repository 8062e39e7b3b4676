package casefile_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

func TestMain(m *testing.M) { trials.Main(m) }

func Example() {
	text := strings.NewReader("sightpost: 1\nlabl: bench-07\ntracker:\n  near: 1.118,5 mm\n")
	_, err := casefile.Read("case.yaml", text, nil)
	var problems casefile.Errors
	if errors.As(err, &problems) {
		for _, p := range problems {
			if !p.Missing() {
				fmt.Println(p)
			}
		}
	}
	// Output:
	// case.yaml:2:1: found the unknown key "labl", expected one of sightpost, label, note, measured, person, body, chair, tracker, screen, postures, preferences, keep_clear, mount, passage, uncertainty; did you mean label?
	// case.yaml:4:9: tracker.near: found "1.118,5 mm", expected a length, positive, such as 118 cm; write "1118.5 mm"
}

// starter returns the starter case with replacements, old and new in turn.
func starter(t testing.TB, replace ...string) *casefile.Case {
	t.Helper()
	caseText, _ := casefile.Starter(units.MM)
	text := string(caseText)
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(text, replace[i]) {
			t.Fatalf("the starter case has no %q", replace[i])
		}
		text = strings.Replace(text, replace[i], replace[i+1], 1)
	}
	c, err := casefile.Read("case", strings.NewReader(text), starterKit)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestStarterSolvesAsItIs(t *testing.T) {
	c := starter(t)
	r, err := fit.Solve(t.Context(), &c.Job)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Works {
		t.Errorf("the starter case does not work: %+v", r.Reasons)
	}
	if len(c.Warnings) > 0 {
		t.Errorf("warnings: %q", c.Warnings)
	}
}

func TestBuild(t *testing.T) {
	c := starter(t)
	deg := frame.Degree
	want := gaze.Scene{
		Person: gaze.Person{
			PupilSpacingMM: 60, NeckToEyesMM: r3.Vec{X: 80, Z: 75},
			RestGaze:   &gaze.GazeDirection{Down: 10 * deg},
			GazeRange:  gaze.GazeRange{Left: 30 * deg, Right: 30 * deg, Up: 20 * deg, Down: 30 * deg},
			MovementMM: r3.Vec{X: 30, Y: 40, Z: 20},
		},
		Chair:          gaze.Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
		Measured:       gaze.Sitting{BackAngle: 100 * deg, EyesMM: r3.Vec{X: 150, Z: 1180}, Head: gaze.Head{Flexion: 5 * deg}},
		Carrier:        gaze.Seat,
		RestDistanceMM: 600,
	}
	if diff := cmp.Diff(want, c.Job.Scene); diff != "" {
		t.Errorf("scene (-want +got):\n%s", diff)
	}
	tracker := gaze.Tracker{
		NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * deg, UpDown: 30 * deg, BelowMM: 110,
		InFrontMM: 10, AimedUp: 15 * deg, GazeLimit: 36 * deg, Accuracy: 0.7 * deg, Precision: 0.3 * deg,
	}
	if diff := cmp.Diff(tracker, c.Job.Device.Tracker); diff != "" {
		t.Errorf("tracker (-want +got):\n%s", diff)
	}
	postures := []gaze.Posture{
		{Name: "upright", MustWork: true, BackAngle: 100 * deg, Head: gaze.Head{Flexion: 5 * deg}},
		{Name: "rested", MustWork: true, SeatTilt: 25 * deg, BackAngle: 100 * deg, Head: gaze.Head{Flexion: 5 * deg}},
		{Name: "slid down", BackAngle: 100 * deg, SlumpMM: 40, Head: gaze.Head{Flexion: 5 * deg}},
	}
	if diff := cmp.Diff(postures, c.Job.Postures); diff != "" {
		t.Errorf("postures (-want +got):\n%s", diff)
	}
	if c.KitName != "kit.yaml" || !strings.Contains(c.KitNote, "Invented") || c.Job.Preferences.MarginMM != 20 {
		t.Errorf("kit %q, note %q, wish %+v", c.KitName, c.KitNote, c.Job.Preferences)
	}
}

// TestHeadOfPosture: head is against plumb, head_on_trunk against the back support, here 10°
// off plumb as measured; not both, and one of them beside eyes.
func TestHeadOfPosture(t *testing.T) {
	const deg, rested = frame.Degree, "    seat_tilt: 25 deg\n"
	of := func(key string) gaze.Posture {
		return starter(t, rested, rested+"    "+key+": {flexion: 12 deg, rotation: 0 deg, lateral_flexion: 0 deg}\n").Job.Postures[1]
	}
	if p := of("head"); !p.HeadPlumb || p.Head != (gaze.Head{Flexion: 12 * deg}) {
		t.Errorf("head: %+v", p)
	}
	if p := of("head_on_trunk"); p.HeadPlumb || math.Abs(p.Head.Flexion.Degrees()-2) > 1e-9 {
		t.Errorf("head_on_trunk: %+v, want 2° from the trunk as measured", p)
	}
	text, _ := casefile.Starter(units.MM)
	for _, row := range []struct{ more, names string }{
		{"    head: {flexion: 0, rotation: 0, lateral_flexion: 0}\n    head_on_trunk: {flexion: 0, rotation: 0, lateral_flexion: 0}\n", "head_on_trunk beside head"},
		{"    eyes: {forward: 0, left: 0, up: 1100}\n", "eyes without head"},
	} {
		_, err := casefile.Read("case", strings.NewReader(strings.Replace(string(text), rested, rested+row.more, 1)), starterKit)
		if err == nil || !strings.Contains(err.Error(), "postures[2]") || !strings.Contains(err.Error(), row.names) {
			t.Errorf("%q: error %v, want one that names it", row.names, err)
		}
	}
}

func TestUsedPart(t *testing.T) {
	c := starter(t, "  housing:", "  used: {left: 20 mm, right: 240 mm, bottom: 0 mm, top: 10 cm}\n  housing:")
	want := gaze.Rect{LeftMM: -110, RightMM: 110, BottomMM: -82.5, TopMM: 17.5}
	if c.Job.Device.Screen.Used != want {
		t.Errorf("used part %+v, want %+v", c.Job.Device.Screen.Used, want)
	}
}

// TestClampAsMeasured: wherever the seat was when it was measured, the clamp, seen
// in chair axes in that posture, is where and how the case says.
func TestClampAsMeasured(t *testing.T) {
	const tolMM, tol = 1e-9, 1e-9 // mm, rad: rounding
	rng := rand.New(rand.NewPCG(1, 1))
	for range 100 {
		tenths := func(most int) float64 { return float64(rng.IntN(2*most+1)-most) / 10 }
		tilt, turned, back, left := tenths(450), tenths(1700), tenths(800), tenths(1700)
		const besideMM = 400 // of the person and what the chair has, however far it is tilted
		at := r3.Vec{X: tenths(9000), Y: besideMM + math.Abs(tenths(3000)), Z: tenths(9000)}
		text := fmt.Sprintf("\n    rotation: %g deg\n    tilt: %g deg\n    roll: %g deg\n    at: {forward: %g, left: %g, up: %g}\n    along: {forward: 3, left: 1, up: 2}\n    slides: 0 to 5\n",
			turned, back, left, at.X, at.Y, at.Z)
		caseText, _ := casefile.Starter(units.MM)
		head, _, _ := strings.Cut(string(caseText), "\n  clamp:")
		head = strings.Replace(head, "seat_tilt: 0 deg", fmt.Sprintf("seat_tilt: %g deg", tilt), 1)
		c, err := casefile.Read("case", strings.NewReader(head+"\n  clamp:"+text), starterKit)
		if err != nil {
			t.Fatalf("%s\n%v", text, err)
		}
		m := c.Job.Mount.Mountings[0]
		chairFromCarrier := fit.CarrierFromMeasured(c.Job.Scene, gaze.Seat).Inverse()
		if r3.Norm(r3.Sub(chairFromCarrier.Apply(m.ClampMM), at)) > tolMM {
			t.Errorf("%s: clamp at %v, want %v", text, chairFromCarrier.Apply(m.ClampMM), at)
		}
		want := mount.Axes{Rotation: frame.Angle(turned) * frame.Degree, Tilt: frame.Angle(back) * frame.Degree, Roll: frame.Angle(left) * frame.Degree}.Matrix()
		if off := want.Inverse().Mul(chairFromCarrier.Rot.Mul(m.Axes.Matrix())).Angle().Radians(); off > tol {
			t.Errorf("%s: clamp turned off by %v rad", text, off)
		}
		if d := frame.Between(chairFromCarrier.Rot.Apply(m.SlideAlong), r3.Vec{X: 3, Y: 1, Z: 2}).Radians(); d > tol {
			t.Errorf("%s: slides along a direction off by %v rad", text, d)
		}
	}
}

// TestKeepClearAsMeasured: the same for what must be kept clear.
func TestKeepClearAsMeasured(t *testing.T) {
	root := casefile.Fields()
	for _, f := range []*casefile.Entry{root.At("keep_clear"), root.At("mount").At("clamp"), root.At("measured").At("eyes")} {
		if !strings.Contains(f.Doc, "with the seat tilted as measured") {
			t.Errorf("%s does not say with what tilt it is given: %s", f.Key, f.Doc)
		}
	}
	c := starter(t, "seat_tilt: 0 deg", "seat_tilt: 20 deg", "    carried_by: seat ", "    carried_by: base ")
	const tolMM = 1e-9 // rounding
	knee, joystick := c.Job.KeepClear[0], c.Job.KeepClear[1]
	if knee.By != gaze.Base || joystick.By != gaze.Seat || knee.RequiredMM != 20 || knee.Shape.RoundMM != 80 {
		t.Errorf("keep %+v %+v", knee, joystick)
	}
	if off := r3.Norm(r3.Sub(knee.Shape.Pose.At, r3.Vec{X: 355, Y: 120, Z: 570})); off > tolMM {
		t.Errorf("the knee, carried by the base, has moved by %v mm", off)
	}
	chair := c.Job.Scene.Chair.SeatPose(20 * frame.Degree).Mul(joystick.Shape.Pose)
	if off := r3.Norm(r3.Sub(chair.At, r3.Vec{X: 330, Y: -280, Z: 730})); off > tolMM || chair.Rot.Angle().Radians() > 1e-12 {
		t.Errorf("the joystick, carried by the seat, is off by %v mm", off)
	}
}

// group returns the lines of the starter case from one key to before another.
func group(t *testing.T, from, before string) string {
	t.Helper()
	caseText, _ := casefile.Starter(units.MM)
	_, rest, _ := strings.Cut(string(caseText), "\n"+from)
	lines, _, ok := strings.Cut(rest, "\n"+before)
	if !ok {
		t.Fatalf("the starter case has no %s before %s", from, before)
	}
	return from + lines + "\n"
}

// TestDefaults: what a short case leaves open is filled in with the values that the
// sources give, and is listed.
func TestDefaults(t *testing.T) {
	c := starter(t, "  pupil_spacing: 60 mm             # between the pupils; 63 mm is assumed if left out\n", "",
		group(t, "preferences:", "keep_clear:"), "", group(t, "  gaze_range:", "  movement:"), "",
		"  rest_gaze:                       # where the eyes rest, in the head; assumed if left out\n    down: 10 deg\n    left: 0 deg\n", "")
	if want := (gaze.Rates{GazePerDegree: 1, FacingPerDegree: 1, RollPerDegree: 1, DistancePerMM: 0.1}); c.Job.Preferences.Rates != want {
		t.Errorf("rates %+v, want %+v", c.Job.Preferences.Rates, want)
	}
	const facing, roll = 40 * frame.Degree, 30 * frame.Degree
	ranges := gaze.Ranges{
		Low:  gaze.Aim{Left: -60 * frame.Degree, Down: -60 * frame.Degree, DistanceMM: 150, FacingUp: -facing, FacingRight: -facing, Roll: -roll},
		High: gaze.Aim{Left: 60 * frame.Degree, Down: 75 * frame.Degree, DistanceMM: 1500, FacingUp: facing, FacingRight: facing, Roll: roll},
	}
	if diff := cmp.Diff(ranges, c.Job.Preferences.Ranges, angles()); diff != "" {
		t.Errorf("ranges (-want +got):\n%s", diff)
	}
	if c.Job.Demand != (fit.Demand{ShockFactor: 2, SafetyFactor: 2}) {
		t.Errorf("demand %+v", c.Job.Demand)
	}
	p := c.Job.Scene.Person
	if p.PupilSpacingMM != 63 || p.RestGaze != nil || p.GazeRange.Up != 12.7*frame.Degree {
		t.Errorf("person %+v", p)
	}
	for _, key := range []string{
		"person.pupil_spacing", "person.gaze_range", "person.rest_gaze", "preferences.margin", "preferences.face_clearance",
		"preferences.roll_follows", "preferences.safety_factor", "preferences.shock_factor", "preferences.rates", "preferences.ranges", "screen.used", "screen.fixed_at",
	} {
		found := false
		for _, a := range c.Assumptions {
			found = found || a.Key == key && a.What != "" && a.Value != "" && a.Source != ""
		}
		if !found {
			t.Errorf("no assumption %s among %+v", key, c.Assumptions)
		}
	}
}

// angles compares angles to the last digit or so.
func angles() cmp.Option {
	return cmp.Comparer(func(a, b frame.Angle) bool { return math.Abs(float64(a-b)) < 1e-12 })
}

// TestCommaInBraces: braces part their entries at commas, so that a number with a comma
// needs quotes there, and only there.
func TestCommaInBraces(t *testing.T) {
	if c := starter(t, "forward: 150 mm", "forward: 15,05 cm"); math.Abs(c.Job.Scene.Measured.EyesMM.X-150.5) > 1e-9 {
		t.Errorf("15,05 cm is read as %v mm", c.Job.Scene.Measured.EyesMM.X)
	}
	_, err := casefile.Read("case", strings.NewReader("sightpost: 1\nmeasured:\n  eyes: {forward: 18,05 cm, left: 0, up: 1180}\n"), nil)
	if err == nil || !strings.Contains(err.Error(), `found the unknown key "05 cm"`) || !strings.Contains(err.Error(), "within braces a number with a comma needs quotes") {
		t.Errorf("error %v", err)
	}
}

func TestWarnings(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"cut by a comment", "name: slid down ", "name: tube #2 is short ", `postures[3].name: found text that ends before "#2 is short`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := starter(t, c.from, c.to).Warnings
			if len(got) != 1 || !strings.Contains(got[0], c.want) {
				t.Errorf("warnings %q, want one with %q", got, c.want)
			}
		})
	}
}
