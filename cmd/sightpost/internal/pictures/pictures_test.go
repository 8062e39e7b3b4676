package pictures_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/pictures"
)

// drawn returns the rows of the case that have a picture of their own, and those of a kit
// that are the first to have theirs, by its name.
func drawn() []casefile.Entry {
	table := casefile.Fields()
	rows := slices.DeleteFunc(table.Rows(), func(e casefile.Entry) bool {
		return e.Picture == "" || e.Picture != strings.ReplaceAll(e.Path, "[]", "")
	})
	for _, e := range casefile.Kit().Rows() {
		if e.Picture != "" && !slices.ContainsFunc(rows, func(r casefile.Entry) bool { return r.Picture == e.Picture }) {
			rows = append(rows, e)
		}
	}
	slices.SortFunc(rows, func(a, b casefile.Entry) int { return strings.Compare(a.Picture, b.Picture) })
	return rows
}

// picture returns the picture of a row.
func picture(t *testing.T, e casefile.Entry) []byte {
	t.Helper()
	svg, ok := pictures.SVG(e)
	if !ok {
		t.Fatalf("%s has no picture", e.Path)
	}
	return svg
}

// TestEveryRowIsDrawn: every entry that is measured has a picture, and no other.
func TestEveryRowIsDrawn(t *testing.T) {
	with := 0
	table := casefile.Fields()
	for _, e := range slices.Concat(table.Rows(), casefile.Kit().Rows()) {
		_, ok := pictures.SVG(e)
		if ok != (e.Picture != "") {
			t.Errorf("%s names the picture %q; drawn: %t", e.Path, e.Picture, ok)
		}
		if ok {
			with++
		}
	}
	if with < 180 {
		t.Errorf("only %d entries have a picture", with)
	}
	names := map[string]bool{}
	for _, e := range drawn() {
		names[e.Picture] = true
	}
	for _, name := range pictures.Names() {
		if !names[name] {
			t.Errorf("there is a picture of %s, which is no entry", name)
		}
	}
}

// TestPicturesSpeak: every picture says in words of its own what its arrow shows, is of
// one small size, and is an XML document of finite numbers.
func TestPicturesSpeak(t *testing.T) {
	said := map[string]string{}
	for _, e := range drawn() {
		svg := picture(t, e)
		if other := said[e.HowTo]; other != "" {
			t.Errorf("%s is captioned %q, as is %s", e.Path, e.HowTo, other)
		}
		said[e.HowTo] = e.Path
		dec := xml.NewDecoder(bytes.NewReader(svg))
		var err error
		for err == nil {
			_, err = dec.Token()
		}
		if !errors.Is(err, io.EOF) {
			t.Errorf("%s: %v", e.Path, err)
		}
		if len(svg) > 6000 || bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf")) {
			t.Errorf("%s: %d bytes of SVG, or a number that is none", e.Path, len(svg))
		}
		if !bytes.Contains(svg, []byte("not to scale")) || !bytes.Contains(svg, []byte(`width="160" height="120"`)) {
			t.Errorf("%s does not say that it is not to scale, or has another size", e.Path)
		}
	}
}

var caption = regexp.MustCompile(`(?s)<title.*</desc>`)

// TestPicturesDiffer: no two pictures show the same lines, captions aside.
func TestPicturesDiffer(t *testing.T) {
	same := map[string]string{}
	for _, e := range drawn() {
		lines := caption.ReplaceAllString(string(picture(t, e)), "")
		if other := same[lines]; other != "" {
			t.Errorf("%s is drawn as %s is", e.Path, other)
		}
		same[lines] = e.Path
	}
}
