package fit_test

import (
	"math"
	"testing"

	"sightpost/mount/fit"
	"sightpost/mount/tube"
)

// TestUsed: rough ground counts for tubes and joints, safety for tubes alone, and a
// rating as it is.
func TestUsed(t *testing.T) {
	rough := fit.Demand{ShockFactor: 2, SafetyFactor: 1.5}
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"tube", rough.UsedOfTube(tube.Stress{MPa: 60, YieldMPa: 240}), 0.75},
		{"tube on level ground", fit.Demand{}.UsedOfTube(tube.Stress{MPa: 60, YieldMPa: 240}), 0.25},
		{"tube of unknown yield", rough.UsedOfTube(tube.Stress{MPa: 60}), 0},
		{"joint", rough.UsedOfJoint(tube.JointLoad{Load: 6, SlipLoad: 8}), 1.5},
		{"joint that holds nobody knows what", rough.UsedOfJoint(tube.JointLoad{Load: 6}), 0},
		{"part", rough.UsedOfPart(tube.Carry{KG: 3, RatedKG: 4}), 0.75},
		{"part that is not rated", rough.UsedOfPart(tube.Carry{KG: 3}), 0},
	} {
		const rounding = 1e-12
		if math.Abs(tt.got-tt.want) > rounding {
			t.Errorf("%s: %v of what it bears, want %v", tt.name, tt.got, tt.want)
		}
	}
	if bump, safety := (fit.Demand{}).Factors(); bump != 1 || safety != 1 {
		t.Errorf("factors %v and %v of no demand, want 1 and 1", bump, safety)
	}
}

// TestPassage: what is missed by rounding to inches alone passes, and a side that is not
// asked for may be of any length.
func TestPassage(t *testing.T) {
	chair := fit.Extent{BehindMM: 500, AheadMM: 800, LeftMM: 400, RightMM: 400}
	for _, tt := range []struct {
		name         string
		p            fit.Passage
		passes, fits bool
	}{
		{"nothing asked for", fit.Passage{}, true, true},
		{"just so", fit.Passage{DoorMM: 799.1, FloorWidthMM: 799.1, FloorLengthMM: 1299.1}, true, true},
		{"narrow door", fit.Passage{DoorMM: 798.9}, false, true},
		{"narrow floor", fit.Passage{DoorMM: 801, FloorWidthMM: 798.9}, true, false},
		{"short floor", fit.Passage{FloorLengthMM: 1298.9}, true, false},
		{"length alone", fit.Passage{FloorLengthMM: 1300}, true, true},
	} {
		if passes, fits := tt.p.Passes(chair), tt.p.Fits(chair); passes != tt.passes || fits != tt.fits {
			t.Errorf("%s: passes %v, fits %v; want %v, %v", tt.name, passes, fits, tt.passes, tt.fits)
		}
	}
}
