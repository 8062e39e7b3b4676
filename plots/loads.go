package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Loads returns the figure of what weight does to the mount: along the middle
// lines of its tubes, from the clamp outward, how far every place moves and the
// bending and twisting moment there, in the posture in which the screen sags most;
// and under that a bar for every joint, tube and rated part, how much of what it holds,
// bears or is rated for the load takes up, each in its worst posture.
//
// Bars are on one scale, which has a line where something slips, is too weak or
// overloaded; the part of a bar beyond it is hatched. Shock factor and safety factor
// are in the bar and in the utilization that is told. The
// weakest joint is said to be it. What is not known to hold or bear anything has its
// load and no bar. The error wraps [ErrFigure]: for a result without a load or a mount, and
// for numbers that are not finite.
func Loads(r *fit.Result, opt Options) (Figure, error) {
	if r == nil || r.Job == nil || r.Load == nil || r.Set == nil || len(r.Load.Lines) < 2 {
		return Figure{}, fmt.Errorf("%w: the result has no mount, or nothing that loads it", ErrFigure)
	}
	d := &loads{units: opt.Units}
	if err := d.curves(r.Load); err != nil {
		return Figure{}, err
	}
	d.place(r.Set.Chain)
	if err := d.list(r.Load, r.Set.Chain, r.Job); err != nil {
		return Figure{}, err
	}
	title := "loads and sag along the mount"
	if name := postureName(r.Job, r.Load.Posture); name != "" {
		title += fmt.Sprintf(", curves of posture %q", name)
	}
	f := newSheet(Size{Landscape().Width, d.height()}, opt.Label, title)
	f.Plot.Add(painter(d.paint))
	f.Desc = d.describe()
	return f, nil
}

// postureName returns the name of a posture by its place in the job's, where there is
// more than one.
func postureName(job *fit.Job, i int) string {
	if i < 0 || i >= len(job.Postures) || len(job.Postures) < 2 {
		return ""
	}
	return spoken(job.Postures[i].Name)
}

// curves takes over how far places along the mount move and the moment there.
func (d *loads) curves(l *fit.Load) error {
	for _, b := range l.Lines {
		at, sag := b.AlongMM, r3.Norm(b.Sag.ShiftMM)
		if !drawable(at, sag, b.MomentNM) {
			return fmt.Errorf("%w: %s: a number along the mount is not finite, or beyond %.0g", ErrFigure, spoken(b.Part), float64(farthest))
		}
		if n := len(d.sag); n > 0 && at < d.sag[n-1].X-1e-6 {
			return fmt.Errorf("%w: the places along the mount are out of order", ErrFigure)
		}
		if n := len(d.tubes); n == 0 || d.tubes[n-1].part != b.Part {
			d.tubes = append(d.tubes, stretch{part: b.Part, from: at})
		}
		t := &d.tubes[len(d.tubes)-1]
		t.to, t.mostMoment = at, max(t.mostMoment, b.MomentNM)
		d.sag, d.moment = append(d.sag, r2.Vec{X: at, Y: sag}), append(d.moment, r2.Vec{X: at, Y: b.MomentNM})
	}
	d.from, d.to = d.sag[0].X, d.sag[len(d.sag)-1].X
	if !(d.to-d.from > 1e-3) {
		return fmt.Errorf("%w: the mount has no length", ErrFigure)
	}
	return nil
}

// place finds where along the tubes the other parts sit: at the end of the last tube
// before them.
func (d *loads) place(c mount.Chain) {
	ends := make(map[string]float64, len(d.tubes))
	for _, t := range d.tubes {
		ends[t.part] = t.to
	}
	for _, part := range c.Rated {
		if _, isTube := ends[part.Part]; isTube {
			continue
		}
		at := d.from
		for _, s := range c.Spans {
			if end, ok := ends[s.Part]; ok && s.Carrier < part.First {
				at = max(at, end)
			}
		}
		if n := len(d.parts); n > 0 && d.parts[n-1].at == at {
			d.parts[n-1].name += ", " + spoken(part.Part)
		} else {
			d.parts = append(d.parts, sitting{name: spoken(part.Part), at: at})
		}
	}
}

// list makes the rows of the table.
func (d *loads) list(l *fit.Load, c mount.Chain, job *fit.Job) error {
	bump, safety := job.Demand.Factors()
	for i, j := range l.Joints {
		unit, name := "N·m", spoken(j.Name)
		if j.Joint >= 0 && j.Joint < len(c.Joints) {
			name = jointWords(c.Joints[j.Joint])
			if c.Joints[j.Joint].Motion == mount.Slide {
				unit = "N"
			}
		}
		d.add("joints: load against slip torque or force"+counted("shock", bump), loadRow{
			name: name, acts: j.Load, times: bump, bears: j.SlipLoad, used: job.Demand.UsedOfJoint(j.JointLoad), unit: unit,
			fails: "SLIPS", more: inPosture(job, j.Posture), weakest: i == l.Weakest,
		})
	}
	for _, t := range l.Tubes {
		d.add("tubes: stress against yield"+counted("shock", bump)+counted("safety", safety), loadRow{
			name: spoken(t.Part), acts: t.MPa, times: bump * safety, bears: t.YieldMPa, used: job.Demand.UsedOfTube(t.Stress), unit: "MPa",
			fails: "TOO WEAK", more: inPosture(job, t.Posture),
		})
	}
	for _, p := range l.Parts {
		d.add("parts: mass carried against rating", loadRow{
			name: spoken(p.Part), acts: d.units.OfMass(p.KG), times: 1, bears: d.units.OfMass(p.RatedKG), used: job.Demand.UsedOfPart(p), unit: d.units.OfMasses(), fails: "OVERLOADED",
		})
	}
	for _, row := range d.rows {
		if !drawable(row.acts, row.bears, row.times) || min(row.acts, row.bears, row.times) < 0 {
			return fmt.Errorf("%w: %s: a load is negative, not finite, or beyond %.0g", ErrFigure, row.name, float64(farthest))
		}
		d.most = max(d.most, row.used)
	}
	d.most = min(max(1.1, d.most*1.05), mostShare)
	return nil
}

// inPosture says in which posture something is worst, where several must work.
func inPosture(job *fit.Job, i int) string {
	if name := postureName(job, i); name != "" && mustWork(job.Postures) > 1 {
		return fmt.Sprintf(", posture %q", name)
	}
	return ""
}

// counted says how often a load counts, if more than once.
func counted(what string, times float64) string {
	if times == 1 {
		return ""
	}
	return fmt.Sprintf(", × %s %s factor", figures3(times), what)
}

// add adds a row, with a head before the first of its kind.
func (d *loads) add(head string, row loadRow) {
	row.kind = head
	if n := len(d.rows); n == 0 || d.rows[n-1].kind != head {
		d.rows = append(d.rows, loadRow{kind: head, name: head, head: true})
	}
	d.rows = append(d.rows, row)
}

// said says the numbers of a row, and what of it is used: rounded up, so that nothing
// that fails is told as 100%.
func (r *loadRow) said() string {
	text := r.number(r.acts)
	if r.times != 1 {
		text += " × " + figures3(r.times)
	}
	if r.bears == 0 {
		return text + " " + r.unit + ", limit not known" + r.more
	}
	text += fmt.Sprintf(" of %s %s = %.0f%%", r.number(r.bears), r.unit, max(0, math.Ceil(100*r.used-1e-6)))
	if r.used > 1 {
		text += ", " + r.fails
	}
	if r.weakest {
		text += ", weakest"
	}
	return text + r.more
}

// number returns a load in figures, masses to a hundredth.
func (r *loadRow) number(v float64) string {
	if r.unit == "kg" || r.unit == "lb" {
		return fmt.Sprintf("%.2f", v)
	}
	return figures3(v)
}

// figures3 prints a number with three figures or, from a hundred on, whole.
func figures3(v float64) string {
	if v >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	if v < 1 {
		return decimals(math.Round(v*100) / 100)
	}
	return decimals(math.Round(v*10) / 10)
}

// small returns a length that is mostly below a mm or two: with three figures.
func small(u units.Units, mm float64) string {
	if u == units.MM {
		return figures3(mm) + " mm"
	}
	return u.Fine(mm, 1)
}

// describe says the figure's numbers in words.
func (d *loads) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Along %s of tube from the clamp outward places move by up to %s, by %s at the end.",
		d.units.Length(d.to-d.from), small(d.units, d.sag.peak().Y), small(d.units, d.sag[len(d.sag)-1].Y))
	for _, t := range d.tubes {
		fmt.Fprintf(&b, " %s: moment up to %s N·m.", capital(spoken(t.part)), figures3(t.mostMoment))
	}
	for _, r := range d.rows {
		if r.head {
			fmt.Fprintf(&b, " %s:", capital(r.name))
			continue
		}
		fmt.Fprintf(&b, " %s %s;", r.name, r.said())
	}
	return strings.TrimSuffix(b.String(), ";") + "."
}
