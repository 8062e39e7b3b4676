package sheet

import (
	"fmt"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Source is what a sheet is made from: a document, and the result that it is about.
type Source struct {
	Document *document.Document
	Result   *fit.Result
	Units    units.Units
	// Version of the program, for the foot of the sheet.
	Version string
	// Checksum of the case, for the foot of the sheet.
	Checksum string
}

// Content is a document as a sheet shows it, in the order of reading.
type Content struct {
	// Title says what kind of sheet this is, Label is the code of the case.
	Title, Label string
	// Works says whether the settings may be set. If not, the sheet has no boxes to
	// tick and no room to sign.
	Works bool
	// Verdict is the answer in large words, Summary what it rests on.
	Verdict, Summary string
	// Lead are the sections before the settings that run over the page: reasons, remedies
	// and warnings. Front are those in two columns below them.
	Lead, Front []Section
	// Heading, Note and Head are those of the settings, which are in the order of work.
	Heading, Note string
	Head          []string
	Settings      []Setting
	// Work are the sections that run over the page after the settings: the order of work
	// and the checks by tape. Sections follow in two columns.
	Work, Sections []Section
	// Foot is the last line of every page.
	Foot string

	source   Source
	numbered bool // a drawing of the mount shows the numbers of the settings
}

// Setting is one number to set: its place in the order of work, name, value, least and
// greatest value that work, and how to measure it.
type Setting [columns]string

// Section is a titled part of the sheet: rows or sentences.
type Section struct {
	Title, Remark string
	Rows          []Row
	Lines         []string
	// Ticks gives each line a box to tick.
	Ticks bool
}

// Row is a thing and its number.
type Row struct {
	What, Detail, Value string
	// Blank leaves room to write down what was found.
	Blank bool
}

// New returns the content of the sheet of a document.
func New(s Source) *Content {
	doc := s.Document
	c := &Content{
		Title: doc.Title, Label: doc.Label, Works: doc.Works, Head: make([]string, columns),
		Verdict: s.words(doc.Verdict), Summary: s.words(doc.Summary), source: s,
		Foot: fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at 100%%; check the scale bar with a ruler", s.Version, doc.Label, s.Checksum),
	}
	for _, d := range doc.Sections {
		c.add(d)
	}
	if c.Settings == nil {
		for _, d := range doc.Sections {
			if d.ID == document.SectionScreen { // it is what to set
				c.table(d)
			}
		}
	}
	if unmeasured := doc.Unmeasured; !unmeasured.Empty() {
		c.Sections = append(c.Sections, s.bind(unmeasured))
	}
	return c
}

// add adds a section where it belongs.
func (c *Content) add(d document.Section) {
	doc := c.source.Document
	section := c.source.bind(d)
	switch d.ID {
	case "", document.SectionAssumed: // in the results alone
	case document.SectionReasons, document.SectionRemedies, document.SectionWarnings:
		c.Lead = append(c.Lead, section)
	case document.SectionSafety: // in both columns
		first := len(d.Short().Lines)
		rest := section
		section.Lines, rest.Lines = section.Lines[:first], section.Lines[first:]
		rest.Title += ", continued"
		c.Front = append(c.Front, section, rest)
	case document.SectionClamp:
		c.Front = append(c.Front, section)
	case document.SectionScreen:
		if doc.Usable && doc.Has(document.SectionSettings) {
			c.Front = append(c.Front, section)
		}
	case document.SectionSettings:
		c.table(d)
		c.numbered = doc.Usable
	case document.SectionWork:
		section.Ticks = true
		for _, r := range section.Rows {
			section.Lines = append(section.Lines, r.What+". "+r.Value)
		}
		section.Rows = nil
		c.Work = append(c.Work, section)
	case document.SectionChecks:
		if doc.Usable {
			for i, r := range d.Rows {
				row := &section.Rows[i]
				row.Blank, row.Detail, row.Value = true, "", strings.Join(each(r.Cells[1:], c.source.words), ", ")
			}
			c.Work = append(c.Work, section)
		}
	case document.SectionParked:
		if doc.Usable || !d.Full { // else nothing is to be moved
			c.Sections = append(c.Sections, section)
		}
	default:
		c.Sections = append(c.Sections, section)
	}
}

// words returns a text in the sheet's units, with its numbers held together.
func (s *Source) words(t document.Text) string { return document.Unbroken(t.In(s.Units)) }

// each returns what of makes of every one.
func each[From, To any](all []From, of func(From) To) []To {
	to := make([]To, len(all))
	for i := range all {
		to[i] = of(all[i])
	}
	return to
}

// bind returns a section of the document in the sheet's units.
func (s *Source) bind(d document.Section) Section {
	to := Section{Title: strings.ToUpper(d.Title), Remark: s.words(d.Note)}
	for _, r := range d.Rows {
		cells := append(each(r.Cells, s.words), "", "")
		row := Row{What: cells[0], Value: cells[1]}
		if len(r.Cells) > 3 { // name, need, number, words
			row.Value, row.Detail = cells[2], cells[1]+"; "+cells[3]
		}
		to.Rows = append(to.Rows, row)
	}
	for _, l := range d.Lines {
		to.Lines = append(to.Lines, s.words(l.Text))
	}
	return to
}

// table fills in what to set: the settings of the mount or, without one, where the screen
// goes.
func (c *Content) table(d document.Section) {
	c.Heading, c.Note = strings.ToUpper(d.Title), c.source.words(d.Note)
	if len(d.Head) > 0 {
		c.Head = d.Head
	}
	for _, r := range d.Rows {
		var s Setting
		copy(s[:], each(r.Cells, c.source.words))
		if d.ID == document.SectionScreen { // what, value, how to measure
			s = Setting{name: s[0], value: s[1], how: s[2]}
		}
		c.Settings = append(c.Settings, s)
	}
}

// Toleranced reports whether the settings have tolerances.
func (c *Content) Toleranced() bool { return c.Head[low] != "" }
