package plots_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sightpost/plots"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

//go:generate go test . -update

var update = flag.Bool("update", false, "write the golden figures anew; look at them before committing")

// letters are those that a figure brings along; goldens go without them.
var letters = regexp.MustCompile(`base64,[^)]*`)

// TestGoldens compares every kind of figure with the SVG that was looked at.
func TestGoldens(t *testing.T) {
	all := figures(t)
	for name, f := range figuresIn(t, units.MM, narrow) {
		if slices.Contains([]string{"scene-side", "region-side", "swing-clear", "tolerances", "loads", "distribution", "course"}, name) {
			all["narrow-"+name] = f
		}
	}
	for name, f := range all {
		t.Run(name, func(t *testing.T) {
			var got bytes.Buffer
			if err := plots.WriteSVG(&got, f); err != nil {
				t.Fatal(err)
			}
			figure := letters.ReplaceAll(got.Bytes(), nil)
			path := filepath.Join("testdata", name+".svg")
			if *update {
				if err := os.WriteFile(path, figure, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(figure, want) {
				t.Errorf("%s differs from %s; run with -update and look at it", name, path)
			}
		})
	}
}

// TestSameBytes draws every figure twice, from the start, in every format.
// Writing PNG is slow: without SIGHTPOST_LONG, one figure is written as PNG.
func TestSameBytes(t *testing.T) {
	once, again := figures(t), figures(t)
	for format, write := range writers() {
		for name := range once {
			if format == "PNG" && name != "margin-tilt" && !trials.Long() {
				continue
			}
			var a, b bytes.Buffer
			if err := errors.Join(write(&a, once[name]), write(&b, again[name])); err != nil {
				t.Fatalf("%s of %s: %v", format, name, err)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s of %s is not the same twice", format, name)
			}
		}
	}
}

// writers returns the writers by format.
func writers() map[string]func(io.Writer, plots.Figure) error {
	return map[string]func(io.Writer, plots.Figure) error{"SVG": plots.WriteSVG, "PNG": plots.WritePNG, "PDF": plots.WritePDF}
}

// TestSVGSpeaks reads an SVG as XML and asks for what a screen reader needs.
func TestSVGSpeaks(t *testing.T) {
	for name, f := range figures(t) {
		var buf bytes.Buffer
		if err := plots.WriteSVG(&buf, f); err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Role      string `xml:"role,attr"`
			Labelled  string `xml:"aria-labelledby,attr"`
			Described string `xml:"aria-describedby,attr"`
			Title     struct {
				ID   string `xml:"id,attr"`
				Text string `xml:",chardata"`
			} `xml:"title"`
			Desc struct {
				ID   string `xml:"id,attr"`
				Text string `xml:",chardata"`
			} `xml:"desc"`
		}
		if err := xml.Unmarshal(buf.Bytes(), &doc); err != nil {
			t.Fatalf("%s is no XML: %v", name, err)
		}
		if doc.Role != "img" || doc.Labelled != doc.Title.ID || doc.Described != doc.Desc.ID || doc.Title.ID == "" || doc.Desc.ID == "" {
			t.Errorf("%s: role %q, labelled by %q, described by %q, want the ids %q and %q", name, doc.Role, doc.Labelled, doc.Described, doc.Title.ID, doc.Desc.ID)
		}
		if doc.Title.Text != f.Title || len(doc.Desc.Text) < 40 && name != "scene-compact" {
			t.Errorf("%s: title %q and description %q", name, doc.Title.Text, doc.Desc.Text)
		}
		if got := strings.Count(buf.String(), "\"font-family:"); got == 0 || got != strings.Count(buf.String(), "\"font-family:Figure Sans,Liberation Sans,Arial,Helvetica,sans-serif;") {
			t.Errorf("%s: a text of %d has no font to fall back on", name, got)
		}
	}
}

// TestInlineSVG puts one figure on a page twice: all ids are unique, and each names
// an element of its own drawing.
func TestInlineSVG(t *testing.T) {
	f := sideView(t, units.MM)
	var page bytes.Buffer
	for _, id := range []string{"small", "large-2"} {
		page.Reset()
		if err := plots.WriteInlineSVG(&page, f, id); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(page.String(), "<svg ") {
			t.Errorf("the element begins with %.20q", page.String())
		}
		for _, want := range []string{`aria-labelledby="` + id + `-title"`, `<title id="` + id + `-title">`, `aria-describedby="` + id + `-desc"`, `<desc id="` + id + `-desc">`} {
			if strings.Count(page.String(), want) != 1 {
				t.Errorf("%s: %s is not there once", id, want)
			}
		}
		if got := strings.Count(page.String(), ` id="`); got != 2 {
			t.Errorf("%s: %d ids, want 2", id, got)
		}
	}
	for _, id := range []string{"1st", "a b", `a"b`, "-a", "ä"} {
		if err := plots.WriteInlineSVG(io.Discard, f, id); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("id %q: error %v, want ErrFigure", id, err)
		}
	}
}

// TestPNGSize checks the resolution of pictures.
func TestPNGSize(t *testing.T) {
	f := sideView(t, units.MM)
	var buf bytes.Buffer
	if err := plots.WritePNG(&buf, f); err != nil {
		t.Fatal(err)
	}
	cfg, err := png.DecodeConfig(&buf)
	if err != nil {
		t.Fatal(err)
	}
	const dpi = 150
	if want := int(f.Size.Width.Points() / 72 * dpi); cfg.Width < want-1 || cfg.Width > want+1 {
		t.Errorf("the picture is %d dots wide, want %d", cfg.Width, want)
	}
}

// TestCompactIsForScenes: a figure that has no compact form is drawn as without it.
func TestCompactIsForScenes(t *testing.T) {
	r := swung(t, "post.swing")
	for name, draw := range map[string]func(plots.Options) (plots.Figure, error){
		"assessments": func(opt plots.Options) (plots.Figure, error) {
			return plots.Assessments(plots.Assessment{Result: r}, plots.Assessment{Result: r}, plots.Side, opt)
		},
		"hidden floor":   func(opt plots.Options) (plots.Figure, error) { return plots.HiddenFloor(r, opt) },
		"passage":        func(opt plots.Options) (plots.Figure, error) { return plots.Passage(r, opt) },
		"swing clear":    func(opt plots.Options) (plots.Figure, error) { return plots.SwingClear(r, opt) },
		"region":         func(opt plots.Options) (plots.Figure, error) { return plots.Region(r, plots.Side, opt) },
		"screen targets": func(opt plots.Options) (plots.Figure, error) { return plots.ScreenTargets(r, opt) },
	} {
		var drawn [2]bytes.Buffer
		for i, compact := range []bool{false, true} {
			f, err := draw(plots.Options{Compact: compact})
			if err == nil {
				err = plots.WriteSVG(&drawn[i], f)
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		if !bytes.Equal(drawn[0].Bytes(), drawn[1].Bytes()) {
			t.Errorf("%s: compact differs", name)
		}
	}
}
