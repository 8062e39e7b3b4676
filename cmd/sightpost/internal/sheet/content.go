package sheet

import (
	"fmt"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount/fit"
	"sightpost/plots"
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

// Content is a document as a sheet shows it.
type Content struct {
	// Title says what kind of sheet this is, Label is the code of the case.
	Title, Label string
	// Works says whether the settings may be set. If not, the sheet has no boxes to
	// tick and no room to sign.
	Works bool
	// Verdict is the answer in large words, Summary what it rests on.
	Verdict, Summary string
	// Foot is the last line of every page.
	Foot string

	parts  []Part // in the order of reading
	source Source
}

// Section is a titled part of the sheet: what to set, or rows, or sentences.
type Section struct {
	Title, Remark string
	// Head are the titles of the columns of Settings, which are in the order of work.
	Head     [columns]string
	Settings []Setting
	Rows     []Row
	Lines    []string
	// Ticks gives each line or setting a box to tick.
	Ticks bool
}

// Setting is one number to set: its place in the order of work, name, value, least and
// greatest value that work, and how to measure it.
type Setting [columns]string

// Row is a thing and its number.
type Row struct {
	What, Detail, Value string
	// Blank leaves room to write down what was found.
	Blank bool
}

// New returns the content of the sheet of a document.
func New(s Source) *Content {
	doc := s.Document
	var lead, front, table, order, checks, rest []Section
	for _, d := range doc.Sections {
		section := s.bind(d)
		switch d.ID {
		case "", document.SectionAssumed: // in the results alone
		case document.SectionReasons, document.SectionRemedies, document.SectionWarnings:
			lead = append(lead, section)
		case document.SectionSafety: // in both columns
			first := len(d.Short().Lines)
			more := Section{Title: section.Title + ", continued", Lines: section.Lines[first:]}
			section.Lines = section.Lines[:first]
			front = append(front, section, more)
		case document.SectionClamp:
			front = append(front, section)
		case document.SectionScreen:
			switch {
			case !doc.Has(document.SectionSettings): // it is what to set
				table = s.table(d)
			case doc.Usable:
				front = append(front, section)
			}
		case document.SectionSettings:
			table = s.table(d)
		case document.SectionWork:
			section.Ticks = true
			for _, r := range section.Rows {
				section.Lines = append(section.Lines, r.What+". "+r.Value)
			}
			section.Rows = nil
			order = append(order, section)
		case document.SectionChecks:
			if doc.Usable {
				for i, r := range d.Rows {
					section.Rows[i] = Row{What: section.Rows[i].What, Value: strings.Join(each(r.Cells[1:], s.words), ", "), Blank: true}
				}
				checks = append(checks, section)
			}
		case document.SectionParked:
			if doc.Usable || !d.Full { // else nothing is to be moved
				rest = append(rest, section)
			}
		default:
			rest = append(rest, section)
		}
	}
	if unmeasured := doc.Unmeasured; !unmeasured.Empty() {
		rest = append(rest, s.bind(unmeasured))
	}
	c := &Content{
		Title: doc.Title, Label: doc.Label, Works: doc.Works, Verdict: s.words(doc.Verdict), Summary: s.words(doc.Summary), source: s,
		Foot:  fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at 100%%; check the scale bar with a ruler", s.Version, doc.Label, s.Checksum),
		parts: []Part{{Head: true}, {Wide: lead}, {Columns: front}, {Wide: table}, {Wide: order}},
	}
	views := each(plots.Views(s.Result), plots.View.String)
	if doc.Usable && doc.Has(document.SectionSettings) { // a drawing of the mount shows their numbers
		c.parts = append(c.parts, Part{Figures: []string{mountView}, tall: 1.3}, Part{Wide: checks})
		if len(views) > 2 { // the one from ahead has a row of its own
			c.parts, views = append(c.parts, Part{Figures: views[2:], tall: 0.75}), views[:2]
		}
	} else {
		c.parts = append(c.parts, Part{Wide: checks})
	}
	c.parts = append(c.parts, Part{Figures: views, tall: 1}, Part{Columns: rest, Remarks: true})
	return c
}

// mountView is the figure of a sheet that is no view of the whole scene.
const mountView = "mount"

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
	to := Section{
		Title: strings.ToUpper(d.Title), Remark: s.words(d.Note),
		Lines: each(d.Lines, func(l document.Line) string { return s.words(l.Text) }),
	}
	for _, r := range d.Rows {
		cells := append(each(r.Cells, s.words), "", "")
		row := Row{What: cells[0], Value: cells[1]}
		if len(r.Cells) > 3 { // name, need, number, words
			row.Value, row.Detail = cells[2], cells[1]+"; "+cells[3]
		}
		to.Rows = append(to.Rows, row)
	}
	return to
}

// table returns what to set: the settings of the mount or, without one, where the screen
// goes.
func (s *Source) table(d document.Section) []Section {
	to := Section{Title: strings.ToUpper(d.Title), Remark: s.words(d.Note), Ticks: s.Document.Works}
	copy(to.Head[:], d.Head)
	for _, r := range d.Rows {
		var set Setting
		copy(set[:], each(r.Cells, s.words))
		if d.ID == document.SectionScreen { // what, value, how to measure
			set = Setting{name: set[0], value: set[1], how: set[2]}
		}
		to.Settings = append(to.Settings, set)
	}
	return []Section{to}
}

// Toleranced reports whether the settings have tolerances.
func (s Section) Toleranced() bool { return s.Head[low] != "" }
