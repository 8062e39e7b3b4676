package page_test

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// odd is a case written in ways that a form can hardly show.
const odd = `sightpost: 1
label: bench-07
note: plain text
  of two lines

  and a third    # said twice
measured:
  seat_tilt:     # not measured yet
  back_angle: 100 deg
  eyes: {up: 1180 mm,
    forward: 150
      mm}
person:
  eyes_used: [both]   # a slip
  glasses: false
chair:
  drives: true    # indoors too
  tray: []
postures:
  - name: "a
      long name"
    must_work: true
`

// TestNothingLost: a page that comes back as it was shown, its empty fields too, changes
// no letter, however the case is written.
func TestNothingLost(t *testing.T) {
	w := serve(t, t.TempDir())
	p := w.act(fields{"text": odd}, "show")
	if got, want := p.value("e:note"), "plain text of two lines\nand a third"; got != want {
		t.Errorf("the note is shown as %q, want %q", got, want)
	}
	f := p.whole()
	if got := w.live(f).Text; got != odd {
		t.Errorf("the first answer is\n%s", got)
	}
	f["e:label"] = "bench-08"
	if got, want := w.live(f).Text, strings.Replace(odd, "bench-07", "bench-08", 1); got != want {
		t.Errorf("with another label\n%s", got)
	}
}

// TestEmptiedAndFilled: a field that is emptied and filled again is found where it was,
// with what comes after it, although the page was told of the text without it.
func TestEmptiedAndFilled(t *testing.T) {
	w := serve(t, t.TempDir())
	f := w.act(fields{}, "example").whole()
	was := f["text"]
	for _, typed := range []string{"", "1", "11", "115", "1150"} {
		f["e:measured.eyes.up"], f["e:postures[1].name"] = typed, typed
		l := w.live(f)
		if typed == "" && strings.Contains(l.Text, "tape from the floor to the outer corner") {
			t.Errorf("the emptied entry is still in\n%s", l.Text)
		}
		f["text"], f["before"] = l.Text, l.Text
	}
	want := strings.Replace(was, "up: 1180 mm", "up: 1150 mm", 1)
	want = strings.Replace(want, "name: upright", "name: 1150", 1)
	want = regexp.MustCompile(` measured\.eyes\.up\b`).ReplaceAllString(want, "") // typed, and so no more of the example
	want, f["text"] = unwrapped(want), unwrapped(f["text"])
	if f["text"] != want {
		t.Errorf("emptied and filled again, the case is\n%s", f["text"])
	}
	f["name"] = "case.yaml"
	if p := w.act(f, "save"); unwrapped(p.value("text")) != want || unwrapped(p.value("base")) != want {
		t.Errorf("%s: saved is\n%s", p.notice(), p.value("text"))
	}
}

// unwrapped returns the text of a case with what it names as of the example in one line.
func unwrapped(text string) string {
	return strings.ReplaceAll(text, "\n# Of the example, not confirmed:", "")
}

// TestRefused: what cannot be put into the text stays in its field, is told beside it,
// and is not left out of a file in silence.
func TestRefused(t *testing.T) {
	w := serve(t, t.TempDir())
	f := w.act(fields{"text": "sightpost: 1\nperson: [1]\n"}, "show").whole()
	const name, id, typed = "e:person.pupil_spacing", "e-person-pupil-spacing", "61"
	f[name] = typed
	if l := w.live(f); !strings.Contains(l.Problems[id], "cannot be changed here") || l.Text != f["text"] {
		t.Errorf("%q beside the field, text\n%s", l.Problems[id], l.Text)
	}
	if p := w.act(f, "show"); p.value(name) != typed || !strings.Contains(p.text, "cannot be changed here") {
		t.Errorf("the field holds %q", p.value(name))
	}
	if status, text := w.post("download/case.yaml", f); status != http.StatusUnprocessableEntity {
		t.Errorf("downloaded: %d\n%s", status, text)
	}
	f["name"] = "case.yaml"
	if p := w.act(f, "save"); p.value(name) != typed || strings.HasPrefix(p.notice(), "Saved") {
		t.Errorf("%s: the field holds %q", p.notice(), p.value(name))
	}
}

// TestSlipKeepsLists: while the text has a slip the page goes on to say what is in the
// folder, and does not say that nothing is filed.
func TestSlipKeepsLists(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	f := w.act(fields{}, "example").state()
	f["name"] = "case.yaml"
	f = w.act(f, "save").state()
	f = w.act(f, "file").state()
	f["text"] = "label: [\n" + f["text"]
	p := w.act(f, "show")
	for _, want := range []string{">case.yaml<", `value="kit.yaml"`, "listed once the text of the case can be read"} {
		if !strings.Contains(p.text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(p.text, "No assessment is filed") {
		t.Error("the page says that nothing is filed")
	}
}

// TestFollows: what is called after a name or the code follows it while it is typed.
func TestFollows(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	f["e:postures[1].name"], f["e:label"] = "in the sling", "trial-3"
	if l := w.live(f); l.Titles["e-postures-1"] != "in the sling" || l.Name != "trial-3.yaml" {
		t.Errorf("the posture is called %q, the file %q", l.Titles["e-postures-1"], l.Name)
	}
	f["e:postures[1].name"] = ""
	if l := w.live(f); l.Titles["e-postures-1"] != "entry 1" {
		t.Errorf("the posture without a name is called %q", l.Titles["e-postures-1"])
	}
	if p := w.act(f, "save"); p.notice() != "Saved trial-3.yaml in the folder." || p.value("name") != "trial-3.yaml" {
		t.Error(p.notice())
	}
	f["e:label"] = "../trial"
	if l := w.live(f); l.Name != "case.yaml" {
		t.Errorf("a code that is no name of a file suggests %q", l.Name)
	}
}

// TestUnreadableRecords: what is wrong with the folder of records is told.
func TestUnreadableRecords(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "records"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	p := serve(t, folder).act(fields{}, "example")
	if !strings.Contains(p.text, "records: is not a folder") || strings.Contains(p.text, "No assessment is filed") {
		t.Error("nothing is said of records that cannot be read")
	}
}

// kitOf returns the kit of the worked example with a post that ends at another height.
func kitOf(t *testing.T, height string) string {
	t.Helper()
	_, kit := casefile.Starter(units.MM)
	const from, to = "height: {from: 120 mm, to: ", " mm"
	before, rest, ok := strings.Cut(string(kit), from)
	_, after, closed := strings.Cut(rest, to)
	if !ok || !closed {
		t.Fatalf("the kit has no height of the post in\n%s", kit)
	}
	return before + from + height + to + after
}
