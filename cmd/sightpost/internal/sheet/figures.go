package sheet

import (
	"gonum.org/v1/plot/vg"

	"sightpost/plots"
)

// figures returns the views from the side and from above, each no larger than
// width and height (mm).
func (c *Content) figures(width, height float64) ([]plots.Figure, error) {
	size := plots.Size{Width: vg.Length(width) * vg.Millimeter, Height: vg.Length(height) * vg.Millimeter}
	var all []plots.Figure
	for _, view := range []plots.View{plots.Side, plots.Top} {
		f, err := plots.Scene(c.source.Result, view, plots.Options{Size: size, Compact: true, Units: c.source.Units})
		if err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, nil
}

// height returns the height of the tallest figure (mm).
func height(figures []plots.Figure) float64 {
	tallest := 0.0
	for _, f := range figures {
		tallest = max(tallest, float64(f.Size.Height/vg.Millimeter))
	}
	return tallest
}

// half returns the width of half the page, less the space between (mm).
func (l *layout) half() float64 {
	width, _ := l.paper.size()
	return (width-2*edge)/2 - 1
}

// place puts each figure into the middle of its half of their row.
func (l *layout) place(figures []plots.Figure) {
	for i, f := range figures {
		w, h := float64(f.Size.Width/vg.Millimeter), float64(f.Size.Height/vg.Millimeter)
		x := edge + float64(i)*(l.half()+2) + (l.half()-w)/2
		y := l.row + (l.figure-h)/2
		l.pictures = append(l.pictures, picture{x, y, f})
		l.boxes = append(l.boxes, box{f.Title, x, y, w, h})
	}
}
