package casefile

import (
	"slices"
	"strconv"
	"strings"
)

// Value is what an entry says: a number, a range of numbers, or words.
type Value struct {
	// Low and High are in Unit, and the same but for a range.
	Low, High float64
	// Unit is the first unit of the entry's row; "" for a plain number and for words.
	Unit string
	// Word is a text, one of the options of a choice, "yes" or "no"; "" for numbers.
	Word string
}

// String writes a value as a file does: "60 mm", "-60 to 60 deg", "left".
func (v Value) String() string {
	if v.Word != "" {
		return v.Word
	}
	number := strconv.FormatFloat(v.Low, 'f', -1, 64)
	if v.High != v.Low {
		number += " to " + strconv.FormatFloat(v.High, 'f', -1, 64)
	}
	return strings.TrimSuffix(number+" "+v.Unit, " ")
}

// mmValue returns a length as a value.
func mmValue(mm float64) Value { return Value{Low: mm, High: mm, Unit: "mm"} }

// Part is one of several values that are told together, with its name: "width 660 mm".
type Part struct {
	Name string // "" for a lone value
	Value
}

// String writes a part with its name.
func (p Part) String() string { return strings.TrimPrefix(p.Name+" "+p.Value.String(), " ") }

// Said is what a case says of one entry, or what is assumed for it.
type Said struct {
	// Path is that of the entry in this case, with entries of lists by their names:
	// "postures[rested].seat_tilt", "mount.kit.parts[post].post.height.from".
	Path string
	// Row is the path of the entry in [Table] or, behind "mount.kit.", in [KitTable].
	Row string
	Value
	// Assumed is true of what the case leaves open.
	Assumed bool

	steady string // the path of the steady entry that it is or is in; "" if there is none
}

// Values returns what the case and its kit say of every entry and what is assumed for
// those that they leave open, in the order of the tables. Entries that a case may leave
// out altogether, such as a note or a preferred grid, are missing. Two cases are
// compared by their values.
func (c *Case) Values() []Said {
	all := c.form.allSaid()
	if c.kit != c.form.get(kitEntry) {
		all = c.kit.values(all, kitEntry, "")
	}
	return all
}

// Assumption is a value taken for lack of a measurement.
type Assumption struct {
	// The entry of the case that would replace the value.
	Key string `json:"key"`
	// What was not measured.
	What string `json:"what"`
	// The value taken.
	Value string `json:"value"`
	// Where the value comes from.
	Source string `json:"source"`
	// Values are the value in numbers, one or several.
	Values []Part `json:"-"`
}

// assumed notes a value that the case leaves open.
func (r *reader) assumed(key, what string, v Value, from string) {
	r.assumptions = append(r.assumptions, assumption(key, what, from, Part{Value: v}))
}

// assumption returns an assumption of values.
func assumption(key, what, from string, values ...Part) Assumption {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = v.String()
	}
	return Assumption{Key: key, What: what, Values: values, Value: strings.Join(words, ", "), Source: from}
}

// merged joins assumptions of one group that share a source.
func merged(as []Assumption, key, doc string) []Assumption {
	var out []Assumption
	for _, a := range as {
		name := plainKey(strings.ReplaceAll(strings.TrimPrefix(a.Key, key+"."), ".", " "))
		values := make([]Part, len(a.Values))
		for i, v := range a.Values {
			values[i] = Part{Name: strings.TrimSuffix(name+" "+v.Name, " "), Value: v.Value}
		}
		if same := slices.IndexFunc(out, func(o Assumption) bool { return o.Source == a.Source }); same >= 0 {
			out[same] = assumption(key, out[same].What, a.Source, append(out[same].Values, values...)...)
			continue
		}
		out = append(out, assumption(key, firstPhrase(doc), a.Source, values...))
	}
	return out
}

func plainKey(key string) string { return strings.ReplaceAll(key, "_", " ") }

// Where the defaults of the tables come from.
const (
	dodgson2004   = "mean of adults: N. A. Dodgson, Variation and extrema of human interpupillary distance, Proc. SPIE 5291, 2004, 36-46"
	army1988      = "means of adult men and women in the U.S. Army's survey of 1988: Gordon et al., NATICK/TR-89/044, 1989, as quoted elsewhere"
	army2012      = "mean of the means of men and women in the U.S. Army's survey of 2012, computed from its open data files: Gordon et al., NATICK/TR-15/007, 2014"
	pheasant1996  = "for how far the eyes are behind the brows: Pheasant, Bodyspace, 2nd edition, 1996 (edition from memory), as quoted elsewhere"
	adaag1991     = "adult-sized wheelchairs: ADAAG, 1991, Fig. A3"
	adaagParted   = adaag1991 + "; how the length is divided is a choice of this tool: behind the junction, the radius of a 24 in wheel"
	wheeled2010   = "mean occupied seat height of manual wheelchairs: Anthropometry of Wheeled Mobility Project, Final Report, section 4.3.2, 2010"
	adaDoor       = "2010 ADA Standards for Accessible Design, section 404.2.3 (32 in); local rules come first"
	footplates    = "as of footplates, 2 in; common practice, no source"
	adaFloor      = "2010 ADA Standards for Accessible Design, section 305.3 (30 by 48 in); local rules come first"
	lee2019       = "mean less two standard deviations, to the sides the smaller of the two: Lee et al., Eye 33(7), 2019, 1145-1151"
	incidence1995 = "ISO 9241-3:1992 and ANSI/HFS 100-1988 as reported by Ankrum, Hansen and Nemeth, The Vertical Horopter and the Angle of View, WWDU '94, 1995"
	restGaze1986  = "15 deg is the normal line of sight of handbooks, without data (D. R. Ankrum, Proc. 13th IEA, 5:35-38, 1997); " +
		"its change with recline: K. H. E. Kroemer and S. G. Hill, Preferred line of sight angle, Ergonomics 29(9), 1986, 1129-1134"
	dodgsonRange = "nearly everyone aged five or more: N. A. Dodgson, Proc. SPIE 5291, 2004, 36-46"
	lee2019Range = "up to the mean and two standard deviations: Lee et al., Eye 33(7), 2019, 1145-1151"
	grown2012    = "half the 5th percentile of women to half as much again as the 95th of men: Gordon et al., NATICK/TR-15/007, 2014; the halves are choices of this tool"
	unsourced    = "choice of this tool, no source"
)
