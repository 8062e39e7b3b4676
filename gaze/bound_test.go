package gaze_test

import (
	"testing"

	"sightpost/gaze"
	"sightpost/testdata/trials"
)

// TestMostNeverBelowWhatIsFound bounds the greatest margin of random requests from what is
// known of it less something: the search must find that again and no more, and the bound
// must not be below it.
func TestMostNeverBelowWhatIsFound(t *testing.T) {
	const unreached = 1000
	trials := trials.Of(6, 48)
	near := 0
	for trial := range trials {
		draw := newDrawing(uint64(9000 + trial))
		device, scene := draw.device(), draw.scene()
		r := request(device, scene, draw.postures(scene, 1+trial%4))
		r.RequiredMM = unreached
		known := place(t, r)
		b := gaze.Most(t.Context(), r, nil, known.MarginMM-10, 12000, nil)
		if b.MM < known.MarginMM {
			t.Errorf("trial %d: bound %.3f mm, below the %.3f mm of a known screen", trial, b.MM, known.MarginMM)
		}
		if b.BestMM > known.MarginMM+scoreMM {
			t.Errorf("trial %d: the bound's search finds %.3f mm, the other %.3f mm", trial, b.BestMM, known.MarginMM)
		}
		if b.MM < known.MarginMM+20 {
			near++
		}
	}
	t.Logf("%d of %d bounds are within 20 mm", near, trials)
	if near < trials/3 {
		t.Error("too few bounds show anything")
	}
}
