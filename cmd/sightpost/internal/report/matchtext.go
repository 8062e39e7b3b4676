package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteText writes m as text. The error is the writer's.
func (m *Match) WriteText(w io.Writer, u Units) error {
	p := &printer{units: u}
	first := &m.Ranking[0]
	if m.Works {
		p.wrapped("", m.Label+": "+first.title()+" does best of "+strconv.Itoa(len(m.Ranking)))
	} else {
		p.wrapped("", m.Label+": NONE works; "+first.title()+" comes nearest of "+strconv.Itoa(len(m.Ranking)))
	}
	p.ranking(m)
	p.heading("WHY IN THIS ORDER", "")
	for i := range m.Ranking[:len(m.Ranking)-1] {
		p.wrapped(fmt.Sprintf("  %-4d", i+1), m.Ranking[i].title()+" "+strings.Join(m.Ranking[i].Reasons, "; "))
	}
	if len(m.Ranking) == 1 {
		p.wrapped("  ", "There is only one.")
	}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		if !r.Works {
			p.heading("WHAT HOLDS "+strconv.Itoa(i+1)+" BACK", r.title())
			for _, s := range r.Fails {
				p.wrapped("  - ", s)
			}
			for _, s := range r.Remedies {
				p.wrapped("  - would help: ", s)
			}
		}
	}
	p.assumptions(m.Assumptions)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// title names a kit and its side.
func (r *Ranked) title() string { return r.Kit + ", " + r.Side }

// ranking lists the kits, the best first, and in a table how they do.
func (p *printer) ranking(m *Match) {
	p.heading("RANKING", "clamped at forward/left/up, mm")
	rows := [][]string{{"", "works", "off by", "room", "tracks", "to set", "weight"}}
	for i := range m.Ranking {
		r := &m.Ranking[i]
		works := "NO"
		if r.Works {
			works = "yes"
		}
		c, number := r.Clamp, strconv.Itoa(i+1)
		p.wrapped(fmt.Sprintf("  %-4s", number), r.title()+", "+fixed(c.ForwardMM, 0)+"/"+fixed(c.LeftMM, 0)+"/"+fixed(c.UpMM, 0)+" ("+r.KitFile+")")
		rows = append(rows, []string{
			number, works, p.units.length(r.OffMM), p.units.fine(r.MarginMM), percent(r.Tracks), strconv.Itoa(r.Touch), fixed(r.CarriedKG, 1) + " kg",
		})
	}
	p.heading("HOW THEY DO", fmt.Sprintf("tracks: share of %d draws of all errors, seed %d; off by: from the best place", m.Draws, m.Seed))
	p.table(rows)
}
