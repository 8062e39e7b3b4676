package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Tracker is an eye tracker at a fixed place on a screen. It sees a frustum and
// needs the line of sight within a limit of the direction to itself.
type Tracker struct {
	// NearMM, BestMM and FarMM are depths along the optical axis (mm).
	NearMM, BestMM, FarMM float64
	// Across and UpDown are the full angles of the frustum, right to left and
	// bottom to top of the screen.
	Across, UpDown frame.Angle
	// BelowMM is how far the tracker sits below the middle of the display area,
	// InFrontMM how far in front of the glass (mm).
	BelowMM, InFrontMM float64
	// AimedUp turns the optical axis from the screen's normal toward its top.
	AimedUp frame.Angle
	// GazeLimit is the greatest angle, at the eye, between the direction to the
	// tracker and the direction of gaze; above 0° and below 90°.
	GazeLimit frame.Angle
	// Accuracy and Precision are angles at the eye.
	Accuracy, Precision frame.Angle
}

// Screen is the display area and the box around it. Its glass is the plane z = 0 of
// screen axes.
type Screen struct {
	// WidthMM and HeightMM are the size of the display area.
	WidthMM, HeightMM float64
	// Used is the part of the display area that is looked at; its corners count.
	Used Rect
	// HousingMM is the size of the box right to left, bottom to top and front to
	// back. Its front is flush with the glass.
	HousingMM r3.Vec
	// HousingBelowMM is how far the middle of the housing sits below the middle
	// of the display area.
	HousingBelowMM float64
	// MassKG is the mass of screen, tracker and housing together.
	MassKG float64
}

// Rect is a rectangle in screen axes (mm from the middle of the display area).
type Rect struct{ LeftMM, RightMM, BottomMM, TopMM float64 }

// Display returns the whole display area as a rectangle.
func (s Screen) Display() Rect {
	return Rect{LeftMM: -s.WidthMM / 2, RightMM: s.WidthMM / 2, BottomMM: -s.HeightMM / 2, TopMM: s.HeightMM / 2}
}

// Device is a screen with its tracker.
type Device struct {
	Screen  Screen
	Tracker Tracker
}

// Place returns the tracker's place in screen axes (mm).
func (t Tracker) Place() r3.Vec { return r3.Vec{Y: -t.BelowMM, Z: t.InFrontMM} }

// Axis returns the unit optical axis in screen axes.
func (t Tracker) Axis() r3.Vec {
	s, c := math.Sincos(t.AimedUp.Radians())
	return r3.Vec{Y: s, Z: c}
}

// Corner is a corner of the used part of the screen, as the viewer sees it.
type Corner int

// The corners; NoCorner marks conditions that do not belong to one.
const (
	NoCorner Corner = iota
	TopLeft
	TopRight
	BottomLeft
	BottomRight
)

// String returns the corner in words.
func (c Corner) String() string {
	if c < NoCorner || c > BottomRight {
		return "no corner"
	}
	return [...]string{"", "top-left corner", "top-right corner", "bottom-left corner", "bottom-right corner"}[c]
}

// Corner returns the place of c in screen axes (mm).
func (r Rect) Corner(c Corner) r3.Vec {
	v := r3.Vec{X: r.LeftMM, Y: r.BottomMM}
	if c == TopRight || c == BottomRight {
		v.X = r.RightMM
	}
	if c == TopLeft || c == TopRight {
		v.Y = r.TopMM
	}
	return v
}
