package page_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"sightpost/cmd/sightpost/internal/cli"
)

// measured is what someone writes down at a chair, by the fields of the form; all of
// it is invented.
func measured() map[string]string {
	return map[string]string{
		"e-label":              "bench-21",
		"e-measured-seat-tilt": "0", "e-measured-back-angle": "100",
		"e-measured-eyes-forward": "150", "e-measured-eyes-left": "0", "e-measured-eyes-up": "1180",
		"e-measured-head-flexion": "5", "e-measured-head-rotation": "0", "e-measured-head-lateral-flexion": "0",
		"e-person-pupil-spacing":    "60",
		"e-person-movement-forward": "30", "e-person-movement-left": "40", "e-person-movement-up": "20",
		"e-tracker-near": "500", "e-tracker-best": "600", "e-tracker-far": "750",
		"e-tracker-across": "40", "e-tracker-up-down": "30", "e-tracker-below": "110", "e-tracker-in-front": "10",
		"e-tracker-aimed-up": "15", "e-tracker-gaze-limit": "36", "e-tracker-accuracy": "0.7", "e-tracker-precision": "0.3",
		"e-screen-display-width": "260", "e-screen-display-height": "165",
		"e-screen-housing-width": "300", "e-screen-housing-height": "230", "e-screen-housing-depth": "45", "e-screen-housing-below": "15",
		"e-screen-mass":            "1.6",
		"e-mount-clamp-at-forward": "380", "e-mount-clamp-at-left": "260", "e-mount-clamp-at-up": "480",
	}
}

// chosen is what is chosen from lists.
func chosen() map[string]string {
	return map[string]string{"e-mount-kit": "kits/two-tube-straight.yaml", "e-mount-side": "left"}
}

// jobByKeyboard does the whole job with nothing but keys: from the empty form to the
// sheet and the filed assessment. The settings must be those that the command line
// finds for the case that the page saved.
func jobByKeyboard(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	downloads := w.downloads()
	w.fillIn(measured(), chosen())
	w.until("the verdict", `document.querySelector("#part-status .status").dataset.state === "works"`)
	w.tabTo(`button[formaction="download/sheet.pdf"]`)
	w.press(kb.Enter)
	if sheet := w.downloaded(downloads, "*.pdf"); !bytes.HasPrefix(sheet, []byte("%PDF-")) {
		t.Errorf("the sheet begins with %.8q", sheet)
	}
	w.tabTo(`button[formaction="download/result.json"]`)
	w.press(kb.Enter)
	result := w.downloaded(downloads, "*.json")
	w.tabTo(`button[value="file"]`)
	w.press(kb.Enter)
	w.settled()
	if files, err := filepath.Glob(filepath.Join(w.folder, "*", "bench-21", "*.yaml")); err != nil || len(files) != 1 {
		more, _ := filepath.Glob(filepath.Join(w.folder, "bench-21", "*.yaml")) // wherever records are kept
		if len(more) != 1 {
			t.Errorf("filed: %v and %v (%v); the page says %q", files, more, err, w.text("#notice"))
		}
	}
	w.tabTo(`button[value="save"]`)
	w.press(kb.Enter)
	w.settled()
	saved := filepath.Join(w.folder, "bench-21.yaml")
	if _, err := os.Stat(saved); err != nil {
		t.Fatalf("%v; the page says %q", err, w.text("#notice"))
	}
	sameSettings(t, result, solved(t, saved))
}

// fillIn goes through the page with the tabulator, opens what is closed, and puts in
// what the fields want.
func (w *tab) fillIn(typed, chosen map[string]string) {
	w.Helper()
	added := false
	for range 600 {
		w.press(kb.Tab)
		at := w.focus()
		switch {
		case len(typed)+len(chosen) == 0 && added:
			return
		case at.Closed && (at.Part || wanted(at.Holds, typed, chosen)):
			w.press(kb.Enter)
		case typed[at.ID] != "":
			w.press(typed[at.ID])
			delete(typed, at.ID)
		case chosen[at.ID] != "":
			w.choose(at.ID, chosen[at.ID])
			delete(chosen, at.ID)
		case strings.HasPrefix(at.Value, "add postures") && !added:
			w.press(kb.Enter)
			w.settled()
			added = true
		}
	}
	w.Fatalf("still to be typed: %v, to be chosen: %v", typed, chosen)
}

// wanted reports whether any of the fields is still to be filled in.
func wanted(fields []string, typed, chosen map[string]string) bool {
	return slices.ContainsFunc(fields, func(id string) bool { return typed[id] != "" || chosen[id] != "" })
}

// focused is the element that has the focus.
type focused struct {
	ID, Value string
	// Closed says that it is the heading of something folded away, Part that this is a
	// part of the form; Holds are the fields in it.
	Closed, Part bool
	Holds        []string
}

// focus returns what has the focus.
func (w *tab) focus() focused {
	w.Helper()
	return ask[focused](w, `(() => {
		const e = document.activeElement, folded = e.tagName === "SUMMARY" && !e.parentElement.open ? e.parentElement : null;
		return {
			ID: e.id, Value: e.value ?? "", Closed: folded !== null,
			Part: folded?.matches("#measures > .part") ?? false,
			Holds: [...folded?.querySelectorAll("input, select, textarea") ?? []].map((f) => f.id),
		};
	})()`)
}

// choose moves a list to one of its options with the arrow keys.
func (w *tab) choose(id, option string) {
	w.Helper()
	for range 20 {
		if w.focus().ID != id {
			w.Fatalf("the focus has left %s for %+v", id, w.focus())
		}
		if w.focus().Value == option {
			return
		}
		w.press(kb.ArrowDown)
		w.settled()
	}
	w.Fatalf("%s has no option %q that keys reach", id, option)
}

// tabTo presses the tabulator until an element of a CSS selector has the focus.
func (w *tab) tabTo(selector string) {
	w.Helper()
	for range 600 {
		w.press(kb.Tab)
		if ask[bool](w, "document.activeElement.matches("+quoted(selector)+")") {
			return
		}
	}
	w.Fatalf("the tabulator never reaches %s", selector)
}

// quoted returns text as a string of the page's script.
func quoted(s string) string {
	text, _ := json.Marshal(s) // a string never fails
	return string(text)
}

// downloads has the browser put what it downloads into a folder of its own.
func (w *tab) downloads() string {
	w.Helper()
	dir := w.TempDir()
	_, err := chromedp.CallBrowser(w.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
		BrowserContextID: chromedp.FromContext(w.ctx).BrowserContextID,
	})
	if err != nil {
		w.Fatal(err)
	}
	return dir
}

// downloaded waits for a file and returns what it holds.
func (w *tab) downloaded(dir, pattern string) []byte {
	w.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			w.Fatal(err)
		}
		if len(files) == 0 {
			continue
		}
		if text, err := os.ReadFile(files[0]); err == nil && len(text) > 0 {
			return text
		}
	}
	w.Fatalf("no %s was downloaded", pattern)
	return nil
}

// solved returns the object that the command line prints for a case.
func solved(t *testing.T, file string) []byte {
	t.Helper()
	var out, complaints bytes.Buffer
	code := cli.Run(context.Background(), []string{"solve", file, "--json"}, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints})
	if code != 0 && code != 3 {
		t.Fatalf("solve %s: exit code %d: %s", file, code, complaints.String())
	}
	return out.Bytes()
}

// sameSettings compares what two objects say of the mount's settings.
func sameSettings(t *testing.T, a, b []byte) {
	t.Helper()
	var objects [2]struct {
		Mount struct {
			Settings []struct {
				Name  string
				Value float64 `json:"value"`
				MM    float64 `json:"value_mm"`
				Deg   float64 `json:"value_deg"`
			}
		}
	}
	for i, text := range [][]byte{a, b} {
		if err := json.Unmarshal(text, &objects[i]); err != nil {
			t.Fatal(err)
		}
	}
	page, command := objects[0].Mount.Settings, objects[1].Mount.Settings
	if len(page) == 0 || len(page) != len(command) {
		t.Fatalf("the page has %d settings, the command line %d", len(page), len(command))
	}
	for i := range page {
		if page[i] != command[i] {
			t.Errorf("the page sets %+v, the command line %+v", page[i], command[i])
		}
	}
}

// fewStops counts the tab stops of a new case, and of the example with its three postures, with
// the sections open that every case needs.
func fewStops(t *testing.T, b *chromium) {
	t.Helper()
	const most = 150
	for _, begun := range []string{"mount", "example"} {
		w := b.open(t, false)
		w.click(`button[value="` + begun + `"]`)
		n := ask[int](w, `(() => {
			for (const id of ["case", "person", "measured", "chair", "tracker", "screen", "mount", "postures"]) document.getElementById("part-" + id).open = true;
			return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
				.filter((e) => e.tabIndex >= 0 && !e.disabled && e.checkVisibility()).length;
		})()`)
		if n >= most || n < most/3 {
			t.Errorf("%s: %d tab stops, want fewer than %d", begun, n, most)
		}
	}
}
