package document

import (
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestEveryCautionHasItsCase: what does not apply always applies in some circumstances and not
// in others; each is one line of a sheet of text, and is there once.
func TestEveryCautionHasItsCase(t *testing.T) {
	var all []circumstances
	for _, carrier := range []string{"", "seat", "base", "floor", "table", "bed"} {
		for bits := range 1 << 6 {
			is := func(n int) bool { return bits>>n&1 == 1 }
			all = append(all, circumstances{carrier, is(0), is(1), is(2), is(3), is(4), is(5) && (carrier == "seat" || carrier == "base")})
		}
	}
	said := map[string]bool{}
	for _, c := range cautionTable {
		const wide = 96 // letters in a line of the text beside its bullet
		if said[c.says] || len(c.says) > wide || !strings.HasSuffix(c.says, ".") {
			t.Errorf("%q is said twice, too long or no sentence", c.says)
		}
		said[c.says] = true
		if c.when != nil && (!slices.ContainsFunc(all, c.when) || slices.IndexFunc(all, func(there circumstances) bool { return !c.when(there) }) < 0) {
			t.Errorf("%q applies always, or never", c.says)
		}
	}
	const most = 7 // lines of the short form
	for _, there := range all {
		lines := cautions(there)
		if n := len(lines) - len(slices.DeleteFunc(slices.Clone(lines), func(l Line) bool { return !l.Full })); !strings.HasPrefix(lines[0].In(units.MM), "A falling device") || lines[0].Full || n > most {
			t.Errorf("%+v: %d short lines, the first %q", there, n, lines[0].In(units.MM))
		}
	}
}

// TestCircumstances: each is found in the case that has it.
func TestCircumstances(t *testing.T) {
	for _, row := range []struct {
		name string
		set  func(*fit.Job, *fit.Result)
		want circumstances
	}{
		{"nothing", func(*fit.Job, *fit.Result) {}, circumstances{}},
		{"driver", func(j *fit.Job, _ *fit.Result) { j.Drives = true }, circumstances{drives: true}},
		{"glasses", func(j *fit.Job, _ *fit.Result) { j.Scene.Person.Glasses = &gaze.Glasses{} }, circumstances{glasses: true}},
		{"swing", func(_ *fit.Job, r *fit.Result) { r.SwingClear = &fit.SwingClear{} }, circumstances{swings: true}},
		{"hinge", func(j *fit.Job, _ *fit.Result) { j.Scene.Chair.BackHingeMM.Z = 500 }, circumstances{moves: true}},
		{"tilt", func(j *fit.Job, _ *fit.Result) { j.Postures[1].SeatTilt = 20 * frame.Degree }, circumstances{moves: true}},
		{"recline", func(j *fit.Job, _ *fit.Result) { j.Postures[1].BackAngle = 140 * frame.Degree }, circumstances{moves: true, lies: true}},
	} {
		upright := gaze.Posture{BackAngle: 100 * frame.Degree}
		c := &casefile.Case{Job: fit.Job{Postures: []gaze.Posture{upright, upright}}}
		r := &fit.Result{}
		row.set(&c.Job, r)
		if got := circumstancesOf(c, r); got != row.want {
			t.Errorf("%s: %+v, want %+v", row.name, got, row.want)
		}
	}
}

// TestMotions: nobody drives a bed, and nothing swings that cannot.
func TestMotions(t *testing.T) {
	for want, there := range map[string]circumstances{
		"driving and reaching":                          {carrier: "base"},
		"tilting, driving, reaching and swinging clear": {carrier: "seat", moves: true, swings: true},
		"moving the bed, reaching and swinging clear":   {carrier: "bed", moves: true, swings: true},
		"reaching":                             {carrier: "table"},
		"tilting, reaching and swinging clear": {carrier: "floor", moves: true, swings: true},
	} {
		if got := there.motions(); got != want {
			t.Errorf("%+v: %q, want %q", there, got, want)
		}
	}
}

// TestTippingWords: a chair that tips is said to, one that may is warned of, and neither is
// said of one that stands.
func TestTippingWords(t *testing.T) {
	for _, row := range []struct {
		overturning float64
		warns       bool
		want        string
	}{
		{105, true, "THE CHAIR TIPS (to the person's left, upright): on level ground mount and device turn it over with 105 N·m, chair and person hold it with 100 N·m."},
		{26, true, "The chair may tip (to the person's left, upright): on level ground mount and device take up 26% of what holds it; a slope or a reach can take the rest."},
		{24, false, "Swung out, mount and device take up 24% of what holds the chair on level ground (to the person's left, upright)."},
		{-3, false, "Mount and device stay between the wheels."},
	} {
		r := &fit.Result{
			Job: &fit.Job{Postures: []gaze.Posture{{Name: "upright"}}}, Set: &fit.Set{},
			Tipping: &fit.Tipping{Side: fit.TipLeft, OverturningNM: row.overturning, RestoringNM: 100},
		}
		tips := newTipping(r)
		if got := tips.words().In(units.MM); got != row.want || tips.warns() != row.warns {
			t.Errorf("%v N·m: warns %v, %q", row.overturning, tips.warns(), got)
		}
	}
}
