package text_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// TestWrite renders one thing at a time.
func TestWrite(t *testing.T) {
	say := func(words string, args ...any) document.Line {
		return document.Line{Text: document.Say(words, args...)}
	}
	row := func(cells ...string) document.Row {
		r := document.Row{}
		for _, c := range cells {
			r.Cells = append(r.Cells, document.Quote(c))
		}
		return r
	}
	long := strings.TrimSpace(strings.Repeat("word ", 30)) // 149 letters; the 20th word ends at 99
	for _, test := range []struct {
		name     string
		sections []document.Section
		options  text.Options
		want     string
	}{
		{"nothing but the verdict", nil, text.Options{}, ""},
		{"an empty section is left out", []document.Section{{Title: "Nothing"}}, text.Options{}, ""},
		{
			"a title with its note, and lines",
			[]document.Section{{Title: "Notes", Note: document.Quote("as written"), Lines: []document.Line{say("one"), say("two")}}},
			text.Options{},
			"\nNOTES  (as written)\n  - one\n  - two\n",
		},
		{
			"lengths in the units that are asked for",
			[]document.Section{{Title: "Tape", Lines: []document.Line{say("up %s", document.Length(254))}}},
			text.Options{Units: units.Inch},
			"\nTAPE\n  - up 10 in\n",
		},
		{
			"a long line goes on below its first word",
			[]document.Section{{Title: "Long", Lines: []document.Line{say("%s", long)}}},
			text.Options{},
			"\nLONG\n  - " + long[:94] + "\n    " + long[95:] + "\n",
		},
		{
			"a word longer than a line stays whole",
			[]document.Section{{Title: "Word", Lines: []document.Line{say("a %s b", strings.Repeat("x", 120))}}},
			text.Options{},
			"\nWORD\n  - a\n    " + strings.Repeat("x", 120) + "\n    b\n",
		},
		{
			"columns are aligned, but for the last",
			[]document.Section{{Title: "Table", Head: []string{"name", "value"}, Rows: []document.Row{row("post", "1 mm"), row("é", "−2 mm")}}},
			text.Options{},
			"\nTABLE\n  name  value\n  post  1 mm\n  é     −2 mm\n",
		},
		{
			"short sections follow one another without a blank line",
			[]document.Section{
				{Title: "Weight", Brief: true, Lines: []document.Line{say("one"), say("two")}},
				{Title: "View ahead", Brief: true, Lines: []document.Line{say("three")}},
			},
			text.Options{},
			"\nWEIGHT           one\n                 two\nVIEW AHEAD       three\n",
		},
		{
			"the short form leaves out what is for the full one",
			[]document.Section{
				{Title: "Both", Lines: []document.Line{say("kept"), {Text: document.Say("left out"), Full: true}}},
				{Title: "Full", Full: true, Lines: []document.Line{say("left out")}},
			},
			text.Options{},
			"\nBOTH\n  - kept\n",
		},
		{
			"the full form leaves out nothing",
			[]document.Section{{Title: "Both", Full: true, Lines: []document.Line{say("kept"), {Text: document.Say("this too"), Full: true}}}},
			text.Options{Full: true},
			"\nBOTH\n  - kept\n  - this too\n",
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := &document.Document{Label: "bench", Verdict: document.Say("Tracks."), Summary: document.Say("Margin %s.", document.Quote("known")), Sections: test.sections}
			var got strings.Builder
			if err := text.Write(&got, d, test.options); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff("bench: Tracks.\n  Margin known.\n"+test.want, got.String()); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		})
	}
}
