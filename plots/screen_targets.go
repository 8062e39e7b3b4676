package plots

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// ScreenTargets returns the figure of the display area as the viewer sees it, with what can be
// selected on it in one posture: lines of equal size of a degree at the eye, the
// smallest target in the corners and the middle of the used part, and the targets
// that the job asks for or, if it asks for none, the most that are large enough.
//
// A degree is not as large across as it is up where the screen is not seen square;
// the lines are of the side of a square as large as a degree by a degree.
//
// The figure is to scale, at the largest of 1:1, 1:2, 1:3, 1:4, 1:5 and 1:10 that
// fits. The error wraps [ErrFigure].
func ScreenTargets(r *fit.Result, opt Options) (Figure, error) {
	s, err := newScene(r, Front, "targets on the screen", opt)
	if err != nil {
		return Figure{}, err
	}
	s.scales = []int{1, 2, 3, 4, 5, 10}
	s.acrossName, s.upName = "to the viewer's right of the middle", "above the middle"
	l := screenTargets{scene: s, screen: heldScreen(s.shown)}
	l.targets = s.job.Device.Targets(l.screen, &s.shown.InCarrier, s.job.Grid)
	l.eye = l.screen.ApplyInverse(r3.Scale(0.5, r3.Add(s.shown.InCarrier.Eyes[0], s.shown.InCarrier.Eyes[1])))
	l.draw()
	return s.figure()
}

// screenTargets is a display area being drawn, in screen axes.
type screenTargets struct {
	*scene
	screen  frame.Pose // carrierFromScreen
	targets gaze.Targets
	eye     r3.Vec // between the eyes
}

func (l *screenTargets) draw() {
	screen := l.job.Device.Screen
	_, half := screen.Housing()
	l.outline(cornersOf(gaze.Rect{
		LeftMM: -half.X, RightMM: half.X, BottomMM: -half.Y - screen.HousingBelowMM, TopMM: half.Y - screen.HousingBelowMM,
	}), lookHousing)
	l.explain(lookHousing, "device housing")
	l.outline(cornersOf(screen.Display()), lookDisplay)
	l.grid()
	l.outline(cornersOf(screen.Display()), look{line: lookDisplay.line})
	l.explain(lookDisplay, "display area")
	if screen.Used != screen.Display() {
		l.outline(cornersOf(screen.Used), lookUsed)
		l.explain(lookUsed, "part that is looked at")
	}
	l.degrees()
	l.smallest()
}

// cornersOf returns the corners of a rectangle of the screen, going round.
func cornersOf(r gaze.Rect) []r2.Vec {
	return []r2.Vec{{X: r.LeftMM, Y: r.BottomMM}, {X: r.RightMM, Y: r.BottomMM}, {X: r.RightMM, Y: r.TopMM}, {X: r.LeftMM, Y: r.TopMM}}
}

// mostDrawn is how many rows or columns of targets are drawn at most: more cannot be
// told apart on paper.
const mostDrawn = 60

// grid draws the targets that are asked for, or the most that are large enough.
func (l *screenTargets) grid() {
	t, used := &l.targets, l.job.Device.Screen.Used
	g := l.job.Grid
	var words string
	switch {
	case g != nil && g.Rows > 0 && g.Columns > 0:
		words = fmt.Sprintf("%d rows of %d targets", g.Rows, g.Columns)
		if t.Sizing == gaze.Sized {
			words += map[bool]string{true: ", large enough", false: ", too small"}[t.Fits]
		}
	case t.Rows > 0 && t.Columns > 0:
		g = &gaze.Grid{Rows: t.Rows, Columns: t.Columns}
		words = fmt.Sprintf("the most that are large enough: %d rows of %d", g.Rows, g.Columns)
	case t.Sizing == gaze.Sized:
		l.explain(look{}, "no target of the smallest size fits")
		return
	default:
		return
	}
	l.explain(lookCell, words)
	if g.Rows > mostDrawn || g.Columns > mostDrawn {
		return
	}
	for row := range g.Rows {
		for column := range g.Columns {
			l.outline(cornersOf(g.Cell(used, row, column)), lookCell)
		}
	}
}

// inward is the way from each corner to the middle.
var inward = [...]r2.Vec{gaze.NoCorner: {}, gaze.TopLeft: {X: 1, Y: -1}, gaze.TopRight: {X: -1, Y: -1}, gaze.BottomLeft: {X: 1, Y: 1}, gaze.BottomRight: {X: -1, Y: 1}}

// smallest draws the smallest target in every corner, its edges on the corner's, and
// in the middle, each labeled on its own side.
func (l *screenTargets) smallest() {
	t := &l.targets
	switch t.Sizing {
	case gaze.EdgeOn:
		l.explain(look{}, "the screen is seen edge-on: no target can be selected")
		return
	case gaze.NoError:
		l.explain(look{}, "accuracy and precision of the tracker not known, so neither is the smallest target")
		return
	case gaze.Sized:
	}
	for i, spot := range t.Spots {
		c := gaze.Corner(i)
		name := "middle"
		if c != gaze.NoCorner {
			name = strings.TrimSuffix(c.String(), " corner")
		}
		look := lookSmallest
		if c == t.Worst {
			look = lookWorst
			l.explain(look, "smallest target where it is largest")
		} else {
			l.explain(look, "smallest target, corners and middle")
		}
		w, h := spot.Smallest.AcrossMM/2, spot.Smallest.UpMM/2
		at := r2.Vec{X: spot.AtMM.X + inward[c].X*w, Y: spot.AtMM.Y + inward[c].Y*h}
		l.outline(cornersOf(gaze.Rect{LeftMM: at.X - w, RightMM: at.X + w, BottomMM: at.Y - h, TopMM: at.Y + h}), look)
		outward := cmp.Or(-inward[c].X, 1)
		l.aside(at.X+inward[c].X, r2.Vec{X: at.X + outward*w, Y: at.Y}, name+", "+l.units.Number(2*w)+" by "+l.units.Length(2*h))
	}
}

// degreeMM returns the side of a square as large as a degree by a degree at a place
// on the screen.
func (l *screenTargets) degreeMM(p r2.Vec) float64 {
	spot, sizing := l.job.Device.Spot(l.screen, &l.shown.InCarrier, r3.Vec{X: p.X, Y: p.Y})
	if sizing == gaze.EdgeOn {
		return math.Inf(1) // beyond every line
	}
	return math.Sqrt(spot.Degree.AcrossMM * spot.Degree.UpMM)
}

// mostLines is how many lines of equal size there are at most.
const mostLines = 7

// degrees draws the lines of equal size of a degree, each with its number where it
// is crossed on the way from the place nearest to the eyes to the corner furthest
// from it.
func (l *screenTargets) degrees() {
	if l.targets.Sizing == gaze.EdgeOn {
		return
	}
	display := l.job.Device.Screen.Display()
	foot := r2.Vec{X: l.eye.X, Y: l.eye.Y}
	nearest := r2.Vec{X: min(max(foot.X, display.LeftMM), display.RightMM), Y: min(max(foot.Y, display.BottomMM), display.TopMM)}
	low, high, furthest := l.degreeMM(nearest), 0.0, nearest
	for _, c := range cornersOf(display) {
		if mm := l.degreeMM(c); mm > high {
			high, furthest = mm, c
		}
	}
	if !(high > low) || !drawable(high) {
		return
	}
	for _, level := range ticksIn(l.units.MM(), low, high, roundTo(l.units.Of(high-low)/mostLines, 1, 2, 5)) {
		l.equal(level, foot, display)
		l.number(level, foot, nearest, furthest)
	}
	l.explain(lookEqual, axisName("size of a degree at the eye", l.units))
}

// equalRays is along how many rays a line of equal size is followed: a degree apart,
// so that chords leave a circle by 4 parts in 100 000 of its radius.
const equalRays = 360

// equal draws the line on which a degree has a size, inside the display area.
//
// From the foot of the perpendicular from the eyes a degree grows along every ray:
// across it is r²/h, with r² = z² + s² at the distance s from the foot and h² = z²
// + (s sin t)² on a ray t off the horizontal, and
//
//	d(r²/h)/ds = s (z² (2 - sin² t) + s² sin² t) / h³ > 0
//
// up likewise. So a line of equal size has one point on each ray, and halving finds
// it.
func (l *screenTargets) equal(level plot.Tick, foot r2.Vec, display gaze.Rect) {
	within := draw.Canvas{Rectangle: vg.Rectangle{
		Min: vg.Point{X: vg.Length(display.LeftMM), Y: vg.Length(display.BottomMM)},
		Max: vg.Point{X: vg.Length(display.RightMM), Y: vg.Length(display.TopMM)},
	}}
	points := make([]vg.Point, 0, equalRays+1)
	for i := range equalRays + 1 {
		p := l.onRay(level.Value, foot, 2*math.Pi*float64(i)/equalRays)
		points = append(points, vg.Point{X: vg.Length(p.X), Y: vg.Length(p.Y)})
	}
	for _, run := range within.ClipLinesXY(points) {
		var inside []r2.Vec
		for _, p := range run {
			inside = append(inside, r2.Vec{X: float64(p.X), Y: float64(p.Y)})
		}
		l.line(lookEqual.line, inside...)
	}
}

// number writes the number of a line of equal size along it, where it is crossed on
// the way between two places.
func (l *screenTargets) number(level plot.Tick, foot, from, to r2.Vec) {
	for range 40 {
		if mid := r2.Scale(0.5, r2.Add(from, to)); l.degreeMM(mid) < level.Value {
			from = mid
		} else {
			to = mid
		}
	}
	at := math.Atan2(from.Y-foot.Y, from.X-foot.X)
	along := r2.Sub(l.onRay(level.Value, foot, at+0.02), l.onRay(level.Value, foot, at-0.02))
	l.notes = append(l.notes, note{at: from, along: along, text: level.Label})
}

// onRay returns where a degree has a size on the ray in a direction from the foot.
func (l *screenTargets) onRay(level float64, foot r2.Vec, direction float64) r2.Vec {
	s, c := math.Sincos(direction)
	at := func(mm float64) r2.Vec { return r2.Vec{X: foot.X + mm*c, Y: foot.Y + mm*s} }
	lo, hi := 0.0, 1e4
	for range 40 { // to a hundred-millionth of a mm
		if mid := (lo + hi) / 2; l.degreeMM(at(mid)) < level {
			lo = mid
		} else {
			hi = mid
		}
	}
	return at(lo)
}
