package casefile

import (
	_ "embed" // for the starters
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"sightpost/plots/units"
)

//go:embed starter/case.yaml
var starterCase string

//go:embed starter/kit.yaml
var starterKit string

//go:embed starter/every-part.yaml
var everyPart string

// EveryPart returns the text of an invented kit with one part of every kind, with lengths
// in units u.
func EveryPart(u units.Units) []byte { return inUnits(everyPart, u) }

// Starter returns the text of a commented case and of the kit that it names kit.yaml, with
// lengths in units u: the two files to begin with. Both are invented.
func Starter(u units.Units) (caseText, kitText []byte) {
	return inUnits(starterCase, u), inUnits(starterKit, u)
}

// lengths matches a length in mm, or a range of them.
var lengths = regexp.MustCompile(`(?:(-?[0-9.]+) to )?(-?[0-9.]+) mm\b`)

// masses matches a mass in kg, and a density, which is left as it is.
var masses = regexp.MustCompile(`[0-9.]+ kg\b(/m3)?`)

// inUnits returns a starter with its lengths in units u, masses in pounds where u is inches, and
// its comments in their columns.
func inUnits(text string, u units.Units) []byte {
	if u == units.MM {
		return []byte(text)
	}
	convert := func(words string) string {
		return lengths.ReplaceAllStringFunc(words, func(found string) string {
			m := lengths.FindStringSubmatch(found)
			if m[1] == "" {
				return tapeNumber(m[2], u) + " " + u.String()
			}
			return tapeNumber(m[1], u) + " to " + tapeNumber(m[2], u) + " " + u.String()
		})
	}
	if u == units.Inch {
		lengthsOnly := convert
		convert = func(words string) string {
			return masses.ReplaceAllStringFunc(lengthsOnly(words), func(found string) string {
				if strings.HasSuffix(found, "/m3") {
					return found
				}
				kg, _ := strconv.ParseFloat(strings.TrimSuffix(found, " kg"), 64) // as in tapeNumber
				return u.Mass(kg)
			})
		}
	}
	var out strings.Builder
	for line := range strings.Lines(text) {
		entry, comment, _ := strings.Cut(line, "  # ")
		if comment == "" {
			out.WriteString(convert(line))
			continue
		}
		entry = fmt.Sprintf("%-*s", len(entry), convert(strings.TrimRight(entry, " ")))
		out.WriteString(entry + "  # " + convert(comment))
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
