package plots_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots"
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
			f, err := plots.Numbered(chain, chain.Preferred(), frame.Identity(), screen, plots.Options{Label: "kit"})
			if err != nil {
				t.Fatal(err)
			}
			var svg bytes.Buffer
			if err := plots.WriteSVG(&svg, f); err != nil {
				t.Fatal(err)
			}
			for k, j := range chain.Moving() {
				number := fmt.Sprintf(">%d</text>", k+1)
				if words := fmt.Sprintf("%d: %s.", k+1, strings.NewReplacer("_", " ", ".", " ").Replace(j.Name)); !strings.Contains(f.Desc, words) {
					t.Errorf("%q is not in %q", words, f.Desc)
				}
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
	if _, err := plots.Numbered(r.Set.Chain, nil, frame.Identity(), gaze.Screen{}, plots.Options{}); !errors.Is(err, mount.ErrCount) {
		t.Errorf("without settings: error %v, want %v", err, mount.ErrCount)
	}
}
