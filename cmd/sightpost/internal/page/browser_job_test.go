package page_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// wholeJob does every step of the job once: types a measure, turns the drawing, takes the
// settings, downloads the sheet, saves the case, and files the assessment, of which the
// settings must be those that the command line finds for the saved case.
func wholeJob(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	downloads := w.downloads()
	w.example()
	w.run(unfold)
	w.do(chromedp.Focus(chromedp.CSS("#e-measured-eyes-up")))
	w.press("5" + kb.Backspace)
	w.settled()
	first := w.text("#part-answer")
	w.set("e-measured-eyes-up", "high")
	if said := w.text("#e-measured-eyes-up-problem"); !strings.Contains(said, "high") {
		t.Errorf("a word typed for a height is answered by %q", said)
	}
	if !ask[bool](w, `document.querySelector("form[data-stale] #shown-figure svg") !== null`) {
		t.Error("beside a slip the last good drawing is not shown in gray")
	}
	w.set("e-measured-eyes-up", "1150")
	w.until("the verdict", `document.querySelector("#part-status .status").dataset.state === "works"`)
	w.until("the answer", `document.querySelector("#in-words") !== null && document.querySelector("#part-answer").textContent !== `+quoted(first))
	w.set("figure-choice", "view3d")
	before := w.text("#shown-figure title")
	w.click(`button[data-turn="15"]`)
	if now := w.text("#shown-figure title"); now == before || !strings.Contains(now, "3-D view") {
		t.Errorf("turned, the drawing is still %q", now)
	}
	w.click(`button[value="take"]`)
	if w.value("s-post-height") == "" {
		t.Error("the settings were not taken")
	}
	w.click("#undo")
	w.click(`button[formaction="download/sheet.pdf"]`)
	if sheet := w.downloaded(downloads, "*.pdf"); !bytes.HasPrefix(sheet, []byte("%PDF-")) {
		t.Errorf("the sheet begins with %.8q", sheet)
	}
	w.click(`button[formaction="download/result.json"]`)
	result := w.downloaded(downloads, "*.json")
	w.mu.Lock()
	if slices.ContainsFunc(w.asked, func(a string) bool { return strings.HasSuffix(a, "/keep") }) {
		t.Error("beside the answer to what was typed, something else was asked for")
	}
	w.mu.Unlock()
	w.set("name", "case.yaml")
	w.click(`#files button[value="save"]`)
	saved := filepath.Join(w.folder, "case.yaml")
	if _, err := os.Stat(saved); err != nil {
		t.Fatalf("%v; the page says %q", err, w.text("#notice"))
	}
	sameSettings(t, result, solved(t, saved))
	w.set("date", "2025-02-03")
	w.click(`button[value="file"]`)
	if files, err := filepath.Glob(filepath.Join(w.folder, "records", "*", "2025-02-03*.yaml")); err != nil || len(files) != 1 {
		t.Errorf("filed: %v (%v); the page says %q", files, err, w.text("#notice"))
	}
}
