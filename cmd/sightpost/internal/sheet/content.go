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
	doc := s.Report.Document()
	c := &Content{
		Title: "Setup sheet", Label: doc.Label, Works: doc.Works, Head: make([]string, columns),
		Verdict: doc.Verdict.In(s.Units), Summary: doc.Summary.In(s.Units), Foot: s.foot(), source: s,
	}
	if !c.Works {
		c.Title = "Case"
	}
	usable := c.Works || s.Report.Kind == document.Check // or on the mount anyway
	for _, d := range doc.Sections {
		section := s.bind(d)
		switch d.ID {
		case "": // in the results alone
		case document.SectionReasons, document.SectionRemedies, document.SectionWarnings:
			c.Lead = append(c.Lead, section)
		case document.SectionWork:
			for _, r := range section.Rows {
				section.Lines = append(section.Lines, Line{Text: r.What + ". " + r.Value})
			}
			section.Rows, section.Ticks = nil, true
			c.Sections = append(c.Sections, section)
		case document.SectionSafety, document.SectionClamp:
			c.Lead = append(c.Lead, wide(section))
		case document.SectionScreen:
			if s.Report.Mount == nil { // it is what to set
				c.table(d)
			} else if usable {
				c.Lead = append(c.Lead, wide(section))
			}
		case document.SectionSettings:
			c.table(d)
		case document.SectionChecks:
			if usable {
				for i := range section.Rows {
					section.Rows[i].Blank, section.Rows[i].Spare = true, false
				}
				c.Sections = append(c.Sections, section)
			}
		case document.SectionParked:
			if usable || !d.Full { // else nothing is to be moved
				c.Sections = append(c.Sections, section)
			}
		case document.SectionAssumed:
			if d = s.Report.Unmeasured(); !d.Empty() {
				c.Sections = append(c.Sections, s.bind(d))
			}
		default:
			section.Spare = d.ID == document.SectionNotes
			c.Sections = append(c.Sections, section)
		}
	}
	return c
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

// bind returns a section of the document in the sheet's units.
func (s *Source) bind(d document.Section) Section {
	to := Section{Title: strings.ToUpper(d.Title), Remark: d.Note.In(s.Units)}
	for _, r := range d.Rows {
		cells := append(r.In(s.Units), "", "")
		row := Row{What: cells[0], Value: cells[1], Spare: r.Full}
		if len(r.Cells) > 3 { // name, need, number, words
			row.Value, row.Detail = cells[2], cells[1]+"; "+cells[3]
		}
		to.Rows = append(to.Rows, row)
	}
	for _, l := range d.Lines {
		to.Lines = append(to.Lines, Line{l.In(s.Units), l.Full})
	}
	if d.ID == document.SectionClearances { // zones that someone measured always show
		const far = 100 // mm beyond what is required
		for i, g := range document.NearestFirst(s.Report.Clearances) {
			to.Lines[i].Spare = g.Assumed && g.ClearanceMM > g.RequiredMM+far
		}
	}
	return to
}

// table fills in what to set: the settings of the mount or, without one, where the screen
// goes.
func (c *Content) table(d document.Section) {
	u := c.source.Units
	c.Heading, c.Note = strings.ToUpper(d.Title), d.Note.In(u)
	if len(d.Head) > 0 {
		c.Head = d.Head
	}
	for _, r := range d.Rows {
		var s Setting
		copy(s[:], r.In(u))
		if d.ID == document.SectionScreen { // what, value, how to measure
			s = Setting{name: s[0], value: s[1], how: s[2]}
		}
		c.Settings = append(c.Settings, s)
	}
}

// Toleranced reports whether the settings have tolerances.
func (c *Content) Toleranced() bool { return c.Head[low] != "" }

// foot says what made the sheet, from what, and how to print it.
func (s *Source) foot() string {
	return fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at 100%%; check the scale bar with a ruler",
		s.Version, s.Report.Label, s.Checksum)
}
