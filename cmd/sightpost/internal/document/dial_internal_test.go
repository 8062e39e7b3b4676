package document

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots/units"
)

// TestSigns names the ways of settings by what moves: on the left of the chair and on its
// right, upright, lying and upside down, and with scales that count down.
func TestSigns(t *testing.T) {
	up, ahead, lifts := r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{Y: -1}
	level, over := frame.NoTurn(), frame.About(ahead, math.Pi)
	back := frame.About(lifts, math.Pi/2)
	falls := mount.Scale{Given: true, Falls: true}
	for _, row := range []struct {
		name  string
		axis  r3.Vec
		at    frame.Rotation
		scale mount.Scale
		want  Sign
	}{
		{"post.swing", up, level, mount.Scale{}, Sign{"left", "right", "above"}},
		{"post.swing", r3.Scale(-1, up), level, mount.Scale{}, Sign{"right", "left", "above"}}, // on the right
		{"post.swing", up, over, mount.Scale{}, Sign{"right", "left", "above"}},
		{"post.swing", up, level, falls, Sign{"right", "left", "above"}},
		{"elbow.pan", up, back, mount.Scale{}, Sign{"left", "right", "the upper end (top)"}},
		{"arm.twist", ahead, level, mount.Scale{}, Sign{"left", "right", "the outer end (top)"}},
		{"arm.twist", r3.Scale(-1, ahead), level, mount.Scale{}, Sign{"right", "left", "the outer end (top)"}},
		{"clamp.index", up, level, mount.Scale{}, Sign{"left", "right", "above"}},
		{"elbow.elevation", lifts, level, mount.Scale{}, Sign{Plus: "up", Minus: "down"}},
		{"elbow.elevation", lifts, over, mount.Scale{}, Sign{Plus: "down", Minus: "up"}},
		{"elbow.elevation", lifts, level, falls, Sign{Plus: "down", Minus: "up"}},
		{"joint.tilt", lifts, level, mount.Scale{}, Sign{Plus: "back", Minus: "forward"}},
		{"joint.roll", ahead, level, mount.Scale{}, Sign{Plus: "right up", Minus: "right down"}},
		{"joint.roll", r3.Scale(-1, ahead), level, mount.Scale{}, Sign{Plus: "right down", Minus: "right up"}},
		{"clamp.position", ahead, level, mount.Scale{}, Sign{Plus: "forward", Minus: "back"}},
		{"clamp.position", ahead, back, mount.Scale{}, Sign{Plus: "up", Minus: "down"}},
		{"post.height", up, level, mount.Scale{}, Sign{Minus: "below 0"}},
	} {
		if got := signOf(mount.Joint{Name: row.name, Axis: row.axis, Scale: row.scale, Low: -1}, row.at, 0); got != row.want {
			t.Errorf("%s about %v: %+v, want %+v", row.name, row.at.Apply(row.axis), got, row.want)
		}
	}
}

// TestSigned says a sign in words, and none where nothing shows; without a word it stays.
func TestSigned(t *testing.T) {
	pan := Sign{Plus: "left", Minus: "right"}
	for _, row := range []struct {
		Sign
		value float64
		want  string
	}{{pan, 35, "35° left"}, {pan, -35, "35° right"}, {pan, -0.1, "0°"}, {Sign{}, -35, "−35°"}, {Sign{}, 35, "35°"}} {
		if got := Turn(row.value, "", row.Plus, row.Minus).In(units.MM); got != row.want {
			t.Errorf("%v with %+v: %q, want %q", row.value, row.Sign, got, row.want)
		}
	}
}
