package page_test

import (
	"fmt"
	"html"
	"net/http"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sightpost/testdata/trials"
)

// pieces are the lines and cells of an answer.
var pieces = regexp.MustCompile(`<(?:li|th|td)[^>]*>([^<]+)`)

// outcome is the verdict of an answer and what it rests on.
var outcome = regexp.MustCompile(`<p class="outcome">.*?</p><p>.*?</p>`)

// wordsOf returns what the answer to a job says in words, line by line.
func wordsOf(t *testing.T, answer string) []string {
	t.Helper()
	var all []string
	for _, m := range pieces.FindAllStringSubmatch(answer, -1) {
		all = append(all, html.UnescapeString(m[1]))
	}
	if len(all) < 5 {
		t.Fatalf("there are few words in %.200s", answer)
	}
	return all
}

// TestSameNumbers: what is drawn at random on the page is what the command line draws.
func TestSameNumbers(t *testing.T) {
	if !trials.Long() {
		t.Skip("needs SIGHTPOST_LONG: simulates everything twice")
	}
	t.Parallel()
	w := serve(t, shipped)
	const name, kit = "cases/upright-adult.yaml", "kits/two-tube-offset.yaml"
	f := w.openCase(name).state()
	f["kits"] = kit
	file := filepath.Join(shipped, name)
	for job, args := range map[string][]string{"vary": {file}, "match": {file, filepath.Join(shipped, kit)}} {
		want, told := command(t, append([]string{job, "--full"}, args...)...)
		want = strings.ReplaceAll(want, shipped+"/", "")
		status, text := w.post("job/"+job, f)
		if status != http.StatusOK {
			t.Fatalf("%s: %d %s, %s", job, status, text, told)
		}
		for _, got := range wordsOf(t, text) {
			if !strings.Contains(plainly(want), plainly(got)) {
				t.Errorf("%s: the page says %q, which the command line does not", job, got)
			}
		}
	}
}

// TestSideBySide: every posture of a case that has several is drawn under its name, with the
// answer in words.
func TestSideBySide(t *testing.T) {
	w := serve(t, shipped)
	titles := regexp.MustCompile(`<title id="posture-\d-title">([^<]*)`)
	for name, want := range map[string][]string{"tilt-two-postures": {"upright", "rested", "slid down"}, "one-eye": nil} {
		p := w.openCase("cases/" + name + ".yaml")
		shown := titles.FindAllStringSubmatch(p.text, -1)
		if len(shown) != len(want) {
			t.Errorf("%s: %q, want %q", name, shown, want)
			continue
		}
		_, later := w.post("answer", p.state())
		for i, posture := range want {
			if !strings.Contains(shown[i][1], posture) || !strings.Contains(later, fmt.Sprintf("posture-%d-title", i+1)) {
				t.Errorf("%s: %q is drawn, or later no more; want %q", name, shown[i][1], posture)
			}
		}
	}
}

// TestTooManyKits: kits beyond the bound are no secret.
func TestTooManyKits(t *testing.T) {
	w := serve(t, shipped)
	form := url.Values{}
	for name, v := range w.openCase("cases/upright-adult.yaml").state() {
		form.Set(name, v)
	}
	for i := range 51 {
		form.Add("kits", fmt.Sprintf("kits/%d.yaml", i))
	}
	status, text, _ := w.do(http.MethodPost, "job/match", "application/x-www-form-urlencoded", form.Encode())
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "at most 50") {
		t.Errorf("%d %s", status, text)
	}
}

// TestMarginInUnits: the required margin is in the unit beside it, and stays the same in
// another.
func TestMarginInUnits(t *testing.T) {
	w := serve(t, shipped)
	f := w.act(w.openCase("cases/upright-adult.yaml").state(), "take").asFound()
	refit := func(margin, units string) []string {
		f["margin"], f["units"], f["shown"] = margin, units, units
		status, text := w.post("job/refit", f)
		if status != http.StatusOK {
			return []string{text}
		}
		return append(wordsOf(t, text), outcome.FindString(text))
	}
	want := refit("25.4", "mm")
	for _, row := range [][2]string{{"1 in", "mm"}, {"25.4 mm", "mm"}} {
		if got := refit(row[0], row[1]); !slices.Equal(got, want) {
			t.Errorf("%s in %s: got\n%s\nwant\n%s", row[0], row[1], got, want)
		}
	}
	inches := refit("25.4 mm", "in")
	if got := refit("1", "in"); !slices.Equal(got, inches) || slices.Equal(got, refit("2", "in")) {
		t.Errorf("1 in inches: got\n%s\nwant\n%s", got, inches)
	}
	f["margin"], f["units"], f["shown"] = "25.4", "in", "mm"
	p := w.act(f, "show")
	if got := p.value("margin"); got != "1" || !strings.Contains(p.text, `id="margin-unit">in<`) {
		t.Errorf("25.4 mm are shown as %q in", got)
	}
}

// TestMarginWanted: the page says which margin is required if none is typed and how much
// there is, and in a sentence what has to be changed.
func TestMarginWanted(t *testing.T) {
	w := serve(t, shipped)
	p := w.act(w.openCase("cases/upright-adult.yaml").state(), "take")
	f := p.asFound()
	for _, text := range []string{p.text, w.live(f).Parts["margin"]} {
		if !regexp.MustCompile(`the preferred margin of the case, [0-9]+ mm\. With the settings as found, the margin is [0-9]+ mm\.`).MatchString(text) {
			t.Errorf("nothing is said of the margin in %.300s", text)
		}
	}
	for margin, want := range map[string]string{"": "Nothing to change.<", "500": "No change of settings restores the margin. "} {
		f["margin"] = margin
		if _, text := w.post("job/refit", f); !strings.Contains(text, `<p class="outcome">`+want) {
			t.Errorf("margin %q: %.200s", margin, text)
		}
	}
	f["margin"], f["s:post.height"] = "", "150"
	if _, text := w.post("job/refit", f); !regexp.MustCompile(`<p class="outcome">Change [a-z ]+\.</p><p>Head-movement margin with the settings as found: short by about [0-9]+ mm; after the changes: [0-9]+ mm`).MatchString(text) {
		t.Errorf("the post too low: %.300s", text)
	}
}

// TestWays: what the drawing's column leads to is there.
func TestWays(t *testing.T) {
	text := serve(t, t.TempDir()).act(fields{}, "example").text
	ways := regexp.MustCompile(`<li><a href="#([^"]+)">[^<]+</a></li>`).FindAllStringSubmatch(text[strings.Index(text, `class="ways"`):strings.Index(text, `</nav>`)], -1)
	for _, way := range ways {
		if !strings.Contains(text, ` id="`+way[1]+`"`) {
			t.Errorf("there is no %s", way[1])
		}
	}
	if len(ways) != 5 || ways[0][1] != "part-side-by-side" || !strings.Contains(text[strings.Index(text, `id="part-side-by-side"`):], "<figure") {
		t.Errorf("the postures side by side are not led to: %v", ways)
	}
}
