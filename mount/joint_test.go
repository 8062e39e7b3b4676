package mount_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sightpost/mount"
)

func TestJointReadableSettings(t *testing.T) {
	slide := mount.Joint{Motion: mount.Slide, Low: 298, High: 703, Step: 5}
	stops := mount.Joint{Motion: mount.Turn, Low: -45, High: 50, Step: 30, Indexed: true} // radians play no part
	narrow := mount.Joint{Motion: mount.Slide, Low: 301, High: 304, Step: 5}
	fixed := mount.Joint{Motion: mount.Fixed}
	tests := []struct {
		name                string
		joint               mount.Joint
		v                   float64
		round, below, above float64
	}{
		{"on a step", slide, 400, 400, 400, 400},
		{"a bit above", slide, 401, 400, 400, 405},
		{"a bit below", slide, 404, 405, 400, 405},
		{"rounding noise", slide, 400 + 1e-10, 400, 400, 400},
		{"limit that cannot be read", slide, 298, 300, 300, 300},
		{"above the last step", slide, 702, 700, 700, 700},
		{"far outside", slide, 9000, 700, 700, 700},
		{"below zero", slide, -9000, 300, 300, 300},
		{"stop", stops, -15, -15, -15, -15},
		{"between stops", stops, 4, 15, -15, 15},
		{"past the last stop", stops, 50, 45, 45, 45},
		{"no step within", narrow, 302, 302, 302, 302},
		{"no step within, outside", narrow, 0, 301, 301, 301},
		{"fixed", fixed, 3, 0, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.joint.Round(tt.v); got != tt.round {
				t.Errorf("Round(%v) = %v, want %v", tt.v, got, tt.round)
			}
			if lo, hi := tt.joint.Neighbors(tt.v); lo != tt.below || hi != tt.above {
				t.Errorf("Neighbors(%v) = %v, %v, want %v, %v", tt.v, lo, hi, tt.below, tt.above)
			}
		})
	}
	if got, want := stops.Stops(), []float64{-45, -15, 15, 45}; !slices.Equal(got, want) {
		t.Errorf("Stops() = %v, want %v", got, want)
	}
	if got := slide.Stops(); got != nil {
		t.Errorf("Stops() of a joint without stops = %v", got)
	}
	if got := slide.Round(math.NaN()); !math.IsNaN(got) {
		t.Errorf("Round(NaN) = %v", got)
	}
}

// Whatever the limits and steps, the rounded setting is within the limits, it is
// one of the neighbours, and no farther than half a step where both exist.
func TestRoundIsTheNearerNeighbor(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	for range 2000 {
		low := 1000 * (rng.Float64() - 0.5)
		j := mount.Joint{
			Motion: mount.Slide, Low: low, High: low + 500*rng.Float64(),
			Step: 0.1 + 20*rng.Float64(), Indexed: rng.IntN(2) == 0,
		}
		v := j.Low + rng.Float64()*(j.High-j.Low)
		got := j.Round(v)
		lo, hi := j.Neighbors(v)
		if got != lo && got != hi {
			t.Fatalf("%+v: Round(%v) = %v is neither %v nor %v", j, v, got, lo, hi)
		}
		if math.Abs(got-v) > math.Min(math.Abs(lo-v), math.Abs(hi-v))+exactMM {
			t.Fatalf("%+v: Round(%v) = %v, but the neighbours are %v and %v", j, v, got, lo, hi)
		}
		if got < j.Low-exactMM || got > j.High+exactMM {
			t.Fatalf("%+v: Round(%v) = %v is outside", j, v, got)
		}
		if again := j.Round(got); math.Abs(again-got) > exactMM {
			t.Fatalf("%+v: rounding %v again gives %v", j, got, again)
		}
	}
}

func TestJointFormat(t *testing.T) {
	slide := func(step float64) mount.Joint { return mount.Joint{Motion: mount.Slide, Step: step} }
	turn := func(step float64) mount.Joint { return mount.Joint{Motion: mount.Turn, Step: step * deg} }
	tests := []struct {
		name  string
		joint mount.Joint
		v     float64
		want  string
	}{
		{"whole mm", slide(1), 412.3, "412 mm"},
		{"five mm", slide(5), 415, "415 mm"},
		{"half mm", slide(0.5), 412.5, "412.5 mm"},
		{"quarter mm", slide(0.25), 412.25, "412.25 mm"},
		{"eighth of an inch", slide(3.175), 406.4, "406.400 mm"},
		{"half degree", turn(0.5), -12.5 * deg, "-12.5°"},
		{"whole degrees", turn(1), -12.5 * deg, "-13°"},
		{"no negative zero", turn(1), -0.2 * deg, "0°"},
		{"no step", slide(0), 412.34, "412.3 mm"},
		{"not a number", slide(1), math.NaN(), "NaN mm"},
		{"infinite", slide(1), math.Inf(-1), "-Inf mm"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.joint.Format(tt.v); got != tt.want {
				t.Errorf("Format(%v) = %q, want %q", tt.v, got, tt.want)
			}
		})
	}
}
