package report

import (
	"regexp"
	"strconv"
	"strings"
)

// told matches lengths in a sentence: "3 mm", "2.5 mm", "80 x 60 mm", "5 to 10 mm".
var told = regexp.MustCompile(`-?\d+(?:\.\d+)?(?:(?:/| x | to )-?\d+(?:\.\d+)?)* mm\b`)

// number matches the numbers in a match of told.
var number = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// Words returns a sentence with the lengths in it told in u. Reasons and remedies
// come as sentences with lengths in mm from where they are found, and stay so in
// the object.
func (u Units) Words(s string) string {
	if u == MM {
		return s
	}
	return told.ReplaceAllStringFunc(s, func(lengths string) string {
		unit := ""
		numbers := number.ReplaceAllStringFunc(strings.TrimSuffix(lengths, " mm"), func(n string) string {
			mm, err := strconv.ParseFloat(n, 64)
			if err != nil {
				return n // too long for a number: not a length
			}
			text := u.length(mm)
			if strings.Contains(n, ".") {
				text = u.fine(mm)
			}
			cut := strings.LastIndex(text, " ")
			unit = text[cut:]
			return text[:cut]
		})
		return numbers + unit
	})
}

// allWords returns sentences with their lengths told in u.
func (u Units) allWords(sentences []string) []string {
	in := make([]string, len(sentences))
	for i, s := range sentences {
		in[i] = u.Words(s)
	}
	return in
}

// size returns two lengths as those of a rectangle: "21.0 x 18.5 mm".
func (u Units) size(s Size) string {
	across, up := u.fine(s.AcrossMM), u.fine(s.UpMM)
	return across[:strings.LastIndex(across, " ")] + " x " + up
}
