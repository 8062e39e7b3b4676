package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
)

// section is a part of the form: what is measured together.
type section struct {
	casefile.FormGroup
	Entries []*entry
	Rest    *rest
	// Needed, Wrong and Doubted are how many of its entries are missing, invalid, and of the example.
	Needed, Wrong, Doubted int
	// Open says that it is shown without being asked for.
	Open bool

	all []*entry // with those within others, in their order
}

// State says in a few words how complete a part of the form is.
func (s *section) State() string {
	var all []string
	for _, c := range []struct {
		n    int
		what string
	}{{s.Wrong, "not valid"}, {s.Needed, "needed"}, {s.Doubted, "of the example"}} {
		if c.n > 0 {
			all = append(all, fmt.Sprintf("%d %s", c.n, c.what))
		}
	}
	return strings.Join(all, ", ")
}

// entry is a field of the form, or a group of them.
type entry struct {
	Path, ID string
	Label    string
	Sort     casefile.Kind
	// How says how it is measured, Range within what.
	How, Range string
	Value      string
	// Assumed is what is taken if it is left out.
	Assumed        string
	Unit, UnitName string
	// Low and High are the bounds of a number in its unit, Step the finest that can be read;
	// "" for none. Ways are the words for above 0 and below.
	Low, High, Step string
	Ways            document.Sign
	Options         []option
	Needed          bool // it must be given and is not
	Doubted         bool // it is that of the example, and nobody has confirmed it
	Problem         string
	Note            string // what is unlikely about it
	Pictured        bool   // there is a drawing of what it means
	Long            bool   // of several lines
	Entries         []*entry
	Rest            *rest
	// Given says that a group or a list has something in it, Optional that it may be
	// left out.
	Given, Optional bool
	// Number is that of an entry of a list; Adds are the sorts of entries to add.
	Number int
	Adds   []option
	// Close says that the fields are side by side: the parts of a point, a size or a range,
	// with one picture. Folded says that an entry of a list opens when asked to, Shown that
	// its pictures are there without being asked for, Bare that it is all that its holder has.
	Close, Folded, Shown, Bare bool
	// Sided says that it can be copied to the other side of the chair.
	Sided bool

	in       string // titles of what holds it
	advanced bool
}

// rest is what most cases do without, folded away.
type rest struct {
	ID, Of  string
	Open    bool
	Entries []*entry
}

// Titles names what is folded away.
func (r *rest) Titles() string {
	var all []string
	for _, e := range r.Entries {
		all = append(all, e.Label)
	}
	return strings.Join(all, ", ")
}

// divided returns what of some entries is shown, and what is folded away: groups that are not
// given, what most cases do without, and within the parts of a mount what does not say how
// long they are and how far they go.
func divided(all []*entry, of string, part bool) (shown []*entry, folded *rest) {
	folded = &rest{Of: of}
	if len(all) > 0 {
		folded.ID = "more-" + all[0].ID // the first is always there
	}
	for _, e := range all {
		switch {
		case e.advanced && (part || !e.Given), !e.Given && e.Optional && (part || e.Sort == casefile.Group) && !e.troubled():
			folded.add(e)
			continue
		case part && e.Sort == casefile.Group:
			var inner *rest
			if e.Entries, inner = divided(e.Entries, "", part); inner != nil {
				more := *e
				more.ID, more.How, more.Problem, more.Optional, more.Close, more.Entries = e.ID+"-more", "", "", false, false, inner.Entries
				folded.add(&more)
			}
			if e.Close = numbers(e.Entries) && len(e.Entries) <= closely; e.Close {
				e.Optional = false
			}
		}
		shown = append(shown, e)
		e.Shown = part
	}
	switch {
	case shown == nil:
		return all, nil
	case folded.Entries == nil:
		return shown, nil
	}
	return shown, folded
}

// Open says that a group is there or has to be.
func (e *entry) Open() bool { return e.Given || e.troubled() }

// add folds an entry away, but open while something in it is needed or wrong.
func (r *rest) add(e *entry) {
	r.Entries = append(r.Entries, e)
	r.Open = r.Open || e.troubled()
}

// troubled reports whether an entry or one in it is needed or wrong.
func (e *entry) troubled() bool {
	return e.Needed || e.Problem != "" || slices.ContainsFunc(e.Entries, (*entry).troubled)
}

// numbers reports whether all of some entries are numbers.
func numbers(all []*entry) bool {
	return len(all) > 0 && !slices.ContainsFunc(all, func(e *entry) bool { return e.Sort != casefile.Number })
}

// Name returns what a screen reader calls the entry: with what holds it and its unit.
func (e *entry) Name() string {
	words := strings.ReplaceAll(e.in, ", ", " ")
	if words = strings.TrimSpace(words + " " + e.Label); e.UnitName != "" {
		words += ", " + cmp.Or(unitNames[e.UnitName], e.UnitName)
	}
	return words
}

// unitNames are units as they are spoken.
var unitNames = map[string]string{
	"mm": "millimeters", "cm": "centimeters", "in": "inches", "deg": "degrees", "kg": "kilograms", "lb": "pounds",
	"lbf": "pounds-force", "lbf·in": "pound-force inches",
}

// Title returns what an entry of a list is called.
func (e *entry) Title() string {
	if e.Label != "" {
		return e.Label
	}
	return fmt.Sprintf("entry %d", e.Number)
}

// option is a choice.
type option struct {
	Value, Label string
	Chosen       bool
}

// choices returns words to choose from.
func choices(chosen string, words ...string) []option {
	var all []option
	for _, w := range words {
		all = append(all, option{w, w, w == chosen})
	}
	return all
}
