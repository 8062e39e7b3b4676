package page_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
)

// TestBlank: the form on paper asks for everything that a new case needs, in the order of the
// page and in its units, and shows the page's own pictures.
func TestBlank(t *testing.T) {
	w := serve(t, shipped)
	for units, want := range map[string][2]string{"mm": {"a4", "</span> mm"}, "in": {"letter", "</span> in"}} {
		status, text := w.get("blank?units=" + units)
		if status != 200 || !strings.Contains(text, `class="`+want[0]+`"`) || !strings.Contains(text, want[1]) {
			t.Errorf("in %s: %d, without %q", units, status, want)
		}
	}
	_, text := w.get("blank")
	at := 0
	for _, g := range casefile.Groups() {
		next := strings.Index(text, "<h2>"+g.Title+"</h2>")
		if next >= 0 && next < at {
			t.Errorf("%s comes before what precedes it on the page", g.Title)
		}
		at = max(at, next)
	}
	form := casefile.Fields()
	for _, f := range form.Rows() {
		label := strings.NewReplacer("[]", "", ".", " ", "_", " ").Replace(f.Path)
		if f.Required && !f.Advanced && f.Kind == casefile.Number && !strings.Contains(f.Path, "[]") && !strings.Contains(text, ">"+label+"<small>") {
			t.Errorf("%s is not asked for", label)
		}
	}
	pictures := regexp.MustCompile(`src="(measure/[^"]+)"`).FindAllStringSubmatch(text, -1)
	if len(pictures) < 30 {
		t.Errorf("only %d pictures", len(pictures))
	}
	for _, m := range pictures {
		if status, _ := w.get(m[1]); status != 200 {
			t.Errorf("%s: %d", m[1], status)
		}
	}
}

// TestNewWithMount: a case that begins with the invented mount has its first answer after as
// many entries as the first page and the summary say, 36 at most and none of them of the kit.
func TestNewWithMount(t *testing.T) {
	const most = 36
	w := serve(t, t.TempDir())
	_, text := w.get("")
	said := first(regexp.MustCompile(`(\d+) entries from the person`).FindStringSubmatch(text))
	if !strings.Contains(text, `data-state="needed" hidden>`) {
		t.Error("the first page counts what is needed a second time")
	}
	example, n := w.act(fields{}, "example").whole(), 1 // the posture
	begun := w.act(fields{}, "mount")
	if l := w.live(begun.whole()); l.Status != "Still needed: "+said+" entries." {
		t.Errorf("%s entries are said on the first page, then: %s", said, l.Status)
	}
	p := w.act(begun.state(), "add postures upright")
	f := p.state()
	for _, id := range w.live(f).Needed {
		if strings.Contains(id, "mount-kit") {
			t.Errorf("the kit lacks %s", id)
		}
		if field := regexp.MustCompile(`id="` + id + `" name="(e:[^"]*)"`).FindStringSubmatch(p.text); field != nil {
			f[field[1]] = example[field[1]]
			n++
		}
	}
	if l := w.live(f); strconv.Itoa(n) != said || n > most || l.State != "works" {
		t.Errorf("after %d entries, said to be %s: %s", n, said, l.Status)
	}
}

// TestFileNames: what is downloaded is called by code and date; names that a system keeps for
// itself, or that cannot be seen, are refused.
func TestFileNames(t *testing.T) {
	w := serve(t, t.TempDir())
	f := w.act(fields{}, "example").whole()
	form := w.request("download/settings.csv", f)
	r, err := w.client.Do(form)
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Body.Close()
	if got := r.Header.Get("Content-Disposition"); !regexp.MustCompile(`filename="bench-07 \d{4}-\d\d-\d\d settings.csv"`).MatchString(got) {
		t.Errorf("named %s", got)
	}
	for _, name := range []string{"con", "NUL.yaml", "a/aux.yaml", "a\u202eb.yaml", "a\u200b.yaml"} {
		f["name"] = name
		if p := w.act(f, "save"); strings.HasPrefix(p.notice(), "Saved") {
			t.Errorf("saved as %q", name)
		}
	}
	f["name"] = "bench-07"
	if p := w.act(f, "save"); p.notice() != "Saved bench-07.yaml in the folder." {
		t.Error(p.notice())
	}
}

// TestSpoken: every field of the form is called by what holds it and its unit too.
func TestSpoken(t *testing.T) {
	w := serve(t, t.TempDir())
	p := w.act(fields{}, "example")
	for id, want := range map[string]string{
		"e-measured-eyes-up": "Posture as measured eyes up, millimeters", "e-tracker-across": "Tracker across, degrees",
		"e-screen-mass": "Screen mass, kilograms", "s-post-height": "post height, millimeters",
	} {
		if !regexp.MustCompile(fmt.Sprintf(`<input id="%s" [^>]*aria-label="%s"`, id, want)).MatchString(p.text) {
			t.Errorf("%s is not called %q", id, want)
		}
	}
}
