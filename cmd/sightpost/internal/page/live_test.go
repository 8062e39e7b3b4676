package page_test

import (
	"io"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestTyping: what is typed goes into the text of the case and nothing else changes;
// what is not valid is told beside its field in the words of the command line.
func TestTyping(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	f := p.state()
	text := f["text"]
	f["e:measured.eyes.up"] = "1100"
	l := w.live(f)
	if want := strings.Replace(text, "up: 1180 mm", "up: 1100 mm", 1); l.Text != want || l.State != "works" {
		t.Errorf("state %s, text\n%s", l.State, l.Text)
	}
	f["e:measured.eyes.up"] = "1.118,5"
	l = w.live(f)
	if l.State != "wrong" || l.Sections["measured"] != "1 not valid" {
		t.Errorf("state %s, section %q", l.State, l.Sections["measured"])
	}
	if _, drawn := l.Parts["figure"]; drawn || !strings.Contains(l.Parts["status"], `href="#e-measured-eyes-up"`) {
		t.Errorf("the last drawing goes, or no link leads to the slip: %s", l.Parts["status"])
	}
	file := filepath.Join(t.TempDir(), "case.yaml")
	if err := os.WriteFile(file, []byte(l.Text), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, told := command(t, "solve", file); !strings.Contains(told, l.Problems["e-measured-eyes-up"]) || l.Problems["e-measured-eyes-up"] == "" {
		t.Errorf("the page says %q, the command line %q", l.Problems["e-measured-eyes-up"], told)
	}
	f["e:measured.eyes.up"] = ""
	l = w.live(f)
	if l.State != "needed" || len(l.Needed) != 1 || l.Needed[0] != "e-measured-eyes-up" {
		t.Errorf("state %s, needed %q", l.State, l.Needed)
	}
	f["e:measured.eyes.forward"] = "far"
	if l = w.live(f); l.Status != "Not valid: 1 entry; still needed: 1 entry." || l.Sections["measured"] != "1 not valid, 1 needed" {
		t.Errorf("a slip beside what is missing: %q, section %q", l.Status, l.Sections["measured"])
	}
}

// TestNotes: what is allowed but unlikely is noted beside its field while it is typed, and no
// longer once it is not valid.
func TestNotes(t *testing.T) {
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	const id = "e-screen-mass"
	for typed, want := range map[string]string{"1.8": "", "1800 g": "", "25": "is unlikely", "heavy": ""} {
		f["e:screen.mass"] = typed
		if got := w.live(f).Notes[id]; (got != "") != (want != "") || !strings.Contains(got, want) {
			t.Errorf("%s: noted %q, want %q", typed, got, want)
		}
	}
}

// TestUntouched: a page that is sent back as it came changes no letter of the case, in
// whatever units it is shown.
func TestUntouched(t *testing.T) {
	t.Parallel()
	w := serve(t, shipped)
	for _, name := range shippedCases(t) {
		for _, units := range unitsFor(name) {
			text, err := os.ReadFile(filepath.Join(shipped, name))
			if err != nil {
				t.Fatal(err)
			}
			f := fields{"text": string(text), "at": name, "units": units}
			p := w.act(f, "show")
			f = p.whole()
			f["units"] = units
			if got := w.live(f).Text; got != string(text) {
				t.Errorf("%s in %s came back as\n%s", name, units, got)
			}
		}
	}
}

// unitsFor returns the units to show a case in: all of them only for one.
func unitsFor(name string) []string {
	if name == "cases/floor-stand.yaml" { // which is written in all of them
		return []string{"mm", "cm", "in"}
	}
	return []string{"in"}
}

// TestUnits: what is shown is converted, and what is typed is of the unit that is
// shown.
func TestUnits(t *testing.T) {
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	f["units"] = "in"
	p := w.act(f, "show")
	if got := p.value("e:measured.eyes.up"); got != "46.457" {
		t.Errorf("1180 mm are shown as %s in", got)
	}
	f = p.state()
	f["units"] = "in"
	f["e:measured.eyes.up"] = "46 1/2"
	f["e:measured.seat_tilt"] = "5"
	f["e:mount.clamp.slides"] = "0 to 4"
	l := w.live(f)
	for _, want := range []string{"up: 46 1/2 in", "seat_tilt: 5 deg", "0 to 4 in"} {
		if !strings.Contains(l.Text, want) {
			t.Errorf("no %q in\n%s", want, l.Text)
		}
	}
	if _, text := w.post("answer", f); !strings.Contains(text, " in ") {
		t.Error("the answer is not in inches")
	}
}

// TestOrder: a request that was overtaken is not answered.
func TestOrder(t *testing.T) {
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	f["number"] = "5"
	if l := w.live(f); l.Number != 5 {
		t.Errorf("number %d comes back", l.Number)
	}
	f["number"] = "4"
	if status, text := w.post("live", f); status != 204 || text != "" {
		t.Errorf("a late one: %d %.60s", status, text)
	}
}

// TestSummaryOfPostures: what is said of each of several postures begins as a sentence does.
func TestSummaryOfPostures(t *testing.T) {
	w := serve(t, shipped)
	if p := w.openCase("cases/tilt-two-postures.yaml"); !regexp.MustCompile(`<strong>Targets</strong> <span>\p{Lu}[^<]*\. \p{Lu}[^<]*</span>`).MatchString(p.text) || regexp.MustCompile(`<span>[^<]*\. \p{Ll}[^<]*</span> <a`).MatchString(p.text) {
		t.Error("a sentence of the summary begins with a small letter")
	}
}

// TestAsFound: settings as found are judged, and told of beside their fields.
func TestAsFound(t *testing.T) {
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	p := w.act(f, "take")
	for _, name := range []string{"clamp.position", "post.height", "post.swing", "elbow.elevation", "arm.extension", "arm.twist", "plate_joint.pan", "plate_joint.tilt", "plate_joint.roll"} {
		if p.value("s:"+name) == "" {
			t.Fatalf("%s was not taken over", name)
		}
	}
	if got := p.value("s:post.swing") + ", " + p.value("s:post.height"); got != "35° right, 326 mm" {
		t.Errorf("swing and height are taken as %s", got)
	}
	if slid := `name="s:post.height"[^>]* data-low="130" data-high="675"`; !regexp.MustCompile(slid).MatchString(p.text) {
		t.Errorf("the slide of post.height is not within its range: %q is not there", slid)
	}
	if l := w.live(p.asFound()); l.State != "works" || !strings.HasPrefix(l.Status, "With the settings as found: Tracks.") {
		t.Errorf("what was found does not work: %s", l.Status)
	}
	f = p.asFound()
	f["s:post.height"] = "3 m"
	f["s:arm.extension"] = "500 deg"
	delete(f, "s:arm.twist")
	l := w.live(f)
	for id, want := range map[string]string{
		"s-post-height": "post.height: 3 m is outside", "s-arm-extension": "arm.extension: ", "s-arm-twist": "not set",
	} {
		if !strings.HasPrefix(l.Problems[id], want) {
			t.Errorf("%s: %q, want %q", id, l.Problems[id], want)
		}
	}
	f = p.asFound()
	f["s:post.height"] = "400"
	status, text := w.post("job/refit", f)
	if status != 200 || !strings.Contains(text, "margin with the settings as found") {
		t.Errorf("refit: %d %.200s", status, text)
	}
}

// TestAsFoundInInches: a length without a unit is in the unit that the page shows.
func TestAsFoundInInches(t *testing.T) {
	w := serve(t, shipped)
	f := w.act(w.openCase("cases/upright-adult.yaml").state(), "take").asFound()
	f["units"] = "in"
	f["s:post.height"] = "380"
	p := w.act(f, "show")
	if got := p.value("s:post.height"); got != "14 15/16 in" {
		t.Errorf("380, typed in mm, is %s in inches", got)
	}
	f = p.asFound()
	f["s:post.height"] = "14.5"
	inches := w.live(f).Status
	f["s:post.height"] = "368.3 mm"
	if mm := w.live(f).Status; mm != inches || strings.Contains(mm, "not valid") {
		t.Errorf("14.5 in: %s, 368.3 mm: %s", inches, mm)
	}
	if limits := "12 to 98"; !strings.Contains(p.text, limits) {
		t.Errorf("the height of the eyes has no round limits such as %q", limits)
	}
	f = p.state()
	f["units"] = "in"
	p = w.act(f, "measures")
	const newtons = 4.4482216152605 // in a pound-force: NIST SP 811, appendix B.8
	if got, err := strconv.ParseFloat(p.value("e:mount.kit.parts[2].post.height.slip_force"), 64); err != nil || math.Abs(got*newtons-400) > 0.01 {
		t.Errorf("400 N are %v lbf beside inches", got)
	}
}

// TestJobs: what takes longer is answered in words and figures.
func TestJobs(t *testing.T) {
	t.Parallel()
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	f["kits"] = "kits/two-tube-offset.yaml"
	for job, want := range map[string]string{"vary": "<svg", "match": "<h3>Ranking"} {
		if status, text := w.post("job/"+job, f); status != 200 || !strings.Contains(text, want) {
			t.Errorf("%s: %d %.200s", job, status, text)
		}
	}
	if p := w.act(f, "job match"); !strings.Contains(p.text, "<h3>Ranking") {
		t.Error("the ranking is not on the page that comes back without scripts")
	}
	for _, job := range []string{"refit", "absent", "compare"} {
		if status, text := w.post("job/"+job, f); status != 422 || text == "" {
			t.Errorf("%s: %d %.200s", job, status, text)
		}
	}
	f["text"] = "sightpost: 1\n"
	if status, text := w.post("job/vary", f); status != 422 || !strings.Contains(text, "no key") {
		t.Errorf("an empty case: %d %.200s", status, text)
	}
}

// TestRefitFiles: a refit gives the sheet of its changes, and the files of the settings that
// they lead to; where nothing is to be changed, those of the settings as found.
func TestRefitFiles(t *testing.T) {
	t.Parallel()
	w := serve(t, shipped)
	f := w.act(w.openCase("cases/upright-adult.yaml").state(), "take").asFound()
	files := func() (changes, settings string) {
		t.Helper()
		_, changes = w.post("download/changes.pdf", f)
		_, settings = w.post("download/after-settings.csv", f)
		if status, pdf := w.post("download/after-sheet.pdf", f); status != 200 || !strings.HasPrefix(pdf, "%PDF-") {
			t.Errorf("sheet: %d %.200s", status, pdf)
		}
		return changes, settings
	}
	changes, before := files()
	if !strings.Contains(changes, "there is no change to make") || !strings.Contains(before, "post.height,mm,") {
		t.Errorf("nothing to change: %.200s; %.200s", changes, before)
	}
	f["e:measured.eyes.up"] = "1020"
	changes, after := files()
	if !strings.HasPrefix(changes, "%PDF-") || before == after || !strings.Contains(after, ",yes") {
		t.Errorf("eyes lower: %.200s; %.200s", changes, after)
	}
	for what, want := range map[string]bool{"download/changes.pdf": true, "download/after-sheet.pdf": true} {
		if _, text := w.post("job/refit", f); strings.Contains(text, what) != want {
			t.Errorf("the answer offers %s: %v", what, !want)
		}
	}
}

// TestPaperGoesWithUnits: letter with inches, unless someone chose another.
func TestPaperGoesWithUnits(t *testing.T) {
	w := serve(t, shipped)
	for _, row := range [][4]string{{"mm", "mm", "a4", "a4"}, {"mm", "in", "a4", "letter"}, {"in", "mm", "letter", "a4"}, {"mm", "mm", "letter", "letter"}, {"in", "in", "a4", "a4"}} {
		f := w.openCase("cases/upright-adult.yaml").state()
		f["shown"], f["units"], f["paper"] = row[0], row[1], row[2]
		if got := w.act(f, "show").value("paper"); got != row[3] {
			t.Errorf("%v: %s", row, got)
		}
	}
}

// TestAnswersAreSmall: what a browser gets for a change is no more than 60 kB, whatever it
// looks at.
func TestAnswersAreSmall(t *testing.T) {
	const most = 60_000
	w := serve(t, shipped)
	f := w.openCase("cases/driver.yaml").state()
	delete(f, "window") // each is the newest
	for _, figure := range w.live(f).Figures {
		f["figure"] = figure[0]
		r := w.request("live", f)
		r.Header.Set("Accept-Encoding", "gzip")
		a, err := w.client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(a.Body)
		_ = a.Body.Close() // only read
		if err != nil || a.StatusCode != http.StatusOK || len(body) > most || len(body) < most/100 {
			t.Errorf("%s: %d bytes, status %d (%v)", figure[1], len(body), a.StatusCode, err)
		}
	}
}
