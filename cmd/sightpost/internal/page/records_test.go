package page_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/record"
)

// TestRecords files two assessments of a code, says what changed, and takes the case
// up again with the settings as found.
func TestRecords(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	p := w.act(fields{}, "example")
	f := p.state()
	f["date"], f["record-note"] = "2026-10-14", "first <b>visit</b>"
	p = w.act(f, "file")
	if p.notice() != "Filed as records/bench-07/2026-10-14.yaml." {
		t.Fatal(p.notice())
	}
	const compare = `data-job="compare">`
	if strings.Contains(p.text, compare) {
		t.Error("a single assessment is offered to be compared")
	}
	f = p.state()
	f["date"], f["e:measured.eyes.up"] = "2026-11-25", "1150"
	p = w.act(f, "file")
	if !strings.Contains(p.text, compare) {
		t.Error("two assessments are not offered to be compared")
	}
	f = p.state()
	f["older"], f["newer"] = "2026-10-14", "2026-11-25"
	status, text := w.post("job/compare", f)
	if status != http.StatusOK || !strings.Contains(text, "30 mm") || !strings.Contains(text, "<svg") || strings.Contains(text, "<b>visit") {
		t.Errorf("compare: %d %.400s", status, text)
	}
	f["newer"] = "2026-10-14"
	p = w.act(f, "reopen")
	if p.value("s:post.height") == "" || !strings.Contains(p.text, "with its settings as found") || !strings.Contains(p.value("text"), "up: 1180 mm") {
		t.Errorf("taken up again: %s", p.notice())
	}
	for name, change := range map[string]fields{
		"a day that is none":  {"date": "2026-13-01"},
		"a code that is none": {"e:label": "../../etc"},
		"a broken case":       {"e:measured.eyes.up": "high"},
	} {
		f := p.state()
		for k, v := range change {
			f[k] = v
		}
		if p := w.act(f, "file"); !strings.Contains(p.text, `class="notice bad"`) {
			t.Errorf("%s: %s", name, p.notice())
		}
	}
	if files := filesIn(t, folder); len(files) != 3 { // the two, and their lock
		t.Errorf("left in the folder: %v", files)
	}
}

// TestRecall: weeks later the settings as they were filed can be put in after the new
// measures, which stay as they are; the best settings are then others.
func TestRecall(t *testing.T) {
	w := serve(t, t.TempDir())
	const height = "s:post.height"
	p := w.act(fields{}, "example")
	if strings.Contains(p.text, `value="recall"`) {
		t.Error("settings are offered although nothing is filed")
	}
	filed := w.act(p.state(), "take").value(height)
	f := w.act(p.state(), "file").state()
	f["e:measured.eyes.up"], f["recalled"] = "1100", string(record.DayOf(time.Now()))
	p = w.act(f, "recall")
	if got := p.value(height); got != filed+" mm" || !strings.Contains(p.value("text"), "up: 1100 mm") || !strings.Contains(p.text, `name="as-found" value="yes" data-live checked`) {
		t.Errorf("%s: the post is at %q, filed at %q", p.notice(), got, filed)
	}
	if p = w.act(p.state(), "take"); p.value(height) == filed || !strings.Contains(p.notice(), "computed settings") {
		t.Errorf("%s: the post is at %q", p.notice(), p.value(height))
	}
	f["recalled"] = "1999-01-01"
	if p = w.act(f, "recall"); !strings.Contains(p.text, `class="notice bad"`) {
		t.Errorf("a day on which nothing was filed: %s", p.notice())
	}
}

// TestRepeatAfterTilt: with the seat tilted further since an assessment, and only tilt and
// eyes measured again, nothing needs changing. What is filed says what moved along.
func TestRepeatAfterTilt(t *testing.T) {
	w := serve(t, t.TempDir())
	p := w.act(fields{}, "example")
	f := p.state()
	f["date"] = "2026-10-14"
	f = w.act(f, "file").state()
	f["newer"] = "2026-10-14"
	p = w.act(f, "reopen")
	f = p.state()
	f["as-found"] = "yes"
	for _, name := range p.names {
		if strings.HasPrefix(name, "s:") {
			f[name] = p.value(name)
		}
	}
	// (150, 1180) turned back by 15° about the example's pivot, (120, 430)
	f["e:measured.seat_tilt"], f["e:measured.eyes.forward"], f["e:measured.eyes.up"] = "15", "-45.1", "1162.2"
	status, text := w.post("job/refit", f)
	for _, want := range []string{"Nothing to change", "mount.clamp: same as before", "measured.head: same as before"} {
		if status != http.StatusOK || !strings.Contains(text, want) {
			t.Errorf("refit: %d, want %q in %.1500s", status, want, text)
		}
	}
	f["date"] = "2026-11-25"
	p = w.act(f, "file")
	for _, want := range []string{"seat_tilt: 0 deg\n", "flexion: -10 deg", "seat_tilt: 15 deg"} {
		if !strings.Contains(p.value("text"), want) {
			t.Errorf("%s: no %q in %s", p.notice(), want, p.value("text"))
		}
	}
	f = p.state()
	f["older"], f["newer"] = "2026-10-14", "2026-11-25"
	if status, text = w.post("job/compare", f); status != http.StatusOK || strings.Contains(text, "measure it again") || strings.Contains(text, "this version finds") {
		t.Errorf("compare: %d %.1500s", status, text)
	}
}
