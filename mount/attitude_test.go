package mount_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// ballKit is a swinging post, an arm that is elevated, and a ball.
func ballKit(cone frame.Angle) mount.Kit {
	return mount.Kit{Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{Name: "post", Runs: mount.Up, Turn: turning(-180, 180), Shape: mount.Centerline{EndMM: 400}},
		mount.Elbow{Name: "elbow", Elevation: turning(-60, 60)},
		mount.Ball{Name: "ball", Cone: cone, StemMM: 40},
		mount.Plate{Name: "plate"},
	}}
}

// platesTol is for the rounding of two libraries, in degrees.
const platesTol = 1e-9

// TestAttitudeOfPlates compares with SciPy's Rotation; see plates.py.
func TestAttitudeOfPlates(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "reference", "values", "plates.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			Clamp           [3]float64
			Right           bool
			Settings        []float64
			Plate, Vertical [3]float64
		}
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) != 500 {
		t.Fatalf("%d cases, want 500", len(file.Cases))
	}
	for i, tt := range file.Cases {
		at := func(k int) frame.Angle { return frame.Angle(tt.Clamp[k]) * frame.Degree }
		place := mount.Mounting{Axes: mount.Axes{Rotation: at(0), Tilt: at(1), Roll: at(2)}}
		if tt.Right {
			place.Side = mount.OnRight
		}
		c, err := ballKit(120 * frame.Degree).Chain(place)
		if err != nil {
			t.Fatal(err)
		}
		var s mount.Settings
		for _, v := range tt.Settings {
			s = append(s, v*deg)
		}
		screen := mustForward(t, c, s).Rot
		got := mount.AttitudeOf(screen)
		for k, a := range [3]frame.Angle{got.Tilt, got.Rotation, got.Roll} {
			if off := (a - frame.Angle(tt.Plate[k])*frame.Degree).Wrapped().Degrees(); math.Abs(off) > platesTol {
				t.Fatalf("case %d: angle %d is %g°, SciPy has %g°", i, k, a.Degrees(), tt.Plate[k])
			}
		}
		// An inclinometer knows nothing but the vertical.
		felt := r3.Vec{X: tt.Vertical[0], Y: tt.Vertical[1], Z: tt.Vertical[2]}
		if d := r3.Norm(r3.Sub(screen.ApplyInverse(r3.Vec{Z: 1}), felt)); d > 1e-12 {
			t.Fatalf("case %d: the vertical in the plate's axes is off by %g", i, d)
		}
		roll, tilt := math.Asin(felt.X)/deg, math.Atan2(felt.Z, felt.Y)/deg
		if math.Abs(roll-got.Roll.Degrees()) > 1e-6 || math.Abs(tilt-got.Tilt.Degrees()) > 1e-6 {
			t.Fatalf("case %d: an inclinometer shows tilt %g° and roll %g°, not %v", i, tilt, roll, got)
		}
	}
}

// Settings, angles of the plate, settings: the plate is turned as before, on either side,
// with spins of any range and with no tip at all.
func TestTurnBallBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 1))
	for trial := range 2000 {
		kit := everything()
		ball := mount.Ball{Name: "ball", Cone: frame.Angle(5+175*rng.Float64()) * frame.Degree, StemMM: 25}
		if trial%3 == 0 {
			ball.Spin = turning(-360*rng.Float64(), 10*rng.Float64())
		}
		kit.Parts[len(kit.Parts)-2] = ball
		place := placed()
		if trial%2 == 0 {
			place = mirrored(place)
		}
		c, err := kit.Chain(place)
		if err != nil {
			t.Fatal(err)
		}
		s := randomSettings(rng, c)
		first := c.LastBall()
		if trial%10 == 0 {
			s[first+1] = 0
		}
		want := mustForward(t, c, s).Rot
		there := mount.AttitudeOf(want).Matrix()
		for i := range 3 {
			s[first+i] = 0 // all that is known of the ball is the plate
		}
		back, err := c.TurnBall(s, there)
		if err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		if off := want.Inverse().Mul(mustForward(t, c, back).Rot).Angle(); !(off < 1e-6) { // roll near 90° costs half the digits
			t.Fatalf("trial %d: the plate comes back turned by %g°", trial, off.Degrees())
		}
	}
}

// TestAttitudeOnEdge: with the lower edge upright only tilt and rotation together count.
func TestAttitudeOnEdge(t *testing.T) {
	for _, roll := range []frame.Angle{-90, 90} {
		was := mount.Attitude{Tilt: 20 * frame.Degree, Rotation: 50 * frame.Degree, Roll: roll * frame.Degree}.Matrix()
		got := mount.AttitudeOf(was)
		if off := was.Inverse().Mul(got.Matrix()).Angle(); got.Tilt != 0 || off > 1e-9 {
			t.Errorf("roll of %v°: %+v, off by %g°", float64(roll), got, off.Degrees())
		}
	}
}

func TestTurnBallTooFar(t *testing.T) {
	kit := ballKit(30 * frame.Degree)
	c, err := kit.Chain(mount.Mounting{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = c.TurnBall(make(mount.Settings, 5), mount.Attitude{Tilt: 25 * frame.Degree, Rotation: 25 * frame.Degree}.Matrix())
	var tip *mount.TipError
	// Two turns by 25° about axes square to each other turn a normal by acos(cos² 25°).
	if want := math.Acos(math.Pow(math.Cos(25*deg), 2)); !errors.As(err, &tip) || math.Abs(tip.Tip.Radians()-want) > 1e-9 || tip.Cone != 30*frame.Degree {
		t.Errorf("tip of %g°: error %v", want/deg, err)
	}
	kit.Parts[3] = mount.Ball{Name: "ball", Cone: 1, Spin: turning(-10, 10)}
	if c, err = kit.Chain(mount.Mounting{}); err != nil {
		t.Fatal(err)
	}
	rolled := mount.Attitude{Roll: 20 * frame.Degree}.Matrix() // no tip: direction and spin share the turn
	if s, err := c.TurnBall(make(mount.Settings, 5), rolled); err != nil || rolled.Inverse().Mul(mustForward(t, c, s).Rot).Angle() > 1e-9 {
		t.Errorf("rolled by 20°: %v, error %v", s, err)
	}
	// To face aside it tips toward the side, and spins back by a right angle.
	if _, err = c.TurnBall(make(mount.Settings, 5), mount.Attitude{Rotation: 20 * frame.Degree}.Matrix()); !errors.As(err, &tip) || tip.Cone != 0 {
		t.Errorf("spun by 90° with 10° allowed: error %v", err)
	}
	if _, err := c.TurnBall(make(mount.Settings, 4), frame.NoTurn()); !errors.Is(err, mount.ErrCount) {
		t.Errorf("four settings instead of five: %v", err)
	}
}
