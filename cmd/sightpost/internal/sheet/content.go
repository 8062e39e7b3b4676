package sheet

import (
	"fmt"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Source is what a sheet is made from: one case, its result and the report on it.
type Source struct {
	Report *document.Report
	Job    *fit.Job
	Result *fit.Result
	Units  document.Units
	// Version of the program, for the foot of the sheet.
	Version string
	// Checksum of the case, for the foot of the sheet.
	Checksum string
}

// Content is what a sheet says, in the order of reading.
type Content struct {
	// Title says what kind of sheet this is, Label is the code of the case.
	Title, Label string
	// Works says whether the case works as the sheet has it. If not, nothing on the
	// sheet is to be set: it has no boxes to tick and no tolerances.
	Works bool
	// Verdict is that in large words.
	Verdict string
	// Reasons and Remedies say why it does not work and what would help.
	Reasons, Remedies []string
	// Facts are what must be known before the first setting.
	Facts []Fact
	// Heading stands above the settings, Caption above their values and Note above the
	// words for reading them.
	Heading, Caption, Note string
	// Settings are in the order of work.
	Settings []Setting
	// Toleranced says whether the settings have tolerances.
	Toleranced bool
	// Sections follow the settings.
	Sections []Section
	// Foot is the last line.
	Foot string

	source Source
}

// Fact is a thing to know, in a line.
type Fact struct{ Name, Text string }

// Setting is one number to set.
type Setting struct {
	Number int
	// Name is what is set; Value to what, and Also the same in other units.
	Name, Value, Also string
	// Off is how far it may be off, either way; Within says the same as values that
	// can be read off. Both are empty where there is no tolerance.
	Off, Within string
	// How says how to read it.
	How string
}

// Section is a titled part of the sheet: rows or sentences.
type Section struct {
	Title, Remark string
	Rows          []Row
	Lines         []string
	// Ticks gives each line a box to tick.
	Ticks bool
	// Wide lets the section run over the whole page.
	Wide bool
	// Short stands in for the lines where the page is short.
	Short string
	// Spare says that the results hold all of this: it is left out where the page
	// is short.
	Spare bool
}

// Row is a thing and its number.
type Row struct {
	What, Detail, Value string
	// Blank leaves room to write down what was found.
	Blank bool
	// Spare says that other rows tell the same: it is left out where the page is
	// short.
	Spare bool
}

// New returns the content of the sheet of one case. The error is that of the
// mount's chain, which results of package fit's do not give.
func New(s Source) (*Content, error) {
	w := writer{Source: s, lead: max(s.Job.Leading(), 0), doc: s.Report.Document()}
	c := &Content{
		Title:  "Setup sheet",
		Label:  s.Report.Label,
		Works:  s.Report.Works,
		Facts:  w.facts(),
		Foot:   w.foot(),
		source: s,
	}
	c.Verdict = w.verdict()
	if !c.Works {
		c.Title = "Case"
		c.Reasons, c.Remedies = w.lines(document.SectionReasons), w.lines(document.SectionRemedies)
	}
	if s.Result.Set == nil {
		c.Heading, c.Caption, c.Settings = "PLACE OF THE SCREEN", w.caption(), w.place()
		c.Note = "how to measure it"
	} else if err := w.settings(c); err != nil {
		return nil, fmt.Errorf("sheet: %s: %w", c.Label, err)
	}
	c.Sections = nonEmpty(w.checks(), w.room(), w.inTheChair(), w.gaps(), w.hanging(), w.again(), w.minds(), w.assumed(), w.notes(), w.cautions())
	return c, nil
}

// nonEmpty returns the sections that say something.
func nonEmpty(sections ...Section) []Section {
	var kept []Section
	for _, s := range sections {
		if len(s.Rows)+len(s.Lines) > 0 {
			kept = append(kept, s)
		}
	}
	return kept
}

// writer words a source.
type writer struct {
	Source
	lead int // place of the posture in which the mount is set
	doc  *document.Document
}

// carrier returns chairFromCarrier in the posture in which the mount is set.
func (w *writer) carrier() frame.Pose { return w.Job.Scene.InCarrier(w.Job.Postures[w.lead]).Carrier }

// lines returns the lines of a section in its short form, in the sheet's units.
func (w *writer) lines(id document.ID) []string {
	var lines []string
	for _, l := range w.doc.Section(id).Short().Lines {
		lines = append(lines, l.In(w.Units))
	}
	return lines
}

// leading returns the report on the posture in which the mount is set.
func (w *writer) leading() *document.Posture { return &w.Report.Postures[w.lead] }

// foot says what made the sheet, from what, and how to print it.
func (w *writer) foot() string {
	figures := ""
	if w.Units != document.MM {
		figures = " and is in mm"
	}
	return fmt.Sprintf("sightpost %s · case %s, SHA-256 %s · print at full size: each figure is to scale if its bar measures what it says%s",
		w.Version, w.Report.Label, w.Checksum, figures)
}
