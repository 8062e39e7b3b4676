package document

import (
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteText writes m as text. The error is the writer's.
func (m *Match) WriteText(w io.Writer, u Units) error {
	p := &printer{units: u, names: m.names}
	first := &m.Ranking[0]
	if m.Works {
		p.wrapped("", m.Label+": "+first.title()+" does best of "+strconv.Itoa(len(m.Ranking)))
	} else {
		p.wrapped("", m.Label+": NONE works; "+first.title()+" comes nearest of "+strconv.Itoa(len(m.Ranking)))
	}
	p.ranking(m)
	p.heading("WHY IN THIS ORDER", "")
	for i := range m.Ranking[:len(m.Ranking)-1] {
		p.wrapped(fmt.Sprintf("  %-4d", i+1), m.Ranking[i].title()+" "+p.inWords(strings.Join(m.Ranking[i].Reasons, "; ")))
	}
	if len(m.Ranking) == 1 {
		p.wrapped("  ", "There is only one.")
	}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		if !r.Works {
			p.heading("WHAT HOLDS "+strconv.Itoa(i+1)+" BACK", r.title())
			for _, s := range r.Fails {
				p.wrapped("  - ", p.inWords(s))
			}
			for _, s := range r.Remedies {
				p.wrapped("  - would help: ", p.inWords(s))
			}
		}
	}
	p.assumptions(m.Assumptions)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// title names a kit and its side.
func (r *Ranked) title() string { return r.Kit + ", " + r.Side }

// grip says how much is used of what the joint holds that slips first.
func (r *Ranked) grip() string {
	if r.WeakestJoint == nil {
		return "unknown"
	}
	return used(*r.WeakestJoint.Used)
}

// least returns the least gap, if there is one.
func (p *printer) least(g *Clearance) string {
	if g == nil {
		return "-"
	}
	return p.units.length(g.ClearanceMM)
}

// place returns where a point is: forward, left and up.
func (p *printer) place(at Point) string {
	mm := fixed(at.ForwardMM, 0) + "/" + fixed(at.LeftMM, 0) + "/" + fixed(at.UpMM, 0) + " mm"
	return p.units.Words(mm, nil)
}

// ranking lists the kits, the best first, and in a table how they do.
func (p *printer) ranking(m *Match) {
	p.heading("RANKING", "clamped at forward/left/up")
	rows := [][]string{{"", "works", "off by", "room", "tracks", "to set", "weight", "sinks", "grip used", "least gap"}}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		works := "NO"
		if r.Works {
			works = "yes"
		}
		c, number := r.Clamp, strconv.Itoa(i+1)
		line := r.title() + ", " + p.place(c) + " (" + r.KitFile + ")"
		if r.WeakestJoint != nil {
			line += "; weakest joint: " + r.WeakestJoint.Joint
		}
		p.wrapped(fmt.Sprintf("  %-4s", number), line)
		rows = append(rows, []string{
			number, works, p.units.length(r.OffMM), p.units.fine(r.MarginMM), percent(r.Tracks), strconv.Itoa(r.Touch), fixed(r.CarriedKG, 1) + " kg",
			p.units.fine(r.DropMM), r.grip(), p.least(r.LeastGap),
		})
	}
	p.heading("HOW THEY DO", fmt.Sprintf("tracks: share of %d draws of all errors, seed %d; off by: from the best place; "+
		"grip used: of what the weakest joint holds", m.Draws, m.Seed))
	p.table(rows)
}
