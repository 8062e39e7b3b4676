package page_test

import (
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots"
)

// TestMeasuresAreDrawn asks for a drawing of everything in a case that is measured
// with a tape, an inclinometer or scales. Kits are measured by those who make them,
// and a spread is of a measure that has a drawing.
func TestMeasuresAreDrawn(t *testing.T) {
	form := casefile.Fields()
	drawn := 0
	var walk func(f *casefile.Entry, path string)
	walk = func(f *casefile.Entry, path string) {
		if path == "mount.kit" || path == "uncertainty" {
			return
		}
		if len(f.Units) > 0 {
			if _, ok := plots.Measure(path); !ok {
				t.Errorf("%s, in %s, has no drawing", path, f.Units[0])
			}
			drawn++
		}
		for i := range f.Fields {
			walk(&f.Fields[i], strings.TrimPrefix(path+"."+f.Fields[i].Key, "."))
		}
	}
	walk(&form, "")
	if drawn < 90 {
		t.Errorf("only %d measures were found in the form", drawn)
	}
	for _, key := range plots.Measured() {
		if !has(&form, strings.Split(key, ".")) {
			t.Errorf("there is a drawing of %s, which no case has", key)
		}
	}
}

// has reports whether a field is reached by keys.
func has(f *casefile.Entry, keys []string) bool {
	for _, key := range keys {
		if f = f.Under(key); f == nil {
			return false
		}
	}
	return true
}
