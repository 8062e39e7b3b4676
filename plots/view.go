package plots

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
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

// seenAs is how a view lies on paper and what its axes measure.
type seenAs struct {
	name           string
	across, up     r3.Vec // unit vectors in chair axes
	acrossName     string
	upName         string
	acrossOf, upOf string // after a number
}

// seen returns how the view lies on paper.
func (v View) seen() seenAs {
	forward, left, up := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	switch v {
	case Top:
		return seenAs{"top view", forward, left, "forward", "to the person's left", "forward", "to the left"}
	case Front:
		return seenAs{"front view from ahead", left, up, "to the person's left", "height above the floor", "to the left", "above the floor"}
	case fromAnywhere:
		return seenAs{}
	case Side:
	}
	return seenAs{"side view from the person's right", forward, up, "forward", "height above the floor", "forward", "above the floor"}
}

// String says which view it is and from where it is seen.
func (v View) String() string { return v.seen().name }

// Views returns the views that show between them where the screen of a result is: from
// the side and from above and, of one that is rolled by half a degree or more, from ahead.
func Views(r *fit.Result) []View {
	const least = 0.5 * frame.Degree
	views := []View{Side, Top}
	rolled := func(f fit.PostureResult) bool {
		return math.Abs(math.Asin(min(max(f.Screen.Rot.X.Z, -1), 1))) >= least.Radians()
	}
	if slices.ContainsFunc(r.Postures, rolled) {
		views = append(views, Front)
	}
	return views
}

// plane returns the plane of paper of the view.
func (v View) plane() plane { return plane{x: v.seen().across, y: v.seen().up} }

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

// check returns nil if t is a direction.
func (t Turned) check() error {
	if !isFinite(t.Azimuth.Radians()) || !isFinite(t.Elevation.Radians()) {
		return fmt.Errorf("%w: a view from nowhere", ErrFigure)
	}
	return nil
}

// String says from where the view is seen, to whole degrees.
func (t Turned) String() string {
	azimuth, elevation := math.Round(t.Azimuth.Wrapped().Degrees()), math.Round(t.Elevation.Wrapped().Degrees())
	side, from, off := "left", "from ahead", math.Abs(azimuth)
	if azimuth < 0 {
		side = "right"
	}
	if off > 90 {
		from, off = "from behind", 180-off
	}
	if off == 90 {
		from = "from the person's " + side
	} else if off > 0 {
		from += fmt.Sprintf(", %.0f° to the person's %s", off, side)
	}
	switch {
	case elevation > 0:
		from += fmt.Sprintf(", %.0f° above level", elevation)
	case elevation < 0:
		from += fmt.Sprintf(", %.0f° below level", -elevation)
	}
	return from
}
