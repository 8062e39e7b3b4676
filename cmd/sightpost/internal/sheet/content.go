package sheet

import (
	"fmt"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Source is what a sheet is made from: one case, its result and the report on it.
type Source struct {
	Report *document.Report
	Result *fit.Result
	Units  units.Units
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
	// Lead are the sections before the settings, those of reasons and remedies first.
	Lead []Section
	// Heading, Note and Head are those of the settings, which are in the order of work.
	Heading, Note string
	Head          []string
	Settings      []Setting
	// Sections follow the figures.
	Sections []Section
	// Foot is the last line.
	Foot string

	source Source
}

// Setting is one number to set: its place in the order of work, name, value, least and
// greatest value that work, and how to measure it.
type Setting [columns]string

// Section is a titled part of the sheet: rows or sentences.
type Section struct {
	Title, Remark string
	Rows          []Row
	Lines         []Line
	// Ticks gives each line a box to tick.
	Ticks bool
	// Wide lets the section run over the whole page.
	Wide bool
	// Spare says that the results hold all of this: it is left out where the page
	// is short.
	Spare bool
}

// Row is a thing and its number.
type Row struct {
	What, Detail, Value string
	// Blank leaves room to write down what was found.
	Blank bool
	// Spare rows are left out where the page is short.
	Spare bool
}

// Line is a sentence; spare ones are left out where the page is short.
type Line struct {
	Text  string
	Spare bool
}

// New returns the content of the sheet of one case.
func New(s Source) *Content {
	b := binder{s, s.Report.Document()}
	c := &Content{
		Title: "Setup sheet", Label: b.doc.Label, Works: b.doc.Works,
		Verdict: b.doc.Verdict.In(s.Units), Summary: b.doc.Summary.In(s.Units),
		Foot:   b.foot(),
		source: s,
	}
	if !c.Works {
		c.Title = "Case"
	}
	usable := c.Works || s.Report.Kind == document.Check // or stand on the mount anyway
	for _, id := range []document.ID{document.SectionReasons, document.SectionRemedies, document.SectionWarnings} {
		c.add(&c.Lead, b.section(id))
	}
	c.add(&c.Lead, wide(b.section(document.SectionSafety)))
	if s.Report.Mount != nil {
		if usable {
			c.add(&c.Lead, wide(b.section(document.SectionScreen)))
		}
		c.add(&c.Lead, wide(b.section(document.SectionClamp)))
	}
	b.settings(c)
	if usable {
		checks := b.section(document.SectionChecks)
		for i := range checks.Rows {
			checks.Rows[i].Blank, checks.Rows[i].Spare = true, false
		}
		c.add(&c.Sections, checks)
	}
	inUse := b.section(document.SectionInUse)
	inUse.Ticks = true
	c.add(&c.Sections, inUse)
	for _, id := range []document.ID{
		document.SectionMargins, document.SectionClearances, document.SectionWeight, document.SectionParked, document.SectionView,
		document.SectionTargets, document.SectionGlasses, document.SectionAgain,
	} {
		if id == document.SectionParked && !usable && b.doc.Section(id).Full {
			continue // nothing is to be moved
		}
		c.add(&c.Sections, b.section(id))
	}
	c.add(&c.Sections, b.bind(s.Report.Unmeasured()))
	notes := b.section(document.SectionNotes)
	notes.Spare = true
	c.add(&c.Sections, notes)
	return c
}

// add appends a section unless it is empty.
func (c *Content) add(to *[]Section, s Section) {
	if len(s.Rows)+len(s.Lines) > 0 {
		*to = append(*to, s)
	}
}

// wide returns a section that runs over the page in one paragraph.
func wide(s Section) Section {
	s.Wide = true
	for _, r := range s.Rows {
		s.Lines = append(s.Lines, Line{r.What + ": " + r.Value, r.Spare})
	}
	s.Rows = nil
	return s
}

// binder takes the sections of a document over.
type binder struct {
	Source
	doc *document.Document
}

// section returns a section of the document in the sheet's units.
func (b *binder) section(id document.ID) Section { return b.bind(b.doc.Section(id)) }

func (b *binder) bind(d document.Section) Section {
	s := Section{Title: strings.ToUpper(d.Title), Remark: d.Note.In(b.Units)}
	for _, r := range d.Rows {
		cells := make([]string, max(len(r.Cells), 2))
		for i, c := range r.Cells {
			cells[i] = c.In(b.Units)
		}
		row := Row{What: cells[0], Value: cells[1], Spare: r.Full}
		if len(cells) > 3 { // name, need, number, words
			row.Value, row.Detail = cells[2], cells[1]+"; "+cells[3]
		}
		s.Rows = append(s.Rows, row)
	}
	for _, l := range d.Lines {
		s.Lines = append(s.Lines, Line{l.In(b.Units), l.Full})
	}
	if d.ID == document.SectionClearances { // zones that somebody measured always show
		const far = 100 // mm beyond what is required
		for i, g := range document.NearestFirst(b.Report.Clearances) {
			s.Lines[i].Spare = g.Assumed && g.ClearanceMM > g.RequiredMM+far
		}
	}
	return s
}

// settings fills in what to set: the settings of the mount or, without one, where the
// screen goes.
func (b *binder) settings(c *Content) {
	id := document.SectionSettings
	if b.Report.Mount == nil {
		id = document.SectionScreen
	}
	d := b.doc.Section(id)
	c.Heading, c.Note = strings.ToUpper(d.Title), d.Note.In(b.Units)
	if c.Head = d.Head; len(c.Head) == 0 {
		c.Head = make([]string, columns)
	}
	for _, r := range d.Rows {
		var s Setting
		for i, t := range r.Cells {
			s[i] = t.In(b.Units)
		}
		if id == document.SectionScreen { // what, value, how to measure
			s = Setting{name: s[0], value: s[1], how: s[2]}
		}
		c.Settings = append(c.Settings, s)
	}
}

// Toleranced reports whether the settings have tolerances.
func (c *Content) Toleranced() bool { return c.Head[low] != "" }

// foot says what made the sheet, from what, and how to print it.
func (b *binder) foot() string {
	return fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at 100%%; check the scale bar with a ruler",
		b.Version, b.Report.Label, b.Checksum)
}
