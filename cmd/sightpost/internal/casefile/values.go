package casefile

import (
	"reflect"
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
}

// Values returns what the case and its kit say of every entry and what is assumed for
// those that they leave open, in the order of the tables. Entries that a case may leave
// out altogether, such as a note or a preferred grid, are missing. Two cases are
// compared by their values.
func (c *Case) Values() []Said {
	var all []Said
	all = valuesOf(all, reflect.ValueOf(c.form).Elem(), "", "")
	if c.kitForm != nil && c.kitForm != c.form.kitInPlace() {
		all = valuesOf(all, reflect.ValueOf(c.kitForm).Elem(), kitEntry, kitEntry)
	}
	return all
}

// kitInPlace returns the kit that is written in the case, or nil.
func (f *caseForm) kitInPlace() *kitForm {
	if f.Mount.Kit == nil {
		return nil
	}
	return f.Mount.Kit.Form
}

// valuesOf appends the values below v, whose path in the case and in the table are
// given.
func valuesOf(to []Said, v reflect.Value, path, row string) []Said {
	switch {
	case v.Kind() == reflect.Pointer:
		if v.IsNil() {
			return to
		}
		return valuesOf(to, v.Elem(), path, row)
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			name := strconv.Itoa(i + 1)
			if n, ok := v.Index(i).Addr().Interface().(interface{ listName() string }); ok && n.listName() != "" {
				name = n.listName()
			}
			to = valuesOf(to, v.Index(i), path+"["+name+"]", row+"[]")
		}
		return to
	}
	if l, ok := v.Addr().Interface().(leafValue); ok {
		if value, assumed, ok := l.says(); ok {
			to = append(to, Said{Path: path, Row: row, Value: value, Assumed: assumed})
		}
		return to
	}
	s := shapeOf(v.Type())
	if s.word != nil {
		to = valuesOf(to, v.FieldByIndex(s.word.index), path, row)
		return valuesOf(to, v.FieldByIndex(s.form.index), path, row)
	}
	for _, f := range s.fields {
		to = valuesOf(to, v.FieldByIndex(f.index), joinKey(path, f.key), joinKey(row, f.key))
	}
	return to
}

func (p *postureForm) listName() string            { return p.Name.Text }
func (k *keepClearForm) listName() string          { return k.Name.Text }
func (f *settingUncertaintyForm) listName() string { return f.Name.Text }

func (p *partForm) listName() string {
	if n := p.name(); n != nil {
		return n.Text
	}
	return ""
}

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

// restGazeAssumption is that of a resting gaze that was not measured.
func restGazeAssumption() Assumption {
	const from = "15 deg is the normal line of sight of handbooks, without data (D. R. Ankrum, Proc. 13th IEA, 5:35-38, 1997); " +
		"its change with recline: K. H. E. Kroemer and S. G. Hill, Preferred line of sight angle, Ergonomics 29(9), 1986, 1129-1134"
	return assumption("person.rest_gaze", "direction in which the eyes rest", from,
		Part{Value: Value{Word: "15 deg down for an upright head, raised with recline by the published change"}})
}
