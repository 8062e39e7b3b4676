package page_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// latestWins drags a value upward while answers come back late and out of order, and
// checks that what the page shows never goes back, and ends at the last value.
func latestWins(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	shown := ask[[]float64](w, `(async () => {
		const ask = window.fetch;
		let n = 0;
		window.fetch = async (...args) => { // every other answer takes longer
			const answer = await ask(...args);
			if (n++ % 2 === 0) await new Promise((done) => setTimeout(done, 120));
			return answer;
		};
		const form = document.getElementById("work"), field = document.getElementById("e-measured-eyes-up");
		const shown = [];
		const height = () => Number(document.querySelector("#shown-figure desc").textContent.match(/eyes (\d+)/i)[1]);
		form.addEventListener("drawn", () => shown.push(height()));
		for (let mm = 1100; mm <= 1220; mm += 2) {
			field.value = mm;
			field.dispatchEvent(new Event("input", {bubbles: true}));
			await new Promise((done) => setTimeout(done, 8));
		}
		for (let i = 0; i < 500 && shown.at(-1) !== 1220; i++) await new Promise((done) => setTimeout(done, 20));
		await new Promise((done) => setTimeout(done, 300)); // for any that is still under way
		window.fetch = ask;
		return shown;
	})()`)
	for i := 1; i < len(shown); i++ {
		if shown[i] < shown[i-1] {
			t.Errorf("after %v mm the page shows %v mm again", shown[i-1], shown[i])
		}
	}
	if len(shown) < 3 || shown[len(shown)-1] != 1220 {
		t.Errorf("shown: %v, want a few heights that end with 1220", shown)
	}
}

// wholePageWins has what was asked for before the whole page was shown again come back
// after it, and types while that is under way.
func wholePageWins(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.until("the answer", `document.querySelector("#in-words") !== null`)
	w.do(chromedp.Evaluate[chromedp.Void](`{
		const ask = window.fetch, late = {answer: 500, "./": 400};
		window.fetch = async (...args) => {
			const answer = await ask(...args);
			await new Promise((done) => setTimeout(done, late[args[0]] ?? 0));
			return answer;
		};
	}`))
	w.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("work").addEventListener("drawn", // before the answer is asked for
			() => document.querySelector("#files button[value=new]").click(), {once: true})`))
	w.set("e-measured-eyes-up", "1150")
	time.Sleep(time.Second) // for what is late
	w.settled()
	if said := w.text("#part-answer"); !strings.Contains(said, "once all measures are in") {
		t.Error("under the form there is what was asked for before another case was opened")
	}
	w.example()
	w.do(chromedp.Evaluate[chromedp.Void](`{
		` + typing("units", "cm") + typing("e-screen-mass", "1.9") + typing("e-measured-eyes-up", "1200") + `
	}`)) // 1200 is typed in mm
	time.Sleep(time.Second)
	w.settled()
	state := ask[struct{ Mass, Up, Text string }](w, `({
		Mass: document.getElementById("e-screen-mass").value, Up: document.getElementById("e-measured-eyes-up").value,
		Text: document.getElementById("text").value,
	})`)
	if state.Mass != "1.9" || state.Up != "120" || !strings.Contains(state.Text, "1.9 kg") || !strings.Contains(state.Text, "up: 1200 mm") {
		t.Errorf("what was typed while the units changed is lost: mass %s, eyes up %s", state.Mass, state.Up)
	}
}

// comesBack types, and has the page shown again, by its own address, by the way back, and in
// another tab: the work is there. Nothing is asked, for nothing can be lost.
func comesBack(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	changed := func() bool { t.Helper(); return !ask[bool](w, `document.getElementById("case-changed").hidden`) }
	w.run(typing("e-measured-eyes-up", "1151"))
	w.settled()
	w.run(typing("record-note", "a new cushion"))
	time.Sleep(time.Second) // what was typed in the last moment may be lost
	if w.warned() {
		t.Error("a page of which everything is kept asks whether to leave")
	}
	w.until("the page again", `document.getElementById("shown-figure") !== null`)
	w.says("shown again", map[string]string{"e-measured-eyes-up": "1151", "record-note": "a new cushion"})
	if !changed() {
		t.Error("what is not saved is not called so")
	}
	w.settled()
	w.do(chromedp.Navigate("about:blank"))
	w.do(chromedp.NavigateBack())
	w.until("the page by the way back", `document.getElementById("shown-figure") !== null`)
	w.says("by the way back", map[string]string{"e-measured-eyes-up": "1151"})
	other := ask[string](w, `(async () => {
		const own = document.querySelector("[name=window]").value;
		const text = await (await fetch(location.href)).text();
		return new DOMParser().parseFromString(text, "text/html").querySelector("#e-measured-eyes-up").value + " " + own;
	})()`)
	if !strings.HasPrefix(other, "1151 ") {
		t.Errorf("another tab at this address has %s", other)
	}
	w.click(`#files button[value="save"]`)
	w.click(`button[value="file"]`)
	if changed() {
		t.Error("what was saved and filed counts as not saved")
	}
	const seen = `(() => {
		const box = document.getElementById("notice").getBoundingClientRect();
		return box.height > 0 && box.top >= 0 && box.bottom <= innerHeight;
	})()`
	if !ask[bool](w, seen) {
		t.Error("that it was filed cannot be seen where the button was pressed")
	}
	w.set("e-measured-eyes-up", "1150")
	if !changed() || ask[bool](w, seen) {
		t.Error("a change is not told beside the name of the file, or the notice is still there")
	}
	w.run(`document.getElementById("undo").click()`)
	w.settled()
	if changed() {
		t.Error("a change that was undone counts beside the name of the file")
	}
}

// warned has the page left and reports whether the browser asks first; it then stays.
// Browsers ask only for pages that someone has pressed a key on.
func (w *tab) warned() bool {
	w.Helper()
	w.press(kb.Shift)
	ctx, cancel := context.WithTimeout(w.ctx, patience)
	defer cancel()
	dialogs, loads := chromedp.Events(ctx, cdppage.JavascriptDialogOpening), chromedp.Events(ctx, cdppage.LoadEventFired)
	asked := make(chan bool, 2)
	go func() {
		for d, err := range dialogs {
			if err == nil && d.Type == cdppage.DialogTypeBeforeunload {
				_, err = chromedp.Call(ctx, cdppage.HandleJavaScriptDialog, cdppage.HandleJavaScriptDialogParams{})
				asked <- err == nil
			}
			return
		}
	}()
	go func() {
		for _, err := range loads {
			if err == nil {
				asked <- false
			}
			return
		}
	}()
	w.do(chromedp.Evaluate[chromedp.Void](`setTimeout(() => location.reload(), 0)`))
	select {
	case a := <-asked:
		return a
	case <-ctx.Done():
		w.Fatal("the page is neither left nor asked about")
		return false
	}
}

// errorsBeside types what is not valid and checks that it stays in its field with
// the command line's words beside it, read to those who cannot see it.
func errorsBeside(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	for _, tt := range []struct{ id, typed, words string }{
		{"e-measured-eyes-up", "118 apples", "apples"},
		{"e-measured-back-angle", "200", "45"},
		{"e-tracker-near", "-3", "-3"},
	} {
		was := ask[string](w, fmt.Sprintf(`document.getElementById(%q).value`, tt.id))
		w.set(tt.id, tt.typed)
		said := w.text("#" + tt.id + "-problem")
		if !strings.Contains(said, tt.words) {
			t.Errorf("%s: beside %q there is %q, want %q in it", tt.id, tt.typed, said, tt.words)
		}
		state := ask[struct{ Value, Invalid, Told string }](w, fmt.Sprintf(`(() => {
			const f = document.getElementById(%q);
			return {Value: f.value, Invalid: f.getAttribute("aria-invalid"), Told: f.getAttribute("aria-describedby")};
		})()`, tt.id))
		if state.Value != tt.typed || state.Invalid != "true" || !strings.Contains(state.Told, tt.id+"-problem") {
			t.Errorf("%s: %+v", tt.id, state)
		}
		w.set(tt.id, was)
		if hidden := ask[bool](w, fmt.Sprintf(`document.getElementById(%q).hidden`, tt.id+"-problem")); !hidden {
			t.Errorf("%s: the problem still shows when it is mended", tt.id)
		}
	}
}

// drawingTurns turns the view3d by buttons, keys and mouse.
func drawingTurns(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, false)
	w.example()
	w.set("figure-choice", "view3d")
	title := func() string { return w.text("#shown-figure title") }
	before := title()
	turned := func(how string) {
		t.Helper()
		w.settled()
		if now := title(); now == before || !strings.Contains(now, "3-D view") {
			t.Errorf("%s: the drawing is still %q", how, now)
		} else {
			before = now
		}
	}
	w.click(`button[data-turn="15"]`)
	turned("a button")
	w.do(chromedp.Focus(chromedp.CSS(`button[data-turn="15"]`)))
	w.press(kb.ArrowUp)
	turned("an arrow key")
	box := ask[struct{ X, Y float64 }](w, `(() => {
		const f = document.getElementById("shown-figure");
		f.scrollIntoView({block: "center", behavior: "instant"});
		const r = f.getBoundingClientRect();
		return {X: r.x + r.width / 2, Y: r.y + r.height / 2};
	})()`)
	w.do(chromedp.DragAndDropXY(box.X, box.Y, box.X+80, box.Y, 5))
	turned("the mouse")
	w.click("#enlarge")
	if !ask[bool](w, `document.getElementById("large").open && document.querySelector("#large svg") !== null`) {
		t.Error("the drawing is not seen large")
	}
	if ids := ask[int](w, `[...document.querySelectorAll("[id]")].length - new Set([...document.querySelectorAll("[id]")].map((e) => e.id)).size`); ids != 0 {
		t.Errorf("%d ids are there twice", ids)
	}
	w.press(kb.Escape)
	if ask[bool](w, `document.getElementById("large").open`) {
		t.Error("Escape does not close the large drawing")
	}
}
