package sheet_test

import (
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
		content, err := sheet.New(sourceOf(t, document.Solve, c, r))
		if err != nil {
			t.Fatal(err)
		}
		said := 0
		for i, j := range r.Set.Chain.Moving() {
			how := content.Settings[i].How
			before, after := screenAt(t, r, i, 0), screenAt(t, r, i, frame.Degree.Radians())
			moves := map[string]float64{ // what grows by a move of this sort
				"plus turns left, seen from above":  before.Rot.Z.X*after.Rot.Z.Y - before.Rot.Z.Y*after.Rot.Z.X,
				"plus turns right, seen from above": before.Rot.Z.Y*after.Rot.Z.X - before.Rot.Z.X*after.Rot.Z.Y,
				"Plus is face up":                   after.Rot.Z.Z - before.Rot.Z.Z,
				"Plus is up":                        after.At.Z - before.At.Z,
				"is counter-clockwise for":          after.Rot.X.Z - before.Rot.X.Z,
				"is clockwise for":                  before.Rot.X.Z - after.Rot.X.Z,
			}
			for words, grows := range moves {
				if !strings.Contains(how, words) {
					continue
				}
				said++
				if grows <= 0 {
					t.Errorf("side %d: %s: the sheet says %q, and a degree more goes the other way (%g)", side, j.Name, how, grows)
				}
			}
		}
		if said < 5 {
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

// TestVerdict says in large words how a case stands, and why.
func TestVerdict(t *testing.T) {
	for _, tt := range []struct {
		name   string
		source sheet.Source
		works  bool
		want   string
	}{
		{"works", solved(t, readCase(t, "upright-adult")), true, "Works as below"},
		{"does not", solved(t, readCase(t, "kit-too-short")), false, "DO NOT SET THIS"},
		{"no place does", noUse(t), false, "DO NOT SET THIS"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, err := sheet.New(tt.source)
			if err != nil {
				t.Fatal(err)
			}
			if c.Works != tt.works || !strings.HasPrefix(c.Verdict, tt.want) {
				t.Errorf("works %v, %q; want %v, %q", c.Works, c.Verdict, tt.works, tt.want)
			}
			if tt.works == (len(c.Reasons) > 0) || tt.works == (len(c.Remedies) > 0) {
				t.Errorf("reasons %q, remedies %q", c.Reasons, c.Remedies)
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
