package gaze_test

import (
	"math"
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/testdata/reference"
)

// TestLookingAgainstLibrary: sizes on a screen, the hidden floor, the solid angle
// and its share of the field are those of projection, hulls and quadrature.
func TestLookingAgainstLibrary(t *testing.T) {
	const (
		sizeMM     = 1e-9 // a root is found to 1e-12 mm
		shadowMM   = 1e-6 // what is 150 mm below the eyes is thrown far
		areaMM2    = 1e-2 // of some square meters
		solidAngle = 1e-11
	)
	type extent struct{ Degree, Offset, Spread, Smallest float64 }
	type values struct {
		reference.Scene
		Screen              reference.Rows
		Eyes                [2]reference.Triple
		Accuracy, Precision float64
		Place               reference.Triple
		Sizes               struct{ Across, Up extent }
		Shadows             [3]struct{ Near, Far, Left, Right, Area float64 }
		Solid, Share        float64
	}
	for i, ref := range reference.Read[values](t, "looking") {
		device := ref.ToDevice()
		device.Tracker.Accuracy, device.Tracker.Precision = deg(ref.Accuracy), deg(ref.Precision)
		st := gaze.PostureInCarrier{Carrier: frame.Identity(), Head: frame.Identity()}
		for eye := range st.Eyes {
			st.Eyes[eye] = ref.Eyes[eye].Vec()
		}
		check := func(what string, got, want, tolerance float64) {
			t.Helper()
			if !(math.Abs(got-want) <= tolerance) {
				t.Errorf("case %d: %s: %.12g, want %.12g", i, what, got, want)
			}
		}
		spot, _ := device.Spot(ref.Screen.Pose(), &st, ref.Place.Vec())
		for _, axis := range []struct {
			name string
			got  extent
			want extent
		}{
			{"across", extent{spot.Degree.AcrossMM, spot.Offset.AcrossMM, spot.Spread.AcrossMM, spot.Smallest.AcrossMM}, ref.Sizes.Across},
			{"up", extent{spot.Degree.UpMM, spot.Offset.UpMM, spot.Spread.UpMM, spot.Smallest.UpMM}, ref.Sizes.Up},
		} {
			check("degree "+axis.name, axis.got.Degree, axis.want.Degree, sizeMM)
			check("offset "+axis.name, axis.got.Offset, axis.want.Offset, sizeMM)
			check("spread "+axis.name, axis.got.Spread, axis.want.Spread, sizeMM)
			check("smallest "+axis.name, axis.got.Smallest, axis.want.Smallest, 6*sizeMM)
		}
		a := device.Ahead(ref.Screen.Pose(), &st)
		for k, s := range []gaze.Shadow{a.Floor[0], a.Floor[1], a.Both} {
			want := ref.Shadows[k]
			check("near", s.NearMM, want.Near, shadowMM)
			check("far", s.FarMM, want.Far, shadowMM)
			check("left", s.LeftMM, want.Left, shadowMM)
			check("right", s.RightMM, want.Right, shadowMM)
			check("area", s.AreaMM2, want.Area, areaMM2)
		}
		check("solid angle", a.SolidSR, ref.Solid, solidAngle)
		check("share", a.Share, ref.Share, solidAngle)
	}
}
