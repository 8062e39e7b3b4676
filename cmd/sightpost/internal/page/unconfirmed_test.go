package page_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// examples returns the ids of the fields that the page marks as those of an example.
func (p shownPage) examples() map[string]bool {
	all := map[string]bool{}
	for _, m := range regexp.MustCompile(`id="([^"]*)-example" class="example"`).FindAllStringSubmatch(p.text, -1) {
		all[m[1]] = true
	}
	return all
}

// TestUnconfirmed: a number of the example is marked until it is typed or confirmed, also where
// it is saved between and where entries before it are removed.
func TestUnconfirmed(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	w := serve(t, folder)
	p := w.act(fields{}, "example")
	const up, left, tilt, last = "e-measured-eyes-up", "e-measured-eyes-left", "e-postures-2-seat-tilt", "e-postures-3-slump"
	all := p.examples()
	for _, id := range []string{up, left, tilt, last, "e-mount-kit"} {
		if !all[id] {
			t.Errorf("%s is not marked", id)
		}
	}
	if all["e-label"] || strings.Contains(p.text, ", not saved</span>") && !strings.Contains(p.text, `id="case-changed" hidden`) {
		t.Error("a code is marked, or an example that nobody touched is not saved")
	}
	f := p.state()
	f["e:measured.eyes.up"] = "1150"
	if l := w.live(f); strings.Contains(strings.Join(l.Doubted, " "), up) || len(l.Doubted) != len(all)-1 {
		t.Errorf("one is typed: %d of %d are marked", len(l.Doubted), len(all))
	}
	p = w.act(f, "confirm measured.eyes.left")
	if now := p.examples(); now[up] || now[left] || len(now) != len(all)-2 {
		t.Errorf("one is typed and one confirmed: %d of %d are marked", len(now), len(all))
	}
	p = w.act(p.state(), "remove postures[2]")
	if now := p.examples(); !now["e-postures-2-slump"] || now[tilt] || now[last] {
		t.Error("what is marked does not follow a posture that is removed")
	}
	f = p.state()
	f["name"] = "mine.yaml"
	was := len(p.examples())
	w.act(f, "save")
	if now := len(w.openCase("mine.yaml").examples()); was == 0 || now != was {
		t.Errorf("saved with %d marks, opened with %d", was, now)
	}
	text, err := os.ReadFile(filepath.Join(folder, "mine.yaml"))
	if err != nil || !strings.Contains(string(text), "\n# Of the example, not confirmed: ") {
		t.Errorf("the file does not tell: %v", err)
	}
	f = w.act(fields{}, "example").state()
	f["date"] = "2026-10-14"
	w.act(f, "file")
	if now := w.act(fields{}, "reopen bench-07/2026-10-14").examples(); len(now) != len(all) {
		t.Errorf("filed with %d marks, assessed again with %d", len(all), len(now))
	}
	p = w.act(w.act(fields{}, "mount").state(), "measures")
	const from, to = "e-mount-kit-parts-2-post-height-from", "e-mount-kit-parts-4-arm-extension-to"
	if now := p.examples(); !now[from] || !now[to] || now["e-mount-kit"] {
		t.Error("the dimensions of the invented mount are not marked")
	}
	all = p.examples()
	p = w.act(p.state(), "confirm mount.kit.rated mount.kit.parts[2]")
	if now := p.examples(); now[from] || !now[to] || len(now) != len(all)-15 || !strings.Contains(p.text, "Confirmed 15 entries.") {
		t.Errorf("the load and a part are confirmed at once: %d of %d are marked", len(now), len(all))
	}
}
