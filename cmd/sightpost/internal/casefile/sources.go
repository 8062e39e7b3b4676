package casefile

// Assumption is a value that the case left open and the reader filled in.
type Assumption struct {
	Key    string // dotted path of the entry that would replace it
	What   string // what it is, in words
	Values []Part // what is assumed, in one value or several
	Value  string // the same in words, with units
	Source string // where the value was published, or that it was not
}

// unsourced is what assumptions say that rest on nothing published.
const unsourced = "choice of this tool, no source"

// source returns the source that a default's tag names.
func source(tag string) string {
	switch tag {
	case "dodgson":
		return "mean of adults: N. A. Dodgson, Variation and extrema of human interpupillary distance, Proc. SPIE 5291, 2004, 36-46"
	case "gordon":
		return "means of adult men and women in the U.S. Army's survey of 1988: Gordon et al., NATICK/TR-89/044, 1989, as quoted elsewhere"
	case "gordon2014":
		return "mean of the means of men and women in the U.S. Army's survey of 2012, computed from its open data files: Gordon et al., NATICK/TR-15/007, 2014"
	case "pheasant":
		return "for how far the eyes are behind the brows: Pheasant, Bodyspace, 2nd edition, 1996 (edition from memory), as quoted elsewhere"
	case "adaag":
		return "adult-sized wheelchairs: ADAAG, 1991, Fig. A3"
	case "parted":
		return source("adaag") + "; how the length is divided is a choice of this tool: behind the junction, the radius of a 24 in wheel"
	case "wheeled":
		return "mean occupied seat height of manual wheelchairs: Anthropometry of Wheeled Mobility Project, Final Report, section 4.3.2, 2010"
	case "door":
		return "2010 ADA Standards for Accessible Design, section 404.2.3 (32 in); local rules come first"
	case "floor":
		return "2010 ADA Standards for Accessible Design, section 305.3 (30 by 48 in); local rules come first"
	case "lee":
		return "mean less two standard deviations, to the sides the smaller of the two: Lee et al., Eye 33(7), 2019, 1145-1151"
	case "incidence":
		return "ISO 9241-3:1992 and ANSI/HFS 100-1988 as reported by Ankrum, Hansen and Nemeth, The Vertical Horopter and the Angle of View, WWDU '94, 1995"
	default:
		return unsourced
	}
}

// restGazeAssumption is that of a resting gaze that nobody has measured.
func restGazeAssumption() Assumption {
	const from = "15 deg is the normal line of sight of handbooks, without data (D. R. Ankrum, Proc. 13th IEA, 5:35-38, 1997); " +
		"its change with recline: K. H. E. Kroemer and S. G. Hill, Preferred line of sight angle, Ergonomics 29(9), 1986, 1129-1134"
	return assumption("person.rest_gaze", "direction in which the eyes rest", from,
		Part{Value: Value{Word: "15 deg down for an upright head, raised with recline by the published change"}})
}
