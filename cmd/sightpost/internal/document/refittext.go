package document

import (
	"fmt"
	"io"
	"strings"
)

// WriteText writes r as text. The error is the writer's.
func (r *Refit) WriteText(w io.Writer, u Units) error {
	p := &printer{units: u, names: r.names}
	p.refitVerdict(r)
	p.losses(r)
	if r.Restored {
		p.changes("WHAT TO CHANGE", r.Changes, r.Effort)
	} else if len(r.Changes) > 0 {
		p.changes("WHAT WOULD COME NEAREST", r.Changes, r.Effort)
		p.wrapped("  ", "DO NOT LEAVE IT SO: what is then still not right stands above.")
	}
	p.steps(r.Steps)
	p.tried(r)
	p.fresh(r)
	p.list("WHAT WOULD HELP", p.told(r.Remedies))
	p.list("MIND ALWAYS", r.Cautions)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// refitVerdict says in a sentence what has to be done.
func (p *printer) refitVerdict(r *Refit) {
	f := p.units.fine
	switch {
	case !r.Needed:
		p.wrapped("", r.Label+": nothing needs changing")
		p.wrapped("  ", "With the settings as they stand the head may move "+f(r.MarginMM)+" beyond its usual movement; "+f(r.WantedMM)+" is wanted.")
	case r.Restored:
		p.wrapped("", fmt.Sprintf("%s: changing %s restores the room", r.Label, names(r.Changes)))
		p.wrapped("  ", "Room as it stands "+f(r.MarginMM)+", with the changes "+f(r.AfterMM)+"; "+f(r.WantedMM)+" is wanted.")
	default:
		p.wrapped("", r.Label+": NO change of settings restores the room; here is the best that was found")
		p.wrapped("  ", "Room as it stands "+f(r.MarginMM)+", with the changes "+f(r.AfterMM)+"; "+f(r.WantedMM)+" is wanted.")
		p.list("STILL NOT RIGHT WITH THE CHANGES", p.told(r.Left))
	}
	p.list("AS IT STANDS", p.told(r.Reasons))
}

// names returns the names of the settings that change.
func names(changes []Change) string {
	list := make([]string, 0, len(changes))
	for _, c := range changes {
		list = append(list, c.Name)
	}
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

// losses lists what the change of sitting has cost.
func (p *printer) losses(r *Refit) {
	p.heading("ROOM WITH THE SETTINGS AS THEY STAND", roomBelowZero)
	known := false
	for i := range r.Losses {
		known = known || r.Losses[i].BeforeMM != nil
	}
	head := []string{"", "", "now"}
	if known {
		head = append(head, "before", "lost")
	}
	rows := [][]string{head}
	for i := range r.Losses {
		l := &r.Losses[i]
		row := []string{l.Posture, need(l.MustWork), p.units.fine(l.MarginMM)}
		if l.BeforeMM != nil {
			row = append(row, p.units.fine(*l.BeforeMM), p.units.fine(*l.BeforeMM-l.MarginMM))
		}
		rows = append(rows, row)
	}
	p.table(rows)
	for i := range r.Losses {
		p.wrapped("  ", r.Losses[i].Posture+": tightest "+p.stops(r.Losses[i].Tightest, false))
	}
}

// stops lists conditions with their rooms.
func (p *printer) stops(stops []Stop, posture bool) string {
	list := make([]string, 0, len(stops))
	for _, s := range stops {
		words := s.Condition + " (" + p.units.fine(s.RoomMM) + ")"
		if posture {
			words = s.Posture + ", " + words
		}
		list = append(list, words)
	}
	return strings.Join(list, "; ")
}

// changes lists settings from and to.
func (p *printer) changes(title string, changes []Change, effort float64) {
	if len(changes) == 0 {
		return
	}
	p.heading(title, "from the clamp outward; effort as the kit counts it: "+fixed(effort, 1))
	rows := make([][]string, 0, len(changes))
	for _, c := range changes {
		rows = append(rows, []string{c.Name, "from " + p.reading(c.From, c.Unit), "to " + p.reading(c.To, c.Unit)})
	}
	p.table(rows)
}

// steps lists the steps in the order of work.
func (p *printer) steps(steps []Step) {
	if len(steps) == 0 {
		return
	}
	p.heading("IN THIS ORDER", "one setting free at a time")
	for i, s := range steps {
		line := s.Words
		if p.units == CM { // scales are engraved in mm, which those who work in inches read
			line = p.inWords(line)
		}
		if len(s.Cautions) > 0 {
			line += " - CAUTION: " + strings.Join(p.told(s.Cautions), "; ")
		}
		p.wrapped(fmt.Sprintf("  %-4d", i+1), line)
	}
}

// tried says why nothing cheaper is enough.
func (p *printer) tried(r *Refit) {
	if len(r.Tried) == 0 {
		return
	}
	p.heading("TRIED, AND NOT ENOUGH", "the best that only these settings could give; effort as the kit counts it")
	for _, a := range r.Tried {
		line := strings.Join(a.Settings, ", ") + " (effort " + fixed(a.Effort, 1) + "): " + p.units.fine(a.MarginMM) + " at best"
		switch {
		case a.Unreadable:
			line += " at values that can be read off"
		case a.Kept != "":
			line += ", and cannot keep " + a.Kept
		}
		if len(a.Against) > 0 {
			line += "; against " + p.stops(a.Against, true)
		}
		if len(a.AtLimit) > 0 {
			line += "; at the end of their range: " + strings.Join(a.AtLimit, ", ")
		}
		p.wrapped("  - ", line)
	}
}

// fresh says what setting the mount anew would bring.
func (p *printer) fresh(r *Refit) {
	title := "SET ANEW INSTEAD"
	if len(r.Fresh.Changes) == 0 {
		p.heading(title, "")
		p.wrapped("  ", "The settings as they stand are the best there are: "+p.units.fine(r.Fresh.MarginMM)+".")
		return
	}
	p.changes(title, r.Fresh.Changes, r.Fresh.Effort)
	p.wrapped("  ", "Room then: "+p.units.fine(r.Fresh.MarginMM)+".")
}
