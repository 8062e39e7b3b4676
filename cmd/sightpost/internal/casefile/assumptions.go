package casefile

import (
	"slices"
	"strings"
)

// Assumption is a value that the case left open and the reader filled in.
type Assumption struct {
	Key    string // dotted path of the entry that would replace it
	What   string // what it is, in words
	Values []Part // what is assumed, in one value or several
	Value  string // the same in words, with units
	Source string // where the value was published, or that it was not
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
