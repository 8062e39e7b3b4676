package pictures

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"sightpost/cmd/sightpost/internal/casefile"
)

// SVG returns the picture of how an entry of a case is measured, with its how-to as the
// caption; false if it has none.
func SVG(e casefile.Entry) (svg []byte, ok bool) {
	draw := table()[e.Picture]
	if draw == nil {
		return nil, false
	}
	return draw().svg(strings.TrimSuffix(e.HowTo, ".") + "."), true
}

// table returns what draws the picture of each entry.
func table() map[string]func() *drawing {
	all := map[string]func() *drawing{}
	for _, of := range []map[string]func() *drawing{sitting(), heads(), bodies(), chairs(), screens(), sights(), zones(), clamps()} {
		for key, draw := range of {
			all[key] = draw
		}
	}
	return all
}

// pictures are what draws the pictures of some entries.
type pictures = map[string]func() *drawing

// axis is a direction in which a place is measured.
type axis int

const (
	forward axis = iota
	left
	up
)

// point adds the pictures of the three coordinates of a point on or about the chair: of
// where it is in the view from the side and from ahead, and what else is drawn there.
func (p adder) point(key string, c point, draw func(d *drawing, v view)) {
	for name, a := range map[string]axis{"forward": forward, "left": left, "up": up} {
		p[key+"."+name] = func() *drawing {
			v, pose, place := side, upright(), c.side
			if a == left {
				v, place = front, c.front
			}
			if a == left && key == "measured.eyes" {
				pose.lateral = 28
				place = pose.eyes(front)
			}
			d := seated(v, pose)
			if draw != nil {
				draw(d, v)
			}
			switch a {
			case forward:
				d.from(junction.X, junction.Y, place)
			case left:
				d.from(0, 0, place)
			case up:
				d.beside(at(place.X, 0), place, 70)
			}
			return d
		}
	}
}

// adder is pictures that are being added to.
type adder pictures

// point is a place in the views from the side and from ahead.
type point struct{ side, front r2.Vec }

// solid is a box on the chair, by its middle and size from the side (forward and up) and
// how far left its middle is and how wide it is; it may have a mirror image.
type solid struct {
	c, size     r2.Vec
	left, width float64
	mirrored    bool
}

// in draws the person with the box in a view.
func (b solid) in(v view) *drawing {
	d := seated(v, upright())
	b.draw(d, v)
	return d
}

func (b solid) draw(d *drawing, v view) {
	if v == side {
		d.box(solidStyle, b.c, b.size, 0)
		return
	}
	d.box(solidStyle, at(b.left, b.c.Y), at(b.width, b.size.Y), 0)
	if b.mirrored {
		d.box(solidStyle, at(-b.left, b.c.Y), at(b.width, b.size.Y), 0)
	}
}

// add adds the pictures of those dimensions of the box that an entry is named for.
func (b solid) add(to adder, key string, named map[string]string) {
	low, high := r2.Sub(b.c, r2.Scale(0.5, b.size)), r2.Add(b.c, r2.Scale(0.5, b.size))
	draws := map[string]func(d *drawing){
		"back":      func(d *drawing) { d.from(0, junction.Y, at(low.X, high.Y)) },
		"front":     func(d *drawing) { d.from(0, junction.Y, high) },
		"top":       func(d *drawing) { d.beside(at(high.X, 0), high, 70) },
		"thickness": func(d *drawing) { d.beside(at(high.X, low.Y), high, 70) },
		"length":    func(d *drawing) { d.level(at(low.X, high.Y), high, high.Y+170) },
		"width":     func(d *drawing) { d.level(at(b.left-b.width/2, high.Y), at(b.left+b.width/2, high.Y), high.Y+130) },
		"spacing":   func(d *drawing) { d.level(at(-b.left, b.c.Y), at(b.left, b.c.Y), b.c.Y+130) },
		"clearance": func(d *drawing) {
			s := screen{v: side, c: r2.Add(high, at(40, 285)), turned: 12}
			d.device(s)
			d.beside(high, s.on(-housingBelow-housingY, -housingDepth), 70)
		},
	}
	for entry, dimension := range named {
		v := side
		if dimension == "width" || dimension == "spacing" {
			v = front
		}
		to[key+"."+entry] = func() *drawing {
			d := b.in(v)
			draws[dimension](d)
			return d
		}
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
