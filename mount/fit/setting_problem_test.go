package fit_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// TestSettingProblemOfAFixedMount: a mount of which nothing can be set sags as well.
func TestSettingProblemOfAFixedMount(t *testing.T) {
	job := adult()
	section := fittest.OffsetKit().Parts[1].(mount.Tube).Section
	job.Mount.Kit.Parts = []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{Name: "post", Section: section, Shape: mount.Centerline{EndMM: 500}},
		mount.Bracket{Name: "bracket", OffsetMM: r3.Vec{X: 400, Y: -260}},
		mount.Plate{Name: "plate", Faces: mount.FacesBack},
	}
	r, err := fit.Check(t.Context(), job, 0, mount.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Postures[0].Mount.Motion == frame.Identity() {
		t.Fatal("the mount does not sag: the test shows nothing")
	}
	p, err := fit.NewSettingProblem(r)
	if err != nil {
		t.Fatal(err)
	}
	if mm, _ := p.Screen(mount.Settings{}); math.Abs(mm-r.MarginMM()) > sameMM {
		t.Errorf("margin %v mm, want that of the result, %v mm", mm, r.MarginMM())
	}
}
