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

func (p *postureForm) listName() string       { return p.Name.Text }
func (k *keepForm) listName() string          { return k.Name.Text }
func (s *settingSpreadForm) listName() string { return s.Name.Text }

func (p *partForm) listName() string {
	if n := p.name(); n != nil {
		return n.Text
	}
	return ""
}
