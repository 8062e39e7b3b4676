package answer_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/mount/fit"
)

// TestFirstFormIsReevaluated reads records that an earlier program filed, of invented
// cases in the keys of that time, and works them out again: to the margins filed.
func TestFirstFormIsReevaluated(t *testing.T) {
	files, err := filepath.Glob("testdata/form-1-*.yaml")
	if err != nil || len(files) != 2 {
		t.Fatalf("%d files, error %v; want 2", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			r, err := record.Decode(text)
			if err != nil {
				t.Fatal(err)
			}
			if r.Edited {
				t.Error("edited; it is as it was filed")
			}
			a, err := answer.Reevaluate(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			// when these were filed a tube before the device was no reason
			if got := len(a.Result.Reasons) == 0 || a.Result.Reasons[0].Kind == fit.InFront; got != r.Result.Works {
				t.Errorf("works %v, filed as %v", got, r.Result.Works)
			}
			const filed = 0.5e-3 // mm, the last digit of what is filed, halved
			for i, p := range a.Result.Postures {
				if want := r.Result.Postures[i]; p.Posture.Name != want.Posture || math.Abs(p.MarginMM-want.MarginMM) > 1.001*filed {
					t.Errorf("posture %q: margin %v mm, filed %q with %v mm", p.Posture.Name, p.MarginMM, want.Posture, want.MarginMM)
				}
			}
		})
	}
}
