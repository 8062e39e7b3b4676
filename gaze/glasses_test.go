package gaze_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// TestLenses: a tracker at known angles below the eyes.
func TestLenses(t *testing.T) {
	const tolerance = 1e-12 // degrees
	for _, row := range []struct {
		name        string
		slant, down float64
		off         float64
		glare       bool
	}{
		{"straight at it", 0, 0, 0, true},
		{"slanted toward it", 12, 12, 0, true},
		{"well below the normal", 10, 25, 15, false},
		{"level with eyes behind slanted lenses", 12, 0, 12, false},
		{"just inside", 10, 19.9, 9.9, true},
		{"just outside", 10, 20.1, 10.1, false},
		{"behind the lens", 0, 180, 180, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, c := math.Sincos(row.down * math.Pi / 180)
			// Eyes at one place, so that both see the tracker at the same angle.
			screen := facing(r3.Vec{X: 600 * c, Z: 1200 - 600*s})
			lenses := gaze.Glasses{LensSlant: deg(row.slant)}.Lenses(gaze.Device{}, screen, driver(1200, 0), gaze.Both)
			if len(lenses) != 2 {
				t.Fatalf("%d lenses, want 2", len(lenses))
			}
			for _, l := range lenses {
				if !(math.Abs(l.Off.Degrees()-row.off) <= tolerance) || l.Glare != row.glare {
					t.Errorf("%v: %g° off, glare %v; want %g°, %v", l.Eye, l.Off.Degrees(), l.Glare, row.off, row.glare)
				}
			}
		})
	}
}

// TestLensesOfEyesUsed: the lenses are those of the eyes that are needed, and each
// has its own place.
func TestLensesOfEyesUsed(t *testing.T) {
	st := driver(1200, 60)
	screen := facing(r3.Vec{X: 600, Y: 30, Z: 1200}) // straight ahead of the left eye
	glasses := gaze.Glasses{}
	right := frame.Angle(math.Atan2(60, 600))
	for eyes, want := range map[gaze.EyesUsed][]gaze.Lens{
		gaze.Both:      {{Eye: gaze.LeftEye, Glare: true}, {Eye: gaze.RightEye, Off: right, Glare: true}},
		gaze.Either:    {{Eye: gaze.LeftEye, Glare: true}, {Eye: gaze.RightEye, Off: right, Glare: true}},
		gaze.LeftOnly:  {{Eye: gaze.LeftEye, Glare: true}},
		gaze.RightOnly: {{Eye: gaze.RightEye, Off: right, Glare: true}},
	} {
		got := glasses.Lenses(gaze.Device{}, screen, st, eyes)
		if len(got) != len(want) {
			t.Fatalf("eyes %v: %d lenses, want %d", eyes, len(got), len(want))
		}
		for i := range want {
			if got[i].Eye != want[i].Eye || got[i].Glare != want[i].Glare || !(math.Abs((got[i].Off - want[i].Off).Radians()) <= 1e-12) {
				t.Errorf("eyes %v: %+v, want %+v", eyes, got[i], want[i])
			}
		}
	}
}

// TestLightComesBackByTwiceTheAngle: light from the tracker that a lens throws back
// misses it by twice the angle that is reported, by the law of reflection.
func TestLightComesBackByTwiceTheAngle(t *testing.T) {
	const tolerance = 1e-9
	draw := newDrawing(60)
	for trial := range 100 {
		device, scene := draw.device(), draw.scene()
		st := scene.InCarrier(scene.Measured.AsMeasured("measured"))
		screen := draw.screen(&st, device.Tracker)
		glasses := gaze.Glasses{LensSlant: draw.degrees(0, 20)}
		s, c := math.Sincos(glasses.LensSlant.Radians())
		normal := r3.Add(r3.Scale(c, st.Head.Rot.X), r3.Scale(-s, st.Head.Rot.Z))
		for _, l := range glasses.Lenses(device, screen, &st, gaze.Both) {
			to := r3.Sub(screen.Apply(device.Tracker.Place()), st.Eyes[l.Eye])
			back := r3.Sub(r3.Scale(2*r3.Dot(normal, to), normal), to)
			if got := frame.Between(to, back); !(math.Abs((got - 2*l.Off).Radians()) <= tolerance) {
				t.Errorf("trial %d: the light comes back %g° off, want twice %g°", trial, got.Degrees(), l.Off.Degrees())
			}
		}
	}
}

// TestLensesOfWhatCannotBe: a tracker at the eye and a place that is no number.
func TestLensesOfWhatCannotBe(t *testing.T) {
	for _, at := range []r3.Vec{{Z: 1200}, {X: math.NaN()}, {X: math.Inf(1)}} {
		lenses := gaze.Glasses{LensSlant: frame.Angle(math.Inf(1))}.Lenses(gaze.Device{}, facing(at), driver(1200, 0), gaze.Both)
		allNumbers(t, "lenses", lenses)
		if lenses[0].Off != 0 || !lenses[0].Glare {
			t.Errorf("tracker at %v: %+v, want straight ahead", at, lenses[0])
		}
	}
}
