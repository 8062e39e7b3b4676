package plots

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// newSheet returns a figure without axes, for a plotter that draws on paper. Its
// title has the name of the case in front, if there is one, on a line of its
// own where one line is too long.
func newSheet(size Size, label, title string) Figure {
	p := newPlot(textSize)
	p.HideAxes()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, 1
	f := Figure{Plot: p, Size: size, Title: titled(label, title)}
	p.Title.Text = f.Title
	if room := size.Width - 2*air; p.Title.TextStyle.Width(f.Title) > room {
		p.Title.Text = fitted(p.Title.TextStyle, title, room)
		if label = plain(label); label != "" {
			p.Title.Text = fitted(p.Title.TextStyle, label, room) + "\n" + p.Title.Text
		}
	}
	return f
}

// titled returns a title with the name of the case in front, if it has one.
func titled(label, title string) string {
	if label = plain(label); label != "" {
		return label + ": " + title
	}
	return title
}

// keyed returns the layout of a key in rows no wider than width, to be drawn at
// the foot of a sheet.
func keyed(style draw.TextStyle, width vg.Length, keys ...key) *layout {
	l := &layout{board: &board{keys: keys}, words: style}
	l.flow(width)
	return l
}
