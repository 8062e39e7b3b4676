package record

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/document"
)

// printer gathers text, so that it is written whole.
type printer struct {
	text  strings.Builder
	units document.Units
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
		return p.units.Fine(v)
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

// set returns a setting as it is read off the mount. A record keeps no steps of
// scales: what is not whole is told to the decimals it has.
func (p *printer) set(s Setting) string {
	return p.units.Setting(&document.Setting{Unit: s.Unit, Step: 1}, s.Value)
}

// WriteText writes what a record holds. The error is the writer's.
func (r *Record) WriteText(w io.Writer, u document.Units) error {
	p := &printer{units: u}
	verdict := "the screen worked"
	if !r.Result.Works {
		verdict = "the screen did NOT work for all that must"
	}
	fmt.Fprintf(&p.text, "%s, %s: %s\n", r.Code, r.Name, verdict)
	from := "settings as they were found by solving the case"
	if r.Kind == document.Check {
		from = "settings as they stood on the mount"
	}
	if len(r.Settings) == 0 {
		from = "without a mount: the best place of the screen"
	}
	p.say("%s; filed by version %s", from, r.Tool)
	if r.Edited {
		p.say("EDITED after it was filed: its checksum does not fit.")
	}
	p.settings(r)
	p.screen(r.Result.Screen)
	p.heading("ROOM TO MOVE", "how far the head may move beyond its usual movement; if negative, right in sign only")
	rows := make([][]string, 0, len(r.Result.Postures))
	for _, f := range r.Result.Postures {
		need := "if it can"
		if f.MustWork {
			need = "must work"
		}
		rows = append(rows, []string{f.Posture, need, p.units.Fine(f.MarginMM), f.Limiting})
	}
	p.table(rows)
	if r.Note != "" {
		p.heading("NOTED", "")
		for line := range strings.Lines(r.Note) {
			p.say("%s", line)
		}
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// settings lists the settings of a record.
func (p *printer) settings(r *Record) {
	if len(r.Settings) == 0 {
		return
	}
	p.heading("SETTINGS", "from the clamp outward; clamped on the person's "+r.Side)
	rows := make([][]string, 0, len(r.Settings))
	for i, s := range r.Settings {
		rows = append(rows, []string{strconv.Itoa(i + 1), s.Name, p.set(s)})
	}
	p.table(rows)
}

// screen says where the screen stood.
func (p *printer) screen(s Screen) {
	p.heading("WHERE THE SCREEN STOOD", fmt.Sprintf("sitting %q, in chair axes", s.Posture))
	p.table([][]string{
		{"middle of the display area", p.units.Length(s.UpMM) + " up, " + p.units.Length(s.ForwardMM) + " forward, " + p.units.Length(s.LeftMM) + " to the person's left"},
		{"lean of the face", decimals(s.TiltDeg, 1) + "° back from vertical"},
		{"turn of the face", decimals(s.RotationDeg, 1) + "° toward the person's left"},
		{"slope of the top edge", decimals(s.RollDeg, 1) + "° up toward the person's right"},
		{"eyes to the middle", p.units.Length(s.FromEyesMM)},
	})
}
