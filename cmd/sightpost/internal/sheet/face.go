package sheet

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"sightpost/cmd/sightpost/internal/document"
)

// face is how a text is set: size in points, and weight.
type face struct {
	size float64
	bold bool
}

// mmPerPoint is the size of a point.
const mmPerPoint = 25.4 / 72

// Liberation Sans rises 0.905 of its size above the line and falls 0.212 below.
const (
	rise    = 0.905
	fall    = 0.212
	leading = 1.2 // distance of lines, in sizes
)

// row returns the distance of lines (mm).
func (f face) row() float64 { return f.size * leading * mmPerPoint }

// name returns the name of the font: that which figures embed it by, so that both
// share one copy.
func (f face) name() string {
	if f.bold {
		return "LiberationSans-Bold"
	}
	return "LiberationSans-Regular"
}

// fonts measures text.
type fonts struct {
	fonts [2]*sfnt.Font // regular and bold, which has the same letters
	buf   sfnt.Buffer

	// what was found: a page is laid out many times until it fits
	wide  [2]map[rune]int // a letter, in thousandths of the size
	plain map[string]string
	lined map[setting][]string
}

// setting is a text set in a width (mm).
type setting struct {
	text  string
	in    face
	width float64
}

// newFonts reads the fonts.
func newFonts() (*fonts, error) {
	f := &fonts{plain: map[string]string{}, lined: map[setting][]string{}}
	for i, ttf := range [][]byte{liberationsansregular.TTF, liberationsansbold.TTF} {
		font, err := sfnt.Parse(ttf)
		if err != nil {
			return nil, fmt.Errorf("sheet: font: %w", err)
		}
		f.fonts[i], f.wide[i] = font, map[rune]int{}
	}
	return f, nil
}

// width returns how wide a text is (mm), in a document, which rounds every letter.
func (f *fonts) width(text string, in face) float64 {
	i, thousandths := 0, 0
	if in.bold {
		i = 1
	}
	for _, r := range text {
		w, known := f.wide[i][r]
		if !known {
			em := f.fonts[i].UnitsPerEm()
			if glyph, err := f.fonts[i].GlyphIndex(&f.buf, r); err == nil {
				if units, err := f.fonts[i].GlyphAdvance(&f.buf, glyph, fixed.Int26_6(em), font.HintingNone); err == nil {
					w = int(math.Round(1000 * float64(units) / float64(em)))
				}
			}
			f.wide[i][r] = w
		}
		thousandths += w
	}
	return float64(thousandths) * in.size * mmPerPoint / 1000
}

// printable returns text in letters that the font has, in one line: a question
// mark stands for any other. Blanks at which no line is broken stay.
func (f *fonts) printable(text string) string {
	if plain, ok := f.plain[text]; ok {
		return plain
	}
	plain := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) && r != document.NoBreak {
			return ' '
		}
		glyph, err := f.fonts[0].GlyphIndex(&f.buf, r)
		if err != nil || glyph == 0 || r > 0xFFFF || unicode.IsControl(r) {
			return '?'
		}
		return r
	}, text)
	f.plain[text] = strings.Join(blanks(plain), " ")
	return f.plain[text]
}

// blanks cuts a text at its blanks.
func blanks(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' })
}

// lines breaks text into lines no wider than width (mm), between words where it
// can. They are shared with whoever asks the same.
func (f *fonts) lines(text string, in face, width float64) []string {
	lines, known := f.lined[setting{text, in, width}]
	if known {
		return lines
	}
	line := ""
	for _, word := range blanks(f.printable(text)) {
		whole := word
		if line != "" {
			whole = line + " " + word
		}
		if f.width(whole, in) <= width {
			line = whole
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		parts := f.broken(word, in, width)
		lines = append(lines, parts[:len(parts)-1]...)
		line = parts[len(parts)-1]
	}
	if line != "" {
		lines = append(lines, line)
	}
	f.lined[setting{text, in, width}] = lines
	return lines
}

// broken breaks a word into parts no wider than width, each of a letter at least.
func (f *fonts) broken(word string, in face, width float64) []string {
	var parts []string
	letters := []rune(word)
	start := 0
	for i := 1; i < len(letters); i++ {
		if f.width(string(letters[start:i+1]), in) > width {
			parts = append(parts, string(letters[start:i]))
			start = i
		}
	}
	return append(parts, string(letters[start:]))
}

// Letters returns the font of figures, called [plots.FontName], as a TrueType file.
func Letters() []byte { return liberationsansregular.TTF }
