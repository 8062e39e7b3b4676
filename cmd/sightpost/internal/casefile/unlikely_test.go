package casefile_test

import (
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/testdata/reference"
)

// TestBodiesAreLikely: nobody of a survey of adults is warned of, and everybody whose size
// was written in cm or inches without the unit is, or is refused.
//
// Reference: testdata/reference/published/body-sizes.csv.
func TestBodiesAreLikely(t *testing.T) {
	const brow = 20 // mm: eyes behind the point between the brows
	table := casefile.Fields()
	sizes := reference.Published(t, "body-sizes")
	for path, row := range map[string]struct {
		size string
		less float64
	}{
		"body.face.breadth":     {"head breadth", 0},
		"body.face.length":      {"head length", brow},
		"body.trunk.breadth":    {"bideltoid breadth", 0},
		"body.trunk.depth":      {"abdominal extension depth, sitting", 0},
		"body.thighs.thickness": {"thigh clearance", 0},
		"body.thighs.length":    {"buttock-knee length", 0},
		"person.pupil_spacing":  {"interpupillary breadth", 0},
	} {
		e, size := table.At(path), sizes[row.size]
		if size == nil {
			t.Fatalf("no %s in the summary", row.size)
		}
		for _, mm := range size[2:] { // least and greatest
			mm -= row.less
			text := func(in float64) string { return strconv.FormatFloat(mm/in, 'f', 2, 64) }
			if u := e.Unlikely(text(1)); u != nil {
				t.Errorf("%s: %g mm is unlikely, usually %v", path, mm, u.Usual)
			}
			for unit, size := range map[string]float64{"cm": 10, "in": 25.4} {
				u := e.Unlikely(text(size))
				if u == nil {
					t.Errorf("%s: %s %s without its unit is likely", path, text(size), unit)
					continue
				}
				var meant []string
				for _, m := range u.Meant {
					meant = append(meant, m.Unit)
				}
				if !strings.Contains(strings.Join(meant, " "), unit) {
					t.Errorf("%s: %s may be %q, not %s", path, text(size), meant, unit)
				}
			}
		}
	}
}
