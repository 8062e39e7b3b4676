package page_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
)

//go:generate go test . -update

var update = flag.Bool("update", false, "take the picture of the page for the guide again; look at it before committing")

// onPaper prints the page on A4 or on letter.
func (w *tab) onPaper(name string, letter bool) {
	w.Helper()
	paper, size := "a4", chromedp.PaperA4
	if letter {
		paper, size = "letter", chromedp.PaperLetter
	}
	if w.value("paper") != paper {
		w.set("paper", paper)
	}
	w.onSheet(name, paper, size)
}

// onSheet prints the page on paper of a size: the setup sheet, which has two to four
// pages, and nothing else.
func (w *tab) onSheet(name, paper string, size chromedp.PaperSize) {
	w.Helper()
	w.until("the sheet on "+paper, `document.getElementById("part-print").className.includes(`+quoted(paper)+`)`)
	pdf, err := chromedp.Run(w.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		w.Fatal(err)
	}
	made, err := chromedp.Run(w.ctx, chromedp.Evaluate[int](`document.querySelectorAll("#part-print .sheet").length`))
	if err != nil {
		w.Fatal(err)
	}
	pages := regexp.MustCompile(`/Type\s*/Page\b`)
	if n := len(pages.FindAll(pdf, -1)); n != made || n < 2 || n > 4 {
		w.Errorf("%s: on %s the page prints on %d sheets, want %d, from 2 to 4", name, paper, n, made)
	}
	if dir := os.Getenv("SIGHTPOST_PICTURES"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "print-"+name+"-"+paper+".pdf"), pdf, 0o644); err != nil {
			w.Fatal(err)
		}
	}
}

// guidePicture takes the picture of the page that the guide shows, when -update asks
// for it, and otherwise checks that there is one.
func guidePicture(t *testing.T, b *chromium) {
	t.Helper()
	const most = 200 << 10
	file := filepath.Join("testdata", "page.png")
	if *update {
		w := b.open(t, false)
		w.example()
		w.do(
			chromedp.EmulateViewport(1280, 1150, chromedp.EmulateScale(0.75)),
			chromedp.Evaluate[chromedp.Void](`document.getElementById("part-case").open = false;
				document.getElementById("part-measured").open = true; document.getElementById("notice").hidden = true; window.scrollTo(0, 0)`),
		)
		picture, err := chromedp.Run(w.ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, picture, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	picture, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(picture, []byte("\x89PNG")) || len(picture) > most {
		t.Errorf("%s is no PNG, or has %d bytes, more than %d", file, len(picture), most)
	}
}
