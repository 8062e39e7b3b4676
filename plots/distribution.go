package plots

import (
	"fmt"
	"math"
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
// simulations stay below, and a sentence on how many track.
//
// Bars below zero are hatched. The error wraps [ErrFigure]: for no bins, an empty
// count, bins that do not rise, and numbers that are not finite.
func Distribution(t variation.Tally, opt Options) (Figure, error) {
	h := histogram{units: opt.Units, bins: t.Margin.Bins}
	if err := h.check(t); err != nil {
		return Figure{}, err
	}
	whose := "all postures that must work"
	if name := spoken(opt.Posture); name != "" {
		whose = fmt.Sprintf("posture %q", name)
	}
	first, last := h.bins[0], h.bins[len(h.bins)-1]
	low, high := min(first.LowMM, 0), max(last.HighMM, 0)
	side := max(0.06*(high-low), 1) // some air
	size := opt.chartSize()
	x := axis{axisName("margin", opt.Units), low - side, high + side, opt.Units.MM(), 10, size.Width - 16*vg.Millimeter}
	y := axis{name: "simulations in each bar (%)", unit: 1, numbers: 5}
	for _, b := range h.bins {
		y.high = max(y.high, h.percent(b))
	}
	p := newChart(x, y)
	h.top = y.high
	p.Y.Max *= 1.3 // for what is written above the bars
	title, works := titled(opt.Label, "margin in simulations, "+whose), t.Tracks
	share := "still tracks in " + ofHundred(works.Share) + " simulated set-ups"
	if low := h.quantiles[0]; low > 0 {
		share += "; in 95 of 100 the margin is " + opt.Units.Length(low) + " or more"
	}
	p.Title.Text, p.Title.TextStyle.Font = strings.Join(wrapped(share, size.Width-4*air, titleLines), "\n"), sans(textSize)
	p.Add(painter(h.paint))
	return charts{plots: [][]*plot.Plot{{p}}}.figure(size, title)
}

// ofHundred says a share, 0 to 1, in whole numbers of a hundred.
func ofHundred(share float64) string {
	switch n := math.Round(100 * share); {
	case share == 1:
		return "all"
	case n == 100:
		return "more than 99 of 100"
	case n == 0 && share > 0:
		return "fewer than 1 of 100"
	default:
		return fmt.Sprintf("%.0f of 100", n)
	}
}

// histogram is a distribution of a margin (mm).
type histogram struct {
	units     units.Units
	bins      []variation.Bin
	count     float64
	quantiles [5]float64 // below which 5, 25, 50, 75 and 95% of the simulations are
	top       float64    // highest bar (%)
}

// check takes over the numbers of a tally.
func (h *histogram) check(t variation.Tally) error {
	m := t.Margin
	h.quantiles = [5]float64{m.P5MM, m.P25MM, m.P50MM, m.P75MM, m.P95MM}
	numbers := append(h.quantiles[:], t.Tracks.Share, t.Tracks.Low, t.Tracks.High)
	last := math.Inf(-1)
	for _, b := range h.bins {
		if !(b.LowMM >= last && b.HighMM > b.LowMM) || b.Count < 0 {
			return fmt.Errorf("%w: a bin from %g to %g mm with %d simulations", ErrFigure, b.LowMM, b.HighMM, b.Count)
		}
		last = b.HighMM - 1e-9*math.Abs(b.HighMM) // of rounding
		numbers = append(numbers, b.LowMM, b.HighMM)
		h.count += float64(b.Count)
	}
	if h.count == 0 || t.Tracks.Of < 1 {
		return fmt.Errorf("%w: there are no simulations of the margin", ErrFigure)
	}
	if !drawable(numbers...) {
		return fmt.Errorf("%w: a number of the distribution is not finite, or beyond %.0f m", ErrFigure, farthest/1000)
	}
	return nil
}

// percent returns the share of the simulations that are in a bin, in %.
func (h *histogram) percent(b variation.Bin) float64 { return 100 * float64(b.Count) / h.count }

// paint draws the bars, zero with what it parts, and the quantiles with their numbers above
// the bars.
func (h *histogram) paint(c draw.Canvas, p *plot.Plot) {
	k := within(c, p)
	for _, b := range h.bins {
		l := lookGood
		if b.HighMM <= 0 {
			l = lookBad
		}
		if b.Count > 0 {
			k.box(k.trX(b.LowMM), k.trY(0), k.trX(b.HighMM), k.trY(h.percent(b)), l)
		}
	}
	x, y := k.trX(0), c.Max.Y-textSize
	c.StrokeLine2(stroke(ink, 1.5), x, k.trY(0), x, c.Max.Y)
	k.put(x+air/2, y, 0, "works")
	if below := "does not work"; x-air/2-lettering.Width(below) > c.Min.X {
		k.put(x-air/2, y, 1, below)
	}
	var want []vg.Length
	var texts []string
	gap := vg.Length(0)
	every := 1
	if c.Max.X-c.Min.X < narrow {
		every = 2
	}
	for i := 0; i < len(h.quantiles); i += every {
		text := [5]string{"5%", "25%", "50%", "75%", "95%"}[i] + " < " + h.units.Number(h.quantiles[i])
		texts = append(texts, text)
		want, gap = append(want, k.trX(h.quantiles[i])), max(gap, lettering.Width(text)+air)
	}
	top := k.trY(h.top)
	foot := top + 0.9*rowHigh
	for i, x := range spread(want, gap, c.Min.X+gap/2, c.Max.X-gap/2) {
		c.StrokeLine2(stroke(ink, 0.6, 1.5, 1.5), want[i], k.trY(0), want[i], top)
		k.leader(vg.Point{X: want[i], Y: top}, vg.Point{X: x, Y: foot})
		half := lettering.Width(texts[i]) / 2
		k.box(x-half, foot, x+half, foot+textSize, look{fill: grey(1)})
		k.put(x, foot+0.25*textSize, 0.5, texts[i])
	}
}
