package document

import (
	"math"
	"strconv"
	"strings"

	"sightpost/plots/units"
)

// Comparison is what changed between two assessments.
type Comparison struct {
	// Version of this form.
	Version int `json:"sightpost_comparison" jsonschema:"const=1"`
	// The clinic's code for the person.
	Code string `json:"code"`
	// Names of the older and of the newer record.
	Old string `json:"old"`
	New string `json:"new"`
	// Days between the two.
	Days int `json:"days"`
	// What of the person changed: measures and postures.
	Person []Difference `json:"person"`
	// What of chair, screen, tracker, mount, keep-clear zones and preferences changed.
	Things []Difference `json:"things"`
	// The settings that changed, and the side of the clamp.
	Settings []Difference `json:"settings"`
	// What changed of the position and attitude of the screen, and of where it is parked.
	Screen []Difference `json:"screen"`
	// Margins, of all that must work and of each posture, changed or not.
	Margins []Difference `json:"margins"`
	// What the change of the person alone did to the margin; absent without a mount.
	Alone *PersonEffect `json:"person_effect,omitempty"`
	// What to expect if it goes on; absent without a mount, and where the screen does not
	// track already.
	Next *Next `json:"next,omitempty"`
	// What to know of the two records.
	Remarks []Text `json:"remarks"`
}

// Difference is what became of one thing: a number, or words.
type Difference struct {
	// Entry of the case, name of the setting or of the posture.
	Key string `json:"key"`
	// The same in words.
	What string `json:"what"`
	// Unit of the numbers; empty for plain numbers and for words.
	Unit string `json:"unit,omitempty"`
	// The numbers; absent where there was or is none.
	Before *float64 `json:"before,omitempty"`
	After  *float64 `json:"after,omitempty"`
	// The words; absent where there are numbers.
	Was string `json:"was,omitempty"`
	Is  string `json:"is,omitempty"`

	// Signs say the signs of the two numbers; zero where none needs a word.
	Signs [2]Sign `json:"-"`
}

// PersonEffect is what the person's change alone does: the newer person with the older
// screen and mount.
type PersonEffect struct {
	// Least margin of the older assessment as it was.
	BeforeMM float64 `json:"before_mm"`
	// Least margin with the newer one's person in it.
	AfterMM float64 `json:"after_mm"`
	// The limiting posture and condition then.
	Limiting string `json:"limiting"`
}

// Next is what to expect if what changed of the person changes again by as much,
// and again, while the mount stays as the newer record has it.
type Next struct {
	// False when the person sits, moves and looks as before: then nothing is to be
	// expected.
	Changes bool `json:"changes"`
	// Margin after the same change once more, and the limiting condition then; absent
	// when the same change once more leads beyond what can be.
	MarginMM *float64 `json:"margin_mm,omitempty"`
	Limiting string   `json:"limiting,omitempty"`
	// Day of that, at the same pace; absent when both records are of one day.
	Day string `json:"date,omitempty"`
	// How many times the same change keeps the required margin, counted up to
	// 12; 0 when the next one takes it, or when it is lacking already.
	Holds int `json:"holds"`
	// True when counting ended at 12, so that it may hold longer.
	Longer bool `json:"longer"`
	// Day by which the margin falls below the required one, at the same pace; absent when
	// it holds longer, and when both records are of one day.
	Gone string `json:"gone,omitempty"`
}

// Document returns c in words.
func (c *Comparison) Document() *Document {
	d := &Document{Label: c.Code, Works: true, Verdict: Say("from %s to %s%s", c.Old, c.New, later(c.Days))}
	warnings := Section{ID: SectionWarnings, Title: "Warnings"}
	for _, r := range c.Remarks {
		warnings.say("%s.", r)
	}
	return d.with(
		warnings,
		c.changed("person", "Person", c.Person, entered),
		c.changed("things", "Chair, screen and mount", c.Things, entered),
		c.changed(SectionSettings, "Settings", c.Settings, entered),
		c.changed(SectionScreen, "Screen", c.Screen, amount),
		c.changed(SectionMargins, "Head-movement margin", c.Margins, func(mm float64, _ string) Quantity { return Margin(mm) }),
		c.personAlone(), c.Next.section(),
	)
}

func later(days int) string {
	if days == 0 {
		return ", on the same day"
	}
	return ", " + count(days, "day") + " later"
}

// changed lists what changed; shown returns a number of a unit in words.
func (c *Comparison) changed(id ID, title string, changes []Difference, shown func(float64, string) Quantity) Section {
	s := Section{ID: id, Title: title}
	for _, ch := range changes {
		words := func(v *float64, sign Sign) Text {
			if v == nil {
				return Say("none")
			}
			if sign == (Sign{}) {
				return Say("%s", shown(*v, ch.Unit))
			}
			return Say("%s", sign.of(*v, func(size float64) Quantity { return shown(size, ch.Unit) }))
		}
		was, is, by := words(ch.Before, ch.Signs[0]), words(ch.After, ch.Signs[1]), between{}
		switch {
		case ch.Was != "":
			was, is = Quote(ch.Was), Quote(ch.Is)
		case ch.Before == nil || ch.After == nil:
		case ch.Signs[0] != ch.Signs[1]: // on another side or turned over: no two ends of one scale
		case id == SectionMargins && min(*ch.Before, *ch.After) < 0: // only the sign of such a margin is exact
		default:
			by = between{*ch.Before, *ch.After, ch.Unit, id == SectionScreen || id == SectionMargins, ch.Signs[1]}
			if id == SectionScreen && by.In(units.MM) == "" {
				continue
			}
		}
		s.row(ch.What, was, is, by)
	}
	if s.Empty() {
		s.say("No change.")
	} else {
		s.Head = []string{"", c.Old, c.New, "change"}
	}
	return s
}

// between is by how much a number of a unit has changed: what was shown of it is taken from
// what is. The zero value says nothing.
type between struct {
	was, is  float64
	unit     string
	computed bool // shown as finely as it is known, not in full
	sign     Sign
}

// In returns the difference with its sign, or the word for it; nothing where both look alike.
func (b between) In(u units.Units) string {
	step, shown := 1e-3, entered
	if b.computed {
		step, shown = map[string]float64{"mm": 1, "deg": 0.5}[b.unit], amount
	}
	switch {
	case b.unit == "mm" && u == units.Inch:
		step = mmPerInch / 16
	case b.unit == "kg":
		step = 0.01 / units.Masses.Of(u, 1)
	}
	switch by := step * (math.Round(b.is/step) - math.Round(b.was/step)); {
	case b.was == b.is, by == 0:
		return ""
	case b.sign.Plus != "":
		return b.sign.of(by, func(size float64) Quantity { return shown(size, b.unit) }).In(u)
	case by > 0:
		return "+" + shown(by, b.unit).In(u)
	default:
		return shown(by, b.unit).In(u)
	}
}

// personAlone says how much of the change of the margin is the person's.
func (c *Comparison) personAlone() Section {
	s := Section{ID: "alone", Title: "Effect of the person's change alone"}
	a := c.Alone
	switch {
	case a == nil:
		return s
	case len(c.Person) == 0:
		s.say("None: no measure of the person changed.")
		return s
	}
	s.say("With screen and mount as on %s, the person's change alone takes the margin of all required postures from %s to %s (%s).",
		c.Old, Margin(a.BeforeMM), Margin(a.AfterMM), a.Limiting)
	if now := c.Margins[0].After; now != nil && math.Abs(*now-a.AfterMM) >= tapeMM/2 {
		s.say("The changes of screen and mount then take it to %s.", Margin(*now))
	}
	return s
}

// section says what to expect; n may be nil.
func (n *Next) section() Section {
	s := Section{ID: "next", Title: "What to expect next"}
	switch {
	case n == nil:
		return s
	case !n.Changes:
		s.say("Nothing that was measured suggests a change: measure again at the usual time.")
		return s
	case n.MarginMM == nil:
		s.say("The same change once more would exceed what a person can do.")
		return s
	}
	by := ""
	if n.Day != "" {
		by = ", at this pace by " + n.Day
	}
	if *n.MarginMM < 0 {
		s.say("If the person changes by as much again%s, the screen no longer tracks with the mount as it is now (limiting condition: %s).", by, n.Limiting)
	} else {
		s.say("If the person changes by as much again%s, the margin with the mount as it is now becomes %s (limiting condition: %s).", by, Length(*n.MarginMM), n.Limiting)
	}
	times := count(n.Holds, "such change")
	switch {
	case n.Longer:
		s.say("The required margin lasts for %s and more.", times)
	case n.Gone != "" && n.Holds == 0 && *n.MarginMM < 0:
		s.say("Measure again well before %s.", n.Gone)
	case n.Gone != "" && n.Holds == 0:
		s.say("That is less than required: measure again well before %s.", n.Gone)
	case n.Gone != "":
		s.say("The required margin lasts for %s; at this pace it is gone by %s. Measure again well before.", times, n.Gone)
	case n.Holds > 0:
		s.say("The required margin lasts for %s.", times)
	default:
		s.say("The required margin is not reached.")
	}
	s.say("Two assessments are not a trend.")
	return s
}

// Records is what a folder holds: every code, or every record of one code.
type Records struct {
	// Version of this form.
	Version int `json:"sightpost_records" jsonschema:"const=1"`
	// Every code that has a folder, in order; absent when one was asked for.
	Codes []ListedCode `json:"codes,omitempty"`
	// The code that was asked for.
	Code string `json:"code,omitempty"`
	// Its records, oldest first.
	Records []Listed `json:"records,omitempty"`
}

// ListedCode is how much is filed under a code.
type ListedCode struct {
	// The clinic's code for a person.
	Code string `json:"code"`
	// How many records there are.
	Records int `json:"records"`
	// Names of the oldest and of the newest; absent when there are none.
	First  string `json:"first,omitempty"`
	Latest string `json:"latest,omitempty"`
}

// Listed is a record in short.
type Listed struct {
	// Name of the file, without its ending.
	Name string `json:"name"`
	// Day of the assessment.
	Day string `json:"date"`
	// "solve" if the settings are those that were found, "check" if they are those
	// that were found on the mount.
	Kind Kind `json:"kind" jsonschema:"enum=solve,enum=check"`
	// True when every posture that must work did.
	Works bool `json:"works"`
	// Least margin over the postures that must work, and the posture that had it.
	MarginMM        float64 `json:"margin_mm"`
	LimitingPosture string  `json:"limiting_posture"`
	// True when the file is not as it was filed.
	Edited bool `json:"edited"`
	// True when it was filed by mistake and is only kept.
	Withdrawn bool `json:"withdrawn"`
	// What was noted.
	Note string `json:"note,omitempty"`
}

// Document returns r in words.
func (r *Records) Document() *Document {
	s := Section{ID: "records", Title: "Assessments"}
	if r.Code == "" {
		s.Title, s.Head = "Codes", []string{"code", "assessments", "first", "latest"}
		for _, c := range r.Codes {
			s.row(c.Code, strconv.Itoa(c.Records), c.First, c.Latest)
		}
		return &Document{Label: "records", Works: true, Verdict: Say("%s", count(len(r.Codes), "code")), Sections: []Section{s}}
	}
	s.Head = []string{"date", "margin", "limiting posture", "filed"}
	for _, l := range r.Records {
		filed := "as solved"
		if l.Kind == Check {
			filed = "as found"
		}
		if !l.Works {
			filed += ", does NOT meet every requirement"
		}
		if l.Edited {
			filed += ", EDITED since"
		}
		if l.Withdrawn {
			filed += ", WITHDRAWN"
		}
		s.row(l.Name, Margin(l.MarginMM), l.LimitingPosture, filed)
	}
	return &Document{Label: r.Code, Works: true, Verdict: Say("%s", count(len(r.Records), "assessment")), Sections: []Section{s}}
}

// Filing is how an assessment was filed.
type Filing struct {
	Name, Day, Tool, Note string // Tool is the version that filed it
	Kind                  Kind
	Mounted, Edited       bool    // with a mount; not as it was filed any more
	Withdrawn             bool    // filed by mistake
	MarginMM, NowMM       float64 // as filed, and as it is evaluated again
}

// Section says how an assessment was filed and whether it can be relied on.
func (f *Filing) Section() Section {
	s := Section{ID: "filed", Title: "Filed", Brief: true}
	from := "settings as solved"
	switch {
	case !f.Mounted:
		from = "without a mount"
	case f.Kind == Check:
		from = "settings as found"
	}
	s.say("%s, %s, by version %s.", f.Day, from, f.Tool)
	for _, r := range f.Remarks() {
		s.say("%s.", r)
	}
	for line := range strings.Lines(f.Note) {
		s.say("Note: %s", strings.TrimSpace(line))
	}
	return s
}

// Remarks says what speaks against relying on a record.
func (f *Filing) Remarks() []Text {
	all := []Text{}
	if f.Withdrawn {
		all = append(all, Say("%s was WITHDRAWN after it was filed", f.Name))
	}
	if f.Edited {
		all = append(all, Say("%s was EDITED after it was filed: its checksum does not match", f.Name))
	}
	const rounding = 0.01 // mm: ten times what rounding for the file leaves open
	if math.Abs(f.NowMM-f.MarginMM) > rounding {
		all = append(all, Say("%s was filed with a margin of %s by version %s; from the same case and settings this version finds %s",
			f.Name, Fine(f.MarginMM), f.Tool, Fine(f.NowMM)))
	}
	return all
}
