package casefile

import (
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
