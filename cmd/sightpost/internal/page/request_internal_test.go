package page

import (
	"bytes"
	"errors"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

// FuzzRequest checks that any form is refused or made sense of, and that what comes of
// it can be worked on.
func FuzzRequest(f *testing.F) {
	form := casefile.Fields()
	f.Add("application/x-www-form-urlencoded", []byte("text=sightpost%3A+1%0A&e:label=x&units=in&number=3&action=add+postures"))
	f.Add("application/x-www-form-urlencoded", []byte("text=a&before=b&e:postures[2].name=x&s:post.height=1&as-found=yes&turn=NaN"))
	f.Add("application/x-www-form-urlencoded", []byte("text=a:+2&before=a:+2&base=sightpost:+1%0Amount:+{kit:+a}&kit=x&e:mount.kit=b&e:label="))
	f.Add("multipart/form-data; boundary=x", []byte("--x\r\nContent-Disposition: form-data; name=\"text\"\r\n\r\nsightpost: 1\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"../a.yaml\"\r\n\r\nsightpost: 1\r\n--x--\r\n"))
	f.Add("multipart/form-data", []byte("--x--"))
	f.Add("text/plain; charset=%", []byte("text=%zz"))
	f.Fuzz(func(t *testing.T, kind string, body []byte) {
		r := httptest.NewRequest(http.MethodPost, "/", bytes.NewReader(body))
		r.Header.Set("Content-Type", kind)
		q, err := (&Server{form: form}).ask(r)
		if err != nil {
			return
		}
		for name, v := range q.Entries {
			if !utf8.ValidString(name) || !utf8.ValidString(v) {
				t.Errorf("%q: %q is no text", name, v)
			}
		}
		if q.wrong == nil && q.draft.Text() == "" {
			t.Error("the text is lost")
		}
		if _, err := q.added(q.Target, ""); err == nil && q.Target == "" {
			t.Error("something was added to nothing")
		}
	})
}

// FuzzShown checks that what a page shows of an entry, sent back as it is, changes
// nothing, and that what is shown in one unit is shown in another and back the same.
func FuzzShown(f *testing.F) {
	form := casefile.Fields()
	length := form.At("measured").At("eyes").At("up")
	for _, text := range []string{"1180 mm", "46 1/2 in", "118,5", "1000cm", "10001 mm", "46,5 cm", "46½ in", `3'10"`, "1,180", "", "1e9", "-3.25 cm", "3 ft", "−7", "٣"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, name := range []string{"mm", "cm", "in"} {
			u := unitsOr(name)
			typed := written(length, text, u)
			got := shown(length, typed, u)
			again := written(length, got, u)
			if length.Units[0] == "mm" && got != shown(length, again, u) {
				t.Errorf("%q in %s is shown as %q and then as %q", text, name, got, shown(length, again, u))
			}
			_, typedErr := casefile.ParseLength(typed, units.MM)
			if _, err := casefile.ParseLength(again, units.MM); typedErr == nil && err != nil {
				t.Errorf("%q in %s is shown as %q, which is not read: %v", text, name, got, err)
			}
		}
	})
}

// TestSections: every entry of a case is in the form, whatever is added to cases.
func TestSections(t *testing.T) {
	form := casefile.Fields()
	q, err := requestOf(url.Values{}, &form)
	if err = errors.Join(err, q.wrong); err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, s := range q.sections(nil, nil, nil) {
		if s.ID == "" || s.Title == "" || len(s.Entries) == 0 {
			t.Errorf("section %q has %d entries", s.Title, len(s.Entries))
		}
		count += len(s.Entries)
	}
	if want := len(form.Fields) - 1; count < want {
		t.Errorf("%d entries of %d are in the form", count, want)
	}
}

// TestShortMount: of a mount that is described in the case the form shows how long its parts are
// and how far they go, a third of all; the rest is folded away and none is lost.
func TestShortMount(t *testing.T) {
	form := casefile.Fields()
	_, kit := casefile.Starter(units.MM)
	d, err := draft.Read("the case", draft.Empty+"mount:\n  kit: kit.yaml\n", &form)
	if err != nil {
		t.Fatal(err)
	}
	if d, err = d.SetText(kitEntry, string(kit)); err != nil {
		t.Fatal(err)
	}
	q, err := requestOf(url.Values{"text": {d.Text()}}, &form)
	if err = errors.Join(err, q.wrong); err != nil {
		t.Fatal(err)
	}
	var shown, all map[string]bool
	var walk func(entries []*entry, rest *rest, folded bool)
	walk = func(entries []*entry, rest *rest, folded bool) {
		for _, e := range entries {
			if leaf := e.Sort != casefile.Group && e.Sort != casefile.List; leaf && strings.HasPrefix(e.Path, "mount.kit.parts") {
				all[e.Path], shown[e.Path] = true, !folded
			}
			walk(e.Entries, e.Rest, folded)
		}
		if rest != nil {
			walk(rest.Entries, nil, true)
		}
	}
	for _, s := range q.sections(nil, nil, nil) {
		shown, all = map[string]bool{}, map[string]bool{}
		walk(s.Entries, s.Rest, false)
		if s.ID != "mount" {
			continue
		}
		for _, e := range s.all {
			if leaf := e.Sort != casefile.Group && e.Sort != casefile.List; leaf && strings.HasPrefix(e.Path, "mount.kit.parts") && !all[e.Path] {
				t.Errorf("%s is lost", e.Path)
			}
		}
		maps.DeleteFunc(shown, func(_ string, is bool) bool { return !is })
		if len(all) < 100 || len(shown) > len(all)/3 || !shown["mount.kit.parts[2].post.height.from"] || shown["mount.kit.parts[2].post.tube.wall"] {
			t.Errorf("%d of %d fields are shown", len(shown), len(all))
		}
	}
}
