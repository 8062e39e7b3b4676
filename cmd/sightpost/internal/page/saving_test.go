package page_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// write writes a file of a folder, and the folders on its way.
func write(t *testing.T, folder, name, text string) {
	t.Helper()
	file := filepath.Join(folder, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// holds checks what a file of a folder holds.
func holds(t *testing.T, folder, name, want string) {
	t.Helper()
	got, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(name)))
	if err != nil || string(got) != want {
		t.Errorf("%s: %v: it holds\n%s", name, err, got)
	}
}

// TestAnotherKit: a case that came with a kit and is given another of the folder has
// that one, and saving it leaves the kits of the folder as they are.
func TestAnotherKit(t *testing.T) {
	folder := t.TempDir()
	other := kitOf(t, "630")
	write(t, folder, "other.yaml", other)
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	_, came := w.post("download/settings.csv", f)
	f["e:mount.kit"] = "other.yaml"
	p := w.act(f, "show")
	if !strings.Contains(p.value("text"), "kit: other.yaml") || p.value("kit") != "" || p.value("kit-at") != "" {
		t.Errorf("the kit that came is still %q", p.value("kit-at"))
	}
	f = p.whole()
	status, others := w.post("download/result.json", f)
	if status != 200 || !strings.Contains(others, "630") || !strings.Contains(came, "610") {
		t.Errorf("the case is worked out with another kit: %d", status)
	}
	f["name"] = "case.yaml"
	if p = w.act(f, "save"); p.notice() != "Saved case.yaml in the folder." {
		t.Error(p.notice())
	}
	holds(t, folder, "other.yaml", other)
	if files := filesIn(t, folder); len(files) != 2 {
		t.Errorf("left in the folder: %v", files)
	}
}

// TestKitInTheWay: if another kit of the same name is there, it is asked about by its
// name and nothing is written before; then both are.
func TestKitInTheWay(t *testing.T) {
	folder := t.TempDir()
	other := kitOf(t, "630")
	write(t, folder, "kit.yaml", other)
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	f["name"] = "case.yaml"
	p := w.act(f, "save")
	if !strings.Contains(p.text, "kit.yaml already exists and is a different kit") {
		t.Errorf("it is not asked by the kit's name: %s", p.notice())
	}
	if files := filesIn(t, folder); len(files) != 1 {
		t.Errorf("written before the answer: %v", files)
	}
	holds(t, folder, "kit.yaml", other)
	_, kit := casefile.Starter(units.MM)
	if p.value("kit") != string(kit) {
		t.Error("the page lost its kit")
	}
	f = p.whole()
	f["name"], f["replaced"], f["over"] = "elsewhere.yaml", p.value("replaced"), p.value("over")
	if p = w.act(f, "replace"); p.notice() != "Saved case.yaml in the folder." {
		t.Error(p.notice())
	}
	holds(t, folder, "kit.yaml", string(kit))
	if p.value("kit") != "" || !strings.Contains(p.text, `data-state="works"`) {
		t.Error("saved, the page does not have the kit from the folder")
	}
}

// TestCaseInTheWay: if the case is in the way its kit is not written either, and a yes
// for one file is none for another.
func TestCaseInTheWay(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "case.yaml", "sightpost: 1\n")
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	f["name"] = "case.yaml"
	p := w.act(f, "save")
	if files := filesIn(t, folder); len(files) != 1 || !strings.Contains(p.text, "case.yaml already exists. Replace it?") {
		t.Errorf("%s: in the folder: %v", p.notice(), files)
	}
	write(t, folder, "kit.yaml", kitOf(t, "630"))
	f = p.whole()
	f["replaced"], f["over"] = p.value("replaced"), p.value("over")
	if p = w.act(f, "replace"); !strings.Contains(p.text, "kit.yaml already exists") {
		t.Errorf("a kit that came meanwhile is not asked about: %s", p.notice())
	}
	holds(t, folder, "kit.yaml", kitOf(t, "630"))
	holds(t, folder, "case.yaml", "sightpost: 1\n")
}

// TestSaveThatFails: what this page left in a file is known to it after a save that
// failed, so that it is not asked about the file later.
func TestSaveThatFails(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	f["name"] = "case.yaml"
	f = w.act(f, "save").whole()
	text, disk := f["text"], f["disk"]
	file := filepath.Join(folder, "case.yaml")
	if err := errors.Join(os.Remove(file), os.Mkdir(file, 0o755)); err != nil {
		t.Fatal(err)
	}
	f["e:measured.eyes.up"], f["replaced"], f["over"] = "1190 mm", "case.yaml", "case.yaml"
	p := w.act(f, "replace")
	if strings.HasPrefix(p.notice(), "Saved") || p.value("disk") != disk {
		t.Errorf("%s, left there: %q, want %q", p.notice(), p.value("disk"), disk)
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	write(t, folder, "case.yaml", text)
	f = p.whole()
	f["name"] = "case.yaml"
	if p = w.act(f, "save"); p.notice() != "Saved case.yaml in the folder." {
		t.Error(p.notice())
	}
	holds(t, folder, "case.yaml", p.value("text"))
}

// TestSaveElsewhere: a case that is saved in another folder goes on to name its kit.
func TestSaveElsewhere(t *testing.T) {
	folder := t.TempDir()
	text, kit := casefile.Starter(units.MM)
	write(t, folder, "a/b/case.yaml", strings.Replace(string(text), "kit: kit.yaml", "kit: ../kits/kit.yaml", 1))
	write(t, folder, "a/kits/kit.yaml", string(kit))
	w := serve(t, folder)
	for _, row := range []struct{ name, kit string }{
		{"case.yaml", "a/kits/kit.yaml"},
		{"a/case.yaml", "kits/kit.yaml"},
		{"a/b/other.yaml", "../kits/kit.yaml"},
		{"a/kits/case.yaml", "../kits/kit.yaml"}, // leads there all the same
	} {
		f := w.openCase("a/b/case.yaml").whole()
		f["name"] = row.name
		p := w.act(f, "save")
		if got := p.value("text"); !strings.Contains(got, "kit: "+row.kit+" ") || !strings.Contains(p.text, `data-state="works"`) {
			t.Errorf("%s: %s: in\n%s", row.name, p.notice(), got)
		}
		holds(t, folder, row.name, p.value("text"))
	}
}

// TestKitWithoutPlace: the kit of a case from elsewhere goes beside the case if the
// folder has no such place, and never where the case itself goes.
func TestKitWithoutPlace(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	text, kit := casefile.Starter(units.MM)
	outside := strings.Replace(string(text), "kit: kit.yaml", "kit: ../../kits/mine.yaml", 1)
	p := w.upload(fields{}, "upload", map[string]string{"mine.yaml": outside, "k.yaml": string(kit)})
	if !strings.Contains(p.text, `data-state="works"`) {
		t.Fatalf("the case does not work: %s", p.notice())
	}
	f := p.whole()
	f["name"] = "mine.yaml"
	if p = w.act(f, "save"); !strings.Contains(p.notice(), "mine.yaml is the name of the kit") {
		t.Errorf("case and kit under one name: %s", p.notice())
	}
	f = p.whole()
	f["name"] = "case.yaml"
	if p = w.act(f, "save"); !strings.Contains(p.value("text"), "kit: mine.yaml ") || !strings.Contains(p.text, `data-state="works"`) {
		t.Errorf("%s", p.notice())
	}
	holds(t, folder, "mine.yaml", string(kit))
}

// TestNowhereElse: nothing is saved among what is filed, or where no list shows it.
func TestNowhereElse(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "records/bench-07/note.txt", "")
	write(t, folder, ".hidden/note.txt", "")
	w := serve(t, folder)
	f := w.act(fields{}, "example").whole()
	for _, name := range []string{"records/bench-07/2026-11-25.yaml", "Records/case.yaml", ".hidden/case.yaml", "a/.b/case.yaml", "records./case.yaml"} {
		f["name"] = name
		if p := w.act(f, "save"); strings.HasPrefix(p.notice(), "Saved") {
			t.Errorf("saved as %q", name)
		}
	}
	if files := filesIn(t, folder); len(files) != 2 {
		t.Errorf("left in the folder: %v", files)
	}
}
