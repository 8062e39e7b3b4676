package sheet_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

var papers = []sheet.Paper{sheet.A4, sheet.Letter}

// overlapTol is how far two boxes may reach into each other (mm): a hair, for
// rounding.
const overlapTol = 0.01

// TestNothingOverlaps lays out every case on every paper and checks that no text,
// figure or room for handwriting overlaps another or leaves the margins.
func TestNothingOverlaps(t *testing.T) {
	for name, source := range allSources(t) {
		for _, paper := range papers {
			t.Run(name+" "+paper.String(), func(t *testing.T) {
				c := sheet.New(source.Source)
				pages, letters, figures, err := c.Boxes(paper)
				if err != nil {
					t.Fatal(err)
				}
				if letters < sheet.Smallest {
					t.Errorf("letters of %.1f pt, less than %.1f", letters, sheet.Smallest)
				}
				want := 2 // views; of what is rolled, one from ahead; of what can be set, the mount with its settings numbered
				if slices.ContainsFunc(source.Result.Postures, func(f fit.PostureResult) bool { return math.Abs(f.Screen.Rot.X.Z) >= math.Sin(0.5*math.Pi/180) }) {
					want++
				}
				if source.Document.Usable && source.Document.Has(document.SectionSettings) {
					want++
				}
				if figures != want {
					t.Errorf("%d figures, want %d", figures, want)
				}
				if len(pages) > 3 {
					t.Errorf("%d pages", len(pages))
				}
				for _, boxes := range pages {
					apart(t, boxes)
					inside(t, boxes, paper)
				}
			})
		}
	}
}

func apart(t *testing.T, boxes []sheet.Box) {
	t.Helper()
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			across := min(a.X+a.W, b.X+b.W) - max(a.X, b.X)
			down := min(a.Y+a.H, b.Y+b.H) - max(a.Y, b.Y)
			if across > overlapTol && down > overlapTol {
				t.Errorf("%q and %q overlap by %.2f by %.2f mm", b.What, a.What, across, down)
			}
		}
	}
}

func inside(t *testing.T, boxes []sheet.Box, paper sheet.Paper) {
	t.Helper()
	width, height := paper.Size()
	for _, b := range boxes {
		if !(b.W > 0 && b.H > 0) {
			t.Errorf("%q is %.2f by %.2f mm", b.What, b.W, b.H)
		}
		out := max(sheet.Edge-b.X, sheet.Edge-b.Y, b.X+b.W-(width-sheet.Edge), b.Y+b.H-(height-sheet.Edge))
		if out > overlapTol {
			t.Errorf("%q reaches %.2f mm into the margin", b.What, out)
		}
	}
}

// TestTooLong gives words that no page holds: an error and no sheet, rather than
// one that is cut off.
func TestTooLong(t *testing.T) {
	source := shippedCase(t, "upright-adult")
	long := *source.Report
	long.Warnings = []document.Finding{{Text: document.Quote(strings.Repeat("mind this and then that too ", 2000))}}
	source.Document = long.Document()
	c := sheet.New(source.Source)
	for _, paper := range papers {
		var page strings.Builder
		if err := c.WritePDF(&page, paper); !errors.Is(err, sheet.ErrPage) || !strings.Contains(err.Error(), "bench-06 is ") {
			t.Errorf("%v, PDF: error %v, want one that says how much too long the page is", paper, err)
		}
		if err := c.WriteHTML(&page, paper); !errors.Is(err, sheet.ErrPage) {
			t.Errorf("%v, HTML: error %v, want %v", paper, err, sheet.ErrPage)
		}
		if page.Len() > 0 {
			t.Errorf("%v: %d bytes were written", paper, page.Len())
		}
	}
}

// TestLines breaks random words: no line is too wide and no letter is lost.
func TestLines(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	letters := []rune("abcdefg ilmnorstW.°−  ÄŁЖ\n\t")
	for range 60 {
		text := make([]rune, rng.IntN(120))
		for i := range text {
			text[i] = letters[rng.IntN(len(letters))]
		}
		width := 8 + 40*rng.Float64()
		lines, widths, err := sheet.Lines(string(text), 9, width)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range widths {
			if w > width {
				t.Errorf("line %q is %.2f mm wide, more than %.2f", lines[i], w, width)
			}
		}
		all := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := all(strings.Join(lines, "")), all(string(text)); got != want {
			t.Errorf("%q became %q", want, got)
		}
	}
}

// TestLettersThatTheFontLacks come out as question marks, whatever they are.
func TestLettersThatTheFontLacks(t *testing.T) {
	lines, _, err := sheet.Lines("a\x00b\xffc 漢 \U0001F600 \ufeffd", 9, 100)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(lines, "|"), "a?b?c ? ? ?d"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestLeftOf(t *testing.T) {
	for _, tt := range []struct {
		name string
		tall []float64
		want int
	}{
		{"nothing", nil, 0},
		{"one", []float64{5}, 1},
		{"two", []float64{5, 3}, 1},
		{"more on the left", []float64{4, 1, 2, 3, 2}, 3},
		{"more on the right", []float64{4, 2, 6, 3, 1}, 2},
		{"one long", []float64{1, 9, 1, 1}, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := sheet.LeftOf(tt.tall); got != tt.want {
				t.Errorf("%d on the left, want %d", got, tt.want)
			}
		})
	}
}

// allSources returns what the sheets of every shipped case are made from, and of
// cases that fill a page.
func allSources(t *testing.T) map[string]sample {
	t.Helper()
	all := oddSources(t)
	for _, name := range caseNames(t) {
		all[name] = shippedCase(t, name)
	}
	for _, name := range []string{"upright-adult", "tilt-two-postures", "driver"} { // one posture, three, and the longest
		inches := all[name]
		inches.Units = units.Inch
		all[name+" in inches"] = inches
	}
	return all
}

// TestManyReasons: a case that fails for many reasons has a sheet all the same, on more pages.
func TestManyReasons(t *testing.T) {
	source := shippedCase(t, "upright-adult")
	long := *source.Report
	for range 36 {
		long.Warnings = append(long.Warnings, document.Finding{Text: document.Quote(strings.Repeat("mind this and then that too ", 10))})
	}
	source.Document = long.Document()
	c := sheet.New(source.Source)
	for _, paper := range papers {
		pages, _, _, err := c.Boxes(paper)
		if err != nil {
			t.Fatal(err)
		}
		for _, boxes := range pages {
			inside(t, boxes, paper)
		}
	}
}
