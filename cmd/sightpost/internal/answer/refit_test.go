package answer_test

import (
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

const shippedCases = "../../../../testdata/cases"

func shippedText(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(shippedCases, name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func readAfter(before *casefile.Case, text string) (*answer.Case, error) {
	return answer.ReadAfter(before, "case", strings.NewReader(text), func(kit string) (io.ReadCloser, error) {
		return os.Open(filepath.Join(shippedCases, kit))
	})
}

func read(t *testing.T, before *casefile.Case, text string) *answer.Case {
	t.Helper()
	c, err := readAfter(before, text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return c
}

// put replaces the first match of a pattern in a case.
func put(t *testing.T, text, pattern, with string) string {
	t.Helper()
	at := regexp.MustCompile(pattern).FindStringIndex(text)
	if at == nil {
		t.Fatalf("no %s in\n%s", pattern, text)
	}
	return text[:at[0]] + with + text[at[1]:]
}

// sat is a measured sitting, in degrees and mm.
type sat struct{ tilt, flexion, rotation, lateral, forward, left, up float64 }

// in returns a case in which the person sits so.
func (s sat) in(t *testing.T, text string) string {
	t.Helper()
	text = put(t, text, `seat_tilt: .*`, fmt.Sprintf("seat_tilt: %v deg", s.tilt))
	text = put(t, text, `eyes: .*`, fmt.Sprintf("eyes: {forward: %v mm, left: %v mm, up: %v mm}", s.forward, s.left, s.up))
	return put(t, text, `head: .*`, fmt.Sprintf("head: {flexion: %v deg, rotation: %v deg, lateral_flexion: %v deg}", s.flexion, s.rotation, s.lateral))
}

// about turns a point of the side view back about the tilt pivot of a case.
func about(c *answer.Case, forward, up, deg float64) (x, z float64) {
	pivot := c.Job.Scene.Chair.TiltPivotMM
	sin, cos := math.Sincos(deg * math.Pi / 180)
	x, z = forward-pivot.X, up-pivot.Z
	return pivot.X + cos*x - sin*z, pivot.Z + sin*x + cos*z
}

// sitting returns how the person of a case was measured.
func sitting(c *answer.Case) sat {
	m := c.Job.Scene.Measured
	h := m.Head
	return sat{m.SeatTilt.Degrees(), h.Flexion.Degrees(), h.Rotation.Degrees(), h.LateralFlexion.Degrees(), m.EyesMM.X, m.EyesMM.Y, m.EyesMM.Z}
}

// margin returns the margin of the first posture at given settings.
func margin(t *testing.T, c *answer.Case, at mount.Settings) float64 {
	t.Helper()
	r, err := fit.Check(t.Context(), &c.Job, 0, at)
	if err != nil {
		t.Fatal(err)
	}
	return r.Postures[0].MarginMM
}

func solved(t *testing.T, c *answer.Case) mount.Settings {
	t.Helper()
	r, err := fit.SolveAt(t.Context(), &c.Job, 0)
	if err != nil {
		t.Fatal(err)
	}
	return r.Set.Settings
}

// TestTiltedFurther: with only seat tilt and eyes measured again, a case after an earlier one
// has the margin that the earlier one has in a posture of that seat tilt. The eyes are turned
// about the pivot by hand.
func TestTiltedFurther(t *testing.T) {
	const toleranceMM, trials = 0.01, 6 // far below the 1 mm that would do
	rng := rand.New(rand.NewPCG(11, 2))
	whole := func(most float64) float64 { return math.Round(most * (2*rng.Float64() - 1)) }
	for _, name := range []string{"tilt-two-postures", "child", "recline-120"} {
		text := shippedText(t, name)
		c := read(t, nil, text)
		settings := solved(t, c)
		for trial := range trials {
			was, further := sitting(c), 15.0
			if trial > 0 {
				was.tilt, was.flexion, was.rotation, was.lateral, further = whole(10), whole(20), whole(10), whole(10), whole(20)+0.5
			}
			is := was
			is.tilt += further
			is.forward, is.up = about(c, was.forward, was.up, further)
			old := was.in(t, text)
			before := read(t, nil, old)
			own := read(t, nil, put(t, old, `postures:\n`, fmt.Sprintf("postures:\n  - {name: further, seat_tilt: %v deg}\n", is.tilt)))
			after := read(t, before.Case, put(t, is.in(t, text), `postures:\n`, "postures:\n  - {name: further}\n"))
			if got, want := margin(t, after, settings), margin(t, own, settings); math.Abs(got-want) > toleranceMM {
				t.Errorf("%s, %v to %v: margin %.3f mm, want %.3f", name, was, is, got, want)
			}
			if len(after.Carried) < 2 {
				t.Errorf("%s: carried along: %+v, want at least head and clamp", name, after.Carried)
			}
		}
	}
}

// TestRefitAfterTilt: nothing needs changing where the seat took all along with it, and what
// was measured again is not taken along.
func TestRefitAfterTilt(t *testing.T) {
	const tilt = 15
	text := shippedText(t, "tilt-two-postures")
	before := read(t, nil, text)
	settings := solved(t, before)
	is := sitting(before)
	is.tilt = tilt
	onlyTilt := is.in(t, text)
	is.forward, is.up = about(before, is.forward, is.up, tilt)
	now := is.in(t, text)
	forward, up := about(before, 380, 480, tilt)
	clamp := put(t, now, `at: .*`, fmt.Sprintf("at: {forward: %v mm, left: 260 mm, up: %v mm}\n    tilt: %v deg", forward, up, tilt))
	sin, cos := math.Sincos(tilt * math.Pi / 180)
	clamp = put(t, clamp, `along: .*`, fmt.Sprintf("along: {forward: %v mm, left: 0 mm, up: %v mm}", 100*cos, 100*sin))
	const head, zones = "measured.head", "keep_clear[left knee] keep_clear[right knee] keep_clear[joystick]"
	want := margin(t, read(t, nil, put(t, text, `postures:\n`, "postures:\n  - {name: further, seat_tilt: 15 deg}\n")), settings)
	for _, row := range []struct{ name, text, carried string }{
		{"eyes measured again", now, head + " mount.clamp " + zones},
		{"nothing measured again", onlyTilt, "measured.eyes " + head + " mount.clamp " + zones},
		{"clamp measured again", clamp, head + " " + zones},
	} {
		c := read(t, before.Case, row.text)
		if got := margin(t, c, settings); math.Abs(got-want) > 0.01 {
			t.Errorf("%s: margin %.3f mm, want %.3f", row.name, got, want)
		}
		if got := keys(c); got != row.carried {
			t.Errorf("%s: carried along: %s, want %s", row.name, got, row.carried)
		}
	}
	level := is // the head was held level again, so that the eyes came forward and up
	neck := before.Job.Scene.Person.NeckToEyesMM
	flexion := before.Job.Scene.Measured.Head.Flexion.Radians()
	turned := func(v r3.Vec, a float64) r3.Vec {
		sin, cos := math.Sincos(a)
		return r3.Vec{X: cos*v.X + sin*v.Z, Z: cos*v.Z - sin*v.X}
	}
	moved := r3.Sub(turned(neck, flexion), turned(neck, flexion-tilt*math.Pi/180))
	level.forward, level.up = is.forward+moved.X, is.up+moved.Z
	c := read(t, before.Case, level.in(t, text))
	if len(c.Carried) == 0 || !c.Carried[0].Kept || c.Job.Scene.Measured.Head != before.Job.Scene.Measured.Head {
		t.Errorf("a head that was measured again: %+v", c.Carried)
	}
	_, err := readAfter(before.Case, put(t, now, `  tilt_pivot: .*\n`, ""))
	if err == nil || !strings.Contains(err.Error(), "chair.tilt_pivot") {
		t.Errorf("without a pivot: error %v, want one that asks for it", err)
	}
}

// TestRefitAsBefore: a refit asks for the margin that was there before, and warns of what
// cannot have changed.
func TestRefitAsBefore(t *testing.T) {
	text := shippedText(t, "tilt-two-postures")
	before := read(t, nil, text)
	placed, err := before.Place(t.Context(), answer.AsFound{})
	if err != nil {
		t.Fatal(err)
	}
	var found answer.AsFound
	for i, j := range placed.Result.Set.Chain.Moving() {
		found.Settings = append(found.Settings, answer.Entry{Name: j.Name, Value: j.Format(placed.Result.Set.Settings[i])})
	}
	is := sitting(before)
	is.tilt = 15
	now := put(t, is.in(t, text), `  far: .*`, "  far: 845 mm")
	refit := func(text string, preferred string) *document.Refit {
		t.Helper()
		c := read(t, before.Case, text+preferred)
		p, err := c.Place(t.Context(), found)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := p.Refit(t.Context(), 0)
		if err != nil {
			t.Fatal(err)
		}
		return plan.Refit
	}
	r := refit(now, "")
	had := placed.Result.MarginMM()
	if r.Needed || r.RequiredFrom != "before" || r.RequiredMM > had || r.RequiredMM < had-5 {
		t.Errorf("needed %v, required %v mm from %v; before it was %v mm", r.Needed, r.RequiredMM, r.RequiredFrom, had)
	}
	if len(r.Warnings) != 4 || r.Warnings[1].Kind != "carried" || !strings.Contains(r.Warnings[0].Text.In(units.MM), "tracker is not as before (far 845 mm, before 805 mm)") {
		t.Errorf("warnings %+v, want one of the tracker's far limit before those of eyes, head and what moved with the seat", r.Warnings)
	}
	if r = refit(now, "preferences: {margin: 30 mm}\n"); r.RequiredFrom != "given" || r.RequiredMM != 30 {
		t.Errorf("required %v mm, want the preferred 30", r.RequiredMM)
	}
}

func keys(c *answer.Case) string {
	var all []string
	for _, one := range c.Carried {
		all = append(all, one.Key)
	}
	return strings.Join(all, " ")
}

// TestRefitWarns: a refit warns of all that a check of what it leads to warns of, whether or
// not there is anything to change.
func TestRefitWarns(t *testing.T) {
	text := shippedText(t, "child")
	solved, err := read(t, nil, text).Place(t.Context(), answer.AsFound{})
	if err != nil {
		t.Fatal(err)
	}
	for name, up := range map[string]string{"the same": "930 mm", "sunk down": "800 mm"} {
		p, err := read(t, nil, put(t, text, `up: 930 mm`, "up: "+up)).Place(t.Context(), answer.Told(solved.Result))
		if err != nil {
			t.Fatal(err)
		}
		plan, err := p.Refit(t.Context(), 0)
		if err != nil {
			t.Fatal(err)
		}
		rep, err := plan.Report(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if plan.Needed != (name == "sunk down") {
			t.Errorf("%s: something to change: %v", name, plan.Needed)
		}
		if sheet := plan.ChangeSheet(); sheet != nil {
			numbersDrawn(t, plan, sheet)
		}
		got, want := warnings(plan.Document()), warnings(rep.Document())
		if want == "" || got != want {
			t.Errorf("%s: the refit warns of\n%s\nand the check of\n%s", name, got, want)
		}
		if verdict := plan.Document().Verdict.In(units.MM); !strings.Contains(verdict, " 1 warning.") {
			t.Errorf("%s: %q, want it with the number of warnings", name, verdict)
		}
	}
}

// numbersDrawn checks that the drawing of a change sheet numbers the settings of its table, and no
// others.
func numbersDrawn(t *testing.T, plan *answer.Refit, sheet *document.Document) {
	t.Helper()
	var page strings.Builder
	if err := plan.Set.Sheet(sheet, units.MM, "").WriteElement(&page, 0); err != nil {
		t.Fatal(err)
	}
	_, drawing, _ := strings.Cut(page.String(), "settings numbered; arrows")
	drawing, _, _ = strings.Cut(drawing, "</svg>")
	drawn := map[string]bool{}
	for _, m := range regexp.MustCompile(`>(\d{1,2}) [a-z]`).FindAllStringSubmatch(drawing, -1) {
		drawn[m[1]] = true
	}
	want := map[string]bool{}
	for _, s := range sheet.Sections {
		for _, row := range s.Rows {
			if s.ID == document.SectionSettings {
				want[row.Cells[0].In(units.MM)] = true
			}
		}
	}
	if len(want) == 0 || !maps.Equal(drawn, want) {
		t.Errorf("the drawing numbers %v, the table has %v", drawn, want)
	}
}

// warnings returns the warnings of a document, a line each.
func warnings(d *document.Document) string {
	var all strings.Builder
	for _, s := range d.Sections {
		for _, l := range s.Lines {
			if s.ID == document.SectionWarnings {
				all.WriteString(l.In(units.MM) + "\n")
			}
		}
	}
	return all.String()
}
