package plots_test

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots"
	"sightpost/plots/units"
)

// TestNumberedHasEverySetting draws the sample's mount with its screen and without, on
// either side.
func TestNumberedHasEverySetting(t *testing.T) {
	r := sample(t)
	for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
		at := r.Job.Mount.Mountings[0]
		if at.Side = side; side == mount.OnRight {
			at.ClampMM.Y *= -1
		}
		chain, err := r.Job.Mount.Kit.Chain(at)
		if err != nil {
			t.Fatal(err)
		}
		for _, screen := range []gaze.Screen{{}, r.Job.Device.Screen} {
			f, err := plots.Numbered(chain, chain.Preferred(), frame.Identity(), screen, nil, plots.Options{Label: "kit"})
			if err != nil {
				t.Fatal(err)
			}
			var svg bytes.Buffer
			if err := plots.WriteSVG(&svg, f); err != nil {
				t.Fatal(err)
			}
			for k := range chain.Moving() {
				number := fmt.Sprintf(">%d</text>", k+1)
				if !strings.Contains(svg.String(), number) {
					t.Errorf("the drawing lacks the number %d", k+1)
				}
			}
			for _, part := range []string{"clamp", "post", "elbow", "arm", "joint"} {
				if !strings.Contains(svg.String(), ">"+part+"</text>") {
					t.Errorf("the drawing lacks the name %q", part)
				}
			}
		}
	}
	if _, err := plots.Numbered(r.Set.Chain, nil, frame.Identity(), gaze.Screen{}, nil, plots.Options{}); !errors.Is(err, mount.ErrCount) {
		t.Errorf("without settings: error %v, want %v", err, mount.ErrCount)
	}
}

// TestNumberedAlone: settings that are not asked for have no number.
func TestNumberedAlone(t *testing.T) {
	r := sample(t)
	f, err := plots.Numbered(r.Set.Chain, r.Set.Settings, frame.Identity(), r.Job.Device.Screen, map[int]string{3: "right"}, plots.Options{})
	var svg bytes.Buffer
	if err = errors.Join(err, plots.WriteSVG(&svg, f)); err != nil {
		t.Fatal(err)
	}
	if got := regexp.MustCompile(`>\d+( right)?<`).FindAllString(svg.String(), -1); !slices.Equal(got, []string{">3 right<", ">0<"}) {
		t.Errorf("numbers %q, want 3 alone, and 0 of the scale bar", got)
	}
}

// TestWaysCoverNoArrow: beside numbers alone and beside numbers with words as much is seen of
// the arrows.
func TestWaysCoverNoArrow(t *testing.T) {
	r := sample(t)
	seen := func(way string) (n int) {
		ways := map[int]string{}
		for i := range r.Set.Settings {
			ways[i+1] = way
		}
		f, err := plots.Numbered(r.Set.Chain, r.Set.Settings, frame.Identity(), r.Job.Device.Screen, ways, plots.Options{Size: plots.Size{Width: 120 * vg.Millimeter, Height: 120 * vg.Millimeter}})
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		if err := plots.WritePNG(&file, f); err != nil {
			t.Fatal(err)
		}
		picture, err := png.Decode(&file)
		if err != nil {
			t.Fatal(err)
		}
		for y := range picture.Bounds().Dy() {
			for x := range picture.Bounds().Dx() {
				if r, _, b, _ := picture.At(x, y).RGBA(); r > 2*b {
					n++
				}
			}
		}
		return n
	}
	if alone, worded := seen(""), seen("to the right"); alone == 0 || worded != alone {
		t.Errorf("of the arrows %d dots are seen, with words %d", alone, worded)
	}
}

// TestKitSaysItsSettings draws a kit with a ball and an elbow of stops, and one that is none.
func TestKitSaysItsSettings(t *testing.T) {
	kit := sampleKit()
	kit.Parts[2] = mount.Elbow{Name: "elbow", Elevation: mount.Range{Low: -30 * degree, High: 30 * degree, Step: 15 * degree, Preferred: 4 * degree, Indexed: true}}
	kit.Parts[4] = mount.Ball{Name: "joint", Cone: 35 * frame.Degree, StemMM: 30}
	kitSays(t, kit, units.Inch,
		"1: clamp position, as the case says", "2: post height, 10 5/8 in to 23 5/8 in; drawn at 17 11/16 in",
		"4: elbow elevation, stop 1 to stop 5, stops every 15°; drawn at stop 3",
		"6: joint tilt, within the cone of 35°", "7: joint rotation, within the cone of 35°", "8: joint roll, all the way round; drawn at 0°")
	kit.Parts[3] = mount.Tube{Name: "arm", Runs: mount.Ahead, Slide: mount.Range{Low: 125, High: 400, Step: 12.5, Preferred: 250, Indexed: true}}
	kitSays(t, kit, units.MM, "5: arm extension, stop 1 to stop 23, stops every 12.5 mm; drawn at stop 11")
	kitSays(t, kit, units.CM, "stops every 1.25 cm")
	if _, err := plots.Kit(mount.Kit{Name: "none"}, plots.Options{}); err == nil {
		t.Error("a kit without parts is drawn")
	}
}

func kitSays(t *testing.T, kit mount.Kit, u units.Units, words ...string) {
	t.Helper()
	f, err := plots.Kit(kit, plots.Options{Units: u})
	if err != nil {
		t.Fatal(err)
	}
	got := strings.ReplaceAll(written(t, f), ";", "")
	for _, words := range words {
		if !strings.Contains(got, strings.ReplaceAll(words, ";", "")) {
			t.Errorf("%q is not in the figure: %q", words, got)
		}
	}
}
