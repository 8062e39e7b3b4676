package record_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// roundedTo is what filing a margin to three decimals of a mm leaves open.
const roundedTo = 0.0006

// bench returns the text of the invented case and kit, with some words replaced.
func bench(t *testing.T, words ...string) (caseText, kitText string) {
	t.Helper()
	texts := [2]string{}
	for i, name := range []string{"testdata/case.yaml", "testdata/kit.yaml"} {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[i] = string(text)
	}
	both := texts[0] + texts[1]
	for i := 0; i < len(words); i += 2 {
		if !strings.Contains(both, words[i]) {
			t.Fatalf("neither case nor kit has %q", words[i])
		}
	}
	r := strings.NewReplacer(words...)
	return r.Replace(texts[0]), r.Replace(texts[1])
}

// job returns the job of the invented case with some words replaced.
func job(t *testing.T, words ...string) *casefile.Case {
	t.Helper()
	caseText, kitText := bench(t, words...)
	c, err := casefile.Read("case", strings.NewReader(caseText), func(string) (io.ReadCloser, error) {
		return io.NopCloser(strings.NewReader(kitText)), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// assessed returns an assessment of the invented case, as it is solved or, if as is
// not nil, at the settings of that one.
func assessed(t *testing.T, day record.Day, as *record.Assessment, words ...string) record.Assessment {
	t.Helper()
	c := job(t, words...)
	kind := document.Solve
	r, err := fit.Solve(t.Context(), &c.Job)
	if as != nil {
		kind = document.Check
		r, err = fit.Check(t.Context(), &c.Job, 0, as.Result.Set.Settings)
	}
	if err != nil {
		t.Fatal(err)
	}
	rep, err := document.New(t.Context(), kind, c, r)
	if err != nil {
		t.Fatal(err)
	}
	caseText, kitText := bench(t, words...)
	rec := record.New("bench-1", day, "v0.0.0-test", record.Source{Case: caseText, Kit: kitText}, rep)
	rec.Name = string(day)
	return record.Assessment{Record: rec, Case: c, Result: r}
}

func compare(t *testing.T, before, after record.Assessment) *document.Comparison {
	t.Helper()
	c, err := record.Compare(t.Context(), before, after)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// told returns changes in short, a line each.
func told(changes []document.Difference) string {
	var b strings.Builder
	number := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return fmt.Sprintf("%.4g", *v)
	}
	for _, c := range changes {
		if c.Was != "" {
			fmt.Fprintf(&b, "%s: %s, %s\n", c.Key, c.Was, c.Is)
			continue
		}
		fmt.Fprintf(&b, "%s: %s, %s %s\n", c.Key, number(c.Before), number(c.After), c.Unit)
	}
	return b.String()
}

// lower is the person some weeks later: sunk, the chin down.
var lower = [...]string{"up: 1180 mm", "up: 1165 mm", "flexion: 5 deg", "flexion: 9 deg"}

// changed is a case in which words were changed, old and new in turn, and the
// differences that are told of it.
type changed struct {
	name           string
	words          []string
	person, things string
}

// compareNames looks which changes are named.
func compareNames(t *testing.T, rows []changed) {
	t.Helper()
	before := assessed(t, "2026-10-14", nil)
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			c := compare(t, before, assessed(t, "2026-11-25", &before, row.words...))
			if diff := cmp.Diff(row.person, told(c.Person)); diff != "" {
				t.Errorf("person: -want +got\n%s", diff)
			}
			if diff := cmp.Diff(row.things, told(c.Things)); diff != "" {
				t.Errorf("things: -want +got\n%s", diff)
			}
			if len(c.Settings) > 0 {
				t.Errorf("settings that were left alone: %s", told(c.Settings))
			}
		})
	}
}

func TestCompareNamesPerson(t *testing.T) {
	compareNames(t, []changed{
		{name: "nothing"},
		{name: "the same in another unit", words: []string{"up: 1180 mm", "up: 118 cm"}},
		{
			name: "how the person sits", words: lower[:],
			person: "measured.eyes.up: 1180, 1165 mm\nmeasured.head.flexion: 5, 9 deg\n",
		},
		{
			name: "a posture of its own", words: []string{"seat_tilt: 25 deg", "seat_tilt: 30 deg, head: {flexion: 2 deg, rotation: 0 deg, lateral_flexion: 0 deg}"},
			person: "postures[rested].seat_tilt: 25, 30 deg\npostures[rested].head.flexion: -, 2 deg\n" +
				"postures[rested].head.rotation: -, 0 deg\npostures[rested].head.lateral_flexion: -, 0 deg\n",
		},
		{
			name: "another posture", words: []string{"{name: rested, seat_tilt: 25 deg, must_work: no}", "{name: asleep, must_work: no}"},
			person: "postures[asleep].name: none, asleep\npostures[asleep].must_work: none, no\n" +
				"postures[rested].name: rested, none\npostures[rested].must_work: no, none\npostures[rested].seat_tilt: 25, - deg\n",
		},
		{
			name: "what is needed", words: []string{"must_work: no", "must_work: yes", "eyes_used: both", "eyes_used: either"},
			person: "person.eyes_used: both, either\npostures[rested].must_work: no, yes\n",
		},
		{
			name: "a gaze that is not measured any more", words: []string{"  rest_gaze: {down: 10 deg, left: 0 deg}\n", ""},
			person: "person.rest_gaze.down: 10, - deg\nperson.rest_gaze.left: 0, - deg\n",
		},
	})
}

func TestCompareNamesThings(t *testing.T) {
	compareNames(t, []changed{
		{
			name: "things", words: []string{"mass: 1.6 kg", "mass: 1.9 kg", "far: 750 mm", "far: 800 mm", "radius: 80 mm", "radius: 70 mm"},
			things: "tracker.far: 750, 800 mm\nscreen.mass: 1.6, 1.9 kg\nkeep_clear[left knee].capsule.radius: 80, 70 mm\n",
		},
		{
			name: "glasses, targets and passage",
			words: []string{
				"eyes_used: both", "eyes_used: both\n  glasses: {lens_slant: 12 deg}",
				"  display: {width", "  grid: {rows: 4, columns: 6, gap: 8 mm}\n  display: {width",
				"\npostures:", "\npassage: {doorway: 760 mm}\npostures:",
			},
			person: "person.glasses.lens_slant: -, 12 deg\n",
			things: "screen.grid.rows: -, 4 \nscreen.grid.columns: -, 6 \nscreen.grid.gap: -, 8 mm\npassage.doorway: 812.8, 760 mm\n",
		},
		{
			name: "preferences", words: []string{
				"\npostures:", "\npreferences:\n  roll_follows: level\n  rates: {facing: 0.5}\n  ranges: {gaze_left: -50 to 60 deg, distance: 200 to 1500 mm}\npostures:",
			},
			things: "preferences.roll_follows: head, level\npreferences.rates.facing: 1, 0.5 \n" +
				"preferences.ranges.gaze_left.min: -60, -50 deg\npreferences.ranges.distance.min: 150, 200 mm\n",
		},
		{
			name: "another kit", words: []string{"name: two straight tubes", "name: another kit"},
			things: "mount.kit.name: two straight tubes, another kit\n",
		},
		{
			name: "another tube in the kit", words: []string{"total: 600 mm", "total: 610 mm"},
			things: "mount.kit.parts[arm].arm.total: 600, 610 mm\n",
		},
		{
			name: "clamp and what carries it", words: []string{"left: 260 mm", "left: 261 mm", "carried_by: seat\n  side", "carried_by: base\n  side"},
			things: "mount.carried_by: seat, base\nmount.clamp.at.left: 260, 261 mm\n",
		},
	})
}

// TestCompareExpects checks what is expected next against cases in which the change
// is written out once and several times more.
// TestCompareDoubts: a remark tells of what cannot have changed by itself.
func TestCompareDoubts(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	for want, words := range map[string][]string{
		"": lower[:],
		"tracker is not as before (far 800 mm, before 750 mm) and does not change by itself: check which is right": {"far: 750 mm", "far: 800 mm"},
	} {
		var got []string
		for _, r := range compare(t, before, assessed(t, "2026-11-25", &before, words...)).Remarks {
			got = append(got, r.In(units.MM))
		}
		if all := strings.Join(got, "; "); all != want {
			t.Errorf("remarks %q, want %q", all, want)
		}
	}
}

func TestCompareExpects(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	after := assessed(t, "2026-11-25", &before, lower[:]...)
	c := compare(t, before, after)
	if c.Days != 42 || c.Next.Day != "2027-01-06" {
		t.Errorf("%d days, next on %s; the calendar has 42 and 2027-01-06", c.Days, c.Next.Day)
	}
	// Nothing was done on the mount, so that the person's change is all of it.
	near(t, "before", c.Alone.BeforeMM, before.Result.MarginMM())
	near(t, "the person alone", c.Alone.AfterMM, after.Result.MarginMM())
	repeated := func(n int) float64 {
		words := append([]string{}, lower[:]...)
		words[1], words[3] = fmt.Sprintf("up: %d mm", 1180-15*n), fmt.Sprintf("flexion: %d deg", 5+4*n)
		return assessed(t, "2027-01-06", &before, words...).Result.MarginMM()
	}
	near(t, "once more", *c.Next.MarginMM, repeated(2))
	if c.Next.Longer || c.Next.Holds == 0 {
		t.Fatalf("it holds %d times, longer %t: this case tests nothing", c.Next.Holds, c.Next.Longer)
	}
	if last := repeated(1 + c.Next.Holds); last < 0 {
		t.Errorf("after %d more such changes the margin is %.1f mm", c.Next.Holds, last)
	}
	if first := repeated(2 + c.Next.Holds); first >= 0 {
		t.Errorf("after %d more such changes the margin is still %.1f mm", 1+c.Next.Holds, first)
	}
	if want := record.Day("2026-11-25").After(42 * (1 + c.Next.Holds)); c.Next.Gone != string(want) {
		t.Errorf("gone by %s, want %s", c.Next.Gone, want)
	}
}

// TestCompareAlone takes the person's change apart from what was set on the mount.
func TestCompareAlone(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	left := assessed(t, "2026-11-25", &before, lower[:]...)
	again := assessed(t, "2026-11-25", nil, lower[:]...)
	c := compare(t, before, again)
	near(t, "the person alone", c.Alone.AfterMM, left.Result.MarginMM())
	near(t, "with the full re-setup", *c.Margins[0].After, again.Result.MarginMM())
	if len(c.Settings) == 0 || len(c.Screen) == 0 {
		t.Error("no setting was changed: this case tests nothing")
	}
}

// TestCompareLimits looks at what cannot be said.
func TestCompareLimits(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	t.Run("the same person", func(t *testing.T) {
		c := compare(t, before, assessed(t, "2026-11-25", &before))
		if c.Next.Changes || c.Next.MarginMM != nil || c.Next.Gone != "" {
			t.Errorf("expected %+v", c.Next)
		}
	})
	t.Run("the same day", func(t *testing.T) {
		after := assessed(t, "2026-10-14", &before, lower[:]...)
		after.Record.Name += "-2"
		c := compare(t, before, after)
		if c.Days != 0 || c.Next.Day != "" || c.Next.Gone != "" || c.Next.Holds == 0 {
			t.Errorf("%d days, expected %+v", c.Days, c.Next)
		}
	})
	t.Run("beyond what can be", func(t *testing.T) {
		for flexion, holds := range map[int]int{40: 1, 60: 0} { // the next is 75°, then 110°; or 115° at once
			words := []string{"flexion: 5 deg", fmt.Sprintf("flexion: %d deg", flexion), "gaze_range: {left: 30 deg, right: 30 deg, up: 20 deg, down: 30 deg}", "gaze_range: {left: 90 deg, right: 90 deg, up: 90 deg, down: 90 deg}"}
			same := assessed(t, "2026-10-14", &before, words[2:]...)
			c := compare(t, same, assessed(t, "2026-11-25", &before, words...))
			if c.Next.Holds != holds || c.Next.Longer || c.Next.Gone != "" || (c.Next.MarginMM == nil) != (holds == 0) {
				t.Errorf("flexion %d°: expected %+v", flexion, c.Next)
			}
		}
	})
	t.Run("a better measurement", func(t *testing.T) {
		c := compare(t, before, assessed(t, "2026-11-25", &before, "pupil_spacing: 60 mm", "pupil_spacing: 58 mm"))
		if c.Next.Changes || len(c.Person) != 1 {
			t.Errorf("changes %s, expected %+v", told(c.Person), c.Next)
		}
	})
	t.Run("the wrong way round", func(t *testing.T) {
		after := assessed(t, "2026-11-25", &before)
		for _, pair := range [][2]record.Assessment{{after, before}, {before, before}} {
			if _, err := record.Compare(t.Context(), pair[0], pair[1]); err == nil || !strings.Contains(err.Error(), "older") {
				t.Errorf("got %v", err)
			}
		}
	})
	t.Run("records that are not what they were", func(t *testing.T) {
		old := assessed(t, "2026-10-14", nil)
		old.Record.Edited = true
		old.Record.Result.MarginMM++
		c := compare(t, old, assessed(t, "2026-11-25", &before))
		if got := document.Join("\n", c.Remarks...).In(units.MM); !strings.Contains(got, "EDITED") || !strings.Contains(got, "this version finds") {
			t.Errorf("remarks %q", got)
		}
	})
	t.Run("no mount", func(t *testing.T) {
		bare := []string{"  kit: kit.yaml\n", "", "  side: left\n  clamp:\n    at: {forward: 380 mm, left: 260 mm, up: 480 mm}\n    slides: 0 to 120 mm\n    along: forward\n", ""}
		c := compare(t, assessed(t, "2026-10-14", nil, bare...), assessed(t, "2026-11-25", nil, append(bare, lower[:]...)...))
		if c.Alone != nil || c.Next != nil || len(c.Person) == 0 || len(c.Screen) == 0 {
			t.Errorf("got %+v", c)
		}
	})
}

// TestCompareParked: where the screen is parked is told where that changes.
func TestCompareParked(t *testing.T) {
	before, after := assessed(t, "2026-10-14", nil), assessed(t, "2026-11-25", nil, "left: 260 mm", "left: 320 mm")
	want := []float64{before.Result.SwingClear.Parked * 180 / math.Pi, after.Result.SwingClear.Parked * 180 / math.Pi}
	if want[0] == want[1] {
		t.Fatalf("both parked at %v°: this case tests nothing", want[0])
	}
	got := []float64{0, 0}
	for _, d := range compare(t, before, after).Screen {
		if d.Key == "post.swing.parked" {
			got = []float64{*d.Before, *d.After}
		}
	}
	const shown = 0.25 // half degrees
	if !cmp.Equal(got, want, cmpopts.EquateApprox(0, shown)) {
		t.Errorf("parked at %v°, want %v°", got, want)
	}
}

// TestCompareTurns: a screen that is rolled with the head is turned as a square and an
// inclinometer show it, whatever a record says of it.
func TestCompareTurns(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	after := assessed(t, "2026-11-25", nil, "rotation: 0 deg", "rotation: 15 deg", "lateral_flexion: 0 deg", "lateral_flexion: 20 deg", "{flexion: 5 deg", "{flexion: 15 deg")
	rep, err := document.New(t.Context(), document.Solve, after.Case, after.Result)
	if err != nil {
		t.Fatal(err)
	}
	after.Record.Result.Screen.RotationDeg++
	want := rep.Lead().Attitude
	got := map[string]float64{}
	for _, d := range compare(t, before, after).Screen {
		got[d.Key] = *d.After
	}
	near(t, "tilt", got["tilt_deg"], want.TiltDeg)
	near(t, "rotation", got["rotation_deg"], want.RotationDeg)
	near(t, "roll", got["roll_deg"], want.RollDeg)
}

// TestCompareText keeps the words.
func TestCompareText(t *testing.T) {
	before := assessed(t, "2026-10-14", nil)
	after := assessed(t, "2026-11-25", nil, lower[:]...)
	var words bytes.Buffer
	for _, c := range []*document.Comparison{
		compare(t, before, assessed(t, "2026-11-25", &before, lower[:]...)), compare(t, before, after), compare(t, before, assessed(t, "2026-10-15", &before)),
		compare(t, before, assessed(t, "2026-11-25", &before, "rotation: 0 deg", "rotation: -4 deg", "left: 0 mm, up: 1180", "left: -12 mm, up: 1180")),
	} {
		if err := text.Write(&words, c.Document(), text.Options{}); err != nil {
			t.Fatal(err)
		}
		words.WriteString("\n")
	}
	const path = "testdata/words.txt"
	if *update {
		if err := os.WriteFile(path, words.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), words.String()); diff != "" {
		t.Errorf("%s is not current (run with -update): -file +now\n%s", path, diff)
	}
}

// near checks a margin.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > roundedTo {
		t.Errorf("%s: %.4f mm, want %.4f mm", what, got, want)
	}
}
