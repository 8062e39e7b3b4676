package plots

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// View is a direction of looking, in chair axes.
type View int

// The three views. Side is seen from the person's right, Top from above, Front
// from ahead.
const (
	Side View = iota
	Top
	Front
	fromAnywhere // a view that measures nothing along its axes
)

// views are how the views lie on paper and what their axes measure.
var views = [...]struct {
	name               string
	plane              plane
	acrossName, upName string
}{
	Side:         {"side view from the person's right", plane{x: r3.Vec{X: 1}, y: r3.Vec{Z: 1}}, "forward", "height above the floor"},
	Top:          {"top view", plane{x: r3.Vec{X: 1}, y: r3.Vec{Y: 1}}, "forward", "to the person's left"},
	Front:        {"front view from ahead", plane{x: r3.Vec{Y: 1}, y: r3.Vec{Z: 1}}, "to the person's left", "height above the floor"},
	fromAnywhere: {},
}

// String says which view it is and from where it is seen.
func (v View) String() string { return views[v].name }

// of says what the view measures of a place: of the side view, its height.
func (v View) of(p r3.Vec, u units.Units) string {
	forward, left, up := worded(u, p.X, "forward", "back"), worded(u, p.Y, "left", "right"), u.Number(p.Z)
	return [...]string{Side: " " + up, Top: ": " + forward + ", " + left, Front: ": " + up + " up, " + left, fromAnywhere: ""}[v]
}

// worded returns a length with the word for its sign.
func worded(u units.Units, mm float64, plus, minus string) string {
	if mm < 0 {
		plus = minus
	}
	return u.Number(math.Abs(mm)) + " " + plus
}

// Views returns the views that show between them where the screen of a result is: from
// the side and from above and, of one that is rolled by half a degree or more, from ahead.
func Views(r *fit.Result) []View {
	const least = 0.5 * frame.Degree
	rolled := func(f fit.PostureResult) bool {
		return math.Abs(math.Asin(min(max(f.Screen.Rot.X.Z, -1), 1))) >= least.Radians()
	}
	if slices.ContainsFunc(r.Postures, rolled) {
		return []View{Side, Top, Front}
	}
	return []View{Side, Top}
}

// Turned is the direction from which a parallel projection is seen. The zero
// value is the front view from ahead.
type Turned struct {
	// Azimuth is the turn about the upright axis from straight ahead of the person,
	// positive to the person's left: -90° is the side view, 180° is from behind.
	Azimuth frame.Angle
	// Elevation is above level: 90° is the view from above.
	Elevation frame.Angle
}

// TurnedTo returns a direction from which the mount of a result is seen in front
// of the person: from ahead and above, on the side on which it is.
func TurnedTo(r *fit.Result) Turned {
	t := Turned{Azimuth: 50 * frame.Degree, Elevation: 20 * frame.Degree}
	if r != nil && r.Set != nil && r.Set.Side == mount.OnRight {
		t.Azimuth = -t.Azimuth
	}
	return t
}

// plane returns the plane of paper of the view.
//
// With d the direction to the viewer, paper's right is up × d brought to level and
// its up completes the two: at every azimuth and elevation they are unit vectors
// square to each other and to d.
func (t Turned) plane() plane {
	sa, ca := math.Sincos(t.Azimuth.Radians())
	se, ce := math.Sincos(t.Elevation.Radians())
	return plane{
		x: r3.Vec{X: -sa, Y: ca},
		y: r3.Vec{X: -se * ca, Y: -se * sa, Z: ce},
	}
}

// String says from where the view is seen, to whole degrees.
func (t Turned) String() string {
	side, level := "left", "above"
	azimuth, elevation := math.Round(t.Azimuth.Wrapped().Degrees()), math.Round(t.Elevation.Wrapped().Degrees())
	if azimuth < 0 {
		side = "right"
	}
	if elevation < 0 {
		level = "below"
	}
	return fmt.Sprintf("from ahead, %.0f° to the person's %s, %.0f° %s level", math.Abs(azimuth), side, math.Abs(elevation), level)
}
