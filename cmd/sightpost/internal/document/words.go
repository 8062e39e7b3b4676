package document

import (
	"regexp"
	"strconv"
	"strings"

	"sightpost/mount/fit"
)

// told matches lengths in a sentence: "3 mm", "2.5 mm", "80 x 60 mm", "5 to 10 mm".
var told = regexp.MustCompile(`-?\d+(?:\.\d+)?(?:(?:/| x | by | to )-?\d+(?:\.\d+)?)* mm\b`)

// number matches the numbers in a match of told.
var number = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// Names are the names in a case that its writer chose and in which something like a
// length stands: those that a change of units must leave alone.
type Names []string

// NamesOf returns the names in a job in which something like a length stands.
func NamesOf(job *fit.Job) Names {
	var names Names
	add := func(name string) {
		if told.MatchString(name) {
			names = append(names, name)
		}
	}
	for i := range job.Postures {
		add(job.Postures[i].Name)
	}
	for i := range job.KeepClear {
		add(job.KeepClear[i].Name)
	}
	if job.Mount != nil {
		add(job.Mount.Kit.Name)
		for _, p := range job.Mount.Kit.Parts {
			add(p.PartName())
		}
	}
	return names
}

// Words returns a sentence with the lengths in it told in u, but for what stands in
// names. Reasons and remedies come as sentences with lengths in mm from where they
// are found, and stay so in the object.
func (u Units) Words(s string, names Names) string {
	if u == MM {
		return s
	}
	var out strings.Builder
	end := 0
	for _, at := range told.FindAllStringIndex(s, -1) {
		if names.hold(s, at) {
			continue
		}
		match := s[at[0]:at[1]]
		out.WriteString(s[end:at[0]] + u.lengths(match, func(n string) bool {
			return strings.Contains(n, ".") || u == Inch && strings.Contains(match, "/") // where fractions could not be told apart
		}))
		end = at[1]
	}
	return out.String() + s[end:]
}

// hold reports whether any part of s from at[0] to at[1] stands in one of the names.
func (n Names) hold(s string, at []int) bool {
	for _, name := range n {
		for from := 0; from < at[1]; {
			i := strings.Index(s[from:], name)
			if i < 0 {
				break
			}
			from += i
			if from < at[1] && from+len(name) > at[0] {
				return true
			}
			from++
		}
	}
	return false
}

// Value returns a value of the case, such as "normal 5 mm", told in u with a digit more
// than a tape shows.
func (u Units) Value(s string) string {
	if u == MM {
		return s
	}
	return told.ReplaceAllStringFunc(s, func(match string) string { return u.lengths(match, func(string) bool { return true }) })
}

// lengths returns a match of told in u; of a number for which fine is true it shows a
// digit more than a tape does.
func (u Units) lengths(s string, fine func(number string) bool) string {
	unit := ""
	numbers := number.ReplaceAllStringFunc(strings.TrimSuffix(s, " mm"), func(n string) string {
		mm, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return n // too long for a number: not a length
		}
		text := u.length(mm)
		if fine(n) {
			text = u.fine(mm)
		}
		cut := strings.LastIndex(text, " ")
		unit = text[cut:]
		return text[:cut]
	})
	return numbers + unit
}

// AllWords returns sentences with their lengths told in u, but for what stands in
// names.
func (u Units) AllWords(sentences []string, names Names) []string {
	in := make([]string, len(sentences))
	for i, s := range sentences {
		in[i] = u.Words(s, names)
	}
	return in
}

// size returns two lengths as those of a rectangle: "21.0 x 18.5 mm".
func (u Units) size(s Size) string {
	across, up := u.fine(s.AcrossMM), u.fine(s.UpMM)
	return across[:strings.LastIndex(across, " ")] + " x " + up
}

// area returns an area of floor as people speak of one: in m2, or in square feet by
// those who measure in inches.
func (u Units) area(m2 float64) string {
	const squareFeet = 1 / (0.3048 * 0.3048)
	if u == Inch {
		return fixed(m2*squareFeet, 0) + " sq ft"
	}
	return fixed(m2, 1) + " m2"
}

// far returns a length far beyond what a tape measures.
func (u Units) far(mm float64) string {
	const mmPerFoot, mmPerMetre = 304.8, 1000
	if u == Inch {
		return fixed(mm/mmPerFoot, 0) + " ft"
	}
	return fixed(mm/mmPerMetre, 0) + " m"
}
