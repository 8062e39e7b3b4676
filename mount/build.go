package mount

import (
	"cmp"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Check reports everything that is wrong with the kit, as [Faults]. A kit needs a clamp first, a plate last, and names that differ.
func (k Kit) Check() error {
	_, err := k.Chain(Mounting{SlideHighMM: maxMM, SlideAlong: r3.Vec{X: 1}})
	return err
}

// Chain returns the kit put on a carrier. On the right side everything from the
// clamp outward is the mirror image of the kit, while the mounting is taken as it is,
// and what belongs to the screen, too.
// The error is of everything that is wrong with the kit and the mounting, as [Faults].
func (k Kit) Chain(m Mounting) (Chain, error) {
	b := &builder{mounting: m}
	if !(k.RatedKG >= 0) || math.IsInf(k.RatedKG, 1) {
		b.say("kit %q: rated mass %v kg must be 0 (not known) or more", k.Name, k.RatedKG)
	}
	if m.Side != OnLeft && m.Side != OnRight {
		b.say("mounting: side %d is neither left nor right", m.Side)
	}
	if !k.inOrder(b) {
		return Chain{}, b.err()
	}
	b.faces = k.Parts[len(k.Parts)-1].(Plate).Faces
	for _, p := range k.Parts {
		b.begin(p.PartName())
		p.build(b)
		b.chain.Rated = append(b.chain.Rated,
			Rated{Part: b.part, First: b.first, Next: len(b.chain.Joints), KG: p.rated()})
	}
	b.chain.check(&b.problems)
	if err := b.err(); err != nil {
		return Chain{}, err
	}
	return b.chain, nil
}

// inOrder reports whether the parts can be strung together, and says what is wrong if
// they can't.
func (k Kit) inOrder(b *builder) bool {
	before := len(b.faults)
	if len(k.Parts) == 0 {
		b.say("kit %q has no parts; it needs at least a clamp and a plate", k.Name)
	}
	names := map[string]bool{}
	for i, part := range k.Parts {
		b.at("", "")
		if part == nil {
			b.say("kit %q: part %d is missing", k.Name, i+1)
			continue
		}
		name := part.PartName()
		if strings.TrimSpace(name) == "" {
			b.say("part %d has no name", i+1)
		}
		b.begin(name)
		if strings.ContainsAny(name, ". \t\n=,") {
			b.say("a name has no dot, comma, equals sign or space")
		}
		if names[name] {
			b.say("the name is used twice; names must differ")
		}
		names[name] = true
		_, clamp := part.(Clamp)
		_, plate := part.(Plate)
		switch last := len(k.Parts) - 1; {
		case i == 0 && !clamp:
			b.say("the first part must be the clamp")
		case i > 0 && clamp:
			b.say("only the first part can be a clamp")
		case i == last && !plate:
			b.say("the last part must be the plate")
		case i < last && plate:
			b.say("the plate must be the last part")
		}
	}
	return len(b.faults) == before
}

// slides reports whether the clamp can be moved along.
func (m Mounting) slides() bool { return m.SlideLowMM != 0 || m.SlideHighMM != 0 }

// builder strings parts together, and collects what is wrong with them that the
// chain's own check does not see.
type builder struct {
	problems // of the part at hand
	mounting Mounting
	first    int  // index of the first joint of the part at hand
	mirrors  bool // what is added is mirrored
	faces    Facing
	faced    bool // the frame has been turned to where the screen faces
	chain    Chain
}

// begin goes on to the next part.
func (b *builder) begin(part string) {
	b.first = len(b.chain.Joints)
	b.at(part, "")
}

// fix adds a fixed joint.
func (b *builder) fix(what string, p frame.Pose) {
	if b.mirrors {
		p = mirrorPose(p)
	}
	b.chain.Joints = append(b.chain.Joints, Joint{Name: b.part + "." + what, Origin: p})
}

// fixAxes adds axes at a place as a fixed joint.
func (b *builder) fixAxes(what string, a Axes, at r3.Vec) {
	for _, angle := range [3]frame.Angle{a.Rotation, a.Tilt, a.Roll} {
		if !(math.Abs(angle.Radians()) <= 2*math.Pi) {
			b.say("angle of the axes: %g° is not within a whole turn", angle.Degrees())
		}
	}
	b.fix(what, frame.Pose{Rot: a.Matrix(), At: at})
}

// shift adds a fixed move, unless it is zero.
func (b *builder) shift(what string, v r3.Vec) {
	if v != (r3.Vec{}) {
		b.fix(what, frame.Translate(v))
	}
}

// move adds a joint that moves, unless the range is zero, and returns it.
//
// In a mirror a slide along an axis becomes one along the axis mirrored. A turn about
// it becomes one about the opposite of that, because a mirror reverses the sense of a turn.
func (b *builder) move(what string, m Motion, axis r3.Vec, r Range) *Joint {
	if r == (Range{}) {
		return nil
	}
	if r.Stiffness.AnyAxis {
		b.sayOf(what, "only a ball holds about any axis")
	}
	j := Joint{
		Name: b.part + "." + what, Motion: m, Origin: frame.Identity(), Axis: axis,
		Low: r.Low, High: r.High, Step: r.Step, Indexed: r.Indexed, Preferred: r.Preferred,
		Effort: cmp.Or(r.Effort, 1), Read: r.Read, Scale: r.Scale, Stiffness: r.Stiffness,
	}
	if b.mirrors {
		j.Axis = mirrorVec(axis)
	}
	if b.mirrors && m == Turn {
		j.Axis = r3.Scale(-1, j.Axis)
	}
	b.chain.Joints = append(b.chain.Joints, j)
	return &b.chain.Joints[len(b.chain.Joints)-1]
}

// weigh adds a mass at the origin of the latest frame, which is one of the part's
// own: a part in which nothing has been set or offset so far gets one.
func (b *builder) weigh(kg float64) {
	if kg == 0 {
		return
	}
	if len(b.chain.Joints) == b.first {
		b.fix("middle", frame.Identity())
	}
	b.chain.Masses = append(b.chain.Masses, Mass{Part: b.part, Carrier: len(b.chain.Joints) - 1, KG: kg})
}

// face turns the frame about z to where the screen faces, once in a chain.
func (b *builder) face() {
	facing := map[Facing]r3.Vec{FacesBack: {X: -1}, FacesAhead: {X: 1}, FacesLeft: {Y: 1}, FacesRight: {Y: -1}}
	ahead, ok := facing[b.faces]
	if !ok && !b.faced {
		b.sayOf("faces", "%d is no way to face", b.faces)
	}
	if !b.faced && b.faces != FacesAhead {
		b.fix("faces", frame.Pose{Rot: frame.Rotation{X: ahead, Y: r3.Cross(r3.Vec{Z: 1}, ahead), Z: r3.Vec{Z: 1}}})
	}
	b.faced = true
}
