package plots_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"sightpost/plots"
	"sightpost/plots/units"
)

// TestUnits reads every figure in inches and in cm, its description included: a length
// is nowhere in mm, and the figures to scale have the same scale as in mm.
func TestUnits(t *testing.T) {
	inMM := figures(t)
	mm, text := regexp.MustCompile(`\bmm\b`), regexp.MustCompile(`(?s)<(title|desc|text)[^>]*>(.*?)</`)
	for _, u := range []units.Units{units.CM, units.Inch} {
		for name, f := range figuresIn(t, u, plots.Size{}) {
			var svg bytes.Buffer
			if err := plots.WriteInlineSVG(&svg, f, ""); err != nil {
				t.Fatal(err)
			}
			inUnit := false
			for _, s := range text.FindAllStringSubmatch(svg.String(), -1) {
				if mm.MatchString(s[2]) {
					t.Errorf("%s in %v: %q", name, u, s[2])
				}
				inUnit = inUnit || strings.Contains(s[2], u.String())
			}
			if !inUnit {
				t.Errorf("%s says nowhere that it is in %v", name, u)
			}
			if f.Scale != inMM[name].Scale {
				t.Errorf("%s in %v is drawn 1:%d, in mm 1:%d", name, u, f.Scale, inMM[name].Scale)
			}
		}
	}
}

// TestTicksInUnits reads the eyes of the sample, 1180 mm above the floor: 46 1/2 in on a
// tape (46.457, the inch being 25.4 mm), 118 cm.
func TestTicksInUnits(t *testing.T) {
	for u, want := range map[units.Units]string{units.MM: "eyes 1180;", units.CM: "eyes 118.0;", units.Inch: "eyes 46 7/16;"} {
		if f := sideView(t, u); !strings.Contains(written(t, f), want) {
			t.Errorf("the description has no %q: %s", want, written(t, f))
		}
	}
}
