package document

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"sightpost/plots/units"
)

// Document is a result in words: what a renderer shows, in the order of reading. A
// renderer chooses sections, asks for their words in its units, and adds none of its
// own.
type Document struct {
	// Title says what kind of sheet shows it.
	Title string
	// Label is the code of the case, as the clinic chose it.
	Label string
	// Works says whether all is well. Of a solve that does not work nothing is to be
	// set.
	Works bool
	// Usable says that the settings may be set, or are on the mount anyway.
	Usable bool
	// Verdict is the answer in one line, with what spoils it: "Tracks. 2 warnings."
	Verdict Text
	// Summary is what the verdict rests on, in a sentence or two.
	Summary Text
	// Sections are in the order of reading; none is empty.
	Sections []Section
	// Unmeasured is for a page that has no room for all assumed values and their sources.
	Unmeasured Section
}

// Has reports whether d has a section.
func (d *Document) Has(id ID) bool {
	return slices.ContainsFunc(d.Sections, func(s Section) bool { return s.ID == id })
}

// Section is a titled part of a document: a table, then lines. Either may be missing.
type Section struct {
	ID    ID     // "" if no renderer chooses it
	Title string // in sentence case, as all titles
	Note  Text   // what holds for the whole section, beside or below its title
	// Head are the titles of the columns; nil when the rows need none.
	Head  []string
	Rows  []Row
	Lines []Line
	// Brief says that the lines are few and short: they may follow the title.
	Brief bool
	// Full says that only the full form shows the section.
	Full bool
}

// Row is a row of a table.
type Row struct {
	Cells []Text
	Full  bool // only the full form shows it
}

// In returns the words of the cells in units u.
func (r Row) In(u units.Units) []string { return each(r.Cells, func(t Text) string { return t.In(u) }) }

// Line is a sentence or an item of a list.
type Line struct {
	Text
	Full bool // only the full form shows it
}

// ID names a section, so that a renderer can choose.
type ID string

// The sections that a renderer may choose, in the order of reading.
const (
	SectionReasons    ID = "reasons"    // why it does not work
	SectionRemedies   ID = "remedies"   // what would help
	SectionWarnings   ID = "warnings"   // of this case
	SectionSafety     ID = "safety"     // what to observe, the falling device first
	SectionScreen     ID = "screen"     // where the screen goes
	SectionClamp      ID = "clamp"      // where the clamp goes
	SectionSettings   ID = "settings"   // in the order of work: number, name, value, min, max, how to measure
	SectionWork       ID = "work"       // the order of work: number, step
	SectionChecks     ID = "checks"     // by tape, once all is set: what, value
	SectionMargins    ID = "margins"    // of every posture: name, margin, limiting condition
	SectionClearances ID = "clearances" // zone, clearance to which part, required, posture
	SectionWeight     ID = "weight"     // sag, load, weakest joint
	SectionParked     ID = "parked"     // how the mount swings clear, and the floor it takes up
	SectionView       ID = "view"       // the view ahead of a person who drives
	SectionTargets    ID = "targets"    // size and number of targets
	SectionGlasses    ID = "glasses"    // glare
	SectionAssumed    ID = "assumed"    // values taken for lack of a measurement
	SectionAgain      ID = "again"      // what to measure again, and when
	SectionNotes      ID = "notes"      // of case and kit, as written
)

// Empty reports whether there is nothing in s.
func (s *Section) Empty() bool { return len(s.Rows)+len(s.Lines) == 0 }

// Short returns s without what only the full form shows.
func (s Section) Short() Section {
	if s.Full {
		return Section{ID: s.ID}
	}
	s.Rows = slices.DeleteFunc(slices.Clone(s.Rows), func(r Row) bool { return r.Full })
	s.Lines = slices.DeleteFunc(slices.Clone(s.Lines), func(l Line) bool { return l.Full })
	return s
}

// with returns d with those of the sections that are not empty.
func (d *Document) with(sections ...Section) *Document {
	d.Sections = slices.DeleteFunc(sections, func(s Section) bool { return s.Empty() })
	return d
}

// say appends a line.
func (s *Section) say(format string, args ...any) { s.line(Say(format, args...)) }

// full appends a line that only the full form shows.
func (s *Section) full(format string, args ...any) {
	s.Lines = append(s.Lines, Line{Say(format, args...), true})
}

// line appends a line for each text that says something.
func (s *Section) line(all ...Text) {
	for _, t := range all {
		if !t.Empty() {
			s.Lines = append(s.Lines, Line{Text: t})
		}
	}
}

// row appends a row of cells: strings or quantities. Empty ones at its end are dropped.
func (s *Section) row(cells ...any) {
	r := Row{}
	for _, c := range cells {
		switch c := c.(type) {
		case Text:
			r.Cells = append(r.Cells, c)
		case string:
			r.Cells = append(r.Cells, Quote(c))
		default:
			r.Cells = append(r.Cells, Say("%s", c))
		}
	}
	for len(r.Cells) > 0 && r.Cells[len(r.Cells)-1].Empty() {
		r.Cells = r.Cells[:len(r.Cells)-1]
	}
	s.Rows = append(s.Rows, r)
}

// Text is words with the quantities in them, which become numbers and units only
// when someone asks for the words: see [Text.In]. The zero value says nothing. What
// a person wrote (a note, a name) is an argument like any other and stays as written.
type Text struct {
	format string
	args   []any
}

// Quantity is anything of which the words depend on the units: a [Length], an
// [Angle], a [Reading] and so on, and a [Text] that holds some.
type Quantity interface{ In(u units.Units) string }

// Say returns words in the form of fmt.Sprintf. Every argument that is a [Quantity]
// is formatted with %s, in the units of whoever renders the text.
func Say(format string, args ...any) Text { return Text{format, args} }

// In returns the words with every quantity in units u.
func (t Text) In(u units.Units) string {
	return fmt.Sprintf(t.format, each(t.args, func(a any) any {
		if q, ok := a.(Quantity); ok {
			return q.In(u)
		}
		return a
	})...)
}

// Empty reports whether t says nothing.
func (t Text) Empty() bool { return t.format == "" }

// MarshalJSON returns the words in mm.
func (t Text) MarshalJSON() ([]byte, error) { return json.Marshal(t.In(units.MM)) }

// braces find the values that a sentence names.
var braces = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\{\w+\}`) })

// fillIn returns a sentence with values in place of their names in braces.
func fillIn(sentence string, values map[string]any) Text {
	var args []any
	format := braces().ReplaceAllStringFunc(sentence, func(name string) string {
		args = append(args, values[strings.Trim(name, "{}")])
		return "%s"
	})
	return Text{format, args}
}

// NoBreak is a blank at which no line is broken.
const NoBreak = '\u00a0'

// together matches a number with its fraction or unit, or with the x of a size, and that with
// the next number.
var together = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(\d) (\d+/\d+|(?:mm|cm|in|kg|lbf?|N|MPa|ksi|x)\b)|(\bx) (\d)`)
})

// Unbroken returns words in which no line may be broken between a number, its fraction
// and its unit, or within a size.
func Unbroken(words string) string {
	for range 2 { // the fraction, then the unit
		words = together().ReplaceAllString(words, "${1}${3}"+string(NoBreak)+"${2}${4}")
	}
	return words
}

// Quote returns the words of a person, as written.
func Quote(s string) Text {
	if s == "" {
		return Text{}
	}
	return Say("%s", s)
}

// Join returns those of the texts that say something, with a separator between them.
func Join(between string, texts ...Text) Text {
	var formats []string
	var args []any
	for _, t := range texts {
		if !t.Empty() {
			formats, args = append(formats, "%s"), append(args, t)
		}
	}
	return Text{strings.Join(formats, strings.ReplaceAll(between, "%", "%%")), args}
}
