package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// TestPlusIsAsSaid turns every joint that a sheet explains by a degree and looks
// whether the screen goes the way that the sheet calls plus, on either side of the
// chair.
func TestPlusIsAsSaid(t *testing.T) {
	for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
		c := onSide(t, side)
		r, err := fit.Solve(t.Context(), &c.Job)
		if err != nil {
			t.Fatal(err)
		}
		content := sheet.New(sourceOf(t, document.Solve, c, r).Source)
		said := 0
		for i, j := range r.Set.Chain.Moving() {
			told := document.SettingsTold(r)[i]
			before, after := screenAt(t, r, i, 0), screenAt(t, r, i, frame.Degree.Radians())
			turned := before.Rot.Z.X*after.Rot.Z.Y - before.Rot.Z.Y*after.Rot.Z.X
			if strings.HasSuffix(j.Name, ".twist") { // seen against the tube, which runs away from the person
				turned = before.Rot.X.Z - after.Rot.X.Z
			}
			grows, known := map[string]float64{ // by a move of this sort
				"left": turned, "right": -turned, "forward": after.At.X - before.At.X, "up": after.At.Z - before.At.Z,
				"back": after.Rot.Z.Z - before.Rot.Z.Z, "right up": after.Rot.X.Z - before.Rot.X.Z, "right down": before.Rot.X.Z - after.Rot.X.Z,
			}[told.Plus]
			if told.Plus == "" {
				continue
			}
			said++
			if grows <= 0 || !known {
				t.Errorf("side %d: plus of %s is %q, and a degree more goes the other way (%g)", side, j.Name, told.Plus, grows)
			}
			way := told.Plus
			if told.Value < 0 {
				way = minus[way]
			}
			printed := content.Table().Settings[i][2]
			if strings.HasSuffix(j.Name, ".position") && j.Low >= 0 {
				printed = content.Table().Settings[i][5] // how it is measured says the one way
			}
			if told.Value != 0 && !strings.HasSuffix(printed, "\u00a0"+way) && !strings.HasSuffix(printed, " "+way) {
				t.Errorf("side %d: %s at %v is printed as %q", side, j.Name, told.Value, printed)
			}
		}
		if said < 7 {
			t.Errorf("side %d: only %d settings say which way is plus", side, said)
		}
	}
}

// onSide returns a case whose mount is clamped on a side of the chair.
func onSide(t *testing.T, side mount.Side) *casefile.Case {
	t.Helper()
	c := readCase(t, "upright-adult")
	m := c.Job.Mount.Mountings[0]
	if side == mount.OnRight {
		m.Side, m.ClampMM.Y = side, -m.ClampMM.Y
	}
	one := *c.Job.Mount
	one.Mountings = []mount.Mounting{m}
	c.Job.Mount = &one
	return c
}

// screenAt returns the screen with the i-th setting off by an amount.
func screenAt(t *testing.T, r *fit.Result, i int, off float64) frame.Pose {
	t.Helper()
	settings := append(mount.Settings(nil), r.Set.Settings...)
	settings[i] += off
	at, err := r.Set.Chain.Forward(settings)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// TestVerdict says in large words whether a case works, and why.
func TestVerdict(t *testing.T) {
	for _, tt := range []struct {
		name   string
		source sample
		works  bool
		want   string
	}{
		{"works", shippedCase(t, "upright-adult"), true, "Tracks."},
		{"does not", shippedCase(t, "kit-too-short"), false, "DO NOT USE these settings."},
		{"no place does", noUse(t), false, "No screen position tracks"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := sheet.New(tt.source.Source)
			if c.Works != tt.works || !strings.Contains(c.Verdict, tt.want) {
				t.Errorf("works %v, %q; want %v, %q", c.Works, c.Verdict, tt.works, tt.want)
			}
			for _, title := range []string{"WHAT FAILS", "WHAT WOULD HELP"} {
				if told := slices.ContainsFunc(c.Sections(), func(s sheet.Section) bool { return s.Title == title }); told == tt.works {
					t.Errorf("%s is told: %v", title, told)
				}
			}
		})
	}
}

func TestPaperNamed(t *testing.T) {
	for _, tt := range []struct {
		name string
		want sheet.Paper
		ok   bool
	}{{"a4", sheet.A4, true}, {"letter", sheet.Letter, true}, {"A4", 0, false}, {"", 0, false}} {
		got, err := sheet.PaperNamed(tt.name)
		if got != tt.want || (err == nil) != tt.ok {
			t.Errorf("PaperNamed(%q) = %v, %v", tt.name, got, err)
		}
	}
}
