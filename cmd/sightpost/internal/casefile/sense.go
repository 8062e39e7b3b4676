package casefile

import (
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"
)

// sense reports what is wrong with a case although every entry by itself is
// right: the second stage. Entries with problems of their own are passed over.
func (r *reader) sense(f *node) {
	r.compare(f.get("screen.used.right"), f.get("screen.display.width"), atMost, "at most the width of the display area, %s")
	r.compare(f.get("screen.used.top"), f.get("screen.display.height"), atMost, "at most the height of the display area, %s")
	r.gazeSense(f.get("person.gaze_range"), "left", "right", "some range to at least one side")
	r.gazeSense(f.get("person.gaze_range"), "up", "down", "some range up or down")
	r.postureSense(f)
	r.axesSense(f)
	r.distanceSense(f)
	r.mountSense(f)
	r.uncertaintySense(f)
	if !f.has("screen.used") {
		r.assumed("screen.used", "part of the display area that is looked at", Value{Word: "all of it"}, unsourced)
	}
	if !f.has("screen.fixed_at") && f.has(kitEntry) {
		r.assumed("screen.fixed_at", "where the plate is screwed to the housing's back", Value{Word: "in its middle"}, unsourced)
	}
	if g := f.get("person.glasses"); g != nil && g.Word == "yes" {
		g.kids = map[string]*node{}
		r.complete(g)
	}
	if !f.has("person.rest_gaze") {
		const rest = "15° down for an upright head, raised with recline by the published change"
		r.assumed("person.rest_gaze", "direction in which the eyes rest", Value{Word: rest}, restGaze1986)
	}
}

// compare reports a quantity that is not as expected of it beside another, whose text is %s
// in the message. It passes over what has a problem of its own.
func (r *reader) compare(v, other *node, right func(v, other float64) bool, expected string) {
	if v.ok() && other.ok() && !right(v.Low, other.Low) {
		r.senseless(v.at, quoted(v.text), fmt.Sprintf(expected, other.text))
	}
}

func atMost(v, other float64) bool { return v <= other }
func less(v, other float64) bool   { return v < other }
func more(v, other float64) bool   { return v > other }

// gazeSense reports eyes that do not turn either of two ways.
func (r *reader) gazeSense(g *node, one, other, expected string) {
	if a, b := g.get(one), g.get(other); a.ok() && b.ok() && a.Low+b.Low == 0 {
		r.senseless(g.at, "eyes that turn neither "+one+" nor "+other, expected)
	}
}

// distinct reports names that are in a list twice.
func (r *reader) distinct(list []*node) {
	first := map[string]spot{}
	for _, item := range list {
		name := item.name()
		if name == nil {
			continue
		}
		at := name.at
		if !item.has("name") { // a part, whose name may be that of its kind
			at = at.parent()
		}
		if before, twice := first[name.Word]; twice && name.valid {
			r.senseless(at, "the name "+quoted(name.Word)+" again", "another name than that in line "+strconv.Itoa(before.Line))
		}
		first[name.Word] = at
	}
}

func (r *reader) postureSense(f *node) {
	postures := f.list("postures")
	works := len(postures) == 0
	for _, p := range postures {
		works = works || p.word("must_work") != "no"
		if p.has("eyes") && p.has("slump") {
			r.senseless(p.get("slump").at, "slump beside measured eyes", "one of them: measured eyes already are where slump has brought them")
		}
		switch plumb, trunk := p.has("head"), p.get("head_on_trunk"); {
		case plumb && trunk != nil:
			r.senseless(trunk.at, "head_on_trunk beside head", "one of them: head gives the angles against plumb, head_on_trunk against the back support")
		case p.has("eyes") && !plumb && trunk == nil:
			r.senseless(p.at, "eyes without head", "head, or head_on_trunk, beside them: the head's angles in this posture").missing = joinKey(p.at.Key, "head")
		}
	}
	if !works {
		r.senseless(postures[0].at, "no posture that must work", "must_work: yes in at least one")
	}
	r.distinct(postures)
	r.distinct(f.list("keep_clear"))
}

// axesSense reports axes that are missing although a posture turns about them.
func (r *reader) axesSense(f *node) {
	if m := f.get("measured.seat_tilt"); m.ok() && !f.has(tiltPivot) {
		for _, n := range append(slices.Clone(f.list("keep_clear")), f.get("mount.clamp")) {
			if own := n.get("seat_tilt"); own.ok() && own.Low != m.Low {
				r.senseless(own.at, "a seat tilt other than as measured", "chair.tilt_pivot, the axis about which the seat tilts").missing = tiltPivot
			}
		}
	}
	for _, p := range f.list("postures") {
		differ := func(key string) bool {
			a, measured := p.get(key), f.get("measured."+key)
			return a.ok() && measured.ok() && a.Low != measured.Low
		}
		if differ("seat_tilt") && !f.has(tiltPivot) {
			r.senseless(p.get("seat_tilt").at, "a seat tilt other than as measured", "chair.tilt_pivot, the axis about which the seat tilts").missing = tiltPivot
		}
		if differ("back_angle") && !f.has(backHinge) && !p.has("eyes") {
			r.senseless(p.get("back_angle").at, "a back angle other than as measured", "chair.back_hinge, the axis about which the back support reclines").missing = backHinge
		}
	}
}

// distanceSense reports preferences that leave no distance at which the tracker works,
// once its own distances are in order.
func (r *reader) distanceSense(f *node) {
	near, far := f.get("tracker.near"), f.get("tracker.far")
	if !far.ok() || near.ok() && near.Low >= far.Low {
		return
	}
	if d := f.get("preferences.ranges.distance"); d.ok() && near.ok() && (d.Low > far.Low || d.High < near.Low) {
		r.senseless(d.at, quoted(d.text), "a range that meets the tracker's, "+near.text+" to "+far.text)
	}
	r.compare(f.get("preferences.face_clearance"), far, less, "less than the tracker's far limit, %s")
}

func (r *reader) mountSense(f *node) {
	if w := f.get("mount.clamp.along"); w.isGroup() && w.get("forward").ok() && w.get("left").ok() && w.get("up").ok() && w.vec("") == (r3.Vec{}) {
		r.senseless(w.at, "no direction", "at least one of forward, left, up other than 0")
	}
	r.sideSense(f.get("mount.side"), f.get("mount.clamp.at.left"), "the clamp is")
	r.sideSense(f.get("chair.joystick.side"), f.get("chair.joystick.at.left"), "the joystick is")
	if about := f.get("passage.about"); about.ok() && !f.has(kitEntry) {
		r.senseless(about.at, "a joint to swing the mount about", "mount.kit, the mount that has it")
	}
}

// sideSense reports a side other than that on which the thing is.
func (r *reader) sideSense(side, left *node, what string) {
	if side != nil && left.ok() && (side.Word == "left" && left.Low < 0 || side.Word == "right" && left.Low > 0) {
		r.senseless(side.at, quoted(side.Word), "the side on which "+what+", by left: "+left.text+"; right is negative")
	}
}
