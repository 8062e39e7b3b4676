package sheet_test

import (
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// TestNothingToSet says that a sheet of what does not work cannot be taken for an
// order of work: no boxes to tick at settings, no tolerances, nothing to check by
// tape, no room to sign.
func TestNothingToSet(t *testing.T) {
	signs := []string{`class="tick"`, `scope="col">between`, "CHECK BY TAPE", "set by", `class="value"`, "MEASURE AGAIN"}
	works := page(t, made(t, shippedCase(t, "upright-adult")), sheet.A4)
	for _, sign := range signs {
		if !strings.Contains(works, sign) {
			t.Errorf("%q is not on a sheet that works, so that nothing is tested", sign)
		}
	}
	for _, name := range []string{"knee-in-the-way", "heavy-on-long-arm", "kit-too-short"} {
		t.Run(name, func(t *testing.T) {
			text := page(t, made(t, shippedCase(t, name)), sheet.A4)
			for _, sign := range append(signs, "Move post swing", "Setup sheet&ensp;") {
				if strings.Contains(text, sign) {
					t.Errorf("%q is on a sheet of which nothing is to be set", sign)
				}
			}
		})
	}
}

// made returns the content of a sheet.
func made(t *testing.T, s sample) *sheet.Content {
	t.Helper()
	c := sheet.New(s.Source)
	return c
}

// TestSlippingJoint says that a joint that cannot hold is not told to be tightened.
func TestSlippingJoint(t *testing.T) {
	c := made(t, shippedCase(t, "heavy-on-long-arm"))
	text := pageText(t, c, sheet.A4)
	for _, want := range []string{"The elbow elevation joint slips", "71.7 N·m with shock factor 2 and slips at 40 N·m", "DO NOT HANG"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q", want)
		}
	}
}

// TestReadBeginsWithAnyLetter begins a kit's own words with a letter of two bytes.
func TestReadBeginsWithAnyLetter(t *testing.T) {
	text := pageText(t, made(t, twoArms(t, "öse am Rohr")), sheet.A4)
	if !strings.Contains(text, "öse am Rohr") {
		t.Error(`lacks "öse am Rohr"`)
	}
}

// TestNamesKeepTheirUnits gives a keep-clear zone a name with a length in it.
func TestNamesKeepTheirUnits(t *testing.T) {
	const name = "splint 30 mm thick"
	c := readCase(t, "knee-in-the-way")
	c.Job.KeepClear[0].Name = name
	s := solved(t, c)
	s.Units = units.Inch
	text := pageText(t, made(t, s), sheet.A4)
	for _, want := range []string{"overlaps the " + name + " by ", "stays clear of the " + name, "DO NOT USE"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in %s", want, text)
		}
	}
}
