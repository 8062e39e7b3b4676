package pictures

import (
	"maps"
	"strings"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"sightpost/cmd/sightpost/internal/casefile"
)

// SVG returns the picture of how an entry of a case is measured, with its how-to as the
// caption; false if it has none.
func SVG(e casefile.Entry) (picture []byte, ok bool) {
	marks := pictures()[e.Picture]
	if marks == nil {
		return nil, false
	}
	return svg(marks, strings.TrimSuffix(e.HowTo, ".")+"."), true
}

// View returns from where the picture of an entry is seen, in words; "" where it has no
// picture, or is seen from the side or in no certain direction.
func View(e casefile.Entry) string {
	d := draw(pictures()[e.Picture], r2.Vec{}, 1)
	_, view, _ := strings.Cut(d.shows, ", ")
	if view == "from the side" || !strings.HasPrefix(view, "from ") && !strings.HasPrefix(view, "as ") {
		return ""
	}
	return view
}

// table is what is drawn for each entry: what is measured, then the arrow.
type table map[string][]mark

// pictures returns the pictures of all entries.
var pictures = sync.OnceValue(func() table {
	t := table{}
	for _, of := range []table{sitting(), heads(), bodies(), chairs(), screens(), sights(), zones(), clamps(), tubes(), settings(), ends()} {
		maps.Copy(t, of)
	}
	return t
})

// point adds the pictures of the three coordinates of a point on or about the chair: of
// where it is in the view from the side and from ahead, with what marks it there.
func (t table) point(key string, c point, marked func(v view) mark) {
	t[key+".forward"] = []mark{seated(side, asMeasured), marked(side), from(junction, c.in(side))}
	t[key+".left"] = []mark{seated(front, asMeasured), marked(front), from(origin, c.in(front))}
	t[key+".up"] = []mark{seated(side, asMeasured), marked(side), beside(at(c.forward, 0), c.in(side), 70)}
}

// solid is a box on the chair; it may have a mirror image.
type solid struct {
	c, size  point
	mirrored bool
}

// in draws the box in a view, and marked its middle as well.
func (b solid) in(v view) mark {
	one := box(solidStyle, b.c.in(v), b.size.in(v), 0)
	if v == front && b.mirrored {
		return group(one, box(solidStyle, at(-b.c.left, b.c.up), b.size.in(v), 0))
	}
	return one
}

func (b solid) marked(v view) mark { return group(b.in(v), cross(b.c.in(v))) }

// add adds the pictures of those dimensions of the box that an entry is named for.
func (b solid) add(t table, key string, named map[string]string) {
	half := r2.Scale(0.5, b.size.in(side))
	low, high := r2.Sub(b.c.in(side), half), r2.Add(b.c.in(side), half)
	s := screen{v: side, c: r2.Add(high, at(40, 285)), turned: 12}
	sides := map[string]mark{
		"back":      from(junction, at(low.X, high.Y)),
		"front":     from(junction, high),
		"top":       beside(at(high.X, 0), high, 70),
		"thickness": beside(at(high.X, low.Y), high, 70),
		"length":    level(at(low.X, high.Y), high, high.Y+170),
		"clearance": group(s.draw(), beside(high, s.on(housingUnder, -housingDepth), 70)),
	}
	across := map[string]mark{
		"width":   level(at(b.c.left-b.size.left/2, high.Y), at(b.c.left+b.size.left/2, high.Y), high.Y+130),
		"spacing": level(at(-b.c.left, b.c.up), at(b.c.left, b.c.up), b.c.up+130),
	}
	for entry, dimension := range named {
		v, arrow := side, sides[dimension]
		if arrow == nil {
			v, arrow = front, across[dimension]
		}
		t[key+"."+entry] = []mark{seated(v, asMeasured), b.in(v), arrow}
	}
}

// same names dimensions by themselves.
func same(keys ...string) map[string]string {
	named := map[string]string{}
	for _, k := range keys {
		named[k] = k
	}
	return named
}
