package plots

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"sightpost/mount/fit/variation"
	"sightpost/plots/units"
)

// Distribution returns the figure of how a margin spreads when everything that
// was measured and set is a little off: a histogram with the line at zero, below
// which the tracker does not work, the margins that 5, 25, 50, 75 and 95 % of the
// simulations stay below, and the share that track with its 95 % interval.
//
// Bars below zero are hatched. The error wraps [ErrFigure]: for no bins, an empty
// count, bins that do not rise, and numbers that are not finite.
func Distribution(t variation.Tally, opt Options) (Figure, error) {
	size := opt.Size.or(Size{170 * vg.Millimeter, 105 * vg.Millimeter})
	if err := size.check(); err != nil {
		return Figure{}, err
	}
	h, err := newHistogram(t, opt.Units)
	if err != nil {
		return Figure{}, err
	}
	whose := "all postures that must work"
	if name := spoken(opt.Posture); name != "" {
		whose = fmt.Sprintf("posture %q", name)
	}
	p := newPlot(textSize)
	title := titled(opt.Label, "margin in simulations, "+whose)
	share := trackWords(t.Tracks)
	space := size.Width - 2*air
	p.Title.Text = fitted(p.Title.TextStyle, title, space) + "\n" + fitted(p.Title.TextStyle, share, space)
	p.X.Label.Text, p.Y.Label.Text = axisName("margin", opt.Units), fmt.Sprintf("simulations in a bar of %s %s (%%)", decimals(h.width), opt.Units)
	p.X.Min, p.X.Max, p.Y.Min = h.low, h.high, 0
	p.Y.Max = h.top * (1 + beside(4*words(textSize).Font.Size*1.3, size.Height))
	p.X.Tick.Marker = roundTicks(h.low, h.high, roundStep((h.high-h.low)/10))
	p.Y.Tick.Marker = roundTicks(0, h.top, roundStep(h.top/5))
	p.Add(h)
	return Figure{Plot: p, Size: size, Title: title, Desc: share + ". " + h.describe()}, nil
}

// trackWords says how often the tracker works.
func trackWords(p variation.Proportion) string {
	return fmt.Sprintf("works in %s of %d simulations (95 %% interval %s to %s)", percent(p.Share), p.Of, percent(p.Low), percent(p.High))
}

// percent prints a share, 0 to 1, so that only all is 100 % and only none is 0 %.
func percent(share float64) string {
	v := share * 100
	if v > 0 && v < 100 {
		v = min(max(math.Round(v*100)/100, 0.01), 99.99)
	}
	return decimals(v) + " %"
}

// decimals prints a number with as many decimals as it needs, three at most.
func decimals(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}

// histogram is a distribution of a margin, as a plotter.
type histogram struct {
	units     units.Units // of all that follows
	bins      []variation.Bin
	width     float64 // of the first bin
	count     float64
	quantiles []quantile
	low, high float64 // of the axis
	top       float64 // highest bar (%)
	words     draw.TextStyle
}

// quantile is the margin below which a part of the simulations stays.
type quantile struct {
	name string
	at   float64
}

// newHistogram checks a tally.
func newHistogram(t variation.Tally, u units.Units) (*histogram, error) {
	m := t.Margin
	h := &histogram{units: u, bins: slices.Clone(m.Bins), words: words(textSize)}
	if len(m.Bins) == 0 || t.Tracks.Of < 1 {
		return nil, fmt.Errorf("%w: there are no simulations of the margin", ErrFigure)
	}
	h.quantiles = []quantile{{"5 %", m.P5MM}, {"25 %", m.P25MM}, {"50 %", m.P50MM}, {"75 %", m.P75MM}, {"95 %", m.P95MM}}
	numbers := []float64{t.Tracks.Share, t.Tracks.Low, t.Tracks.High}
	for _, q := range h.quantiles {
		numbers = append(numbers, q.at)
	}
	last := math.Inf(-1)
	for _, b := range m.Bins {
		if !(b.LowMM >= last && b.HighMM > b.LowMM) || b.Count < 0 {
			return nil, fmt.Errorf("%w: a bin from %g to %g mm with %d simulations", ErrFigure, b.LowMM, b.HighMM, b.Count)
		}
		last = b.HighMM - 1e-9*math.Abs(b.HighMM) // of rounding
		numbers = append(numbers, b.LowMM, b.HighMM)
		h.count += float64(b.Count)
	}
	if !drawable(numbers...) {
		return nil, fmt.Errorf("%w: a number of the distribution is not finite, or beyond %.0f m", ErrFigure, farthest/1000)
	}
	if h.count == 0 {
		return nil, fmt.Errorf("%w: there are no simulations of the margin", ErrFigure)
	}
	for i := range h.bins {
		h.bins[i].LowMM, h.bins[i].HighMM = u.Of(h.bins[i].LowMM), u.Of(h.bins[i].HighMM)
	}
	for i := range h.quantiles {
		h.quantiles[i].at = u.Of(h.quantiles[i].at)
	}
	h.extend()
	return h, nil
}

// extend finds the axes: all bins, and zero, with some air at the sides.
func (h *histogram) extend() {
	first, last := h.bins[0], h.bins[len(h.bins)-1]
	h.width = first.HighMM - first.LowMM
	h.low, h.high = min(first.LowMM, 0), max(last.HighMM, 0)
	side := max(0.06*(h.high-h.low), h.units.Of(1))
	h.low, h.high = h.low-side, h.high+side
	for _, b := range h.bins {
		h.top = max(h.top, h.percent(b))
	}
}

// percent returns the share of the simulations that are in a bin, in %.
func (h *histogram) percent(b variation.Bin) float64 { return 100 * float64(b.Count) / h.count }

// lookGood and lookBad are bars of what works or holds, and of what does not.
func lookGood() look { return look{fill: faint(okabe(okabeSky), 0.45), line: stroke(ink(), 0.5)} }

func lookBad() look {
	return look{fill: grey(1), line: stroke(ink(), 0.5), hatch: stroke(okabe(okabeVermilion), 0.8)}
}

// Plot draws the bars, zero and the quantiles.
func (h *histogram) Plot(c draw.Canvas, p *plot.Plot) {
	k := newPen(h.words, c).within(p)
	for _, b := range h.bins {
		if b.Count == 0 {
			continue
		}
		l := lookGood()
		if b.HighMM <= 0 {
			l = lookBad()
		}
		k.box(k.trX(b.LowMM), k.trY(0), k.trX(b.HighMM), k.trY(h.percent(b)), l)
	}
	h.zero(k)
	h.name(k)
}

// zero draws the line at zero and says what it parts.
func (h *histogram) zero(k *pen) {
	x, top := k.trX(0), k.trY(h.top)+3.2*k.row()
	k.c.StrokeLine2(stroke(ink(), 1.5), x, k.trY(0), x, top)
	y := top - 0.8*k.words.Font.Size
	k.text(vg.Point{X: x + air/2, Y: y}, 0, "works")
	if wide := k.words.Width(belowZero); x-air/2-wide > k.c.Min.X {
		k.text(vg.Point{X: x - air/2 - wide, Y: y}, 0, belowZero)
	}
}

// name draws the quantiles with their numbers above the bars.
func (h *histogram) name(k *pen) {
	want := make([]vg.Length, len(h.quantiles))
	for i, q := range h.quantiles {
		want[i] = k.trX(q.at)
	}
	texts, widest := h.quantileTexts(k, " below ")
	if (widest+air)*vg.Length(len(texts)) > k.trX(h.high)-k.trX(h.low) {
		texts, widest = h.quantileTexts(k, ": ")
	}
	foot := k.trY(h.top) + 0.9*k.row()
	for i, x := range spread(want, widest+air, k.trX(h.low)+widest/2, k.trX(h.high)-widest/2) {
		at := want[i]
		k.c.StrokeLine2(stroke(ink(), 0.6, 1.5, 1.5), at, k.trY(0), at, k.trY(h.top))
		k.leader(vg.Point{X: at, Y: k.trY(h.top)}, vg.Point{X: x, Y: foot})
		left, right := x-k.words.Width(texts[i])/2, x+k.words.Width(texts[i])/2
		k.box(left, foot, right, foot+k.words.Font.Size, look{fill: grey(1)})
		k.text(vg.Point{X: left, Y: foot + 0.25*k.words.Font.Size}, 0, texts[i])
	}
}

// quantileTexts returns the quantiles in words and the width of the widest.
func (h *histogram) quantileTexts(k *pen, between string) (texts []string, widest vg.Length) {
	for _, q := range h.quantiles {
		text := q.name + between + h.units.Number(q.at*h.units.MM())
		texts = append(texts, text)
		widest = max(widest, k.words.Width(text))
	}
	return texts, widest
}

// describe says the figure's numbers in words.
func (h *histogram) describe() string {
	parts := make([]string, len(h.quantiles))
	for i, q := range h.quantiles {
		parts[i] = q.name + " below " + h.units.Length(q.at*h.units.MM())
	}
	return "Margins of the simulations: " + strings.Join(parts, ", ") + "."
}
