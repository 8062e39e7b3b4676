package casefile

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"sightpost/gaze/body"
)

// usual is the range of an entry that few cases are outside of, in its first unit, and
// where that comes from. Numbers nearer to 0 than least are unusual, but for 0 itself.
type usual struct {
	low, high, least float64
	source           string
}

// has reports whether a number is usual.
func (u usual) has(v float64) bool {
	return v >= u.low && v <= u.high && (v == 0 || math.Abs(v) >= u.least)
}

// by returns a range that is a choice of this tool.
func by(low, high, least float64) usual { return usual{low, high, least, unsourced} }

// tilted are angles that an inclinometer shows: below 1° they are rather radians.
func tilted(low, high float64) usual { return by(low, high, 1) }

// usually returns rows with the usual range of each.
func usually(rows []Entry, ranges ...usual) []Entry {
	rows = slices.Clone(rows)
	for i := range rows {
		rows[i].usual = ranges[i]
	}
	return rows
}

// Oddity is what is unlikely about a number.
type Oddity string

// The oddities.
const (
	Unusual Oddity = "unusual"        // outside its usual range
	Larger  Oddity = "larger"         // than what holds it
	Above   Oddity = "above the eyes" // although the person sits on it
	Behind  Oddity = "behind"         // the back support
	NoSpace Oddity = "no space"       // for a target beside the gaps of a grid
)

// Unlikely is a number that is allowed, but that few cases have: often a slip of the unit.
type Unlikely struct {
	spot
	Oddity Oddity
	// Value is the number, Written how the file gives it, with the unit of a bare number.
	Value   Value
	Written string
	// Usual is the range that is usual, Least the least size in it but for 0, and Source
	// where that comes from.
	Usual  Value
	Least  float64
	Source string
	// Meant are the same number with other units, with which it would be usual.
	Meant []Quantity
	// Other is the entry that it does not fit, and OtherWritten what the file gives there.
	Other, OtherWritten string
}

// Unlikely returns what is unlikely about a text of the entry by itself, or nil.
func (e *Entry) Unlikely(text string) *Unlikely {
	all := e.Read(text)
	if e.Kind != Number || e.usual == (usual{}) || len(all) != 1 || e.usual.has(all[0].Value) {
		return nil
	}
	q, first := all[0], e.of.first()
	return &Unlikely{
		Oddity: Unusual, Value: Value{Low: q.Value, High: q.Value, Unit: first}, Written: written(q, text, first),
		Usual: Value{Low: e.usual.low, High: e.usual.high, Unit: first}, Least: e.usual.least, Source: e.usual.source,
		Meant: e.meant(q),
	}
}

// written returns a quantity as the file has it, with its unit if it has none.
func written(q Quantity, text, unit string) string {
	if q.Unit == "" && unit != "" {
		return text + " " + unit
	}
	return text
}

// inFull returns a number as the file has it, with its unit if it has none, or as it is
// assumed.
func (n *node) inFull() string {
	if all := n.row.Read(n.text); len(all) == 1 {
		return written(all[0], n.text, n.row.of.first())
	}
	return n.text
}

// mostMeant bounds how many units are offered instead of one.
const mostMeant = 2

// meant returns the same number in the units that make it usual.
func (e *Entry) meant(q Quantity) []Quantity {
	if e.usual == (usual{}) {
		return nil
	}
	var all []Quantity
	own, number := e.of.size(q.Unit), q
	if own == 0 {
		own = 1
	}
	for _, u := range e.of.units {
		number.Unit, number.Value = u.word, q.Value/own*u.size
		same := func(other Quantity) bool { return other.Value == number.Value }
		if u.size != own && e.usual.has(number.Value) && !slices.ContainsFunc(all, same) && len(all) < mostMeant {
			all = append(all, number)
		}
	}
	return all
}

// meantWords returns what was rather meant by a text, or "".
func (e *Entry) meantWords(q Quantity) string {
	var words []string
	for _, m := range e.meant(q) {
		own := strconv.FormatFloat(math.Round(m.Value*10)/10, 'f', -1, 64)
		words = append(words, m.Number+" "+m.Unit+" ("+own+" "+e.of.first()+")")
	}
	return strings.Join(words, " or ")
}

// unlikely appends what is unlikely about every number at n and below it by itself.
func (n *node) unlikely(to []Unlikely) []Unlikely {
	if n == nil {
		return to
	}
	if n.valid && !n.assumed && n.row.Kind == Number {
		if u := n.row.Unlikely(n.text); u != nil {
			u.spot = n.at
			to = append(to, *u)
		}
	}
	for _, item := range n.items {
		to = item.unlikely(to)
	}
	for _, f := range n.row.Fields {
		to = n.kids[f.Key].unlikely(to)
	}
	return to
}

// problem returns an unusual number as a line of a refusal that it may have caused.
func (u *Unlikely) problem(e *Entry) Problem {
	p := u.spot.problem(quoted(u.Written), "usually "+u.Usual.in(e.of.unitOf(u.Written)).String()+" ("+u.Source+")")
	p.sense, p.Unusual = true, true
	p.Nearest = e.meantWords(e.Read(u.Written)[0])
	return p
}

// suspects returns the unusual numbers of files that are refused for how their entries go
// together: they come first, as one of them is likely the cause.
func (r *reader) suspects(files ...*node) Errors {
	var all Errors
	if !slices.ContainsFunc(r.problems, func(p Problem) bool { return p.sense }) {
		return nil
	}
	for _, f := range files {
		for _, u := range f.unlikely(nil) {
			e := f.row.At(u.Key)
			if f.row == kitTable && f.at.Key != "" {
				e = caseTable.At(u.Key)
			}
			told := func(p Problem) bool { return p.spot == u.spot }
			if e != nil && len(e.Read(u.Written)) == 1 && !slices.ContainsFunc(r.problems, told) {
				all = append(all, u.problem(e))
			}
		}
	}
	return all
}

// unlikelyTogether returns what is unlikely about entries beside each other.
func unlikelyTogether(f *node, seat body.Seat) []Unlikely {
	var all []Unlikely
	odd := func(what Oddity, path, other string) {
		if a, b := f.get(path), f.get(other); a.ok() && b.ok() && a.Low > b.Low && !a.assumed {
			all = append(all, Unlikely{spot: a.at, Oddity: what, Value: a.Value, Written: a.inFull(), Other: other, OtherWritten: b.inFull()})
		}
	}
	odd(Larger, "screen.display.width", "screen.housing.width")
	odd(Larger, "screen.display.height", "screen.housing.height")
	for _, path := range []string{"chair.seat_height", backHinge + ".up", tiltPivot + ".up"} {
		odd(Above, path, "measured.eyes.up")
	}
	if x := seat.BackInChair().Inverse().Apply(f.vec("measured.eyes")).X; x < 0 {
		all = append(all, Unlikely{spot: f.get("measured.eyes").at, Oddity: Behind, Value: mmValue(-x)})
	}
	grid := f.get("screen.grid")
	for _, way := range [][2]string{{"columns", "screen.display.width"}, {"rows", "screen.display.height"}} {
		count, side := way[0], way[1]
		if gaps := (grid.number(count) - 1) * grid.number("gap"); grid != nil && gaps > 0 && gaps >= f.number(side) {
			all = append(all, Unlikely{spot: grid.get("gap").at, Oddity: NoSpace, Value: mmValue(gaps), Written: grid.get("gap").inFull(), Other: side, OtherWritten: f.get(side).inFull()})
		}
	}
	slices.SortStableFunc(all, func(a, b Unlikely) int { return a.Line - b.Line })
	return all
}
