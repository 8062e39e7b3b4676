package sheet_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// TestReadBack has pdftotext of Poppler read every sheet, looks for every number of
// the JSON object, and checks that no two words overlap or leave the page. It runs
// where SIGHTPOST_PDFTOTEXT names the program.
func TestReadBack(t *testing.T) {
	tool := os.Getenv("SIGHTPOST_PDFTOTEXT")
	if tool == "" {
		t.Skip("SIGHTPOST_PDFTOTEXT names no program that turns PDF into text")
	}
	for name, source := range allSources(t) {
		for _, paper := range papers {
			t.Run(name+" "+paper.String(), func(t *testing.T) {
				c := sheet.New(source.Source)
				var pdf bytes.Buffer
				if err := c.WritePDF(&pdf, paper); err != nil {
					t.Fatal(err)
				}
				file := filepath.Join(t.TempDir(), "sheet.pdf")
				if err := os.WriteFile(file, pdf.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				// line by line across the columns, and each column by itself, in which words that wrap go on
				text := strings.Join(strings.Fields(read(t, tool, "-layout", file, "-")+read(t, tool, file, "-")), " ")
				if source.Units == units.MM && name != "odd letters" {
					numbersIn(t, source.Report, text)
				}
				pages := strings.SplitAfter(read(t, tool, "-bbox", file, "-"), "</page>")
				for _, boxes := range pages[:len(pages)-1] {
					words(t, boxes, paper)
				}
				if n := len(pages) - 1; n < 1 || n > 4 {
					t.Errorf("%d pages, want one to four", n)
				}
			})
		}
	}
}

// read runs the tool and returns what it prints.
func read(t *testing.T, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", tool, err)
	}
	return string(out)
}

// pointMM is the size of a point.
const pointMM = 25.4 / 72

// words checks the boxes of the words outside the figures, which have tests of their
// own: pdftotext gives a word the whole height of its font, so that words of
// neighboring lines touch, and a little more is allowed.
func words(t *testing.T, boxes string, paper sheet.Paper) {
	t.Helper()
	const touching = 0.35 // mm
	form := regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*?)</word>`)
	width, height := paper.Size()
	var all []sheet.Box
	for _, m := range form.FindAllStringSubmatch(boxes, -1) {
		var v [4]float64
		for i := range v {
			points, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			v[i] = points * pointMM
		}
		b := sheet.Box{What: m[5], X: v[0], Y: v[1], W: v[2] - v[0], H: v[3] - v[1]}
		if b.X < sheet.Edge-touching || b.Y < sheet.Edge-touching || v[2] > width-sheet.Edge+touching || v[3] > height-sheet.Edge+touching {
			t.Errorf("%q is in the margin: %+v", b.What, b)
		}
		for _, o := range all {
			across, down := min(v[2], o.X+o.W)-max(b.X, o.X), min(v[3], o.Y+o.H)-max(b.Y, o.Y)
			if across > touching && down > touching && upright(b) && upright(o) {
				t.Errorf("%q and %q overlap by %.2f by %.2f mm", o.What, b.What, across, down)
			}
		}
		all = append(all, b)
	}
	if len(all) < 150 {
		t.Errorf("only %d words", len(all))
	}
}

// upright reports whether a word is written across: figures write some upward and
// slanted, whose boxes say little.
func upright(b sheet.Box) bool { return b.H < 9 && b.H < 2*b.W || len(b.What) < 2 }
