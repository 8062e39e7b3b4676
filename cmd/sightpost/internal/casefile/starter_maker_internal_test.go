package casefile

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sightpost/plots/units"
)

// TestStarters keeps the starters in cm and in inches the same as those in mm.
func TestStarters(t *testing.T) {
	for _, u := range []units.Units{units.CM, units.Inch} {
		for _, name := range []string{"case.yaml", "kit.yaml", "every-part.yaml"} {
			file, want := filepath.Join("starter", u.String(), name), inUnits(string(starter(units.MM, name)), u)
			if flag.Lookup("update").Value.String() == "true" {
				if err := os.WriteFile(file, want, 0o644); err != nil {
					t.Fatal(err)
				}
			} else if diff := cmp.Diff(string(starter(u, name)), string(want)); diff != "" {
				t.Errorf("%s is not current (run with -update): -file +now\n%s", file, diff)
			}
		}
	}
}

// inUnits returns a starter with its lengths in units u, masses, forces and torques in pounds
// where u is inches, and its comments in their columns.
func inUnits(text string, u units.Units) []byte {
	// a length in mm, a range of them, a mass in kg or g, a density, a torque or a force
	amounts := regexp.MustCompile(`(?:(-?[0-9.]+) to )?(-?[0-9.]+) (mm|kg(?:/m3)?|g|N m|N)\b`)
	convert := func(found string) string {
		m := amounts.FindStringSubmatch(found)
		v, _ := strconv.ParseFloat(m[2], 64) // as in tapeNumber
		switch {
		case m[3] != "mm" && u != units.Inch, m[3] == "kg/m3":
			return found
		case m[3] == "kg":
			return units.Masses.Told(u, v)
		case m[3] == "g":
			return units.Masses.Told(u, v/1000)
		case m[3] == "N m":
			return units.Torques.Told(u, v)
		case m[3] == "N":
			return units.Forces.Told(u, v)
		case m[1] == "":
			return tapeNumber(m[2], u) + " " + u.String()
		}
		return tapeNumber(m[1], u) + " to " + tapeNumber(m[2], u) + " " + u.String()
	}
	var out strings.Builder
	for line := range strings.Lines(text) {
		entry, comment, commented := strings.Cut(line, "  # ")
		line = amounts.ReplaceAllStringFunc(entry, convert)
		if commented {
			line = fmt.Sprintf("%-*s  # %s", len(entry), strings.TrimRight(line, " "), amounts.ReplaceAllStringFunc(comment, convert))
		}
		out.WriteString(line)
	}
	return []byte(out.String())
}

// tapeNumber returns a length in mm as a number in units u. Inches are to a sixteenth, from
// 4 in to a quarter, and in decimals where that is too coarse, as for the wall of a tube.
func tapeNumber(text string, u units.Units) string {
	const finest, quarter, long, coarse = 1.0 / 16, 0.25, 4, 0.05
	mm, _ := strconv.ParseFloat(text, 64) // the pattern lets nothing else through
	v := u.Of(mm)
	if u == units.Inch {
		step := finest
		if math.Abs(v) >= long {
			step = quarter
		}
		if v > 0 {
			v = max(v, finest)
		}
		if tape := math.Round(v/step) * step; math.Abs(tape-v) <= coarse*math.Abs(v) {
			return units.Sixteenths(tape)
		}
	}
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}
