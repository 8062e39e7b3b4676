package fit_test

import (
	"math"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/testdata/reference"
	"sightpost/testdata/trials"
)

// TestGreatestMarginAgainstLibrary: the greatest margin of screens and of mounts is that of a
// global search; see testdata/reference/scripts/feasible.py. So none that works is refused.
// Without SIGHTPOST_LONG it tries one case of ten.
func TestGreatestMarginAgainstLibrary(t *testing.T) {
	const (
		searchMM = 0.1 // what a tape can never show, and what the search promises
		farMM    = 1e4 // more than any screen has, so that the greatest margin is what is looked for
	)
	type values struct {
		reference.Scene
		Postures []reference.Posture
		Upright  string
		Kit      *referenceKit
		Margin   float64
	}
	for i, ref := range reference.Read[values](t, "feasible") {
		if i%10 > 0 && !trials.Long() {
			continue
		}
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			job := &fit.Job{Scene: ref.ToScene(), Device: ref.ToDevice()}
			job.Preferences = fit.Preferences{Rates: fittest.Rates, Ranges: fittest.Ranges, MarginMM: farMM}
			if ref.Upright == "room" {
				job.Preferences.Upright = gaze.WithLevel
			}
			for k, p := range ref.Postures {
				posture := p.ToPosture()
				posture.Name, posture.MustWork = strconv.Itoa(k), true
				job.Postures = append(job.Postures, posture)
			}
			if ref.Kit != nil {
				job.Mount = ref.Kit.mount()
				fittest.Stiff(job)
			}
			if got := fittest.Solve(t, job).MarginMM(); got < ref.Margin-searchMM || got > ref.Margin+searchMM {
				t.Errorf("margin %.3f mm, a global search finds %.3f mm", got, ref.Margin)
			}
		})
	}
}

// referenceKit is how the reference script writes a mount: limits in mm and degrees.
type referenceKit struct {
	Clamp, Plate reference.Triple
	ElbowToArm   float64 `json:"elbow_to_arm"`
	Limits       [9][2]float64
}

// mount returns the mount, with steps too fine to matter and tubes so thick that the place of
// the plate says nothing of one before the device, which the script does not know.
func (k *referenceKit) mount() *fit.MountJob {
	const fine = 1e-4
	slide := func(l [2]float64) mount.Range {
		return mount.Range{Low: l[0], High: l[1], Step: fine, Preferred: (l[0] + l[1]) / 2}
	}
	turn := func(l [2]float64) mount.Range {
		r := fittest.Turn(l[0], l[1], fine)
		r.Preferred = (r.Low + r.High) / 2
		return r
	}
	tube := mount.Section{OutsideMM: 25 + 2*math.Abs(k.Plate.Vec().Z), WallMM: 2, Material: mount.Material{YoungMPa: 70e3, ShearMPa: 26e3}}
	l := k.Limits
	return &fit.MountJob{
		Kit: mount.Kit{Name: "reference", Parts: []mount.Part{
			mount.Clamp{Name: "clamp", PositionStepMM: fine},
			mount.Tube{Name: "post", Section: tube, Slide: slide(l[1]), Turn: turn(l[2])},
			mount.Elbow{Name: "elbow", Pan: turn(l[3]), Elevation: turn(l[4]), ElevationToEndMM: r3.Vec{X: k.ElbowToArm}},
			mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: slide(l[5])},
			mount.Turns{Name: "joint", Pan: turn(l[6]), Tilt: turn(l[7]), Roll: turn(l[8])},
			mount.Plate{Name: "plate", OffsetMM: k.Plate.Vec()},
		}},
		Mountings: []mount.Mounting{{
			ClampMM: k.Clamp.Vec(), SlideLowMM: l[0][0], SlideHighMM: l[0][1], SlideAlong: r3.Vec{X: 1},
		}},
	}
}
