package sheet

import (
	"fmt"
	"slices"
	"strconv"
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
	var lead, front, safety, table, order, checks, rest []Section
	for _, d := range doc.Sections {
		section, into, hidden := s.bind(d), &rest, false
		switch d.ID {
		case "", document.SectionAssumed: // in the results alone
			continue
		case document.SectionReasons, document.SectionRemedies, document.SectionWarnings:
			into = &lead
		case document.SectionSafety: // in both columns
			into = &safety
			first := len(d.Short().Lines)
			front = append(front, Section{Title: section.Title, Lines: section.Lines[:first]})
			section.Title, section.Lines = section.Title+", continued", section.Lines[first:]
		case document.SectionClamp:
			into = &front
		case document.SectionScreen:
			if into, hidden = &front, d.Full; !doc.Has(document.SectionSettings) { // it is what to set
				section, into, hidden = s.table(d), &table, false
			}
		case document.SectionSettings:
			section, into = s.table(d), &table
		case document.SectionWork:
			into = &order
			section.Lines = each(section.Rows, func(r Row) string { return r.What + ". " + r.Value })
			section.Rows, section.Ticks = nil, true
		case document.SectionChecks:
			into, hidden = &checks, d.Full
			for i, r := range d.Rows {
				section.Rows[i] = Row{What: section.Rows[i].What, Value: strings.Join(each(r.Cells[1:], s.words), ", "), Blank: true}
			}
		case document.SectionParked:
			hidden = d.Full
		default:
		}
		if !hidden { // where nothing is to be set, nothing is to be measured and moved
			*into = append(*into, section)
		}
	}
	if unmeasured := doc.Unmeasured; !unmeasured.Empty() {
		rest = append(rest, s.bind(unmeasured))
	}
	c := &Content{
		Title: doc.Title, Label: doc.Label, Works: doc.Works, Verdict: s.words(doc.Verdict), Summary: s.words(doc.Summary), source: s,
		Foot: fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at 100%%; check the scale bar with a ruler", s.Version, doc.Label, s.Checksum),
	}
	wide := func(all []Section) []Part { return each(all, func(s Section) Part { return Part{Wide: []Section{s}} }) }
	var mount, ahead []Part
	views := each(plots.Views(s.Result), func(v plots.View) drawing {
		return func(o plots.Options) (plots.Figure, error) { return plots.Scene(s.Result, v, o) }
	})
	if doc.Usable && doc.Has(document.SectionSettings) { // a drawing shows their numbers
		mount = []Part{{Figures: []drawing{s.mount}, tall: 1.3}}
		if len(views) > 2 { // the one from ahead has a row of its own
			ahead, views = []Part{{Figures: views[2:], tall: 0.75}}, views[:2]
		}
	}
	c.parts = slices.Concat(
		[]Part{{Head: true}, {Wide: lead}, {Left: front, Right: safety}, {Wide: table}}, wide(order), mount, wide(checks), ahead,
		[]Part{{Figures: views, tall: 1}, {Columns: rest, Remarks: true}})
	return c
}

// mount draws the mount with the numbers of those settings that the document has.
func (s *Source) mount(o plots.Options) (plots.Figure, error) {
	r, ways := s.Result, map[int]string{}
	for i, told := range document.SettingsTold(r) {
		number := strconv.Itoa(i + 1)
		numbered := func(row document.Row) bool { return len(row.Cells) > 0 && row.Cells[0].In(s.Units) == number }
		if slices.ContainsFunc(s.Document.Sections, func(d document.Section) bool {
			return d.ID == document.SectionSettings && slices.ContainsFunc(d.Rows, numbered)
		}) {
			ways[i+1] = told.Plus
		}
	}
	return plots.Numbered(r.Set.Chain, r.Set.Settings, r.Postures[max(r.Job.Leading(), 0)].InCarrier.Carrier, r.Job.Device.Screen, ways, o)
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
func (s *Source) table(d document.Section) Section {
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
	return to
}

// Toleranced reports whether the settings have tolerances.
func (s Section) Toleranced() bool { return s.Head[low] != "" }
