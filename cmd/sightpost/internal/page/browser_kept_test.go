package page_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// value returns what a field says.
func (w *tab) value(id string) string {
	w.Helper()
	return ask[string](w, fmt.Sprintf(`document.getElementById(%q)?.value ?? "(none)"`, id))
}

// says checks what fields say, by their ids.
func (w *tab) says(when string, want map[string]string) {
	w.Helper()
	for id, value := range want {
		if got := w.value(id); got != value {
			w.Errorf("%s: %s says %q, want %q", when, id, got, value)
		}
	}
}

// run runs a script of the page.
func (w *tab) run(script string) {
	w.Helper()
	w.do(chromedp.Evaluate[chromedp.Void]("{" + script + "}"))
}

// slow has every answer from an address take longer, in ms.
func (w *tab) slow(address string, ms int) {
	w.Helper()
	w.run(fmt.Sprintf(`const ask = window.fetch;
		window.fetch = async (...args) => {
			const answer = await ask(...args);
			if (args[0] === %q) await new Promise((done) => setTimeout(done, %d));
			return answer;
		};`, address, ms))
}

// typing is a script that types into a field without waiting for anything.
func typing(id, value string) string {
	return fmt.Sprintf(`{
		const field = document.getElementById(%q);
		field.focus();
		field.value = %q;
		field.dispatchEvent(new Event(field.tagName === "SELECT" ? "change" : "input", {bubbles: true}));
	};`, id, value)
}

// textKept changes the text of the case itself and goes on in the form: both stay.
func textKept(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.click(`#files button[value="save"]`)
	w.run(unfold + `;
		const text = document.getElementById("text");
		text.focus();
		text.value = text.value.replace("up: 1180 mm", "up: 1111 mm # told by the carer");`)
	w.run(typing("e-screen-mass", "1.9"))
	w.settled()
	w.says("after typing in the form", map[string]string{"e-measured-eyes-up": "1111", "e-screen-mass": "1.9"})
	for _, want := range []string{"up: 1111 mm # told by the carer", "1.9 kg"} {
		if !strings.Contains(w.value("text"), want) {
			t.Errorf("there is no %q in the text any more", want)
		}
	}
}

// settingsKept has settings as found, and then slips in a measure.
func settingsKept(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.click(`button[value="take"]`)
	settings := `JSON.stringify([...document.querySelectorAll("[name^='s:'], [name='as-found']")].map((f) => [f.name, f.value]).sort())`
	was := ask[string](w, settings)
	w.set("e-measured-eyes-up", "high")
	w.set("units", "cm") // shows the whole page again
	if now := ask[string](w, settings); now != was {
		t.Errorf("during a slip the mount is set to %s, not %s", now, was)
	}
	w.set("e-measured-eyes-up", "118")
	w.set("units", "mm") // of what was said in full the lengths are shown in it again
	if now := ask[string](w, settings); now != was {
		t.Errorf("after a slip the mount is set to %s, not %s", now, was)
	}
	if !ask[bool](w, `document.querySelector("[name='as-found']").checked`) {
		t.Error("after a slip the settings are no longer those as found")
	}
}

// besideKept fills in what is no part of the case and has the whole page shown again.
func besideKept(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	w.set("case", "cases/upright-adult.yaml")
	w.click(`button[value="open"]`)
	w.set("margin", "15")
	said := map[string]string{"date": "2025-02-03", "record-note": "after the new cushion", "name": "cases/tuesday.yaml", "paper": "letter"}
	for id, value := range said {
		w.set(id, value)
	}
	w.run(`document.querySelector("input[name=kits]").click(); document.querySelector("input[name=sides]").click();`)
	w.set("units", "cm")
	w.says("in other units", said)
	w.says("in other units", map[string]string{"margin": "1.5"})
	if n := ask[int](w, `document.querySelectorAll("input[name=kits]:checked, input[name=sides]:checked").length`); n != 2 {
		t.Errorf("%d of 2 boxes are still ticked", n)
	}
	w.set("e-measured-eyes-up", "high")
	w.set("units", "mm")
	w.says("with a slip", said)
	w.set("e-measured-eyes-up", "1180")
	w.run(`const file = document.querySelector("button[value=file]"); file.click(); file.click();`) // by a hand that shakes
	w.settled()
	if files, err := filepath.Glob(filepath.Join(w.folder, "records", "*", "2025-02-03*.yaml")); err != nil || len(files) != 1 {
		t.Errorf("filed: %v (%v); the page says %q", files, err, w.text("#notice"))
	}
	if w.value("date") == "2025-02-03" || w.value("record-note") != "" {
		t.Error("day and note of what was filed are still there, for the next to be filed with")
	}
}

// choicesKept turns the drawing while answers come late, and then slips in a measure.
func choicesKept(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.slow("live", 150)
	w.set("figure-choice", "view3d")
	w.set("turn", "20")
	w.run(`const right = document.querySelector("button[data-turn='15']");
		right.focus();
		(async () => {
			for (let i = 0; i < 4; i++) {
				right.click();
				await new Promise((done) => setTimeout(done, 60));
			}
		})();`)
	w.until("the last turn", `document.querySelector("#turn").value === "80"`)
	w.settled()
	w.run(typing("lift", "3"))
	w.run(`setTimeout(() => {` + typing("lift", "33") + `}, 100)`) // before the answer
	w.until("both digits", `document.querySelector("#lift").value === "33"`)
	w.settled()
	w.set("paper", "letter")
	want := map[string]string{"figure-choice": "view3d", "turn": "80", "lift": "33", "paper": "letter"}
	w.says("after turning", want)
	w.set("e-measured-eyes-up", "high")
	w.set("units", "cm")
	w.set("e-measured-eyes-up", "118")
	w.says("after a slip", want)
	if title := w.text("#shown-figure title"); !strings.Contains(title, "3-D view") {
		t.Errorf("after a slip the drawing is %q", title)
	}
}

// focusKept presses what is beside and under the drawing: the focus stays there.
func focusKept(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.set("figure-choice", "view3d")
	w.downloads()
	for _, selector := range []string{"button[data-turn='15']", "button[data-lift='15']", "button[formaction='download/figure.svg']", "button[formaction='download/result.json']"} {
		w.do(chromedp.Focus(chromedp.CSS(selector)))
		for range 2 {
			w.press(kb.Enter)
			w.settled()
			if !ask[bool](w, "document.activeElement.matches("+quoted(selector)+")") {
				t.Errorf("pressed, %s has lost the focus to %+v", selector, w.focus())
			}
		}
	}
	w.do(chromedp.Focus(chromedp.CSS("#in-words-title")))
	w.press(kb.Enter)
	w.set("turn", "10")
	first := w.text("#part-answer")
	w.set("e-measured-eyes-up", "1170")
	w.until("the answer", `document.querySelector("#in-words") !== null && document.querySelector("#part-answer").textContent !== `+quoted(first))
	if at := w.focus(); at.ID != "in-words-title" || at.Closed {
		t.Errorf("told again, the words have lost the focus to %+v, or are folded away", at)
	}
}

// failedDownload asks for what cannot be had: the page stays and says why.
func failedDownload(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.refused = true
	w.example()
	w.set("e-mount-kit", "") // shows the whole page again
	if !ask[bool](w, `document.getElementById("settings-table").hidden`) {
		t.Error("without a mount there is a table of settings")
	}
	w.set("record-note", "kept")
	w.run(`document.getElementById("settings-table").click()`) // as on a page that is a moment older
	w.settled()
	w.says("after a download that failed", map[string]string{"record-note": "kept"})
	if said := w.text("#trouble"); !strings.Contains(said, "mount") {
		t.Errorf("after a download that failed the page says %q", said)
	}
}

// titlesFollow fills what is folded away and renames an entry of a list: what is open stays open,
// and the titles say what is there.
func titlesFollow(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.click(`button[value="new"]`)
	const more = `document.querySelector("#part-chair > div > .rest")`
	w.run(`document.getElementById("part-chair").open = true; ` + more + `.open = true; document.getElementById("e-chair-size").open = true`)
	w.run(`document.querySelector('button[value="add postures"]').click()`)
	w.until("the posture", `document.getElementById("e-postures-1-name") !== null`)
	w.settled()
	if !ask[bool](w, more+`.open`) {
		t.Error("a posture that is added closes what was opened")
	}
	w.set("e-chair-size-width", "650")
	if !ask[bool](w, `document.querySelector("#e-chair-size summary .state").hidden`) {
		t.Error("a size that was typed is called not given")
	}
	w.set("e-postures-1-name", "at the desk")
	if got := w.text(`button[value="remove postures[1]"]`); got != "Remove at the desk" {
		t.Errorf("the posture is called at the desk, its button says %q", got)
	}
}
