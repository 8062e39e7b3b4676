package page_test

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// upload sends files with the field for cases, as a browser does.
func (w *window) upload(f fields, action string, files map[string]string) shownPage {
	w.t.Helper()
	return w.send(f, action, map[string]map[string]string{"file": files})
}

// send sends a form with files, by their fields and names.
func (w *window) send(f fields, action string, files map[string]map[string]string) shownPage {
	w.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	f["action"] = action
	for name, v := range f {
		if err := form.WriteField(name, v); err != nil {
			w.t.Fatal(err)
		}
	}
	for field, of := range files {
		for name, text := range of {
			part, err := form.CreateFormFile(field, name)
			if err != nil {
				w.t.Fatal(err)
			}
			if _, err := part.Write([]byte(text)); err != nil {
				w.t.Fatal(err)
			}
		}
	}
	if err := form.Close(); err != nil {
		w.t.Fatal(err)
	}
	status, text, _ := w.do(http.MethodPost, "", form.FormDataContentType(), body.String())
	if status != http.StatusOK {
		w.t.Fatalf("%d: %s", status, text)
	}
	return newPage(w.t, text)
}

// TestFirstVisit: an empty form and one button; the example works and is saved with its
// kit.
func TestFirstVisit(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	_, text := w.get("")
	if !strings.Contains(text, "Load a worked example") || strings.Contains(text, `notice bad`) {
		t.Error("the first page lacks the button, or complains")
	}
	p := w.act(newPage(t, text).state(), "example")
	if !strings.Contains(p.text, `data-state="works"`) || strings.Contains(p.text, "Where does the screen go?") {
		t.Error("the example does not work")
	}
	f := p.state()
	f["name"] = "mine/case.yaml"
	if err := os.Mkdir(filepath.Join(folder, "mine"), 0o755); err != nil {
		t.Fatal(err)
	}
	p = w.act(f, "save")
	if p.notice() != "Saved mine/case.yaml in the folder." {
		t.Fatal(p.notice())
	}
	caseText, kitText := casefile.Starter(units.MM)
	for name, want := range map[string][]byte{"case.yaml": caseText, "kit.yaml": kitText} {
		got, err := os.ReadFile(filepath.Join(folder, "mine", name))
		got, _, _ = bytes.Cut(got, []byte("# Of the example, not confirmed: "))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not as it was: %v", name, err)
		}
	}
	if l := w.live(p.state()); l.State != "works" {
		t.Errorf("saved, it does not find its kit: %s", l.Status)
	}
	if files := filesIn(t, folder); len(files) != 2 {
		t.Errorf("left in the folder: %v", files)
	}
}

// TestSave: nothing is replaced without being asked for, and what this page wrote may
// be written again.
func TestSave(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "case.yaml")
	const before = "sightpost: 1\r\nlabel: before # kept\r\n"
	if err := os.WriteFile(file, []byte(before), 0o644); err != nil {
		t.Fatal(err)
	}
	w := serve(t, folder)
	p := w.openCase("case.yaml")
	f := p.state()
	f["name"], f["e:label"] = "case.yaml", "after"
	const others = "sightpost: 1\r\nlabel: before # by others\r\n"
	if err := os.WriteFile(file, []byte(others), 0o644); err != nil {
		t.Fatal(err)
	}
	p = w.act(f, "save")
	if !strings.Contains(p.text, "Replace it?") {
		t.Errorf("it is not asked: %s", p.notice())
	}
	if got, _ := os.ReadFile(file); string(got) != others {
		t.Fatalf("replaced unasked by %q", got)
	}
	f = p.state()
	f["replaced"], f["over"] = p.value("replaced"), p.value("over")
	p = w.act(f, "replace")
	want := strings.Replace(before, "before", "after", 1)
	if got, _ := os.ReadFile(file); string(got) != want {
		t.Fatalf("%s: got %q, want %q", p.notice(), got, want)
	}
	f = p.state()
	f["name"], f["e:label"] = "case.yaml", "again"
	if p = w.act(f, "save"); strings.Contains(p.text, "Replace it?") {
		t.Error("what this page wrote is asked about again")
	}
	if err := os.WriteFile(file, []byte("sightpost: 1\n# of somebody else\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	f = p.state()
	f["name"], f["e:label"] = "case.yaml", "once more"
	if p = w.act(f, "save"); !strings.Contains(p.text, "Replace it?") {
		t.Error("what someone else wrote meanwhile is replaced unasked")
	}
	for _, name := range []string{"", "case.txt", ".case.yaml", "absent/case.yaml", "a:b.yaml", "a\nb.yaml"} {
		f["name"] = name
		if p = w.act(f, "save"); strings.HasPrefix(p.notice(), "Saved") {
			t.Errorf("saved as %q", name)
		}
	}
	if files := filesIn(t, folder); len(files) != 1 {
		t.Errorf("left in the folder: %v", files)
	}
}

// TestUpload: a case from elsewhere comes with its kit, in any encoding.
func TestUpload(t *testing.T) {
	w := serve(t, t.TempDir())
	caseText, kitText := casefile.Starter(units.MM)
	p := w.upload(fields{}, "upload", map[string]string{"C:\\cases\\mine.yaml": "\ufeff" + string(caseText), "kit.yaml": string(kitText)})
	if p.value("text") != string(caseText) || !strings.Contains(p.text, `data-state="works"`) {
		t.Errorf("the case does not work: %s", p.notice())
	}
	p = w.upload(fields{}, "upload", map[string]string{"mine.yaml": string(caseText)})
	if !strings.Contains(p.text, "the file of a kit") {
		t.Error("nothing is said of the kit that is missing")
	}
	p = w.upload(p.state(), "upload", map[string]string{"other.yaml": string(kitText)})
	if !strings.Contains(p.value("text"), "kit: other.yaml") || !strings.Contains(p.text, `data-state="works"`) {
		t.Errorf("the kit alone does not help: %s", p.notice())
	}
	caseText, kitText = casefile.Starter(units.Inch)
	p = w.upload(p.state(), "upload", map[string]string{"mine.yaml": string(caseText), "kit.yaml": string(kitText)})
	if !strings.Contains(p.text, `<option value="letter" selected>`) || p.value("shown") != "in" {
		t.Errorf("a case in inches is shown in %s, or not on letter paper", p.value("shown"))
	}
	for name, files := range map[string]map[string]string{
		"nothing":    {},
		"two cases":  {"a.yaml": "sightpost: 1\n", "b.yaml": "sightpost: 1\n"},
		"no text":    {"a.yaml": "abc\xff"},
		"a program":  {"a.yaml": "MZ\x00\x00"},
		"two kits":   {"a.yaml": "sightpost_kit: 1\n", "b.yaml": "sightpost_kit: 1\n"},
		"too much":   {"a.yaml": "sightpost: 1\n" + strings.Repeat("# long\n", 50_000)},
		"wrong kits": {"a.yaml": "sightpost_kit: \x01\n"},
	} {
		if p := w.upload(fields{}, "upload", files); !strings.Contains(p.text, `class="notice bad"`) {
			t.Errorf("%s: %q", name, p.notice())
		}
	}
}

// TestFilesOfFields: a file goes only to the button beside its field, whatever else was
// chosen and not sent.
func TestFilesOfFields(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	files := map[string]map[string]string{
		"file":     {"other.yaml": "sightpost: 1\nlabel: other\n"},
		"settings": {"settings.yaml": "post.height: 412 mm\n"},
	}
	q := w.send(p.state(), "settings", files)
	if q.value("s:post.height") != "412 mm" || q.value("text") != p.value("text") {
		t.Errorf("settings: %s", q.notice())
	}
	if q = w.send(p.state(), "upload", files); q.value("e:label") != "other" {
		t.Errorf("case: %s", q.notice())
	}
	delete(files, "settings")
	if q = w.send(p.state(), "settings", files); q.notice() != "choose a settings file first" {
		t.Errorf("no settings: %s", q.notice())
	}
}

// TestLists: entries of lists are added and removed, and begin as they must.
func TestLists(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	was := p.value("text")
	p = w.act(p.state(), "add keep_clear box")
	f := p.state()
	for path, v := range map[string]string{
		"middle.forward": "300", "middle.left": "-400", "middle.up": "700", "size.forward": "100", "size.left": "10", "size.up": "10",
	} {
		name := "e:keep_clear[4].box." + path
		if _, there := p.held[name]; !there {
			t.Fatalf("no field %s among %v", name, p.names)
		}
		f[name] = v
	}
	f["e:keep_clear[4].carried_by"], f["e:keep_clear[4].clearance"] = "base", "10"
	p = w.act(f, "show")
	if !strings.Contains(p.text, `data-state="works"`) {
		t.Errorf("with a further space: %.200s", p.text[strings.Index(p.text, `class="status"`):])
	}
	p = w.act(p.state(), "mirror keep_clear[4]")
	p = w.act(p.state(), "mirror keep_clear[5]")
	for path, want := range map[string]string{
		"[4].name": "box", "[5].name": "box 2", "[5].box.middle.left": "400", "[5].box.size.left": "10", "[5].box.middle.up": "700", "[5].carried_by": "base",
		"[6].name": "box 3", "[6].box.middle.left": "-400",
	} {
		if got := p.value("e:keep_clear" + path); got != want {
			t.Errorf("copied to the other side, %s is %q, want %q", path, got, want)
		}
	}
	for _, last := range []string{"6", "5", "4"} {
		p = w.act(p.state(), "remove keep_clear["+last+"]")
	}
	if got := p.value("text"); got != was {
		t.Errorf("added and removed, the text is\n%s", got)
	}
	p = w.act(p.state(), "add postures")
	if got := p.value("e:postures[2].name"); got != "posture" {
		t.Errorf("the new posture is called %q", got)
	}
	for _, row := range [][3]string{{"upright", "seat_tilt", "0"}, {"tilted 25°", "seat_tilt", "25"}, {"reclined", "back_angle", "120"}, {"slumped 40 mm", "slump", "40"}, {"upright", "seat_tilt", "0"}} {
		path := fmt.Sprintf("e:postures[%d].", strings.Count(p.value("text"), "- name: ")-3+1) // beside what is to keep clear
		p = w.act(p.state(), "add postures "+row[0])
		if got := p.value(path + row[1]); got != row[2] || !strings.HasPrefix(p.value(path+"name"), row[0]) {
			t.Errorf("%s, added as %s: %s is %q", row[0], p.value(path+"name"), row[1], got)
		}
	}
	for _, action := range []string{"add absent", "add label", "remove absent", "remove label[3]", "remove", "add", "nonsense"} {
		if got := w.act(p.state(), action).value("text"); got != p.value("text") {
			t.Errorf("%q changes the text", action)
		}
	}
}

// TestSettingChosen: what names a setting of the mount is chosen from those that it has, in the
// words of its table, also while something is missing.
func TestSettingChosen(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	const swing, slide = `<option value="post.swing">post swing</option>`, `<option value="post.height">post height</option>`
	if about := between(p.text, `<select id="e-passage-about"`, "</select>"); !strings.Contains(about, swing) || strings.Contains(about, slide) {
		t.Errorf("to swing the mount about: %s", about)
	}
	f := p.asFound()
	f["as-found"] = ""
	p = w.act(f, "add uncertainty.settings length")
	if name := between(p.text, `<select id="e-uncertainty-settings-1-name"`, "</select>"); !strings.Contains(name, slide) {
		t.Errorf("of a setting that is uncertain: %s", name)
	}
}

// between returns what is between two pieces of a text.
func between(text, from, to string) string {
	_, text, _ = strings.Cut(text, from)
	text, _, _ = strings.Cut(text, to)
	return text
}

// TestAxisNeeded: a posture at another seat tilt asks for the tilt pivot, which is shown and led to.
func TestAxisNeeded(t *testing.T) {
	w := serve(t, t.TempDir())
	p := w.act(w.act(fields{}, "example").state(), "remove chair.tilt_pivot")
	if l := w.live(p.state()); l.State != "needed" || !slices.Contains(l.Needed, "e-chair-tilt-pivot-up") || strings.Contains(l.Parts["status"], "tilt_pivot") ||
		!strings.Contains(l.Parts["status"], `href="#e-chair-tilt-pivot-up">Chair, tilt pivot: up`) || !strings.Contains(l.Parts["status"], `A seat tilt other than as measured: chair tilt pivot, the axis`) {
		t.Errorf("%s, needed: %v, %s", l.State, l.Needed, l.Parts["status"])
	}
	if !strings.Contains(p.text, `<fieldset class="group" id="e-chair-tilt-pivot">`) || !strings.Contains(p.text, `id="part-chair" open`) {
		t.Error("the tilt pivot is folded away")
	}
}

// TestKitGuide: the guide to kits is that of the command line, in the units of the page, even
// beside a slip.
func TestKitGuide(t *testing.T) {
	w := serve(t, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	f["units"], f["e:measured.eyes.up"] = "in", "far"
	folder := t.TempDir()
	command(t, "new", folder, "--guide", "--units", "in")
	want, err := os.ReadFile(filepath.Join(folder, "kit-guide.html"))
	if err != nil {
		t.Fatal(err)
	}
	if status, got := w.post("download/kit-guide.html", f); status != http.StatusOK || got != string(want) {
		t.Errorf("%d, %.200s", status, got)
	}
}

// TestKitInPlace: the kit is written into the case, answers the same, and can be
// changed there.
func TestKitInPlace(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	_, want := w.post("download/settings.csv", p.state())
	p = w.act(p.state(), "measures")
	if _, got := w.post("download/settings.csv", p.state()); got != want {
		t.Errorf("%s: with the kit in place: %s", p.notice(), got)
	}
	name := ""
	for _, n := range p.names {
		if strings.HasSuffix(n, ".post.height.to") {
			name = n
		}
	}
	if name == "" {
		t.Fatal("no field for the height of the post")
	}
	f := p.state()
	f[name] = "450"
	l := w.live(f)
	if !strings.Contains(l.Text, "to: 450 mm") {
		t.Errorf("the post is not shorter in\n%s", l.Text)
	}
	if _, got := w.post("download/settings.csv", f); got == want {
		t.Error("a shorter post changes nothing")
	}
}

// TestEither: what is one word or a group is one or the other, as is chosen.
func TestEither(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	f := p.state()
	f["e:chair.tray"] = "yes"
	l := w.live(f)
	if !strings.Contains(l.Text, "tray: yes") {
		t.Fatalf("no tray in\n%s", l.Text)
	}
	f["text"], f["before"] = l.Text, l.Text
	f["e:chair.tray"] = "by its measures"
	p = w.act(f, "show")
	if _, there := p.held["e:chair.tray.top"]; !there {
		t.Fatal("no field for the tray's top")
	}
	f = p.state()
	f["e:chair.tray"], f["e:chair.tray.top"] = "by its measures", "720"
	l = w.live(f)
	if !strings.Contains(l.Text, "tray: {top: 720 mm}") || l.State == "wrong" {
		t.Errorf("%s:\n%s", l.Status, l.Text)
	}
	f["text"], f["before"] = l.Text, l.Text
	f["e:chair.tray"] = ""
	if l = w.live(f); strings.Contains(l.Text, "tray") {
		t.Errorf("the tray stays in\n%s", l.Text)
	}
}

// TestTextWins: a change in the text itself shows in the form; a slip in it is told
// and nothing is lost.
func TestTextWins(t *testing.T) {
	w := serve(t, shipped)
	p := w.openCase("cases/upright-adult.yaml")
	f := p.state()
	f["text"] = strings.Replace(f["text"], "bench-06", "bench-08", 1)
	f["e:label"] = "from the form"
	if p = w.act(f, "show"); p.value("e:label") != "bench-08" {
		t.Errorf("the form says %q", p.value("e:label"))
	}
	f = p.state()
	f["text"] = "label: [\n" + f["text"]
	p = w.act(f, "show")
	if p.value("text") != f["text"] || !strings.Contains(p.text, "invalid YAML") {
		t.Error("the slip is not told, or the text is lost")
	}
}

// TestStop: the page ends the program.
func TestStop(t *testing.T) {
	root, err := os.OpenRoot(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	ended, address := start(t, root)
	w := open(t, address)
	status, text := w.post("stop", fields{})
	if status != http.StatusOK || !strings.Contains(text, "has stopped") {
		t.Errorf("%d %.80s", status, text)
	}
	w.client.CloseIdleConnections()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if _, err := http.Get(address); err == nil {
		t.Error("it still answers")
	}
}
