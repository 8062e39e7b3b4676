package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// hatching returns the lines, rising to the right at 45 degrees and gap apart, that
// fill an outline on paper: on each line the pieces between every first and
// second crossing of the outline. The lines go on from one outline to the next.
func hatching(outline []vg.Point, gap vg.Length) vg.Path {
	across := func(p vg.Point) float64 { return float64(p.X-p.Y) / math.Sqrt2 }
	along := func(p vg.Point) float64 { return float64(p.X+p.Y) / math.Sqrt2 }
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		low, high = min(low, across(p)), max(high, across(p))
	}
	var path vg.Path
	for k := math.Ceil(low / float64(gap)); k*float64(gap) < high; k++ {
		w := k * float64(gap)
		var crossings []float64
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			if a, b := across(p), across(q); (a <= w) != (b <= w) {
				crossings = append(crossings, along(p)+(w-a)/(b-a)*(along(q)-along(p)))
			}
		}
		slices.Sort(crossings)
		for i := 0; i+1 < len(crossings); i += 2 {
			path.Move(diagonal(crossings[i], w))
			path.Line(diagonal(crossings[i+1], w))
		}
	}
	return path
}

// diagonal returns the point at u along and w across lines at 45 degrees.
func diagonal(u, w float64) vg.Point {
	return vg.Point{X: vg.Length((u + w) / math.Sqrt2), Y: vg.Length((u - w) / math.Sqrt2)}
}
