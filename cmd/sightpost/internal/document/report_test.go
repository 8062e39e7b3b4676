package document_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// asSet are settings of the sample kit near the best: fixed, so that what is
// reported does not move with the solver.
func asSet() mount.Settings {
	d := frame.Degree.Radians()
	return mount.Settings{0, 520, -16 * d, -16 * d, -1 * d, 465, -58 * d, 14 * d, 1 * d}
}

// check returns the result for c at settings s.
func check(t *testing.T, c *casefile.Case, s mount.Settings) *fit.Result {
	t.Helper()
	r, err := fit.Check(t.Context(), &c.Job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// reported returns the report of kind k on r.
func reported(t *testing.T, k document.Kind, c *casefile.Case, r *fit.Result) *document.Report {
	t.Helper()
	rep, err := document.New(t.Context(), k, c, r)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// reports returns reports of every shape, by name.
func reports(t *testing.T) map[string]*document.Report {
	t.Helper()
	c := sample()
	all := map[string]*document.Report{"check": reported(t, document.Check, c, check(t, c, asSet()))}

	far := asSet()
	far[1], far[5] = 255, 120
	all["check-unmet"] = reported(t, document.Check, c, check(t, c, far))

	r := check(t, c, asSet())
	r.Set.Exact, r.Set.Reached, r.Set.OffMM, r.Set.Off = asSet(), true, 2.5, 0.4*frame.Degree
	r.Target = gaze.Target{Pose: r.Screen, Aim: r.Postures[0].Aim, Score: 80, MarginMM: 97, Limiting: r.Postures[0].Limiting()}
	all["solve"] = reported(t, document.Solve, c, r)

	r = check(t, c, far)
	r.Set.Exact, r.Set.OffMM, r.Set.Off = far, 180, 11*frame.Degree
	moving := r.Set.Chain.Moving()
	r.Set.BindingLimits = []fit.BindingLimit{
		{Joint: moving[1], High: true, Need: 62, Gain: 40},
		{Joint: moving[7], Need: float64(12 * frame.Degree), Gain: 3},
	}
	r.Target = goodTarget(r)
	all["solve-unmet"] = reported(t, document.Solve, c, r)

	all["solve-loaded"] = loaded(t)
	all["solve-slips"] = slips(t)

	bare := sample()
	bare.Job.Mount = nil
	all["solve-no-mount"] = solved(t, bare)
	return all
}

// goodTarget returns a target that is as good as the screen of r is bad.
func goodTarget(r *fit.Result) gaze.Target {
	return gaze.Target{Pose: r.Screen, Aim: r.Postures[0].Aim, MarginMM: 90, Limiting: r.Postures[0].Limiting()}
}

func TestObjectFitsSchema(t *testing.T) {
	schema := compiled(t)
	for name, rep := range reports(t) {
		t.Run(name, func(t *testing.T) {
			plain, err := json.Marshal(rep)
			if err != nil {
				t.Fatal(err)
			}
			object, err := jsonschema.UnmarshalJSON(bytes.NewReader(plain))
			if err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(object); err != nil {
				t.Errorf("%v", err)
			}
			object.(map[string]any)["margin_mm"] = "wide"
			if schema.Validate(object) == nil {
				t.Error("the schema accepts a word for a number")
			}
		})
	}
}

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	return compiledFrom(t, "result")
}

func compiledFrom(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	text, err := document.Schema(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("result.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("result.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// productMM is how far the product of a reported chain may be from the reported
// pose: rounding of a dozen products of numbers up to a meter.
const productMM = 1e-9

// TestChainGivesPose multiplies the joints out as a reader of the object would.
func TestChainGivesPose(t *testing.T) {
	for name, rep := range reports(t) {
		if rep.Mount == nil {
			continue
		}
		t.Run(name, func(t *testing.T) {
			for i := range rep.Postures {
				p := &rep.Postures[i]
				got := poseOf(p.Sag.Motion).Mul(poseOf(p.ChairFromCarrier)).Mul(product(t, rep.Mount.Chain))
				s := p.Screen
				for _, c := range []struct {
					what      string
					got, want r3.Vec
				}{
					{"middle", got.At, r3.Vec{X: s.Middle.ForwardMM, Y: s.Middle.LeftMM, Z: s.Middle.UpMM}},
					{"right", got.Rot.X, r3.Vec{X: s.Right.Forward, Y: s.Right.Left, Z: s.Right.Up}},
					{"up", got.Rot.Y, r3.Vec{X: s.Up.Forward, Y: s.Up.Left, Z: s.Up.Up}},
					{"normal", got.Rot.Z, r3.Vec{X: s.Normal.Forward, Y: s.Normal.Left, Z: s.Normal.Up}},
				} {
					if d := r3.Norm(r3.Sub(c.got, c.want)); !(d < productMM) {
						t.Errorf("posture %q: %s = %v by the chain, %v reported", p.Name, c.what, c.got, c.want)
					}
				}
			}
		})
	}
}

// product returns the pose that a chain stands for, by its description alone.
func product(t *testing.T, c document.Chain) frame.Pose {
	t.Helper()
	at := frame.Identity()
	for _, j := range c.Joints {
		at = at.Mul(poseOf(j.Origin))
		switch j.Motion {
		case "fixed":
		case "slide":
			at = at.Mul(frame.Translate(r3.Scale(*j.Value, vec(*j.Axis))))
		case "turn":
			at = at.Mul(frame.Rotate(frame.Angle(*j.Value)*frame.Degree, vec(*j.Axis)))
		default:
			t.Fatalf("joint %q: motion %q", j.Name, j.Motion)
		}
	}
	return at.Mul(poseOf(c.Tip))
}

func poseOf(p document.Pose) frame.Pose {
	return frame.Pose{Rot: frame.Rotation{X: vec(p.X), Y: vec(p.Y), Z: vec(p.Z)}, At: vec(p.At)}
}

func vec(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

// TestMarginIsLeastRoom holds the object's numbers against each other.
func TestMarginIsLeastRoom(t *testing.T) {
	for name, rep := range reports(t) {
		t.Run(name, func(t *testing.T) {
			overall := math.Inf(1)
			for _, p := range rep.Postures {
				least := math.Inf(1)
				for _, r := range p.Margins {
					least = min(least, r.MarginMM)
				}
				if least != p.MarginMM {
					t.Errorf("posture %q: margin %v, least room %v", p.Name, p.MarginMM, least)
				}
				if p.MustWork {
					overall = min(overall, p.MarginMM)
				}
			}
			if overall != rep.MarginMM {
				t.Errorf("margin %v, least over the postures that must work %v", rep.MarginMM, overall)
			}
		})
	}
}

// documented is an object with a document.
type documented interface{ Document() *document.Document }

// written returns the document of an object as text.
func written(t *testing.T, object documented, o text.Options) string {
	t.Helper()
	var words strings.Builder
	if err := text.Write(&words, object.Document(), o); err != nil {
		t.Fatal(err)
	}
	return words.String()
}

func TestText(t *testing.T) {
	other := map[string]units.Units{"solve": units.Inch, "check": units.CM, "solve-loaded": units.Inch}
	for name, rep := range reports(t) {
		if name == "solve-no-mount" {
			continue // its numbers are the search's, which may move in the last digit shown
		}
		t.Run(name, func(t *testing.T) {
			for _, u := range []units.Units{units.MM, other[name]} {
				words := written(t, rep, text.Options{Units: u, Full: true})
				file := filepath.Join("testdata", name+map[units.Units]string{units.MM: "", units.CM: "-cm", units.Inch: "-in"}[u]+".txt")
				held, _ := os.ReadFile(file) // a missing file differs
				golden(t, file, held, []byte(words))
			}
		})
	}
}

// TestTextFitsPaper keeps what is printed within the width of a sheet and within
// the characters that every printer has.
func TestTextFitsPaper(t *testing.T) {
	const width = 100
	for name, rep := range reports(t) {
		for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
			for line := range strings.Lines(written(t, rep, text.Options{Units: u, Full: true})) {
				line = strings.TrimSuffix(line, "\n")
				if n := utf8.RuneCountInString(line); n > width {
					t.Errorf("%s: %d characters in %q", name, n, line)
				}
				if strings.TrimRight(line, " ") != line {
					t.Errorf("%s: blanks at the end of %q", name, line)
				}
				if i := strings.IndexFunc(line, func(r rune) bool { return !strings.ContainsRune("°−·²±", r) && (r < ' ' || r > '~') }); i >= 0 {
					t.Errorf("%s: character %q in %q", name, line[i:], line)
				}
				for _, zero := range []string{"−0 ", "−0.0 ", "−0°", "−0.0°"} {
					if strings.Contains(line+" ", zero) {
						t.Errorf("%s: negative zero in %q", name, line)
					}
				}
			}
		}
	}
}

func TestWarnings(t *testing.T) {
	heavy := func(c *casefile.Case) { c.Job.Mount.Kit.RatedKG = 1 }
	unrated := func(c *casefile.Case) { c.Job.Mount.Kit.RatedKG = 0 }
	nodding := func(c *casefile.Case) { c.Job.Postures[0].Head.Flexion = -30 * frame.Degree }
	fine := func(c *casefile.Case) {
		c.Job.Device.Tracker.Accuracy, c.Job.Device.Tracker.Precision = 1*frame.Degree, 0.5*frame.Degree
		c.Job.Grid = &gaze.Grid{Rows: 12, Columns: 20}
	}
	lenses := func(c *casefile.Case) {
		c.Job.Scene.Person.Glasses = &gaze.Glasses{LensSlant: 22 * frame.Degree}
	}
	drives := func(c *casefile.Case) { c.Job.Drives = true }
	for _, row := range []struct {
		name   string
		change func(*casefile.Case)
		set    func(mount.Settings)
		want   string
	}{
		{"too heavy", heavy, nil, "DO NOT HANG this device on the mount as set: it weighs more than the mount is rated for"},
		{"no rating", unrated, nil, "gives no rated mass"},
		{"grid too fine", fine, nil, "targets (12 rows x 20 columns) are too small"},
		{"glare", lenses, nil, "reflect the tracker's light"},
		{"hidden floor", drives, nil, "hides floor ahead from both eyes"},
		{"gaze far down", nodding, nil, "looks down by more than 30°"},
		{"seen from the side", nil, func(s mount.Settings) { s[6] += 60 * frame.Degree.Radians() }, "more than 40° off square"},
	} {
		t.Run(row.name, func(t *testing.T) {
			plain := sample()
			if w := warnings(t, plain, asSet()); strings.Contains(w, row.want) {
				t.Fatalf("warned without cause: %s", w)
			}
			c, s := sample(), asSet()
			if row.change != nil {
				row.change(c)
			}
			if row.set != nil {
				row.set(s)
			}
			if w := warnings(t, c, s); !strings.Contains(w, row.want) {
				t.Errorf("warnings %q lack %q", w, row.want)
			}
		})
	}
}

func warnings(t *testing.T, c *casefile.Case, s mount.Settings) string {
	t.Helper()
	return inWords(reported(t, document.Check, c, check(t, c, s)).Warnings)
}

func TestUnitsNamed(t *testing.T) {
	for name, want := range map[string]units.Units{"mm": units.MM, "cm": units.CM, "in": units.Inch} {
		if got, err := units.Named(name); got != want || err != nil {
			t.Errorf("units.Named(%q) = %v, %v, want %v", name, got, err, want)
		}
	}
	if _, err := units.Named("furlong"); err == nil || !strings.Contains(err.Error(), "mm, cm or in") {
		t.Errorf("units.Named(furlong): %v", err)
	}
}

// inWords returns findings in words, a line each.
func inWords(all []document.Finding) string {
	var b strings.Builder
	for _, f := range all {
		b.WriteString(f.Text.In(units.MM) + "\n")
	}
	return b.String()
}

// withArm returns the sample with an arm that slides from low to high.
func withArm(low, high float64) *casefile.Case {
	c := sample()
	arm := c.Job.Mount.Kit.Parts[3].(mount.Tube)
	arm.Slide = mount.Range{Low: low, High: high, Step: 5, Preferred: low}
	c.Job.Mount.Kit.Parts[3] = arm
	return c
}

// TestAnotherKit: where nothing says which part is too short, another kit would help, and not
// another tracker, as the screen alone would track.
func TestAnotherKit(t *testing.T) {
	rep := solved(t, withArm(20, 40))
	var kinds []string
	for _, f := range rep.Remedies {
		kinds = append(kinds, f.Kind)
	}
	if want := []string{"try_elsewhere"}; rep.Works || rep.MarginMM >= 0 || !slices.Equal(kinds, want) {
		t.Errorf("works: %t, margin %v, remedies %q, want %q", rep.Works, rep.MarginMM, kinds, want)
	}
}

// TestOffTarget: a mount that works far from the best position of the screen says so, and what
// is in the way.
func TestOffTarget(t *testing.T) {
	c := withArm(120, 300)
	c.Job.Preferences.Ranges.High.Roll = -2 * frame.Degree // the best position is rolled itself
	r, err := fit.Solve(t.Context(), &c.Job)
	if err == nil {
		r, err = fit.Advise(t.Context(), r)
	}
	if err != nil {
		t.Fatal(err)
	}
	rep := reported(t, document.Solve, c, r)
	at := slices.IndexFunc(rep.Warnings, func(f document.Finding) bool { return f.Kind == "off_target" })
	if !rep.Works || at < 0 {
		t.Fatalf("works: %t, warnings %v", rep.Works, rep.Warnings)
	}
	got := rep.Warnings[at].Text.In(units.MM)
	rolled, best := r.Postures[0].Aim.Roll.Degrees(), r.Target.Aim.Roll.Degrees()
	for _, want := range []string{" from its best position, rolled " + document.Angle(math.Abs(rolled-best)).In(units.MM), "The arm extension is at its maximum, 300 mm. With "} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
	if r.Set.Exact = nil; slices.ContainsFunc(reported(t, document.Check, c, r).Warnings, func(f document.Finding) bool { return f.Kind == "off_target" }) {
		t.Error("settings as found are said to be off")
	}
}
