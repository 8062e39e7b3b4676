package gaze

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Targets is what can be selected on a screen as the eyes see it.
type Targets struct {
	// Sizing says whether the sizes are known; all are zero unless it is Sized.
	Sizing Sizing
	// Spots are the middle of the used part and its corners, in the order of
	// [Corner]: NoCorner is the middle.
	Spots [5]Spot
	// Worst is the spot whose smallest target has the largest area.
	Worst Corner
	// Smallest is the least size of targets that are alike all over the used part:
	// the largest that any place of it needs, across and up.
	Smallest Extent
	// Rows and Columns are the most targets of that size that the used part holds,
	// with the gap of the grid that is asked for, if any; never above 1000.
	Rows, Columns int
	// Cell is the size of the targets of the grid that is asked for, and Short is
	// by how much they are too small; both zero when none is asked for.
	Cell, Short Extent
	// Fits says that no target of the grid that is asked for is too small; it is
	// true when none is asked for.
	Fits bool
}

// Extent is a size on the screen (mm), along the screen's right and up.
type Extent struct{ AcrossMM, UpMM float64 }

// Spot is what the tracker makes of one place on the screen.
type Spot struct {
	// AtMM is the place, in screen axes.
	AtMM r3.Vec
	// Degree is the size of a degree at the eye, centered on the place.
	Degree Extent
	// Offset and Spread are the tracker's accuracy and precision on the screen,
	// to the side on which they reach further.
	Offset, Spread Extent
	// Smallest is the smallest target whose middle is at the place.
	Smallest Extent
}

// Sizing says whether sizes on a screen are known. The zero value says so.
type Sizing int

// The values of [Sizing].
const (
	// Sized: every size is known.
	Sized Sizing = iota
	// EdgeOn: the eyes are behind the glass, or so near its plane that a line of
	// sight, off by as little as the tracker may be off, misses the plane. No
	// target can be selected: sizes and numbers of targets are zero, and no grid
	// fits.
	EdgeOn
	// NoError: accuracy and precision are both zero, which no tracker has, so that
	// they must be unknown. Degrees have a size, targets have none; a grid fits if
	// its gaps leave anything of its cells.
	NoError
)

// sight is the point midway between the eyes, seen from a screen.
//
// Sizes are reckoned from midway between the eyes: of two eyes a tracker reports
// the mean, and of one the size differs by less than the ratio of the pupils'
// spacing to the distance times the tangent of the angle off the normal, 3 % at
// a corner 15° off at 600 mm.
type sight struct{ eye r3.Vec }

func sightOf(screen frame.Pose, st *PostureInCarrier) sight {
	return sight{screen.ApplyInverse(r3.Scale(0.5, r3.Add(st.Eyes[LeftEye], st.Eyes[RightEye])))}
}

// line is a straight line on the glass, seen from the eye: the eye's distance
// from the line and the place on it, from the foot of that distance.
type line struct{ off, along float64 }

// lines returns the lines through the place p along the screen's right and up.
func (s sight) lines(p r3.Vec) (across, up line) {
	v := r3.Sub(p, s.eye)
	return line{math.Hypot(v.Y, v.Z), math.Abs(v.X)}, line{math.Hypot(v.X, v.Z), math.Abs(v.Y)}
}

// centered returns the length of line that is seen under the small angle a with
// the place in the middle of the angle, NaN if the line does not reach so far.
//
// The place is seen φ off the foot, tan φ = along/off, and r² = off² + along² away:
//
//	off (tan(φ + a/2) - tan(φ - a/2)) = off sin a / (cos² φ - sin² a/2)
//	                                  = off r² sin a / (off² - r² sin² a/2)
//
// Seen square (along = 0) it is 2 off tan a/2; its
// limit for small a is a r²/off, the distance over the cosine of incidence.
func (l line) centered(a frame.Angle) float64 {
	half := math.Sin(a.Radians() / 2)
	r2 := l.off*l.off + l.along*l.along
	rest := l.off*l.off - r2*half*half
	if !(rest > 0) {
		return math.NaN()
	}
	return l.off * math.Sin(a.Radians()) * (r2 / rest)
}

// beyond returns how far from the place the line of sight meets the line when it
// is turned by the angle a away from the foot, where it gets further than toward
// it; NaN if it does not meet it.
//
//	off (tan(φ + a) - tan φ) = r² tan a / (off - along tan a)
//
// Seen square it is off tan a.
func (l line) beyond(a frame.Angle) float64 {
	if a == 0 {
		return 0
	}
	t := math.Tan(a.Radians())
	rest := l.off - l.along*t
	if !(rest > 0) || !(t > 0) {
		return math.NaN()
	}
	return t * (l.off*l.off + l.along*l.along) / rest
}

// Spot returns what d's tracker makes of the place at (mm, screen axes; on the
// glass, so that Z is not looked at) with the screen at pose carrierFromScreen and
// a person in posture st. The sizes are zero unless the Sizing is Sized; when it is
// NoError the size of a degree is known.
//
// The smallest target is
//
//	S = 2 (O + 2 σ)
//
// along each axis, O the tracker's accuracy and σ its precision on the screen: with
// an error spread normally about O, 95 % of the samples are inside.
//
// What a tracker is stated to be off by is an angle in any direction; taken whole
// along both axes, it is too much rather than too little. The precision is taken to
// be the standard deviation, the root mean square of the deviations from their
// mean. A root mean square from sample to sample is √2 of that if samples are
// independent, so that it is again too much; but of samples that were filtered it
// can be any part of it, and nothing that is stated tells how small.
//
// Reference: A. M. Feit et al., "Toward Everyday Gaze Input", Proc. CHI 2017,
// 1118-1130.
func (d Device) Spot(screen frame.Pose, st *PostureInCarrier, at r3.Vec) (Spot, Sizing) {
	return d.Tracker.spot(sightOf(screen, st), at)
}

// spot does the work of [Device.Spot].
func (t Tracker) spot(s sight, at r3.Vec) (Spot, Sizing) {
	at.Z = 0
	spot := Spot{AtMM: at}
	if !(s.eye.Z > 0) || !frame.IsFinite(at) {
		return Spot{}, EdgeOn
	}
	across, up := s.lines(at)
	spot.Degree = Extent{across.centered(frame.Degree), up.centered(frame.Degree)}
	spot.Offset = Extent{across.beyond(t.Accuracy), up.beyond(t.Accuracy)}
	spot.Spread = Extent{across.beyond(t.Precision), up.beyond(t.Precision)}
	spot.Smallest = Extent{
		AcrossMM: 2 * (spot.Offset.AcrossMM + 2*spot.Spread.AcrossMM),
		UpMM:     2 * (spot.Offset.UpMM + 2*spot.Spread.UpMM),
	}
	switch {
	case !isFinite(spot.Degree.area()) || !isFinite(spot.Smallest.area()):
		return Spot{}, EdgeOn
	case spot.Smallest == Extent{}:
		return spot, NoError
	}
	return spot, Sized
}

// area returns the area (mm²), NaN or infinite if a side is.
func (e Extent) area() float64 { return e.AcrossMM * e.UpMM }

// over returns the larger of the sizes of e and f along each axis.
func (e Extent) over(f Extent) Extent {
	return Extent{max(e.AcrossMM, f.AcrossMM), max(e.UpMM, f.UpMM)}
}

// Targets returns what can be selected on d's screen at pose carrierFromScreen by
// a person in posture st, and whether the targets of grid, nil for none, are large
// enough. Every number is finite, whatever the input: what cannot be said is zero
// and [Targets.Sizing] says why.
//
// Targets are judged by the edge of the used part, whose corners count, although
// the middle of a target is half a cell further in: too strict by a few per cent.
func (d Device) Targets(screen frame.Pose, st *PostureInCarrier, grid *Grid) Targets {
	var t Targets
	used, s := d.Screen.Used, sightOf(screen, st)
	if grid.asked() {
		t.Cell = grid.CellMM(used)
	}
	for c := range t.Spots {
		spot, sizing := d.Tracker.spot(s, used.spot(Corner(c)))
		if sizing == EdgeOn {
			return t.edgeOn(grid)
		}
		t.Spots[c], t.Sizing = spot, sizing
		if spot.Smallest.area() > t.Spots[t.Worst].Smallest.area() {
			t.Worst = Corner(c)
		}
	}
	for _, at := range s.extremes(used) {
		spot, sizing := d.Tracker.spot(s, at)
		if sizing == EdgeOn {
			return t.edgeOn(grid)
		}
		t.Smallest = t.Smallest.over(spot.Smallest)
	}
	t.Columns = most(used.RightMM-used.LeftMM, t.Smallest.AcrossMM, grid.gap())
	t.Rows = most(used.TopMM-used.BottomMM, t.Smallest.UpMM, grid.gap())
	t.Fits = t.fits(grid)
	return t
}

// edgeOn returns the targets of a screen on which none can be selected.
func (t Targets) edgeOn(grid *Grid) Targets {
	return Targets{Sizing: EdgeOn, Cell: t.Cell, Fits: !grid.asked()}
}

// fits fills in by how much the cells are too small and reports whether none is.
func (t *Targets) fits(grid *Grid) bool {
	if !grid.asked() {
		return true
	}
	const roundingMM = 1e-9
	t.Short = Extent{}.over(Extent{t.Smallest.AcrossMM - t.Cell.AcrossMM, t.Smallest.UpMM - t.Cell.UpMM})
	return t.Short.AcrossMM <= roundingMM && t.Short.UpMM <= roundingMM && t.Cell.area() > 0
}

// spot returns the place of the spot that is named by a corner.
func (r Rect) spot(c Corner) r3.Vec {
	if c == NoCorner {
		return r3.Vec{X: (r.LeftMM + r.RightMM) / 2, Y: (r.BottomMM + r.TopMM) / 2}
	}
	return r.Corner(c)
}

// extremes returns places of r among which are those where targets must be widest
// and highest.
//
// On a row the width grows with the distance from the foot, to either side. Along
// a column, with c = along tan a, r²/(off - c) falls with off as long as off is
// below along (tan a + sec a) and grows from there, so that it is greatest where
// off is least or greatest: at the end of the column, or nearest to the eye. The
// same holds for heights with rows and columns exchanged.
func (s sight) extremes(r Rect) [8]r3.Vec {
	x := min(max(s.eye.X, r.LeftMM), r.RightMM)
	y := min(max(s.eye.Y, r.BottomMM), r.TopMM)
	return [8]r3.Vec{
		{X: r.LeftMM, Y: r.TopMM},
		{X: x, Y: r.TopMM},
		{X: r.RightMM, Y: r.TopMM},
		{X: r.LeftMM, Y: y},
		{X: r.RightMM, Y: y},
		{X: r.LeftMM, Y: r.BottomMM},
		{X: x, Y: r.BottomMM},
		{X: r.RightMM, Y: r.BottomMM},
	}
}
