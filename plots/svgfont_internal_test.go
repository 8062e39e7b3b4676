package plots

import (
	"bytes"
	"encoding/base64"
	"regexp"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// TestLetters reads the letters that an SVG brings along: they have a shape for every
// character of its text, and little else.
func TestLetters(t *testing.T) {
	const most = 32 << 10 // bytes; the whole font has 400 kB
	f := newSheet(Landscape(), "bänch 07: margin × 2, −3° \u201cquoted\u201d")
	var svg bytes.Buffer
	if err := WriteSVG(&svg, f); err != nil {
		t.Fatal(err)
	}
	data := regexp.MustCompile(`base64,([^)]*)`).FindSubmatch(svg.Bytes())
	if data == nil {
		t.Fatal("the figure brings no letters")
	}
	raw, err := base64.StdEncoding.DecodeString(string(data[1]))
	if err != nil || len(raw) > most {
		t.Fatalf("%d bytes of letters, error %v", len(raw), err)
	}
	font, err := sfnt.Parse(raw)
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	for _, r := range f.Title {
		glyph, err := font.GlyphIndex(&buf, r)
		if err == nil && glyph != 0 {
			_, err = font.LoadGlyph(&buf, glyph, 64, nil)
		}
		if err != nil || glyph == 0 {
			t.Errorf("%q is glyph %d, error %v", r, glyph, err)
		}
	}
}
