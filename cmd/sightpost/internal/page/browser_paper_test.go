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

var update = flag.Bool("update", false, "take the picture of the page for the guide anew; look at it before committing")

// onPaper prints the page of every shipped case: one sheet of paper with the setup
// sheet and nothing else.
func onPaper(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	cases, err := filepath.Glob(filepath.Join(w.folder, "cases", "*.yaml"))
	if err != nil || len(cases) < 9 {
		t.Fatalf("%d cases (%v)", len(cases), err)
	}
	for _, file := range cases {
		name := filepath.Base(file)
		w.set("case", "cases/"+name)
		w.click(`button[value="open"]`)
		w.until("the answer to "+name, `document.querySelector("#in-words pre") !== null`)
		w.onSheet(name, "a4", chromedp.PaperA4)
		w.onSheet(name, "letter", chromedp.PaperLetter)
	}
}

// onSheet prints the page on paper of a size and counts the sheets.
func (w *tab) onSheet(name, paper string, size chromedp.PaperSize) {
	w.Helper()
	w.set("paper", paper)
	w.until("the sheet on "+paper, `document.getElementById("part-print").className.includes(`+quoted(paper)+`)`)
	pdf, err := chromedp.Run(w.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		w.Fatal(err)
	}
	pages := regexp.MustCompile(`/Type\s*/Page\b`)
	if n := len(pages.FindAll(pdf, -1)); n != 1 {
		w.Errorf("%s: on %s the page prints on %d sheets", name, paper, n)
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
			chromedp.EmulateViewport(1280, 860),
			chromedp.Evaluate[chromedp.Void](`document.getElementById("part-case").open = false;
				document.getElementById("part-measured").open = true; window.scrollTo(0, 0)`),
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
