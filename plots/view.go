package plots

import "gonum.org/v1/gonum/spatial/r3"

// View is a direction of looking, in chair axes.
type View int

// The three views. Side is seen from the person's right, Top from above, Front
// from ahead.
const (
	Side View = iota
	Top
	Front
)

// String says which view it is and from where it is seen.
func (v View) String() string {
	switch v {
	case Top:
		return "top view"
	case Front:
		return "front view from ahead"
	case Side:
	}
	return "side view from the person's right"
}

// axes returns the unit vectors in chair axes that point right and up on paper.
func (v View) axes() (across, up r3.Vec) {
	switch v {
	case Top:
		return r3.Vec{X: 1}, r3.Vec{Y: 1}
	case Front:
		return r3.Vec{Y: 1}, r3.Vec{Z: 1}
	case Side:
	}
	return r3.Vec{X: 1}, r3.Vec{Z: 1}
}

// labels returns what the axes measure.
func (v View) labels() (across, up string) {
	switch v {
	case Top:
		return "forward", "to the person's left"
	case Front:
		return "to the person's left", "height above the floor"
	case Side:
	}
	return "forward", "height above the floor"
}

// plane returns the plane of paper of the view.
func (v View) plane() plane {
	across, up := v.axes()
	return plane{x: across, y: up}
}
