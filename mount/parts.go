package mount

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// PartName implements [Part].
func (p Clamp) PartName() string { return p.Name }

// PartName implements [Part].
func (p Tube) PartName() string { return p.Name }

// PartName implements [Part].
func (p Elbow) PartName() string { return p.Name }

// PartName implements [Part].
func (p Bracket) PartName() string { return p.Name }

// PartName implements [Part].
func (p Turns) PartName() string { return p.Name }

// PartName implements [Part].
func (p Ball) PartName() string { return p.Name }

// PartName implements [Part].
func (p Plate) PartName() string { return p.Name }

func (p Clamp) rated() float64   { return p.RatedKG }
func (p Tube) rated() float64    { return p.RatedKG }
func (p Elbow) rated() float64   { return p.RatedKG }
func (p Bracket) rated() float64 { return p.RatedKG }
func (p Turns) rated() float64   { return p.RatedKG }
func (p Ball) rated() float64    { return p.RatedKG }
func (p Plate) rated() float64   { return p.RatedKG }

// The axes of turns in a part's frame: what is positive pans to the left, lifts what
// points ahead, and rolls what is up to the viewer's left.
var (
	pans  = r3.Vec{Z: 1}
	lifts = r3.Vec{Y: -1}
	rolls = r3.Vec{X: 1}
)

// build adds the clamp, whose place and axes are real on either side.
func (p Clamp) build(b *builder) {
	m := b.mounting
	b.fix("place", frame.Translate(m.ClampMM))
	if m.slides() {
		if n := r3.Norm(m.SlideAlong); !(n > 0 && n <= maxMM) {
			b.say("it slides, but the direction along which is zero or not finite")
		}
		b.move("position", Slide, r3.Unit(m.SlideAlong), Range{
			Low: m.SlideLowMM, High: m.SlideHighMM, Step: cmp.Or(p.PositionStepMM, defaultPositionStepMM),
			Preferred: math.Min(math.Max(0, m.SlideLowMM), m.SlideHighMM),
			Effort:    p.PositionEffort, Stiffness: p.PositionStiffness,
		})
	}
	b.fixAxes("axes", m.Axes, r3.Vec{})
	b.mirrors = m.Side == OnRight
	axes := map[Direction]r3.Vec{Up: {Z: 1}, Left: {Y: 1}, Ahead: {X: 1}}
	about, ok := axes[p.IndexAbout]
	if !ok {
		b.sayOf("index_about", "direction %d is not one that it can have", p.IndexAbout)
	}
	b.move("index", Turn, about, p.Index)
	b.weigh(p.MassKG)
	b.shift("offset", p.OffsetMM)
}

// defaultPositionStepMM is how finely a place along a frame tube can be read with a
// tape held beside upholstery; common practice, no source.
const defaultPositionStepMM = 5

// run is what depends on the way a tube runs.
type run struct {
	along r3.Vec
	// fromTube turns a center line's axes (z along, first bend toward x) to the part's:
	// along z and bending ahead for a tube that runs up, along x and bending up for
	// one that runs ahead.
	fromTube    frame.Rotation
	slide, turn string // what the settings are called
}

var runs = map[Direction]run{
	Up:    {r3.Vec{Z: 1}, frame.NoTurn(), "height", "swing"},
	Ahead: {r3.Vec{X: 1}, frame.Rotation{X: r3.Vec{Z: 1}, Y: r3.Vec{Y: -1}, Z: r3.Vec{X: 1}}, "extension", "twist"},
}

func (p Tube) build(b *builder) {
	way, ok := runs[p.Runs]
	if !ok {
		b.sayOf("runs", "direction %d is not one that it can have", p.Runs)
		return
	}
	p.checkHeld(b, way.slide)
	span := Span{
		Part: p.Name, FromTube: frame.Pose{Rot: way.fromTube},
		Shape: p.Shape, Section: p.Section, TotalMM: p.TotalMM,
	}
	if b.mirrors {
		span.FromTube, span.Shape = mirrorPose(span.FromTube), p.Shape.mirrored()
	}
	end := p.Shape.End()
	span.Slide = len(b.chain.MovingPlaces())
	if b.move(way.slide, Slide, way.along, p.Slide) == nil {
		span.Slide = -1
		b.fix("length", frame.Translate(r3.Scale(end.At.Z, way.along)))
	}
	b.move(way.turn, Turn, way.along, p.Turn)
	span.Carrier = len(b.chain.Joints) - 1
	b.chain.Spans = append(b.chain.Spans, span)
	if len(p.Shape.Bends) > 0 {
		end.At.Z = 0
		fromTube := frame.Pose{Rot: way.fromTube}
		b.fix("end", fromTube.Mul(end).Mul(fromTube.Inverse()))
	}
}

// checkHeld says what is wrong with a slide whose limits are below zero, or would put
// what holds the tube on a bend or past the tube's near end. A shape that is none is
// left to the chain's check.
func (p Tube) checkHeld(b *builder, slide string) {
	var shape problems
	p.Shape.check(&shape, p.Section)
	low, high := p.Shape.withRun(p.Slide.Low), p.Shape.withRun(p.Slide.High).LengthMM()
	switch {
	case p.Slide.Low < 0:
		b.sayOf(slide, "limits %s to %s must not be below zero", inMM(p.Slide.Low), inMM(p.Slide.High))
	case len(shape.faults) > 0:
	case p.Slide == (Range{}):
		if n := p.Shape.LengthMM(); p.TotalMM > 0 && p.TotalMM < n {
			b.say("total length %s is less than the %s of its shape", inMM(p.TotalMM), inMM(n))
		}
	default:
		if len(low.Bends) > 0 && low.Bends[0].StraightMM < 0 {
			const told = 25.4 / 32 // mm, what sixteenths of an inch may round off
			b.sayOf(slide, "at its lowest, %s, the tube would be held %s up its first bend; raise it to %s or more",
				inMM(p.Slide.Low), inMM(-low.Bends[0].StraightMM), inMM(math.Ceil(p.Slide.Low-low.Bends[0].StraightMM+told)))
		}
		if p.TotalMM > 0 && high > p.TotalMM {
			b.sayOf(slide, "at its highest, %s, %s of tube are needed and the total length is %s",
				inMM(p.Slide.High), inMM(high), inMM(p.TotalMM))
		}
	}
}

func (p Elbow) build(b *builder) {
	b.move("pan", Turn, pans, p.Pan)
	b.shift("pan_to_elevation", p.PanToElevationMM)
	b.move("elevation", Turn, lifts, p.Elevation)
	b.weigh(p.MassKG)
	b.shift("elevation_to_end", p.ElevationToEndMM)
}

func (p Bracket) build(b *builder) {
	b.fixAxes("offset", p.Axes, p.OffsetMM)
	b.weigh(p.MassKG)
}

func (p Turns) build(b *builder) {
	b.face()
	b.move("pan", Turn, pans, p.Pan)
	b.shift("pan_to_tilt", p.PanToTiltMM)
	b.move("tilt", Turn, lifts, p.Tilt)
	b.shift("tilt_to_roll", p.TiltToRollMM)
	b.move("roll", Turn, rolls, p.Roll)
	b.weigh(p.MassKG)
}

func (p Ball) build(b *builder) {
	step := cmp.Or(p.Step, frame.Degree).Radians()
	around := Range{Low: -math.Pi, High: math.Pi, Step: step}
	if !(p.Cone > 0 && p.Cone.Radians() <= math.Pi) {
		b.say("cone %g° must be more than 0° and at most 180°", p.Cone.Degrees())
	}
	if p.Spin.Indexed {
		b.sayOf("spin", "the spin of a ball has no stops")
	}
	if p.Spin.Scale.Given {
		b.sayOf("spin", "a ball has no scale, because its plate is set by tilt, rotation and roll")
	}
	if p.Spin.Stiffness != (JointStiffness{}) {
		b.sayOf("spin", "a ball has one stiffness for all axes, its own")
	}
	p.Stiffness.AnyAxis = false
	b.face()
	// The direction of a lean costs nothing: only how far it leans does.
	b.move("lean_toward", Turn, rolls, around).Effort = 0
	b.move("lean", Turn, lifts, Range{High: p.Cone.Radians(), Step: step, Effort: p.Effort, Stiffness: p.Stiffness}).Stiffness.AnyAxis = true
	b.move("spin", Turn, rolls, cmp.Or(p.Spin, around))
	b.weigh(p.MassKG)
	b.shift("stem", r3.Vec{X: p.StemMM})
}

func (p Plate) build(b *builder) {
	b.face()
	if !(p.PlateKG >= 0 && p.PlateKG <= p.MassKG) {
		b.say("%g kg of the plate's own: must be from 0 to the %g kg of plate and screen together", p.PlateKG, p.MassKG)
	}
	if b.mirrors {
		p.OffsetMM.X = 0 - p.OffsetMM.X
	}
	// Screen axes right, up, normal in the joint's normal, right, up.
	rot := frame.Rotation{X: r3.Vec{Y: 1}, Y: r3.Vec{Z: 1}, Z: r3.Vec{X: 1}}
	b.chain.Tip = frame.Pose{Rot: rot, At: rot.Apply(r3.Sub(p.OffsetMM, p.FixedAtMM))}
	// Its own mass and the screen's, which it carries, are put at their common center,
	// the only one that is known.
	for _, m := range []Mass{{Part: p.Name, KG: p.PlateKG}, {Part: p.Name + ".screen", KG: p.MassKG - p.PlateKG}} {
		if m.KG > 0 {
			m.Carrier, m.AtMM = len(b.chain.Joints), p.CenterMM
			b.chain.Masses = append(b.chain.Masses, m)
		}
	}
}
