package plots_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"

	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/plots"
	"sightpost/plots/units"
)

// scaleTolMM is how far a length on paper may be off: far less than a ruler
// shows. SVG keeps five digits, 0.004 mm.
const scaleTolMM = 0.1

// rulerMM are the edges of the box that is measured on paper.
const rulerMM = 500.0

// TestScaleIsExact draws a cube of 500 mm and measures it on paper in every view
// at several sizes.
func TestScaleIsExact(t *testing.T) {
	r := sample(t)
	job := r.Job
	cube, err := space.Box(frame.Translate(r3.Vec{X: 300, Z: 600}), r3.Vec{X: rulerMM, Y: rulerMM, Z: rulerMM})
	if err != nil {
		t.Fatal(err)
	}
	job.KeepClear = []fit.KeepClear{{Name: "ruler", Shape: cube}}
	seen := make(map[int]bool)
	for _, v := range []plots.View{plots.Side, plots.Top, plots.Front} {
		for _, size := range []plots.Size{{}, {Width: 190 * vg.Millimeter, Height: 130 * vg.Millimeter}, {Width: 500 * vg.Millimeter, Height: 400 * vg.Millimeter}} {
			f, err := plots.Scene(r, v, plots.Options{Size: size})
			if err != nil {
				t.Fatal(err)
			}
			seen[f.Scale] = true
			wide, high := cubeOnPaper(t, f)
			want := rulerMM / float64(f.Scale)
			if math.Abs(wide-want) > scaleTolMM || math.Abs(high-want) > scaleTolMM {
				t.Errorf("%v at 1:%d: 500 mm are %.3f by %.3f mm on paper, want %.3f", v, f.Scale, wide, high, want)
			}
			if !strings.HasSuffix(f.Title, fmt.Sprintf("1:%d", f.Scale)) {
				t.Errorf("title %q does not end in the scale 1:%d", f.Title, f.Scale)
			}
		}
	}
	for _, view := range []plots.Turned{{}, {Azimuth: -90 * frame.Degree}, {Azimuth: 180 * frame.Degree, Elevation: 90 * frame.Degree}} {
		f, err := plots.View3D(r, view, plots.Options{})
		if err != nil {
			t.Fatal(err)
		}
		wide, high := cubeOnPaper(t, f)
		if want := rulerMM / float64(f.Scale); math.Abs(wide-want) > scaleTolMM || math.Abs(high-want) > scaleTolMM {
			t.Errorf("%v at 1:%d: 500 mm are %.3f by %.3f mm on paper, want %.3f", view, f.Scale, wide, high, want)
		}
	}
	if !seen[5] || !seen[10] || len(seen) < 3 {
		t.Errorf("only the scales %v were tried", seen)
	}
}

// cubeOnPaper returns the width and height in mm of the first outline in the
// color of what is to be kept clear.
func cubeOnPaper(t *testing.T, f plots.Figure) (wide, high float64) {
	t.Helper()
	var buf bytes.Buffer
	if err := plots.WriteSVG(&buf, f); err != nil {
		t.Fatal(err)
	}
	path := regexp.MustCompile(`<path d="([^"]*)" style="fill:none;stroke:#CC79A7`).FindStringSubmatch(buf.String())
	if path == nil {
		t.Fatal("the cube is not in the figure")
	}
	low, high2 := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, pair := range strings.FieldsFunc(path[1], func(r rune) bool { return strings.ContainsRune("MLZ", r) }) {
		for i, s := range strings.Split(pair, ",") {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			low[i], high2[i] = min(low[i], v), max(high2[i], v)
		}
	}
	const perPoint = 25.4 / 72
	return (high2[0] - low[0]) * perPoint, (high2[1] - low[1]) * perPoint
}

// narrow is a window no wider than a hand, screen one of an ordinary size.
var (
	narrow = plots.Size{Width: 68 * vg.Millimeter, Height: 230 * vg.Millimeter}
	screen = plots.Size{Width: 190 * vg.Millimeter, Height: 150 * vg.Millimeter}
)

// TestFiguresOnScreen: every figure is drawn as narrow as asked for, and not higher than a
// window where that is wide, with everything that it says on paper.
func TestFiguresOnScreen(t *testing.T) {
	paper := map[string]string{}
	for name, f := range figures(t) {
		paper[name] = written(t, f)
	}
	for _, size := range []plots.Size{narrow, screen} {
		for name, f := range figuresIn(t, units.MM, size) {
			const tol = 1e-6 // points, of rounding
			if name != "scene-compact" && f.Size.Width > size.Width+tol {
				t.Errorf("%s: asked for %v, got %v", name, size.Width, f.Size.Width)
			}
			if high := plots.Landscape().Height; size == screen && f.Size.Height > high+tol {
				t.Errorf("%s: it is %v high, more than the %v that a window shows", name, f.Size.Height, high)
			}
			said := written(t, f)
			for _, label := range []string{"eyes 1180", "gaze range, down", "free to", "smallest target", "weakest joint", "usual head movement"} {
				if strings.Contains(paper[name], label) && !strings.Contains(said, label) {
					t.Errorf("%s, %v wide: there is no %q", name, size.Width, label)
				}
			}
		}
	}
}

// TestFiguresFit checks that no figure is larger than asked for.
func TestFiguresFit(t *testing.T) {
	r := sample(t)
	for _, w := range []vg.Length{90, 120, 180, 277} {
		size := plots.Size{Width: w * vg.Millimeter, Height: 190 * vg.Millimeter}
		for _, compact := range []bool{true, false} {
			if w < 120 && !compact {
				continue // the key alone is wider than half of that
			}
			f, err := plots.Scene(r, plots.Side, plots.Options{Size: size, Compact: compact})
			if err != nil {
				t.Fatalf("%v mm wide: %v", w, err)
			}
			const tol = 1e-6 // points, of rounding
			if f.Size.Width > size.Width+tol || f.Size.Height > size.Height+tol {
				t.Errorf("asked for %v, got %v", size, f.Size)
			}
		}
	}
}

// TestCompactWithoutLabels: on paper that its labels leave no space on, a compact scene is
// drawn without them.
func TestCompactWithoutLabels(t *testing.T) {
	size := plots.Size{Width: 95 * vg.Millimeter, Height: 45 * vg.Millimeter}
	for _, view := range []plots.View{plots.Side, plots.Top} {
		if _, err := plots.Scene(sample(t), view, plots.Options{Size: size}); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("%v: with its labels: %v, want ErrFigure", view, err)
		}
		f, err := plots.Scene(sample(t), view, plots.Options{Size: size, Compact: true})
		if err != nil {
			t.Errorf("%v: %v", view, err)
		} else if f.Size.Height > size.Height || f.Size.Width > size.Width {
			t.Errorf("%v: takes %v", view, f.Size)
		}
	}
}

// TestCompactKeepsLabels: a compact scene on paper with space for its labels is drawn with
// all that the same scene has otherwise.
func TestCompactKeepsLabels(t *testing.T) {
	size := plots.Size{Width: 180 * vg.Millimeter, Height: 190 * vg.Millimeter}
	for _, view := range []plots.View{plots.Side, plots.Top} {
		f, err := plots.Scene(sample(t), view, plots.Options{Size: size, Compact: true})
		if err != nil {
			t.Fatal(err)
		}
		var svg bytes.Buffer
		if err := plots.WriteInlineSVG(&svg, f, ""); err != nil {
			t.Fatal(err)
		}
		for _, label := range []string{">eyes", ">elbow", ">clamp", ">screen middle"} {
			if !strings.Contains(svg.String(), label) {
				t.Errorf("%v: there is no label %q", view, label)
			}
		}
	}
}
