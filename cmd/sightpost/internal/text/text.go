// Package text renders a document to a terminal: sections with their titles in
// capitals, aligned tables, and no line wider than a sheet of paper. [Write] is all
// there is to it.
package text

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// width is how many characters a line has at most, but for a single word that is
// longer.
const width = 100

// Options say how a document is rendered. The zero value is the short form in mm.
type Options struct {
	Units units.Units
	// Full shows everything.
	Full bool
}

// Write renders d whole. The error is w's.
func Write(w io.Writer, d *document.Document, o Options) error {
	p := printer{Options: o}
	p.wrap("", d.Label+": "+d.Verdict.In(o.Units))
	if !d.Summary.Empty() {
		p.wrap("  ", d.Summary.In(o.Units))
	}
	brief := false
	for _, s := range d.Sections {
		if !o.Full {
			s = s.Short()
		}
		if s.Empty() {
			continue
		}
		if !s.Brief || !brief {
			p.text.WriteByte('\n')
		}
		if brief = s.Brief; brief {
			p.brief(&s)
		} else {
			p.section(&s)
		}
	}
	_, err := io.WriteString(w, strings.ReplaceAll(p.text.String(), string(document.NoBreak), " "))
	return err
}

// printer gathers the text, so that it is written whole.
type printer struct {
	Options
	text strings.Builder
}

func (p *printer) section(s *document.Section) {
	title := strings.ToUpper(s.Title)
	if note := s.Note.In(p.Units); note == "" {
		p.wrap("", title)
	} else if line := title + "  (" + note + ")"; utf8.RuneCountInString(line) <= width {
		p.text.WriteString(line + "\n")
	} else {
		p.wrap("", title)
		p.wrap("  ", "("+note+")")
	}
	p.table(s)
	for _, l := range s.Lines {
		p.wrap("  - ", l.In(p.Units))
	}
}

// brief writes the lines of s after its title.
func (p *printer) brief(s *document.Section) {
	const indent = 17 // of the longest title of a brief section
	title := strings.ToUpper(s.Title)
	for _, l := range s.Lines {
		p.hang(fmt.Sprintf("%-*s %s", indent-1, title, l.In(p.Units)), indent)
		title = ""
	}
}

// table writes the rows of s in aligned columns. What is too wide for the last column
// is wrapped within it.
func (p *printer) table(s *document.Section) {
	var rows [][]string
	if s.Head != nil && len(s.Rows) > 0 {
		rows = append(rows, s.Head)
	}
	for _, r := range s.Rows {
		rows = append(rows, r.In(p.Units))
	}
	wide := columns(rows)
	for _, cells := range rows {
		var line strings.Builder
		line.WriteByte(' ')
		last := 2 // where the last cell begins
		for i, cell := range cells {
			if i < len(cells)-1 {
				cell = fmt.Sprintf("%-*s ", wide[i], cell)
				last += wide[i] + 2
			}
			line.WriteString(" " + cell)
		}
		p.hang(strings.TrimRight(line.String(), " "), last)
	}
}

// columns returns how wide each column is. The last cell of a row does not widen
// its column.
func columns(rows [][]string) []int {
	var wide []int
	for _, cells := range rows {
		for i, cell := range cells {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			if i < len(cells)-1 {
				wide[i] = max(wide[i], utf8.RuneCountInString(cell))
			}
		}
	}
	return wide
}

// wrap writes words after an indent, later lines as far in.
func (p *printer) wrap(indent, words string) {
	p.hang(indent+strings.Join(strings.Fields(words), " "), utf8.RuneCountInString(indent))
}

// hang writes a line, broken between words where it is too long, what follows after
// as many blanks as said.
func (p *printer) hang(line string, indent int) {
	indent = min(indent, width*3/4)
	runes := []rune(document.Unbroken(line))
	for len(runes) > width {
		at := lastBlank(runes[:width+1], indent)
		if at < 0 {
			next := slices.Index(runes[width:], ' ')
			if next < 0 {
				break
			}
			at = width + next
		}
		p.text.WriteString(strings.TrimRight(string(runes[:at]), " ") + "\n")
		runes = append([]rune(strings.Repeat(" ", indent)), []rune(strings.TrimLeft(string(runes[at:]), " "))...)
	}
	p.text.WriteString(string(runes) + "\n")
}

// lastBlank returns the place of the last blank in line beyond its indent; -1 if there
// is none.
func lastBlank(line []rune, indent int) int {
	for i := len(line) - 1; i > indent; i-- {
		if line[i] == ' ' && strings.TrimSpace(string(line[:i])) != "" {
			return i
		}
	}
	return -1
}
