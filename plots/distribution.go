package plots

import (
	"fmt"
	"math"
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
	h := histogram{units: opt.Units, bins: t.Margin.Bins}
	if err := h.check(t); err != nil {
		return Figure{}, err
	}
	whose := "all postures that must work"
	if name := spoken(opt.Posture); name != "" {
		whose = fmt.Sprintf("posture %q", name)
	}
	first, last := h.bins[0], h.bins[len(h.bins)-1]
	h.low, h.high = min(first.LowMM, 0), max(last.HighMM, 0)
	side := max(0.06*(h.high-h.low), 1) // some air
	h.low, h.high = h.low-side, h.high+side
	for _, b := range h.bins {
		h.top = max(h.top, h.percent(b))
	}
	size := Size{170 * vg.Millimeter, 105 * vg.Millimeter}
	p := newPlot()
	title, works := titled(opt.Label, "margin in simulations, "+whose), t.Tracks
	share := fmt.Sprintf("works in %s of %d simulations (95%% interval %s to %s)", percent(works.Share), works.Of, percent(works.Low), percent(works.High))
	p.Title.Text = fitted(title, titleSpace(size)) + "\n" + fitted(share, titleSpace(size))
	ruled(&p.X, axisName("margin", opt.Units), h.low, h.high, opt.Units.MM(), 10)
	ruled(&p.Y, fmt.Sprintf("simulations in a bar of %s %s (%%)", decimals(opt.Units.Of(first.HighMM-first.LowMM)), opt.Units), 0, h.top, 1, 5)
	p.Y.Max *= 1 + beside(4*textSize*1.3, size.Height)
	p.Add(painter(h.paint))
	return Figure{Plot: p, Size: size, Title: title, Desc: share + ". Margins of the simulations: " + strings.Join(h.told(" below ", h.units.Length), ", ") + "."}, nil
}

// percent prints a share, 0 to 1, so that only all is 100% and only none is 0%.
func percent(share float64) string {
	v := share * 100
	if v > 0 && v < 100 {
		v = min(max(math.Round(v*100)/100, 0.01), 99.99)
	}
	return decimals(v) + "%"
}

// decimals prints a number with as many decimals as it needs, three at most.
func decimals(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}

// histogram is a distribution of a margin (mm).
type histogram struct {
	units     units.Units
	bins      []variation.Bin
	count     float64
	quantiles [5]float64 // below which 5, 25, 50, 75 and 95% of the simulations are
	low, high float64    // of the axis
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

// beside returns by what part an axis must be longer to leave a width beside the
// curves, on paper of a size.
func beside(width, paper vg.Length) float64 {
	share := min(0.5, float64(width/paper)*1.15) // of the paper, less the numbers of the axis
	return share / (1 - share)
}

// percent returns the share of the simulations that are in a bin, in %.
func (h *histogram) percent(b variation.Bin) float64 { return 100 * float64(b.Count) / h.count }

// paint draws the bars, zero and the quantiles.
func (h *histogram) paint(c draw.Canvas, p *plot.Plot) {
	k := newPen(c).within(p)
	for _, b := range h.bins {
		if b.Count == 0 {
			continue
		}
		l := lookGood
		if b.HighMM <= 0 {
			l = lookBad
		}
		k.box(k.trX(b.LowMM), k.trY(0), k.trX(b.HighMM), k.trY(h.percent(b)), l)
	}
	h.zero(k)
	h.name(k)
}

// belowZero says what a negative margin means.
const belowZero = "does not work"

// zero draws the line at zero and says what it parts.
func (h *histogram) zero(k *pen) {
	x, top := k.trX(0), k.trY(h.top)+3.2*k.row()
	k.c.StrokeLine2(stroke(ink, 1.5), x, k.trY(0), x, top)
	y := top - 0.8*textSize
	k.put(x+air/2, y, 0, "works")
	if x-air/2-lettering.Width(belowZero) > k.c.Min.X {
		k.put(x-air/2, y, 1, belowZero)
	}
}

// name draws the quantiles with their numbers above the bars.
func (h *histogram) name(k *pen) {
	texts := h.told(" below ", h.units.Number)
	if (widest(texts...)+air)*vg.Length(len(texts)) > k.trX(h.high)-k.trX(h.low) {
		texts = h.told(": ", h.units.Number)
	}
	gap := widest(texts...) + air
	want := make([]vg.Length, len(texts))
	for i, q := range h.quantiles {
		want[i] = k.trX(q)
	}
	foot := k.trY(h.top) + 0.9*k.row()
	for i, x := range spread(want, gap, k.trX(h.low)+(gap-air)/2, k.trX(h.high)-(gap-air)/2) {
		at := want[i]
		k.c.StrokeLine2(stroke(ink, 0.6, 1.5, 1.5), at, k.trY(0), at, k.trY(h.top))
		k.leader(vg.Point{X: at, Y: k.trY(h.top)}, vg.Point{X: x, Y: foot})
		half := lettering.Width(texts[i]) / 2
		k.box(x-half, foot, x+half, foot+textSize, look{fill: grey(1)})
		k.put(x, foot+0.25*textSize, 0.5, texts[i])
	}
}

// told returns the quantiles in words.
func (h *histogram) told(between string, number func(mm float64) string) []string {
	var texts []string
	for i, name := range [5]string{"5%", "25%", "50%", "75%", "95%"} {
		texts = append(texts, name+between+number(h.quantiles[i]))
	}
	return texts
}
