package document_test

import (
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestFits says through what chair and mount fit in use, and whether also parked. What they do
// not fit through in use is among the warnings.
func TestFits(t *testing.T) {
	for parked, want := range map[bool]string{
		true:  "Fits: doorway of 32 1/16 in, floor space of 29 15/16 x 48 1/16 in.",
		false: "Fits in use but not parked: doorway of 32 1/16 in, floor space of 29 15/16 x 48 1/16 in.",
	} {
		rep := loaded(t)
		rep.SwingClear.Doorway.InUse, rep.SwingClear.Doorway.Parked = true, parked
		rep.SwingClear.Space.InUse, rep.SwingClear.Space.Parked = true, parked
		all := rep.Document().Sections
		at := slices.IndexFunc(all, func(s document.Section) bool { return s.ID == document.SectionParked })
		if got := all[at].Lines[1].In(units.Inch); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// TestTooLarge says once what is too large in use: the chair where it is so by itself.
func TestTooLarge(t *testing.T) {
	for _, tt := range []struct {
		name    string
		chairMM float64
		parked  bool
		want    string
	}{
		{"with the mount", 800, false, "In use, chair and mount take up 820 x 1080 mm (parked 840 x 1050 mm): too large for the doorway of 815 mm and the clear floor space of 760 x 1220 mm."},
		{"unless parked", 800, true, "In use, chair and mount take up 820 x 1080 mm (parked 840 x 1050 mm): too large for the doorway of 815 mm (unless parked) and the clear floor space of 760 x 1220 mm (unless parked)."},
		{"the chair alone", 1000, false, "The chair alone takes up 640 x 1250 mm (with the mount 820 x 1080 mm, parked 840 x 1050 mm): too large for the doorway of 815 mm and the clear floor space of 760 x 1220 mm."},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := sample()
			c.Job.Passage = fit.Passage{WidthMM: 640, BehindMM: 250, AheadMM: tt.chairMM, DoorMM: 815, FloorWidthMM: 760, FloorLengthMM: 1220}
			r := check(t, c, asSet())
			r.SwingClear = madeAside()
			if tt.parked {
				r.SwingClear.Problems = []fit.SwingProblem{fit.DoorInUse, fit.FloorInUse}
			}
			rep := reported(t, document.Check, c, r)
			words := written(t, rep, text.Options{})
			if got := strings.Join(strings.Fields(words), " "); strings.Count(got, tt.want) != 1 || strings.Count(got, "815 mm") != 1 || strings.Count(got, "760 x 1220 mm") != 1 {
				t.Errorf("want once %q in\n%s", tt.want, words)
			}
		})
	}
}
