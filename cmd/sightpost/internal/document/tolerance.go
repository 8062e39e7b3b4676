package document

import (
	"fmt"
	"strconv"

	"sightpost/mount/fit"
)

// Tolerance is how far one setting may be off, all others as set, before the case no
// longer works: until a posture that must work stops tracking or has less room than was
// wished for, the screen leaves a range wished for, something comes too near to a space
// to be kept clear, to the face or to the floor, or something cannot bear its load.
type Tolerance struct {
	// The lower end.
	From ToleranceEnd `json:"from"`
	// The upper end.
	To ToleranceEnd `json:"to"`
	// Why there is no tolerance, in plain words: the case does not work, and both ends
	// are at the value that is set. Absent when there is one.
	None string `json:"none,omitempty"`
}

// ToleranceEnd is one end of a tolerance.
type ToleranceEnd struct {
	// The last value that can be read off before something gives out.
	Value float64 `json:"value"`
	// The last value of all before something gives out.
	Bound float64 `json:"bound"`
	// What gives out beyond it, in plain words, or the limit of the setting's range.
	EndedBy string `json:"ended_by"`
	// Name of the posture in which it gives out; absent where the range ends.
	Posture string `json:"posture,omitempty"`
	// Change of the margin for each mm or degree that the setting moves from where
	// it is set toward this end; most often negative.
	RateMM float64 `json:"margin_change"`
}

// addTolerances fills in how far each setting of m may be off.
func (m *Mount) addTolerances(job *fit.Job, r *fit.Result) error {
	found, err := fit.Tolerances(job, r)
	if err != nil {
		return err
	}
	for i, t := range found {
		m.Settings[i].Tolerance = Tolerance{From: newEnd(job, t, t.Low), To: newEnd(job, t, t.High), None: t.Why}
	}
	return nil
}

func newEnd(job *fit.Job, t fit.Tolerance, e fit.ToleranceEnd) ToleranceEnd {
	end := ToleranceEnd{
		Value:   inUnit(t.Joint, e.Readable),
		Bound:   inUnit(t.Joint, e.At),
		EndedBy: e.String(),
		RateMM:  plain(t.RatePerReading(e)),
	}
	if e.Posture >= 0 {
		end.Posture = job.Postures[e.Posture].Name
	}
	return end
}

// tolerances returns whether the settings have tolerances, which is so for all of
// them or for none.
func (m *Mount) tolerances() bool { return len(m.Settings) > 0 && m.Settings[0].Tolerance.None == "" }

// settings lists what to set, and how far each may be off.
func (p *printer) settings(m *Mount) {
	remark := "from the clamp outward; " + m.Kit + ", clamped on the person's " + m.Side
	p.heading("SETTINGS", remark)
	if !p.works {
		p.wrapped("  ", "DO NOT SET THESE: they are the best that was found, and do not work.")
	}
	rows := make([][]string, 0, len(m.Settings)+1)
	if m.tolerances() {
		rows = append(rows, []string{"", "", "set to", "may be from", "to", "room, less", "room, more"})
	}
	for i := range m.Settings {
		s := &m.Settings[i]
		row := []string{strconv.Itoa(i + 1), s.Name, p.units.value(s)}
		if t := &s.Tolerance; t.None == "" {
			row = append(row, p.units.end(s, t.From.Value), p.units.end(s, t.To.Value), p.rate(s, &t.From), p.rate(s, &t.To))
		}
		rows = append(rows, row)
	}
	p.table(rows)
}

// rate returns by how much the room changes for each mm or degree that s is moved
// toward an end; between stops it cannot be moved.
func (p *printer) rate(s *Setting, e *ToleranceEnd) string {
	if s.Indexed {
		return "stops"
	}
	if e.Value == s.Value {
		return "-"
	}
	if s.Unit == "mm" { // the same number in every unit
		unit := p.units.String()
		return signed(e.RateMM, 2) + " " + unit + " a " + unit
	}
	switch p.units {
	case CM:
		return signed(e.RateMM/10, 3) + " cm a °"
	case Inch:
		return signed(e.RateMM/mmPerInch, 3) + " in a °"
	case MM:
	}
	return signed(e.RateMM, 2) + " mm a °"
}

// ends says what ends the tolerance of each setting.
func (p *printer) ends(m *Mount) {
	if !m.tolerances() {
		return // the case does not work, and why stands first of all
	}
	p.heading("HOW FAR EACH MAY BE OFF", "the others as set, until something gives out, and what")
	for i := range m.Settings {
		t := &m.Settings[i].Tolerance
		p.wrapped(fmt.Sprintf("  %-4d", i+1), m.Settings[i].Name+": less, "+t.From.why()+"; more, "+t.To.why())
	}
}

// why says what ends a tolerance, and in which posture.
func (e *ToleranceEnd) why() string {
	if e.Posture == "" {
		return e.EndedBy
	}
	return e.EndedBy + " (" + e.Posture + ")"
}
