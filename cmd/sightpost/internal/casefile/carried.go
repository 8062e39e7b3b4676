package casefile

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
)

// Carried is an entry with the same numbers as in an earlier case although the seat is
// tilted differently: it was not measured again, and moved along with the seat.
type Carried struct {
	// Key is the path of the entry with entries of lists by their names, Path the same
	// with their numbers.
	Key, Path string
	// SeatTilt is that at which it was measured.
	SeatTilt Value
	// Now is what the case says below the entry once it is carried along: the seat tilt of
	// a clamp or zone, or the new numbers of eyes or head.
	Now []Part
	// Kept says that the entry is left as it is: a head that fits the eyes at their new
	// place only if it was measured again.
	Kept bool

	needs []string // the axes about which it is moved
	of    *node    // the entry
}

// WithSeat reports whether c is a clamp or zone, which its seat tilt carries along.
func (c *Carried) WithSeat() bool { return len(c.Now) == 1 }

// carried returns what of a case was not measured again since an earlier one.
func carried(f, old *node) []Carried {
	c := carrying{f: f}
	m, was := f.get("measured"), old.get("measured")
	c.person("measured", m, was, sitting(was), sitting(m))
	for _, p := range f.list("postures") {
		if o := old.named("postures", p.word("name")); o != nil {
			c.person("postures["+p.word("name")+"]", p, o, sitting(o.over(was)), sitting(p.over(m)))
		}
	}
	if m.number("seat_tilt") == was.number("seat_tilt") {
		return c.all
	}
	if f.word("mount.carried_by") == "seat" && old.word("mount.carried_by") == "seat" {
		c.onSeat("mount.clamp", f.get("mount.clamp"), old.get("mount.clamp"), was.get("seat_tilt"))
	}
	for _, k := range f.list("keep_clear") {
		if k.word("carried_by") == "seat" {
			c.onSeat("keep_clear["+k.word("name")+"]", k, old.named("keep_clear", k.word("name")), was.get("seat_tilt"))
		}
	}
	return c.all
}

// The axes of a chair.
const tiltPivot, backHinge = "chair.tilt_pivot", "chair.back_hinge"

// carrying collects what is carried along.
type carrying struct {
	f   *node
	all []Carried
}

// onSeat adds a clamp or zone of the seat that is as it was at a seat tilt.
func (c *carrying) onSeat(key string, n, was, tilt *node) {
	if n.has("seat_tilt") || !same(n, was) {
		return
	}
	c.all = append(c.all, Carried{
		Key: key, Path: n.at.Key, SeatTilt: tilt.Value, Now: []Part{{"seat_tilt", tilt.Value}}, needs: []string{tiltPivot}, of: n,
	})
}

// person adds eyes and head of a sitting that are as they were in another. Both move with
// the trunk.
func (c *carrying) person(key string, n, was *node, from, to gaze.Sitting) {
	if from.SeatTilt == to.SeatTilt {
		return
	}
	who, chair := person(c.f.get("person")), chair(c.f)
	axes := []string{tiltPivot}
	if from.BackAngle != to.BackAngle {
		axes = append(axes, backHinge)
	}
	trunk := chair.TrunkPose(from, to.AsMeasured(""))
	tilt := Value{Low: from.SeatTilt.Degrees(), High: from.SeatTilt.Degrees(), Unit: "deg"}
	sameEyes := n.has("eyes") && same(n.get("eyes"), was.get("eyes"))
	if sameEyes {
		at := trunk.Apply(from.EyesMM)
		c.moved(key+".eyes", n.get("eyes"), tilt, map[string]float64{"forward": at.X, "left": at.Y, "up": at.Z}, axes...)
	}
	if !n.has("head") || !same(n.get("head"), was.get("head")) {
		return
	}
	if n.has("eyes") && !sameEyes && !slices.ContainsFunc(axes, func(axis string) bool { return !c.f.has(axis) }) {
		neck := r3.Sub(from.EyesMM, from.Head.Turn().Apply(who.NeckToEyesMM))
		again := r3.Add(trunk.Apply(neck), to.Head.Turn().Apply(who.NeckToEyesMM))
		if r3.Norm(r3.Sub(to.EyesMM, again)) < r3.Norm(r3.Sub(to.EyesMM, trunk.Apply(from.EyesMM))) {
			c.all = append(c.all, Carried{Key: key + ".head", Path: n.at.Key + ".head", SeatTilt: tilt, Kept: true})
			return
		}
	}
	h := gaze.HeadOf(trunk.Rot.Mul(from.Head.Turn()))
	c.moved(key+".head", n.get("head"), tilt, map[string]float64{
		"flexion": h.Flexion.Degrees(), "rotation": h.Rotation.Degrees(), "lateral_flexion": h.LateralFlexion.Degrees(),
	})
}

// moved adds a group with new numbers.
func (c *carrying) moved(key string, n *node, tilt Value, to map[string]float64, needs ...string) {
	one := Carried{Key: key, Path: n.at.Key, SeatTilt: tilt, needs: needs, of: n}
	for _, f := range n.row.Fields {
		const digits = 1e6
		now := math.Round(to[f.Key]*digits)/digits + 0 // no negative zero
		one.Now = append(one.Now, Part{f.Key, Value{Low: now, High: now, Unit: f.of.first()}})
	}
	c.all = append(c.all, one)
}

// sameWithin is more than the same measure in other units can make.
const sameWithin = 1e-6

// same reports whether two groups say the same.
func same(a, b *node) bool {
	return a != nil && b != nil && slices.EqualFunc(a.allSaid(), b.allSaid(), func(x, y Said) bool {
		return x.Path == y.Path && sameValue(x.Value, y.Value)
	})
}

func sameValue(a, b Value) bool {
	return a.Word == b.Word && math.Abs(a.Low-b.Low) <= sameWithin && math.Abs(a.High-b.High) <= sameWithin
}

// carryAlong takes along with seat and trunk what was not measured again since an earlier
// case, and asks for the axes that this needs.
func (r *reader) carryAlong(f, old *node) []Carried {
	all := carried(f, old)
	for _, axis := range []string{tiltPivot, backHinge} {
		var keys []string
		for _, c := range all {
			if slices.Contains(c.needs, axis) {
				keys = append(keys, c.Key)
			}
		}
		if keys != nil && !f.has(axis) {
			r.senseless(f.get("measured.seat_tilt").at, "a seat tilt other than before, and "+strings.Join(keys, ", ")+" as before",
				axis+", to move them along with the seat; or them measured again").missing = axis
		}
	}
	for _, c := range all {
		for _, p := range c.Now {
			c.of.put(p.Name, p.Value)
		}
	}
	return all
}

// measuredAt returns the scene with the seat as it was tilted when clamp or zone n was
// measured.
func measuredAt(scene gaze.Scene, n *node) gaze.Scene {
	if n.has("seat_tilt") {
		scene.Measured.SeatTilt = n.angle("seat_tilt")
	}
	return scene
}

// Doubt is something that two cases of one chair and mount say differently although it
// cannot have changed by itself, or say the same although the seat has moved it.
type Doubt struct {
	// Key is the entry, or the group that holds all of Changes.
	Key string
	// Changes are what the later case says, and what the earlier one said.
	Changes []Change
	// MovedMM is how far a clamp is from where it was on what carries it.
	MovedMM float64
	// Carried is what was not measured again; nil for all else.
	Carried *Carried
}

// Change is an entry that is another.
type Change struct {
	Name    string // below the key of its doubt; "" for that itself
	Is, Was Value
}

// Doubts returns what two cases, the earlier one first, cannot both be right about.
func Doubts(before, after *Case) []Doubt {
	var all []Doubt
	old := map[string]Said{}
	for _, s := range before.Values() {
		old[s.Path] = s
	}
	for _, s := range after.Values() {
		was, given := old[s.Path]
		key := s.steady
		if key == "" || !given || s.Assumed || was.Assumed || sameValue(s.Value, was.Value) {
			continue
		}
		if n := len(all); n == 0 || all[n-1].Key != key {
			all = append(all, Doubt{Key: key})
		}
		d := &all[len(all)-1]
		d.Changes = append(d.Changes, Change{strings.TrimPrefix(strings.TrimPrefix(s.Path, key), "."), s.Value, was.Value})
	}
	along := carried(after.form, before.form)
	for i := range along {
		all = append(all, Doubt{Key: along[i].Key, Carried: &along[i]})
	}
	clamp := func(d Doubt) bool { return d.Key == "mount.clamp" || d.Key == "mount.carried_by" }
	if mm := clampMoved(before, after); mm > clampMovedMM && !slices.ContainsFunc(all, clamp) {
		all = append(all, Doubt{Key: "mount.clamp", MovedMM: mm})
	}
	return all
}

// clampMovedMM is how far apart two measurements of one clamp may be: 5 mm each way by
// tape. A choice of this tool, no source.
const clampMovedMM = 10

// clampMoved returns how far (mm) the clamp is from where it was, on the same side.
func clampMoved(before, after *Case) float64 {
	for _, m := range after.mountings {
		for _, was := range before.mountings {
			if m.Side == was.Side {
				return r3.Norm(r3.Sub(m.ClampMM, was.ClampMM))
			}
		}
	}
	return 0
}
