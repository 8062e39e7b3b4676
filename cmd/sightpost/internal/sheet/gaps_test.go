package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/sheet"
)

// TestGivenSpacesAreListed says that every space that someone measured is on the sheet,
// however far the mount is from it.
func TestGivenSpacesAreListed(t *testing.T) {
	far := 0
	for _, name := range caseNames(t) {
		source := shippedCase(t, name)
		lines := section(t, made(t, source), "CLEARANCES").Lines
		for _, g := range source.Report.Clearances {
			if g.Assumed {
				continue
			}
			if g.ClearanceMM > g.RequiredMM+200 {
				far++
			}
			if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, g.Zone+": ") }) {
				t.Errorf("%s: %s is not on the sheet", name, g.Zone)
			}
		}
	}
	if far == 0 {
		t.Error("no space is far from the mount, so that nothing is tested")
	}
}

// section returns the section of a title.
func section(t *testing.T, c *sheet.Content, title string) sheet.Section {
	t.Helper()
	at := slices.IndexFunc(c.Sections(), func(s sheet.Section) bool { return s.Title == title })
	if at < 0 {
		t.Fatalf("no section %s", title)
	}
	return c.Sections()[at]
}
