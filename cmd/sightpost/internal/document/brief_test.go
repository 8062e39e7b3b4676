package document_test

import (
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/plots/units"
)

// TestBrief: the summary says nothing that the document does not, in its order, and leaves
// out no warning and no reason.
func TestBrief(t *testing.T) {
	far := asSet()
	far[1], far[5] = 255, 120
	for name, settings := range map[string]mount.Settings{"works": asSet(), "fails": far} {
		c := sample()
		r := check(t, c, settings)
		rep := reported(t, document.Check, c, r)
		d := rep.Document()
		verdict, items := document.Brief(document.Check, c, r)
		if verdict.In(units.MM) != "With the settings as found: "+d.Verdict.In(units.MM) {
			t.Errorf("%s: verdict %q, want %q", name, verdict.In(units.MM), d.Verdict.In(units.MM))
		}
		lines := []string{d.Summary.In(units.MM)}
		for _, s := range append(d.Sections, d.Unmeasured) {
			for _, l := range s.Lines {
				lines = append(lines, l.In(units.MM))
			}
		}
		words := strings.Join(lines, "\n")
		if rep.Works != (name == "works") || len(items) < 6 {
			t.Errorf("%s: works %v, with %d lines", name, rep.Works, len(items))
		}
		fails, warns, last := 0, 0, 0
		for _, item := range items {
			if item.Fails {
				fails++
			}
			if item.Warns {
				warns++
			}
			for _, text := range item.Texts {
				first, _, _ := strings.Cut(text.In(units.MM), ". ")
				at := strings.Index(words, strings.TrimSuffix(first, "."))
				if at < last {
					t.Errorf("%s: %q is at %d of the document, after what is at %d", name, first, at, last)
				}
				last = at
			}
		}
		if fails != len(rep.Reasons) || warns != len(rep.Warnings) {
			t.Errorf("%s: %d reasons and %d warnings, want %d and %d", name, fails, warns, len(rep.Reasons), len(rep.Warnings))
		}
	}
}
