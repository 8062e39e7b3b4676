package report

import (
	"sightpost/gaze"
)

// Targets is what can be selected on the screen as it stands to the eyes.
type Targets struct {
	// Size of a degree at the eye, in the middle of the used part and at its
	// corners.
	Degree []DegreeSize `json:"degree"`
	// The place where targets must be largest.
	Worst string `json:"worst" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// Width of the smallest target there.
	WidthMM float64 `json:"smallest_width_mm"`
	// Height of the smallest target there.
	HeightMM float64 `json:"smallest_height_mm"`
	// Most rows of such targets that the used part holds.
	Rows int `json:"rows"`
	// Most columns.
	Columns int `json:"columns"`
	// False when a grid is asked for whose cells are too small.
	GridFits bool `json:"grid_fits"`
}

// DegreeSize is the size of a degree at a place of the screen.
type DegreeSize struct {
	// The place, as the viewer sees it.
	Place string `json:"place" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// Across the screen.
	AcrossMM float64 `json:"across_mm"`
	// Up the screen.
	UpMM float64 `json:"up_mm"`
}

// Grid is the arrangement of targets that the screen is wanted for.
type Grid struct {
	// From top to bottom.
	Rows int `json:"rows"`
	// From left to right.
	Columns int `json:"columns"`
	// Between neighbours.
	GapMM float64 `json:"gap_mm"`
}

// newTargets returns what can be selected; nil when that is not known.
func newTargets(t gaze.Targets) *Targets {
	if t == (gaze.Targets{}) {
		return nil
	}
	to := &Targets{
		Worst: cornerKey(t.Worst), WidthMM: t.WidthMM, HeightMM: t.HeightMM, Rows: t.Rows, Columns: t.Columns, GridFits: t.Fits,
	}
	for i, d := range t.DegreeMM {
		to.Degree = append(to.Degree, DegreeSize{Place: cornerKey(gaze.Corner(i)), AcrossMM: d.AcrossMM, UpMM: d.UpMM})
	}
	return to
}

func newGrid(g *gaze.Grid) *Grid {
	if g == nil {
		return nil
	}
	return &Grid{Rows: g.Rows, Columns: g.Columns, GapMM: g.GapMM}
}

// cornerKey returns the word for a corner in the object.
func cornerKey(c gaze.Corner) string {
	switch c {
	case gaze.TopLeft:
		return "top_left"
	case gaze.TopRight:
		return "top_right"
	case gaze.BottomLeft:
		return "bottom_left"
	case gaze.BottomRight:
		return "bottom_right"
	case gaze.NoCorner:
	}
	return "middle"
}
