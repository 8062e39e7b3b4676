package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// undone takes changes back and brings them again.
func undone(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	const field, other = "e-measured-eyes-up", "e-screen-mass"
	was, mass := w.value(field), w.value(other)
	w.set(field, "1150")
	w.set(other, "1.8")
	for _, step := range []struct{ press, field, other string }{
		{"undo", "1150", mass}, {"undo", was, mass}, {"redo", "1150", mass}, {"redo", "1150", "1.8"}, {"undo", "1150", mass},
	} {
		w.click("#" + step.press)
		w.says("after "+step.press, map[string]string{field: step.field, other: step.other})
	}
	if text := w.value("text"); !strings.Contains(text, "1150 mm") || strings.Contains(text, "1.8 kg") {
		t.Error("the text of the case has not followed")
	}
	w.confirmsWhole("part-tracker")
	w.click(`button[value="measures"]`)
	w.confirmsWhole("e-mount-kit-parts-2")
}

// confirmsWhole confirms all numbers of a part of the form by one key, and takes that back.
func (w *tab) confirmsWhole(part string) {
	w.Helper()
	w.run(unfold)
	marks := func() int { w.Helper(); return ask[int](w, `document.querySelectorAll("#`+part+` .example").length`) }
	before := marks()
	w.do(chromedp.Focus(chromedp.CSS("#" + part + "-example")))
	w.press(kb.Enter)
	w.settled()
	if n := marks(); before < 3 || n != 0 {
		w.Errorf("%s has %d marks, and %d once all are confirmed", part, before, n)
	}
	if said, want := w.text("#said"), fmt.Sprintf("Confirmed %d entries. ", before); !strings.HasPrefix(said, want) {
		w.Errorf("a screen reader says %q, want %q", said, want)
	}
	if !ask[bool](w, `document.activeElement.closest("#`+part+`") !== null && (({top}) => top > 0 && top < innerHeight)(document.activeElement.getBoundingClientRect())`) {
		w.Errorf("the focus has left %s, or the eye: %+v", part, w.focus())
	}
	w.click("#undo")
	if n := marks(); n != before {
		w.Errorf("%s has %d marks again, want %d", part, n, before)
	}
}

// undoneSettings takes settings, undoes that, and brings them again: the mount is then set
// as before, and the page says which settings it judges.
func undoneSettings(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	const asFound, set = `document.querySelector("[name='as-found']").checked`, "s-post-height"
	w.click(`button[value="take"]`)
	taken := w.value(set)
	for _, step := range []struct {
		press, height string
		asFound       bool
	}{{"", taken, true}, {"undo", "", false}, {"redo", taken, true}} {
		if step.press != "" {
			w.click("#" + step.press)
		}
		w.says("after "+step.press, map[string]string{set: step.height})
		if got := ask[bool](w, asFound); got != step.asFound {
			t.Errorf("after %s: the settings are as found: %v", step.press, got)
		}
		if got := strings.HasPrefix(w.text(".verdict"), "With the settings as found: Tracks."); got != step.asFound {
			t.Errorf("after %s: the page says %q", step.press, w.text(".verdict"))
		}
	}
	w.set(set, "300")
	w.click("#undo")
	w.says("undone, what was typed", map[string]string{set: taken})
	w.click(`button[value="file"]`)
	w.click(`button[value="recall"]`)
	from := w.earlier()
	if from == "" {
		t.Error("the page does not know which assessment its settings come from")
	}
	w.click(`button[value="take"]`)
	for _, step := range []struct{ press, from string }{{"undo", from}, {"redo", ""}} {
		w.click("#" + step.press)
		if got := w.earlier(); got != step.from {
			t.Errorf("after %s the settings come from %q, want %q", step.press, got, step.from)
		}
	}
}

// earlier returns the assessment that the settings as found come from.
func (w *tab) earlier() string {
	w.Helper()
	return ask[string](w, `document.querySelector("[name='earlier']").value`)
}

// undoneAtOnce presses undo and redo faster than they are answered, and before what
// was typed is.
func undoneAtOnce(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	const field, other = "e-measured-eyes-up", "e-screen-mass"
	was, mass := w.value(field), w.value(other)
	w.set(field, "1150")
	w.slow("live", 100)
	w.run(typing(other, "1.8") + `document.getElementById("undo").click(); document.getElementById("undo").click()`)
	w.settled()
	w.says("after undoing twice", map[string]string{field: was, other: mass})
	w.run(`document.getElementById("redo").click(); document.getElementById("redo").click()`)
	w.settled()
	w.says("after redoing twice", map[string]string{field: "1150", other: "1.8"})
}

// undoneOpen opens another case and takes that back: the page has the case that it had,
// under its own name.
func undoneOpen(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	for _, name := range []string{"upright-adult", "driver"} {
		w.set("case", "cases/"+name+".yaml")
		w.click(`button[value="open"]`)
	}
	w.do(chromedp.SetUploadFiles(chromedp.CSS("#file"), []string{filepath.Join(w.folder, "cases", "bed-rail.yaml")}))
	w.until("the copy", `document.getElementById("notice")?.textContent.startsWith("Opened a copy of bed-rail.yaml.") === true`)
	w.settled()
	w.click("#undo")
	w.click("#undo")
	text, err := os.ReadFile(filepath.Join(w.folder, "cases", "upright-adult.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if got := w.text("#case-name"); got != "cases/upright-adult.yaml" || w.value("text") != string(text) || w.value("name") != got {
		t.Errorf("undone, the page has the case %s, to be saved as %s", got, w.value("name"))
	}
	if !ask[bool](w, `document.getElementById("case-changed").hidden`) {
		t.Error("undone, the case as its file has it counts as changed")
	}
}

// jobsFollow asks what takes longer and has the page shown again meanwhile: the answer
// comes, stays, and says when the case was changed since.
func jobsFollow(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.slow("job/vary", 800)
	w.run(`document.querySelector("button[data-job=vary]").click(); document.querySelector("#files button[value=save]").click()`)
	w.until("the notice", `document.getElementById("notice")?.textContent.startsWith("Saved") === true`)
	if got := w.text("button[data-job=vary]"); !strings.HasPrefix(got, "Working") {
		t.Errorf("while it is drawn, the button of the new page says %q", got)
	}
	w.until("the answer", `document.querySelector("#job-vary svg") !== null`)
	changed := func() bool { t.Helper(); return ask[bool](w, `!document.getElementById("overtaken-vary").hidden`) }
	if changed() {
		t.Error("the answer counts as one of another case")
	}
	w.set("e-measured-eyes-up", "1150")
	if !changed() {
		t.Error("the answer still counts as one of the case that was changed")
	}
	w.click("#undo")
	if changed() || w.text("#job-vary svg") == "(none)" {
		t.Error("the change was undone, and the answer does not count again")
	}
	w.run(`document.querySelector("button[data-job=vary]").click(); document.querySelector("#files button[value=new]").click()`)
	time.Sleep(1000 * time.Millisecond) // for what is late
	w.settled()
	if got := w.text("#job-vary"); got != "" {
		t.Errorf("a new case has the answer of another: %.60q", got)
	}
}

// changesMade applies a refit: its answer stays that of the case, and does not ask again for
// what is done.
func changesMade(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.click(`button[value="take"]`)
	w.set("e-measured-eyes-up", "1060")
	w.set("e-measured-eyes-forward", "240")
	w.run(`document.querySelector('a[href="#refitting"]').click()`)
	w.until("the answer", `document.querySelector("#job-refit [value=apply]") !== null`)
	w.click("#job-refit [value=apply]")
	const hidden = `document.getElementById("overtaken-refit").hidden && document.querySelector("#job-refit [value=apply]").hidden`
	if !ask[bool](w, hidden) {
		t.Error("once the changes are made, the answer counts as one of another case, or asks for them again")
	}
	w.set("e-measured-eyes-up", "1150")
	if ask[bool](w, hidden) {
		t.Error("the answer still counts as one of the case that was changed")
	}
}
