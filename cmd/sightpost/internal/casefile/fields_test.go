package casefile_test

import (
	"errors"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
)

func TestFields(t *testing.T) {
	root := casefile.Fields()
	for _, row := range []struct {
		path     []string
		sort     casefile.Kind
		required bool
	}{
		{[]string{"sightpost"}, casefile.Version, true},
		{[]string{"label"}, casefile.Words, true},
		{[]string{"note"}, casefile.Words, false},
		{[]string{"measured"}, casefile.Group, true},
		{[]string{"measured", "eyes", "up"}, casefile.Number, true},
		{[]string{"person", "pupil_spacing"}, casefile.Number, false},
		{[]string{"person", "eyes_used"}, casefile.Choice, false},
		{[]string{"postures"}, casefile.List, true},
		{[]string{"postures", "must_work"}, casefile.YesNo, false},
		{[]string{"mount", "kit"}, casefile.Either, false},
		{[]string{"mount", "kit", "parts", "post", "height", "from"}, casefile.Number, true},
		{[]string{"mount", "clamp", "slides"}, casefile.Span, false},
	} {
		f := &root
		for _, key := range row.path {
			if f = f.At(key); f == nil {
				t.Fatalf("%v: no %q", row.path, key)
			}
		}
		if f.Kind != row.sort || f.Required != row.required || f.Doc == "" {
			t.Errorf("%v: sort %q, required %t, doc %q; want %q, %t and a doc", row.path, f.Kind, f.Required, f.Doc, row.sort, row.required)
		}
	}
}

// TestFieldBounds: bounds come from the tags, the sign and what lies below a limit.
func TestFieldBounds(t *testing.T) {
	root := casefile.Fields()
	tracker := root.At("tracker")
	if f := tracker.At("across"); *f.Low != 0 || !f.OpenLow || *f.High != 180 || !f.OpenHigh {
		t.Errorf("across: %v (open %t) to %v (open %t), want 0 to 180, both open", *f.Low, f.OpenLow, *f.High, f.OpenHigh)
	}
	if f := tracker.At("aimed_up"); *f.Low != -60 || f.OpenLow || *f.High != 60 || f.OpenHigh {
		t.Errorf("aimed_up: %v to %v, want -60 to 60", *f.Low, *f.High)
	}
	if f := tracker.At("in_front"); f.Low != nil || f.High != nil {
		t.Errorf("in_front is bounded")
	}
}

func TestFieldRead(t *testing.T) {
	root := casefile.Fields()
	up := root.At("measured").At("eyes").At("up")
	if got, want := up.Read("46 1/2 in"), (casefile.Quantity{Value: 46.5 * 25.4, Number: "46 1/2", Unit: "in"}); len(got) != 1 || got[0] != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if up.Read("1.118,5 cm") != nil {
		t.Error("a comma is taken for a point")
	}
	slides := root.At("mount").At("clamp").At("slides")
	ends := slides.Read("-10 to 120 mm")
	if len(ends) != 2 || ends[0].Value != -10 || ends[0].Unit != "mm" || ends[1].Number != "120" {
		t.Errorf("got %+v", ends)
	}
}

// TestProblemEntries: a problem is about the entry that it names, or about the missing
// one below it; of two keys that go together it is about the one that lacks.
func TestProblemEntries(t *testing.T) {
	const text = "sightpost: 1\nlabl: a\ntracker: {near: 118.5 cubits}\nmount: {clamp: {slides: 0 to 120}}\n"
	_, err := casefile.Read("case.yaml", strings.NewReader(text), nil)
	var problems casefile.Errors
	if !errors.As(err, &problems) {
		t.Fatalf("Read = %v, want Errors", err)
	}
	missing := map[string]bool{}
	for _, p := range problems {
		missing[p.Entry()] = p.Missing()
	}
	for entry, want := range map[string]bool{"": false, "tracker.near": false, "mount.clamp.along": true, "mount.side": true, "tracker.far": true, "measured": true} {
		if got, there := missing[entry]; !there || got != want {
			t.Errorf("%q: a problem %t, missing %t, want missing %t", entry, there, got, want)
		}
	}
}
