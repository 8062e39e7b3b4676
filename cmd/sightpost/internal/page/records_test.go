package page_test

import (
	"maps"
	"net/http"
	"os"
	"path/filepath"
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
	const compare, chart = `data-job="compare">`, `<title id="course-title">`
	if strings.Contains(p.text, compare) || strings.Contains(p.text, chart) {
		t.Error("a single assessment is offered to be compared, or has a chart")
	}
	f = p.state()
	f["date"], f["e:measured.eyes.up"] = "2026-11-25", "1150"
	p = w.act(f, "file")
	if !strings.Contains(p.text, compare) || !strings.Contains(p.text, chart) {
		t.Error("two assessments are not offered to be compared, or have no chart")
	}
	f = p.state()
	f["older"], f["newer"] = "2026-10-14", "2026-11-25"
	status, text := w.post("job/compare", f)
	if status != http.StatusOK || !strings.Contains(text, "30 mm") || !strings.Contains(text, `<th scope="row">upright</th>`) || !strings.Contains(text, "<svg") || strings.Contains(text, "<b>visit") {
		t.Errorf("compare: %d %.400s", status, text)
	}
	p = w.act(f, "reopen bench-07/2026-10-14")
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
	f["e:measured.eyes.up"], f["recalled"] = "1230", string(record.DayOf(time.Now()))
	p = w.act(f, "recall")
	if got := p.value(height); got != filed || !strings.Contains(p.value("text"), "up: 1230 mm") || !strings.Contains(p.text, `name="as-found" value="yes" data-live checked`) {
		t.Errorf("%s: the post is at %q, filed at %q", p.notice(), got, filed)
	}
	if p = w.act(p.state(), "take"); p.value(height) == filed || !strings.Contains(p.notice(), "computed settings") {
		t.Errorf("%s: the post is at %q", p.notice(), p.value(height))
	}
	f["units"] = "in"
	for _, kit := range []string{"of mm", "of inches"} {
		if p = w.act(f, "show"); !strings.Contains(p.text, `name="s:post.height" `) || !strings.Contains(between(p.text, `name="s:post.height" `, ">"), `data-step="0.0625"`) {
			t.Errorf("in inches the slide beside a setting of a kit %s has other steps than its field", kit)
		}
		f = w.act(fields{"units": "in", "shown": "in"}, "example").state()
		f["units"] = "in"
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
	p = w.act(f, "reopen bench-07/2026-10-14")
	f = p.mounted()
	// (150, 1180) turned back by 15° about the example's pivot, (120, 430)
	f["e:measured.seat_tilt"], f["e:measured.eyes.forward"], f["e:measured.eyes.up"] = "15", "-45.1", "1162.2"
	unmoved := maps.Clone(f)
	for _, path := range []string{"chair.tilt_pivot.forward", "chair.tilt_pivot.up", "postures[1].seat_tilt", "postures[2].seat_tilt", "postures[3].seat_tilt"} {
		unmoved["e:"+path] = ""
	}
	l := w.live(unmoved)
	if want := "mount clamp, keep clear left knee, keep clear joystick as before: chair tilt pivot, to move them along with the seat; or them measured again."; !strings.Contains(l.Parts["status"], want) ||
		!strings.Contains(l.Parts["status"], `href="#e-chair-tilt-pivot">Edit chair tilt pivot`) {
		t.Errorf("without a tilt pivot: %s", l.Parts["status"])
	}
	status, text := w.post("job/refit", f)
	for _, want := range []string{"Nothing to change", "mount clamp, keep clear left knee, keep clear joystick: same as before", "measured head: same as before"} {
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

// TestMarks: a record's note is changed and it is withdrawn, both beside it; the same is not
// filed twice on a day.
func TestMarks(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	f := w.act(fields{}, "example").state()
	f["date"], f["record-note"] = "2026-10-14", "first visit"
	w.act(f, "file")
	file := filepath.Join(folder, "records", "bench-07", "2026-10-14.yaml")
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p := w.act(f, "file")
	if !strings.Contains(p.notice(), "already filed as 2026-10-14") {
		t.Errorf("filed twice: %s", p.notice())
	}
	f = p.state()
	f["note 2026-10-14"] = "with the new cushion"
	if p = w.act(f, "note bench-07/2026-10-14"); p.value("note 2026-10-14") != "with the new cushion" {
		t.Errorf("%s: the note is %q", p.notice(), p.value("note 2026-10-14"))
	}
	f = p.state()
	if p = w.act(f, "withdraw bench-07/2026-10-14"); !strings.Contains(p.text, "WITHDRAWN") {
		t.Errorf("withdrawn: %s", p.notice())
	}
	if _, words := command(t, "record", "list", "--in", filepath.Join(folder, "records"), "bench-07"); words != "" {
		t.Error(words)
	}
	if now, err := os.ReadFile(file); err != nil || string(now) != string(was) {
		t.Errorf("the record itself was changed (%v)", err)
	}
	f = p.state()
	f["date"] = "2026-10-14"
	if p = w.act(f, "file"); p.notice() != "Filed as records/bench-07/2026-10-14-2.yaml." {
		t.Errorf("one that was withdrawn keeps another from being filed: %s", p.notice())
	}
	if p = w.act(p.state(), "withdraw bench-07/2026-10-14"); strings.Contains(p.text, "WITHDRAWN") {
		t.Error("it does not count again")
	}
}

// TestRepeat assesses again: the record, what changed, the least work that gives the margin of
// before, its sheet, the settings after it, and the new record, in seven presses.
func TestRepeat(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	f := w.act(fields{}, "example").state()
	f["date"] = "2026-10-14"
	w.act(f, "file")
	_, first := w.get("")
	f["name"] = "mine.yaml"
	if p := w.act(f, "save"); p.notice() != "Saved mine.yaml in the folder." || w.openCase("mine.yaml").notice() != "Opened mine.yaml." {
		t.Error(p.notice())
	}
	const again, most = "reopen bench-07/2026-10-14", 7 // presses
	w.posts.Store(0)
	if !strings.Contains(first, `value="`+again+`"`) {
		t.Fatal("the first page does not offer to assess again")
	}
	p := w.act(fields{}, again)
	if !strings.Contains(p.text, `<th scope="col">date</th>`) {
		t.Error("the dates of the assessments are not called so")
	}
	if !strings.Contains(p.text, `id="part-measured" open`) {
		t.Error("the measures that change are folded away")
	}
	if !strings.Contains(p.text, `">bench-07</span>`) {
		t.Error("the case of a known code is not called by it")
	}
	f = p.mounted()
	f["e:measured.eyes.up"], f["e:measured.eyes.forward"] = "1060", "240"
	if l := w.live(p.mounted()); l.Shows["case-changed"] {
		t.Error("what was filed counts as not saved")
	}
	l := w.live(f)
	if !strings.Contains(l.Parts["status"], `href="#refitting">What to change`) {
		t.Errorf("what it does leads nowhere: %s", l.Parts["status"])
	}
	f["text"], f["before"] = l.Text, l.Text
	status, text := w.post("job/refit", f)
	if status != http.StatusOK || !strings.Contains(text, `value="apply"`) {
		t.Fatalf("refit: %d %s", status, text)
	}
	status, sheet := w.post("download/changes.pdf", f)
	if status != http.StatusOK {
		t.Errorf("change sheet: %d %s", status, sheet)
	}
	p = w.act(f, "apply")
	before := f
	if f = p.mounted(); !strings.Contains(p.notice(), "File the assessment") || sameSettingsIn(f, before) {
		t.Errorf("applied: %s", p.notice())
	}
	if status, text = w.post("job/refit", f); !strings.Contains(text, "Nothing to change") {
		t.Errorf("after the changes there are others: %d %.300s", status, text)
	}
	if _, text = w.post("download/changes.pdf", f); text != sheet {
		t.Errorf("once it is applied, the change sheet is another: %.100q", text)
	}
	f["date"] = "2026-11-25"
	if p = w.act(f, "file"); p.notice() != "Filed as records/bench-07/2026-11-25.yaml." {
		t.Error(p.notice())
	}
	if n := w.posts.Load(); n > most {
		t.Errorf("%d presses, want %d at most", n, most)
	}
	if got := w.openCase("mine.yaml").notice(); !strings.Contains(got, "2026-11-25 says otherwise") {
		t.Errorf("opened beside a newer assessment: %s", got)
	}
	f["s:plate.tilt"] = "30° back"
	if _, text = w.post("download/changes.pdf", f); text == sheet {
		t.Error("with another setting there is the change sheet of before")
	}
}

// sameSettingsIn reports whether two forms have the same settings as found.
func sameSettingsIn(a, b fields) bool {
	for name, v := range a {
		if strings.HasPrefix(name, "s:") && b[name] != v {
			return false
		}
	}
	return true
}

// mounted returns the fields of the page with the settings as found.
func (p shownPage) mounted() fields {
	f := p.state()
	f["as-found"] = "yes"
	for _, name := range p.names {
		if strings.HasPrefix(name, "s:") || name == "side" {
			f[name] = p.value(name)
		}
	}
	return f
}
