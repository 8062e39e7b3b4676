package mount

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Chain returns the kit put on a carrier. On the right side everything from the
// clamp outward is the mirror image of the kit, while the mounting is taken as it is.
// The error joins everything that is wrong with the kit and the mounting.
func (k Kit) Chain(m Mounting) (Chain, error) {
	if err := checkBoth(k, m); err != nil {
		return Chain{}, err
	}
	var c Chain
	if m.Side == OnRight {
		// M (T K) M with T mirrored beforehand leaves T (M K M).
		// What belongs to the screen is not mirrored with the mount.
		c = k.withScreenMirrored().assemble(m.mirrored()).Mirrored()
	} else {
		c = k.assemble(m)
	}
	if err := c.Check(); err != nil {
		return Chain{}, err
	}
	return c, nil
}

// withScreenMirrored returns a checked kit in which what belongs to the screen is
// mirrored, so that it is as it was after the whole chain has been.
func (k Kit) withScreenMirrored() Kit {
	k.Parts = slices.Clone(k.Parts)
	last := len(k.Parts) - 1
	plate := k.Parts[last].(Plate)
	plate.FixedAtMM, plate.CentreMM = mirrorInScreen(plate.FixedAtMM), mirrorInScreen(plate.CentreMM)
	k.Parts[last] = plate
	return k
}

// assemble returns the chain of a checked kit on a checked mounting, as drawn.
func (k Kit) assemble(m Mounting) Chain {
	b := &builder{mounting: m, faces: k.Parts[len(k.Parts)-1].(Plate).Faces}
	for _, p := range k.Parts {
		b.first = len(b.chain.Joints)
		p.build(b)
		b.chain.Rated = append(b.chain.Rated,
			Rated{Part: p.PartName(), First: b.first, Next: len(b.chain.Joints), KG: p.rated()})
	}
	return b.chain
}

// mirrored returns the mounting as in the mirror y = 0. Turning and leaning left
// change their sense, leaning back does not.
func (m Mounting) mirrored() Mounting {
	m.ClampMM = mirrorVec(m.ClampMM)
	m.SlideAlong = mirrorVec(m.SlideAlong)
	m.Axes.Rotation = 0 - m.Axes.Rotation
	m.Axes.Roll = 0 - m.Axes.Roll
	return m
}

// slides reports whether the clamp can be moved along.
func (m Mounting) slides() bool { return m.SlideLowMM != 0 || m.SlideHighMM != 0 }

// builder strings parts together.
type builder struct {
	mounting Mounting
	faces    Facing
	faced    bool // the frame has been turned to where the screen faces
	chain    Chain
	settings int
	first    int // index of the first joint of the part at hand
}

// fix adds a fixed joint.
func (b *builder) fix(part, what string, p frame.Pose) {
	b.chain.Joints = append(b.chain.Joints, Joint{Name: part + "." + what, Origin: p})
}

// shift adds a fixed move, unless it is zero.
func (b *builder) shift(part, what string, v r3.Vec) {
	if v != (r3.Vec{}) {
		b.fix(part, what, frame.Translate(v))
	}
}

// move adds a joint that moves, unless the range is zero, and reports whether it
// did.
func (b *builder) move(j Joint, r Range) bool {
	if r == (Range{}) {
		return false
	}
	j.Origin = frame.Identity()
	j.Low, j.High, j.Step, j.Preferred = r.Low, r.High, r.Step, r.Preferred
	j.Indexed, j.Effort, j.Stiffness, j.Read = r.Indexed, r.Effort, r.Stiffness, r.Read
	if r.Effort == 0 {
		j.Effort = 1
	}
	b.chain.Joints = append(b.chain.Joints, j)
	b.settings++
	return true
}

// weigh adds a mass at the origin of the latest frame, which is one of the part's
// own: a part in which nothing has been set or offset so far gets one.
func (b *builder) weigh(part string, kg float64) {
	if kg > 0 {
		if len(b.chain.Joints) == b.first {
			b.fix(part, "middle", frame.Identity())
		}
		b.chain.Masses = append(b.chain.Masses, Mass{Part: part, Carrier: len(b.chain.Joints) - 1, KG: kg})
	}
}

// PartName returns the clamp's name.
func (p Clamp) PartName() string { return p.Name }

func (p Clamp) rated() float64 { return p.RatedKG }

func (p Clamp) build(b *builder) {
	m := b.mounting
	b.fix(p.Name, "place", frame.Translate(m.ClampMM))
	if m.slides() {
		r := Range{Low: m.SlideLowMM, High: m.SlideHighMM, Step: p.PositionStepMM, Effort: p.PositionEffort, Stiffness: p.PositionStiffness}
		if r.Step == 0 {
			r.Step = defaultPositionStepMM
		}
		r.Preferred = math.Min(math.Max(0, r.Low), r.High)
		j := Joint{Name: p.Name + ".position", Motion: Slide, Axis: r3.Unit(m.SlideAlong)}
		b.move(j, r)
	}
	b.fix(p.Name, "axes", frame.Pose{Rot: m.Axes.Matrix()})
	b.move(Joint{Name: p.Name + ".index", Motion: Turn, Axis: p.IndexAbout.axis()}, p.Index)
	b.shift(p.Name, "offset", p.OffsetMM)
}

// defaultPositionStepMM is how finely a place along a frame tube can be read with a
// tape held beside upholstery; common practice, no source.
const defaultPositionStepMM = 5

// axis returns the unit vector of d in a part's frame.
func (d Direction) axis() r3.Vec {
	switch d {
	case Ahead:
		return r3.Vec{X: 1}
	case Left:
		return r3.Vec{Y: 1}
	case Up:
	}
	return r3.Vec{Z: 1}
}

// PartName returns the tube's name.
func (p Tube) PartName() string { return p.Name }

func (p Tube) rated() float64 { return p.RatedKG }

func (p Tube) build(b *builder) {
	slide, turn := Joint{Name: p.Name + ".height", Motion: Slide, Axis: p.Runs.axis()},
		Joint{Name: p.Name + ".swing", Motion: Turn, Axis: p.Runs.axis()}
	if p.Runs == Ahead {
		slide.Name, turn.Name = p.Name+".extension", p.Name+".twist"
	}
	span := Span{
		Part: p.Name, Slide: b.settings, FromTube: frame.Pose{Rot: p.Runs.fromTube()},
		Shape: p.Shape, Section: p.Section, TotalMM: p.TotalMM,
	}
	end := p.Shape.End()
	if !b.move(slide, p.Slide) {
		span.Slide = -1
		b.fix(p.Name, "length", frame.Translate(r3.Scale(end.At.Z, slide.Axis)))
	}
	b.move(turn, p.Turn)
	span.Carrier = len(b.chain.Joints) - 1
	b.chain.Spans = append(b.chain.Spans, span)
	if len(p.Shape.Bends) > 0 {
		end.At.Z = 0
		fromTube := span.FromTube
		b.fix(p.Name, "end", fromTube.Mul(end).Mul(fromTube.Inverse()))
	}
}

// fromTube returns the rotation from a centre-line's axes (z along, first bend
// toward x) to the part's: along z and bending ahead for a tube that runs up,
// along x and bending up for one that runs ahead.
func (d Direction) fromTube() frame.Rotation {
	if d == Ahead {
		return frame.Rotation{X: r3.Vec{Z: 1}, Y: r3.Vec{Y: -1}, Z: r3.Vec{X: 1}}
	}
	return frame.NoTurn()
}

// PartName returns the elbow's name.
func (p Elbow) PartName() string { return p.Name }

func (p Elbow) rated() float64 { return p.RatedKG }

func (p Elbow) build(b *builder) {
	b.move(Joint{Name: p.Name + ".pan", Motion: Turn, Axis: r3.Vec{Z: 1}}, p.Pan)
	b.shift(p.Name, "pan_to_elevation", p.PanToElevationMM)
	b.move(Joint{Name: p.Name + ".elevation", Motion: Turn, Axis: r3.Vec{Y: -1}}, p.Elevation)
	b.weigh(p.Name, p.MassKG)
	b.shift(p.Name, "elevation_to_end", p.ElevationToEndMM)
}

// PartName returns the bracket's name.
func (p Bracket) PartName() string { return p.Name }

func (p Bracket) rated() float64 { return p.RatedKG }

func (p Bracket) build(b *builder) {
	b.fix(p.Name, "offset", frame.Pose{Rot: p.Axes.Matrix(), At: p.OffsetMM})
	b.weigh(p.Name, p.MassKG)
}
