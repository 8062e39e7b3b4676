package document_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// millimeters finds lengths in mm.
var millimeters = regexp.MustCompile(`\bmm\b`)

// TestInchesOnly: with inches asked for, no answer on a shipped case, nor a made one,
// says a length in mm, every setting says how to read it, and the short form of a case of
// one posture is short.
func TestInchesOnly(t *testing.T) {
	const most = 60 // lines
	files, err := filepath.Glob("../../../../testdata/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	all := map[string]documented{}
	for _, file := range files {
		c := readShipped(t, file)
		r, err := fit.Solve(t.Context(), &c.Job)
		if err != nil {
			t.Fatal(err)
		}
		rep := reported(t, document.Solve, c, r)
		all[filepath.Base(file)] = rep
		for _, s := range rep.Mount.Settings {
			if s.Read.Empty() {
				t.Errorf("%s: %s does not say how to read it", file, s.Name)
			}
		}
		for _, u := range []units.Units{units.MM, units.CM} {
			if n := strings.Count(written(t, rep, text.Options{Units: u}), "\n"); len(c.Job.Postures) == 1 && n > most {
				t.Errorf("%s in %s: %d lines in the short form, want at most %d", file, u, n, most)
			}
		}
	}
	for name, rep := range reports(t) {
		all[name] = rep
	}
	for name, row := range answers() {
		all[name] = row.object
	}
	for name, object := range all {
		if words := written(t, object, text.Options{Units: units.Inch, Full: true}); millimeters.MatchString(words) {
			t.Errorf("%s says mm: %q", name, millimeters.FindString(words))
			for line := range strings.Lines(words) {
				if millimeters.MatchString(line) {
					t.Logf("%s", line)
				}
			}
		}
	}
}
