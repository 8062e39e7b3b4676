package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// printer gathers text, so that it is written whole.
type printer struct {
	text  strings.Builder
	units units.Units
}

// heading starts a section.
func (p *printer) heading(title, remark string) {
	p.text.WriteString("\n" + title)
	if remark != "" {
		p.text.WriteString("  (" + remark + ")")
	}
	p.text.WriteString("\n")
}

// table writes rows of cells, aligned.
func (p *printer) table(rows [][]string) {
	t := tabwriter.NewWriter(&p.text, 0, 0, 3, ' ', tabwriter.TabIndent)
	for _, row := range rows {
		fmt.Fprintln(t, "  "+strings.Join(row, "\t")) // a strings.Builder does not fail
	}
	t.Flush() // likewise
}

// say writes a paragraph, indented and no wider than a sheet of paper.
func (p *printer) say(format string, args ...any) {
	const width, indent = 100, "  "
	line := indent
	for _, word := range strings.Fields(fmt.Sprintf(format, args...)) {
		if line != indent && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			p.text.WriteString(line + "\n")
			line = indent
		}
		if line != indent {
			line += " "
		}
		line += word
	}
	p.text.WriteString(line + "\n")
}

// value returns v with its unit, to a digit more than anybody measures.
func (p *printer) value(v float64, unit string) string {
	switch unit {
	case "deg":
		return decimals(v, 1) + "°"
	case "kg":
		return decimals(v, 2) + " kg"
	case "mm":
		return p.units.Fine(v, 1)
	}
	return strings.TrimSuffix(strconv.FormatFloat(v, 'g', 4, 64)+" "+unit, " ")
}

// decimals returns v with n decimals and without a negative zero.
func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}

// Filed returns the section that says how r was filed and whether it can be relied on;
// now is its margin as it is evaluated again.
func (r *Record) Filed(now float64) document.Section {
	s := document.Section{ID: "filed", Title: "Filed", Brief: true}
	say := func(format string, args ...any) {
		s.Lines = append(s.Lines, document.Line{Text: document.Say(format, args...)})
	}
	from := "settings as solved"
	switch {
	case len(r.Settings) == 0:
		from = "without a mount"
	case r.Kind == document.Check:
		from = "settings as found"
	}
	say("%s, %s, by version %s", r.Day, from, r.Tool)
	if r.Edited {
		say("EDITED after it was filed: its checksum does not fit.")
	}
	if t := r.differs(now); !t.Empty() {
		s.Lines = append(s.Lines, document.Line{Text: t})
	}
	for line := range strings.Lines(r.Note) {
		say("Note: %s", strings.TrimSpace(line))
	}
	return s
}

// differs says that a margin evaluated again is not the one filed; empty if it is.
func (r *Record) differs(now float64) document.Text {
	const rounding = 0.01 // mm: ten times what rounding for the file leaves open
	if math.Abs(now-r.Result.MarginMM) <= rounding {
		return document.Text{}
	}
	return document.Say("%s was filed with a margin of %.2f mm by version %s; from the same case and settings this version finds %.2f mm",
		r.Name, r.Result.MarginMM, r.Tool, now)
}
