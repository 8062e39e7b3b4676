package gaze

// Grid is an arrangement of targets that fills the used part of a screen: equal
// cells, with a gap between neighbors in which nothing is selected. A Grid with
// fewer than one row or column asks for nothing.
type Grid struct {
	Rows, Columns int
	GapMM         float64
}

// asked reports whether g asks for anything.
func (g *Grid) asked() bool { return g != nil && g.Rows > 0 && g.Columns > 0 }

// widestGapMM is taken for a gap that is wider still: no screen is as wide.
const widestGapMM = 1e6

// gap returns the gap (mm), never negative and never more than widestGapMM; none
// for a gap that is no number.
func (g *Grid) gap() float64 {
	if g == nil || !(g.GapMM > 0) {
		return 0
	}
	return min(g.GapMM, widestGapMM)
}

// CellMM returns the size of one target of g in the used part of a screen; a
// size is zero where gaps leave nothing of it, or when g asks for nothing.
func (g Grid) CellMM(used Rect) Extent {
	if !g.asked() {
		return Extent{}
	}
	return Extent{
		AcrossMM: cellMM(used.RightMM-used.LeftMM, g.Columns, g.gap()),
		UpMM:     cellMM(used.TopMM-used.BottomMM, g.Rows, g.gap()),
	}
}

// cellMM returns the length of each of n equal cells with gaps between them.
func cellMM(lengthMM float64, n int, gapMM float64) float64 {
	return finiteOr(max(0, (lengthMM-float64(n-1)*gapMM)/float64(n)), 0)
}

// Cell returns the place of one target of g in the used part of a screen. Rows
// count from the top and columns from the left, both from zero.
func (g Grid) Cell(used Rect, row, column int) Rect {
	size, gap := g.CellMM(used), g.gap()
	left := used.LeftMM + float64(column)*(size.AcrossMM+gap)
	top := used.TopMM - float64(row)*(size.UpMM+gap)
	return Rect{LeftMM: left, RightMM: left + size.AcrossMM, BottomMM: top - size.UpMM, TopMM: top}
}

// mostCells ends the count of targets that are very small.
const mostCells = 1000

// most returns how many cells of a size fit into a length with gaps between
// them, mostCells at most: n cells and n-1 gaps take n (size + gap) - gap.
//
// A cell that exactly fits counts in spite of rounding.
func most(lengthMM, sizeMM, gapMM float64) int {
	const rounding = 1e-9
	if !(sizeMM > 0) || !(lengthMM > 0) {
		return 0
	}
	return int(min((lengthMM+gapMM)/(sizeMM+gapMM)*(1+rounding), mostCells))
}

// finiteOr returns v if it is a number that is not infinite, and otherwise other.
func finiteOr(v, other float64) float64 {
	if isFinite(v) {
		return v
	}
	return other
}
