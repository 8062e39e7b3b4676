package document_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// TestFits says in which position chair and mount fit through a doorway and onto a floor.
func TestFits(t *testing.T) {
	for _, tt := range []struct {
		inUse, parked bool
		want          string
	}{
		{true, true, "fits"},
		{true, false, "fits in use, not parked"},
		{false, true, "fits parked, not in use"},
		{false, false, "does not fit"},
	} {
		rep := loaded(t)
		rep.SwingClear.Doorway.InUse, rep.SwingClear.Doorway.Parked = tt.inUse, tt.parked
		rep.SwingClear.Space.InUse, rep.SwingClear.Space.Parked = tt.inUse, tt.parked
		want := fmt.Sprintf("Doorway of 32 1/16 in: %s. Floor space of 29 15/16 x 48 1/16 in: %s.", tt.want, tt.want)
		all := rep.Document().Sections
		at := slices.IndexFunc(all, func(s document.Section) bool { return s.ID == document.SectionParked })
		if got := all[at].Lines[1].In(units.Inch); !strings.Contains(got, want) {
			t.Errorf("got %q, want %q in it", got, want)
		}
	}
}
