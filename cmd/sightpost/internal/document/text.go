package document

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"
)

// lineWidth is how many characters a line of text has at most, but for a single
// word that is longer: what fits a sheet of paper across.
const lineWidth = 100

// WriteText writes r as text: what a technician works from, in the order of work.
// The error is the writer's.
func (r *Report) WriteText(w io.Writer, u Units) error {
	p := &printer{units: u, names: r.names, works: r.Works || r.Kind == Check}
	p.verdict(r)
	p.where(r)
	p.mounting(r.Mount)
	if p.works {
		p.tape(&r.Tape, r.Mount != nil)
	}
	p.room(r)
	p.gaps(r.Clearances)
	p.inTheWay(r)
	p.weight(r)
	p.aside(r)
	p.ahead(r)
	p.targets(r)
	p.glasses(r)
	p.assumptions(r.Assumptions)
	p.list("NOTED", r.notes())
	p.list("MIND IN THIS CASE", p.told(r.Warnings))
	p.list("MIND ALWAYS", r.Cautions)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// notes returns what was noted in the case and in the kit.
func (r *Report) notes() []string {
	var notes []string
	if r.Note != "" {
		notes = append(notes, "case: "+r.Note)
	}
	if r.Mount != nil && r.Mount.KitNote != "" {
		notes = append(notes, "kit: "+r.Mount.KitNote)
	}
	return notes
}

// printer gathers the text, so that it is written whole.
type printer struct {
	text  strings.Builder
	units Units
	names Names
	works bool // the answer works; otherwise its settings are not to be used
}

// told returns sentences with the lengths in them told in the units asked for.
func (p *printer) told(sentences []string) []string { return p.units.AllWords(sentences, p.names) }

// inWords is told for one sentence.
func (p *printer) inWords(s string) string { return p.units.Words(s, p.names) }

// heading starts a section, with a remark beside its title or, where that is too
// long, below.
func (p *printer) heading(title, remark string) {
	line := title
	if remark != "" {
		line += "  (" + remark + ")"
	}
	if utf8.RuneCountInString(line) <= lineWidth {
		p.text.WriteString("\n" + line + "\n")
		return
	}
	p.text.WriteString("\n" + title + "\n")
	p.wrapped("  ", "("+remark+")")
}

// table writes rows of cells, aligned, without the blanks of empty cells at the
// end.
func (p *printer) table(rows [][]string) {
	var aligned strings.Builder
	t := tabwriter.NewWriter(&aligned, 0, 0, 3, ' ', tabwriter.TabIndent)
	for _, row := range rows {
		fmt.Fprintln(t, "  "+strings.Join(row, "\t")) // a strings.Builder does not fail
	}
	t.Flush() // likewise
	for line := range strings.Lines(aligned.String()) {
		p.text.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
}

// list writes a section of sentences, if there are any.
func (p *printer) list(title string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	p.heading(title, "")
	for _, s := range sentences {
		p.wrapped("  - ", s)
	}
}

// perPosture writes what there is to say of every posture, those of which the same
// is said together. It says nothing of a posture for which words is empty, and
// returns whether it said anything.
func (p *printer) perPosture(title, remark string, r *Report, words func(*Posture) string) bool {
	var order []string
	names := make(map[string][]string)
	for i := range r.Postures {
		f := &r.Postures[i]
		s := words(f)
		if s == "" {
			continue
		}
		if names[s] == nil {
			order = append(order, s)
		}
		names[s] = append(names[s], f.Name)
	}
	if len(order) == 0 {
		return false
	}
	p.heading(title, remark)
	for _, s := range order {
		p.wrapped("  ", strings.Join(names[s], ", ")+": "+s)
	}
	return true
}

// wrapped writes a paragraph after a first indent, later lines as far in.
func (p *printer) wrapped(indent, s string) {
	line := indent
	blank := strings.Repeat(" ", utf8.RuneCountInString(indent))
	at := utf8.RuneCountInString(indent)
	fresh := true
	for _, word := range strings.Fields(s) {
		n := utf8.RuneCountInString(word)
		if !fresh && at+1+n > lineWidth {
			p.text.WriteString(line + "\n")
			line, at, fresh = blank, len(blank), true
		}
		if !fresh {
			line += " "
			at++
		}
		line += word
		at += n
		fresh = false
	}
	p.text.WriteString(line + "\n")
}
