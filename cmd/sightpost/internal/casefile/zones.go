package casefile

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/body"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/plots/units"
)

// armrestAboveSeatMM is how high armrests are above the seat: 760 mm less 485 mm.
//
// Reference: ADA Accessibility Guidelines (ADAAG), 1991, Fig. A3, "Dimensions of
// Adult-Sized Wheelchairs".
const armrestAboveSeatMM = 760 - 485

// zones returns the keep-clear zones of those parts of the chair that the case says are
// there, and of the person's body.
func (r *reader) zones(f *node) []kept {
	var all []kept
	for _, part := range []struct {
		of, key, none string // the word with which there is none; a body has all unasked
		zones         func(z *zone) []kept
	}{
		{"chair", "armrests", "no", (*zone).armrests},
		{"chair", "joystick", "none", (*zone).joystick},
		{"chair", "tray", "no", (*zone).tray},
		{"body", "face", "none", (*zone).face},
		{"body", "trunk", "none", (*zone).trunk},
		{"body", "thighs", "none", (*zone).thighs},
	} {
		of := f.get(part.of)
		if said := of.get(part.key); said.word("") != part.none && (said != nil || part.of == "body") {
			all = append(all, part.zones(newZone(r, of, part.key))...)
		}
	}
	return all
}

// face returns head and face as a rounded box, which moves with the head.
func (z *zone) face() []kept {
	z.complete("zone of head and face")
	box := body.Head{
		BreadthMM: z.number("breadth"), EyesToBackMM: z.number("length"),
		AboveEyesMM: z.number("above_eyes"), BelowEyesMM: z.number("below_eyes"),
	}.Box()
	return []kept{z.kept(fit.KeepClear{Name: "face", With: fit.WithHead, Shape: rounded(frame.Identity(), box)})}
}

// trunk returns trunk and upper arms as a rounded box against the back support, in
// chair axes as measured.
func (z *zone) trunk() []kept {
	z.r.complete(z.node)
	z.derive("height", z.r.seat.TrunkMM(), published(army2012, z.r.seat))
	z.merge("zone of the trunk")
	box := body.Trunk{BreadthMM: z.number("breadth"), DepthMM: z.number("depth"), HeightMM: z.number("height")}.Box()
	return []kept{z.kept(fit.KeepClear{Name: "trunk", With: fit.WithTrunk, Shape: rounded(z.r.seat.BackInChair(), box)})}
}

// thighs returns both thighs with their knees as rods on the seat.
func (z *zone) thighs() []kept {
	z.complete("zone of thighs and knees")
	left, right := body.Thighs{ThicknessMM: z.number("thickness"), LengthMM: z.number("length"), SpacingMM: z.number("spacing")}.Rods(z.r.seat.HeightMM)
	rod := func(name string, at body.Rod) kept {
		shape, _ := space.Capsule(at.FromMM, at.ToMM, at.RadiusMM) // lengths in files are bounded
		return z.onSeat(name, shape)
	}
	return []kept{rod("left thigh", left), rod("right thigh", right)}
}

// published names a source, and says what was done with it for a small person.
func published(from string, seat body.Seat) string {
	const digits = 2
	if part := strconv.FormatFloat(seat.Part, 'f', digits, 64); part != "1.00" {
		from += "; scaled to " + part + " because the eyes are low above the seat, a choice of this tool"
	}
	return from
}

func (z *zone) armrests() []kept {
	z.derive("top", math.Round(z.r.seat.HeightMM+armrestAboveSeatMM), "above the seat as in "+adaag1991)
	z.ends()
	z.complete("zones of the armrests")
	half := z.number("spacing") / 2
	return []kept{z.slab("left armrest", half), z.slab("right armrest", -half)}
}

func (z *zone) joystick() []kept {
	if z.valid { // the word is its side
		z.put("side", z.Value)
	}
	z.complete("zone of the joystick")
	if !z.has("at") { // at the front of an armrest
		left := defaultMM("chair.armrests.spacing") / 2
		if z.word("side") == "right" {
			left = -left
		}
		at := newZone(z.r, z.node, "at")
		at.derive("forward", defaultMM("chair.armrests.front"), unsourced)
		at.derive("left", left, unsourced)
		at.derive("up", z.r.seat.HeightMM+armrestAboveSeatMM+defaultMM("chair.joystick.size.up")/2, unsourced)
		at.merge("middle of joystick and hand")
	}
	half := r3.Scale(0.5, z.vec("size"))
	box := body.Box{LowMM: r3.Sub(z.vec("at"), half), HighMM: r3.Add(z.vec("at"), half)}
	return []kept{z.onSeat("joystick", boxBetween(frame.Identity(), box))}
}

func (z *zone) tray() []kept {
	z.derive("top", math.Round(z.r.seat.HeightMM+armrestAboveSeatMM+defaultMM("chair.tray.thickness")), "on armrests as high above the seat as in "+adaag1991)
	z.ends()
	z.complete("zone of the tray")
	return []kept{z.slab("tray", 0)}
}

// defaultMM returns the default of a length of a case.
func defaultMM(path string) float64 {
	mm, _ := ParseLength(caseTable().At(path).def, units.MM) // a test reads every default
	return mm
}

// zone fills in the measurements of one keep-clear zone that a case leaves open.
type zone struct {
	*node // its measurements
	r     *reader
	from  int // the first of its assumptions
}

// newZone returns the zone under a key of holder, with a group of measurements even if the
// case has none.
func newZone(r *reader, holder *node, key string) *zone {
	return &zone{node: holder.group(key), r: r, from: len(r.assumptions)}
}

// group returns the group under a key, which it makes if there is none.
func (n *node) group(key string) *node {
	kid := n.kids[key]
	if kid == nil {
		kid = &node{row: n.row.At(key), at: n.at.under(key)}
		n.kids[key] = kid
	}
	if kid.kids == nil {
		kid.kids = map[string]*node{}
	}
	return kid
}

// derive fills in a length that is computed, unless the case gives it.
func (z *zone) derive(key string, mm float64, from string) {
	if !z.has(key) {
		z.r.derive(z.node, key, plainKey(key), mm, from)
	}
}

// derive fills in a length that is computed, and says so.
func (r *reader) derive(n *node, key, what string, mm float64, from string) {
	own := n.put(key, mmValue(mm))
	own.assumed = true
	r.assumed(own.at.Key, what, own.Value, from)
}

// ends fills in where a part ends if the other end is given: an end that is assumed lies
// beyond one that is given.
func (z *zone) ends() {
	back, front := z.get("back"), z.get("front")
	if front != nil && front.Low < defaultMM(z.row.Path+".back") {
		z.derive("back", front.Low, unsourced)
	}
	if back != nil && back.Low > defaultMM(z.row.Path+".front") {
		z.derive("front", back.Low, unsourced)
	}
}

// complete fills in the defaults of all else, and tells what is assumed in one line for
// each source.
func (z *zone) complete(what string) {
	z.r.complete(z.node)
	z.merge(what)
}

func (z *zone) merge(what string) {
	all := z.r.assumptions
	z.r.assumptions = append(all[:z.from:z.from], merged(all[z.from:], z.node.at.Key, what)...)
	z.from = len(z.r.assumptions)
}

// kept returns the zone with its clearance. It is assumed if any other of its measurements is
// but the thickness of a part whose place was measured.
func (z *zone) kept(k fit.KeepClear) kept {
	k.RequiredMM = z.number("clearance")
	k.Assumed = slices.ContainsFunc(z.allSaid(), func(s Said) bool { return s.Assumed && s.Path != "clearance" && s.Path != "thickness" })
	return kept{KeepClear: k, at: z.node.at}
}

// onSeat returns a zone that the seat carries, whose shape is that with the seat level.
func (z *zone) onSeat(name string, shape space.Shape) kept {
	return z.kept(fit.KeepClear{Name: name, By: gaze.Seat, Shape: shape.Moved(z.r.seat.InSeat())})
}

// slab returns a level part of the chair, its middle so far to the left (mm).
func (z *zone) slab(name string, middle float64) kept {
	half, top := z.number("width")/2, z.number("top")
	return z.onSeat(name, boxBetween(frame.Identity(), body.Box{
		LowMM:  r3.Vec{X: z.number("back"), Y: middle - half, Z: top - z.number("thickness")},
		HighMM: r3.Vec{X: z.number("front"), Y: middle + half, Z: top},
	}))
}

// boxBetween returns a box in the axes of pose. Corners out of order give a flat box.
func boxBetween(pose frame.Pose, b body.Box) space.Shape {
	size := r3.Sub(b.HighMM, b.LowMM)
	size = r3.Vec{X: max(size.X, 0), Y: max(size.Y, 0), Z: max(size.Z, 0)}
	// Lengths in files are bounded, so that this is a box.
	box, _ := space.Box(pose.Mul(frame.Translate(r3.Scale(0.5, r3.Add(b.LowMM, b.HighMM)))), size)
	return box
}

// rounded returns the same box rounded as far as its least edge allows, which comes
// nearer to a body.
func rounded(pose frame.Pose, b body.Box) space.Shape {
	s := boxBetween(pose, b)
	s.RoundMM = min(s.HalfMM.X, s.HalfMM.Y, s.HalfMM.Z)
	s.HalfMM = r3.Sub(s.HalfMM, r3.Vec{X: s.RoundMM, Y: s.RoundMM, Z: s.RoundMM})
	return s
}
