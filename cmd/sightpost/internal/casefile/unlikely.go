package casefile

import (
	"cmp"
	"math"
	"slices"
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

// wellHas reports whether a number is usual, and not at the edges of the range either.
func (u usual) wellHas(v float64) bool {
	const edge = 0.05 // of the range
	inside := edge * (u.high - u.low)
	return u.has(v) && v >= u.low+inside && v <= u.high-inside
}

// by returns a range that is a choice of this tool.
func by(low, high, least float64) usual { return usual{low, high, least, unsourced} }

// tilted are angles that an inclinometer shows: below 1° they are rather radians.
func tilted(low, high float64) usual { return by(low, high, 1) }

// usually gives rows the usual range of each.
func usually(rows []Entry, ranges ...usual) []Entry {
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

// Unlikely is a number that is allowed, but that few cases have: often in a wrong unit.
type Unlikely struct {
	spot
	Oddity Oddity
	// Value is the number, Written how the file gives it, with the unit of a bare number.
	Value   Value
	Written string
	// Usual is the range that is usual, Least, where the number is within that, the least
	// size that is but for 0, and Source where that comes from.
	Usual  Value
	Least  float64
	Source string
	// Meant are the same number with other units, one of which was likely meant.
	Meant []Quantity
	// Other is the entry that it does not fit, and OtherWritten what the file gives there.
	Other, OtherWritten string
}

// Unlikely returns what is unlikely about a text of the entry by itself, or nil.
func (e *Entry) Unlikely(text string) *Unlikely {
	if e.Kind != Number || e.usual == (usual{}) {
		return nil
	}
	all := e.Read(text)
	if len(all) != 1 || e.usual.has(all[0].Value) {
		return nil
	}
	q, first, of := all[0], e.of.first(), e.usual
	u := &Unlikely{
		Oddity: Unusual, Value: Value{Low: q.Value, High: q.Value, Unit: first}, Written: written(q, text, first),
		Usual: Value{Low: of.low, High: of.high, Unit: first}, Source: of.source, Meant: e.meant(q),
	}
	if q.Value >= of.low && q.Value <= of.high {
		u.Least = of.least
	}
	return u
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

// meant returns the same number in other units that are often taken for its own, and that
// make it well usual.
func (e *Entry) meant(q Quantity) []Quantity {
	own := cmp.Or(e.of.size(q.Unit), e.of.size(e.of.first()))
	if q.Unit != "" && e.of.size(q.Unit) == 0 || e.usual == (usual{}) { // of two units, or of none
		return nil
	}
	var all []Quantity
	for _, u := range e.of.units {
		number := Quantity{Value: q.Value / own * u.size, Number: q.Number, Unit: u.word}
		if u.size != own && slices.Contains(e.of.mistaken, u.word) && e.usual.wellHas(number.Value) {
			all = append(all, number)
		}
	}
	return all
}

// meantWords returns what was rather meant by a text, or "".
func (e *Entry) meantWords(q Quantity, in unit) string {
	var words []string
	for _, m := range e.meant(q) {
		words = append(words, m.Number+" "+m.Unit+" ("+in.told(m.Value)+")")
	}
	return strings.Join(words, " or ")
}

// unlikely appends every number at n and below it that is unlikely by itself.
func (n *node) unlikely(to []*node) []*node {
	if n == nil {
		return to
	}
	if n.valid && !n.assumed && n.row.Unlikely(n.text) != nil {
		to = append(to, n)
	}
	for _, item := range n.items {
		to = item.unlikely(to)
	}
	for _, f := range n.row.Fields {
		to = n.kids[f.Key].unlikely(to)
	}
	return to
}

// suspects returns the problems of files with the unlikely numbers first, if they are
// refused for how their entries go together: one of these is likely the cause.
func (r *reader) suspects(files ...*node) Errors {
	var first Errors
	rest := r.problems.sorted()
	if !slices.ContainsFunc(rest, func(p Problem) bool { return p.sense }) {
		return rest
	}
	for _, f := range files {
		for _, n := range f.unlikely(nil) {
			p := n.unusual()
			if i := slices.IndexFunc(rest, func(p Problem) bool { return p.spot == n.at }); i >= 0 {
				near := p.Nearest
				p = rest[i]
				p.Nearest = cmp.Or(p.Nearest, near)
				rest = slices.Delete(rest, i, i+1)
			}
			first = append(first, p)
		}
	}
	return append(first, rest...)
}

// unusual returns an unlikely number as a line of a refusal.
func (n *node) unusual() Problem {
	u, in := n.row.Unlikely(n.text), n.row.of.unitOf(n.text)
	usual := in.told(u.Usual.Low) + " to " + in.told(u.Usual.High)
	if u.Least > 0 {
		usual = "0 or at least " + in.told(u.Least)
	}
	p := n.at.problem(quoted(u.Written), usual+" ("+u.Source+")")
	p.sense, p.Unusual, p.Nearest = true, true, n.row.meantWords(n.row.Read(n.text)[0], in)
	return p
}

// unlikelyTogether returns what is unlikely about entries beside others that are likely
// themselves.
func unlikelyTogether(f *node, seat body.Seat) []Unlikely {
	var all []Unlikely
	likely := func(n *node) bool { return n.row.Unlikely(n.text) == nil }
	odd := func(what Oddity, path, other string) {
		if a, b := f.get(path), f.get(other); a.ok() && b.ok() && a.Low > b.Low && !a.assumed && likely(b) {
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
		if gaps := (grid.number(count) - 1) * grid.number("gap"); grid != nil && gaps > 0 && gaps >= f.number(side) && likely(f.get(side)) {
			all = append(all, Unlikely{spot: grid.get("gap").at, Oddity: NoSpace, Value: mmValue(gaps), Written: grid.get("gap").inFull(), Other: side, OtherWritten: f.get(side).inFull()})
		}
	}
	slices.SortStableFunc(all, func(a, b Unlikely) int { return a.Line - b.Line })
	return all
}
