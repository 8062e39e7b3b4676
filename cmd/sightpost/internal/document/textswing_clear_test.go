package document_test

import (
	"testing"

	"sightpost/cmd/sightpost/internal/document"
)

// TestPassesInEitherState says of both states whether chair and mount fit, and how large
// they are where they do not although they do in the other.
func TestPassesInEitherState(t *testing.T) {
	for _, tt := range []struct {
		inUse, aside   bool
		doorway, floor string
	}{
		{true, true, "fits", "fits"},
		{true, false, "in use it fits; swung aside (885 mm wide) it does NOT", "in use it fits; swung aside (885 mm wide and 1100 mm long) it does NOT"},
		{false, true, "swung aside it fits; in use (700 mm wide) it does NOT", "swung aside it fits; in use (700 mm wide and 1300 mm long) it does NOT"},
		{false, false, "does NOT fit", "does NOT fit"},
	} {
		a := &document.SwingClear{
			UsedFloor: &document.Floor{WidthMM: 700, LengthMM: 1300}, ParkedFloor: &document.Floor{WidthMM: 885, LengthMM: 1100},
			Doorway: &document.Doorway{InUse: tt.inUse, Aside: tt.aside}, Space: &document.FloorSpace{InUse: tt.inUse, Aside: tt.aside},
		}
		if got := document.MM.AtDoorway(a); got != tt.doorway {
			t.Errorf("doorway: %q, want %q", got, tt.doorway)
		}
		if got := document.MM.OnSpace(a); got != tt.floor {
			t.Errorf("floor space: %q, want %q", got, tt.floor)
		}
	}
}
