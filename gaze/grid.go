package gaze

// Grid is an arrangement of targets that fills the used part of a screen: equal
// cells, with a gap between neighbours in which nothing is selected.
type Grid struct {
	Rows, Columns int
	GapMM         float64
}

// Targets is what can be selected on a screen as it stands to the eyes.
type Targets struct {
	// DegreeMM are the sizes of a degree at the eye at the corners of the used
	// part and at its middle, in the order of [Corner], the middle first.
	DegreeMM [5]DegreeSize
	// Worst is the corner, or NoCorner for the middle, where targets must be
	// largest; WidthMM and HeightMM are the smallest target there.
	Worst             Corner
	WidthMM, HeightMM float64
	// Rows and Columns are the most targets of that size that the used part holds,
	// with the gap of the grid that is asked for, if any.
	Rows, Columns int
	// Fits says that the grid that is asked for has targets large enough; it is
	// true when none is asked for.
	Fits bool
}

// DegreeSize is the size on the screen of a degree at the eye (mm), along the
// screen's right and up.
type DegreeSize struct{ AcrossMM, UpMM float64 }
