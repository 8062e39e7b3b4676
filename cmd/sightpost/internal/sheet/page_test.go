package sheet_test

import (
	"bytes"
	"flag"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/sheet"
)

//go:generate go test . -update

// update rewrites the golden pages: go test ./cmd/sightpost/internal/sheet -update.
var update = flag.Bool("update", false, "rewrite the golden pages")

// page returns the sheet as a page.
func page(t *testing.T, c *sheet.Content, paper sheet.Paper) string {
	t.Helper()
	var out bytes.Buffer
	if err := c.WriteHTML(&out, paper); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// pageText returns the words of the page without its figures, as they are read.
func pageText(t *testing.T, c *sheet.Content, paper sheet.Paper) string {
	t.Helper()
	text := withoutFigures(page(t, c, paper))
	_, text, _ = strings.Cut(text, "</head>")
	text = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, " ")
	return strings.Join(strings.Fields(html.UnescapeString(text)), " ")
}

// withoutFigures leaves the figures and their letters out, which are tested where they are
// made.
func withoutFigures(page string) string {
	return regexp.MustCompile(`(?s)<svg.*?</svg>|@font-face[^}]*}`).ReplaceAllString(page, "(figure)")
}

// TestGoldenPages compares pages with those that someone looked at.
func TestGoldenPages(t *testing.T) {
	for name, source := range map[string]sample{
		"checked":    checked(t, "upright-adult"),
		"unmet":      checked(t, "kit-too-short"),
		"place-only": placeOnly(t, "upright-adult"),
	} {
		t.Run(name, func(t *testing.T) {
			c := sheet.New(source.Source)
			got := withoutFigures(page(t, c, sheet.A4))
			golden := filepath.Join("testdata", name+".html")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("differs from %s; run with -update and look at what changed", golden)
			}
		})
	}
}

// TestCodeIsTold: the sheet tells the code of the case, and asks nobody to write it down.
func TestCodeIsTold(t *testing.T) {
	c := made(t, shippedCase(t, "upright-adult"))
	text := page(t, c, sheet.A4)
	if !strings.Contains(text, "Setup sheet&ensp;"+c.Label+"</h1>") || !strings.Contains(text, `<div class="write">date`) {
		t.Error("the sheet lacks its code, or room for the date")
	}
	if strings.Contains(text, `<div class="write">code`) {
		t.Error("the sheet asks for the code that it tells")
	}
}

// TestSelfContained looks for anything that a page would fetch or run.
func TestSelfContained(t *testing.T) {
	c := sheet.New(oddLetters(t).Source)
	text := strings.ReplaceAll(page(t, c, sheet.A4), "src:url(data:", "") // letters that the page holds itself
	for _, outside := range []string{"<script", "<link", "<img", "src=", "url(", "@import", "<b>&amp;"} {
		if strings.Contains(text, outside) {
			t.Errorf("the page has %q", outside)
		}
	}
	if n := strings.Count(text, "<svg"); n != 3 {
		t.Errorf("%d figures, want 3", n)
	}
}

// TestSameBytes makes every sheet twice.
func TestSameBytes(t *testing.T) {
	source := shippedCase(t, "upright-adult")
	for _, paper := range papers {
		var pdfs, pages [2]bytes.Buffer
		for i := range pdfs {
			c := sheet.New(source.Source)
			if err := c.WritePDF(&pdfs[i], paper); err != nil {
				t.Fatal(err)
			}
			if err := c.WriteHTML(&pages[i], paper); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(pdfs[0].Bytes(), pdfs[1].Bytes()) {
			t.Errorf("%v: two PDFs of one case differ", paper)
		}
		if !bytes.Equal(pages[0].Bytes(), pages[1].Bytes()) {
			t.Errorf("%v: two pages of one case differ", paper)
		}
		if n := bytes.Count(pdfs[0].Bytes(), []byte("/Type /Page\n")); n != 3 {
			t.Errorf("%v: %d pages, want 3", paper, n)
		}
	}
}
