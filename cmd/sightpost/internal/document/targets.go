package document

import (
	"sightpost/gaze"
)

// Targets is what can be selected on the screen as it stands to the eyes.
type Targets struct {
	// Whether sizes are known: "sized" if they are; "edge_on" if the eyes are so near
	// the plane of the glass, or behind it, that nothing can be selected; "no_error" if
	// accuracy and precision of the tracker are not known, so that degrees have a size
	// and targets have none.
	Sizing string `json:"sizing" jsonschema:"enum=sized,enum=edge_on,enum=no_error"`
	// The middle of the used part and its corners.
	Spots []Spot `json:"spots"`
	// The spot where the smallest target is largest.
	Worst string `json:"worst" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// The least size of targets that are alike all over the used part.
	Smallest Size `json:"smallest"`
	// Most rows of such targets that the used part holds.
	Rows int `json:"rows"`
	// Most columns.
	Columns int `json:"columns"`
	// Size of the targets of the grid that is asked for; absent when none is.
	Cell *Size `json:"cell,omitempty"`
	// By how much they are too small; absent when no grid is asked for.
	Short *Size `json:"short,omitempty"`
	// False when a grid is asked for whose targets are too small.
	GridFits bool `json:"grid_fits"`
}

// Size is a size on the screen.
type Size struct {
	// Across the screen.
	AcrossMM float64 `json:"across_mm"`
	// Up the screen.
	UpMM float64 `json:"up_mm"`
}

// Spot is what the tracker makes of a place on the screen.
type Spot struct {
	// The place, as the viewer sees it.
	Place string `json:"place" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// Size of a degree at the eye.
	Degree Size `json:"degree"`
	// The tracker's accuracy there, to the side on which it reaches further.
	Offset Size `json:"offset"`
	// The tracker's precision there, likewise.
	Spread Size `json:"spread"`
	// The smallest target whose middle is there.
	Smallest Size `json:"smallest"`
}

// Grid is the arrangement of targets that the screen is wanted for.
type Grid struct {
	// From top to bottom.
	Rows int `json:"rows"`
	// From left to right.
	Columns int `json:"columns"`
	// Between neighbors.
	GapMM float64 `json:"gap_mm"`
}

// newTargets returns what can be selected; grid is nil when none is asked for.
func newTargets(t gaze.Targets, grid *gaze.Grid) *Targets {
	to := &Targets{
		Sizing: sizingKey(t.Sizing), Spots: make([]Spot, 0, len(t.Spots)),
		Worst: cornerKey(t.Worst), Smallest: newSize(t.Smallest), Rows: t.Rows, Columns: t.Columns, GridFits: t.Fits,
	}
	for i, s := range t.Spots {
		to.Spots = append(to.Spots, Spot{
			Place: cornerKey(gaze.Corner(i)), Degree: newSize(s.Degree), Offset: newSize(s.Offset), Spread: newSize(s.Spread), Smallest: newSize(s.Smallest),
		})
	}
	if grid != nil {
		cell, short := newSize(t.Cell), newSize(t.Short)
		to.Cell, to.Short = &cell, &short
	}
	return to
}

func newSize(e gaze.Extent) Size { return Size{AcrossMM: plain(e.AcrossMM), UpMM: plain(e.UpMM)} }

// sizingKey returns the word for s in the object.
func sizingKey(s gaze.Sizing) string {
	switch s {
	case gaze.EdgeOn:
		return "edge_on"
	case gaze.NoError:
		return "no_error"
	case gaze.Sized:
	}
	return "sized"
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
