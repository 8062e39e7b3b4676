package mount

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Kit is a mount as its owner has it: parts from the chair outward, drawn for the
// person's left side. Parts may be left out or repeated; the last is the plate.
type Kit struct {
	Name    string
	RatedKG float64 // heaviest load the mount is made for, kg; 0 if not known
	Parts   []Part
}

// Part is one part of a kit: a [Clamp], [Tube], [Elbow], [Bracket], [Turns],
// [Ball] or [Plate].
type Part interface {
	// PartName returns the part's own name, the first half of the names of its
	// settings.
	PartName() string
	build(*builder)
	rated() float64 // kg
}

// Range is what can be set at one place of a part: mm where it slides, radians
// where it turns. The zero Range means that nothing can be set there.
type Range struct {
	Low, High float64        // limits, both allowed
	Step      float64        // finest readable step; distance of stops if Indexed
	Preferred float64        // where it is best left, within the limits
	Effort    float64        // weight of moving it; 0 means 1
	Indexed   bool           // has stops at Low, Low+Step, ... only
	Read      string         // how to read it; "" if the kit does not say
	Scale     Scale          // what the part itself is marked with
	Stiffness JointStiffness // how it behaves under load; never AnyAxis
}

// Scale is how the marks on a part number its setting, on either side of the chair. The
// zero Scale stands for a part without marks that are known: it numbers as the kit does.
type Scale struct {
	Given  bool
	ZeroAt float64 // the setting at which it shows 0
	Falls  bool    // its numbers fall where the setting rises
}

// Shown returns what the scale shows at setting v.
func (s Scale) Shown(v float64) float64 {
	if s.Falls {
		return s.ZeroAt - v
	}
	return v - s.ZeroAt
}

// Setting returns the setting at which the scale shows a value, the inverse of Shown.
func (s Scale) Setting(shown float64) float64 {
	if s.Falls {
		return s.ZeroAt - shown
	}
	return s.ZeroAt + shown
}

// Clamp holds the mount to the carrier. Its settings are "position" (mm, where the
// mounting lets it slide) and "index" (a turn in stops).
type Clamp struct {
	Name              string
	PositionStepMM    float64        // readable step of "position"; 0 means 5 mm
	PositionEffort    float64        // weight of "position"; 0 means 1
	PositionStiffness JointStiffness // how "position" behaves under load
	Index             Range          // radians, about IndexAbout by the right-hand rule
	IndexAbout        Direction
	OffsetMM          r3.Vec // clamp's middle to where the next part sits, mm, clamp axes
	MassKG            float64
	RatedKG           float64 // heaviest load beyond the clamp, kg; 0 if not known
}

// Direction names an axis of a part's frame.
type Direction int

// The three axes. By the right-hand rule a turn about Up is to the left, about
// Left tips the top ahead, and about Ahead tips the top to the right.
const (
	Up Direction = iota
	Left
	Ahead
)

// Material is what a tube is made of. The zero Material is one that is not known.
// The two moduli are independent: published sets need not be those of one and the
// same isotropic body.
type Material struct {
	Name                  string
	YoungMPa, ShearMPa    float64 // elastic moduli, N/mm²
	DensityKGM3, YieldMPa float64 // kg/m³; N/mm², 0 if not known
}

// Section is the cross-section of a round tube, and what it is made of. The zero
// Section is one that is not known.
type Section struct {
	OutsideMM float64 // outside diameter, mm
	WallMM    float64 // wall thickness, mm
	Material  Material
}

// Tube is a tube, straight or bent: a post that runs up or an arm that runs ahead.
//
// Its settings are the slide, called "height" for a tube that runs up and "extension"
// for one that runs ahead, and the turn about its own near straight, "swing" or
// "twist". The slide is measured along the near straight, from the middle of what
// holds the tube to the level of the tube's far end: a post clamped upright has its
// far end that much above the clamp, whatever its bends. So the near straight is
// as long as the slide makes it, and the StraightMM of the first bend counts only in a
// tube that cannot slide. Bends at turn 0 go ahead in a tube that runs up, up in
// one that runs ahead.
type Tube struct {
	Name    string
	Runs    Direction // Up or Ahead
	Section Section
	Shape   Centerline
	TotalMM float64 // developed length of the whole tube, mm; 0 if not known
	Slide   Range   // mm
	Turn    Range   // radians
	RatedKG float64 // heaviest load beyond the tube, kg; 0 if not known
}

// Elbow is a double hinge. Its settings are "pan" (about z, positive left) and
// "elevation" (about -y, positive lifts).
type Elbow struct {
	Name             string
	Pan, Elevation   Range  // radians
	PanToElevationMM r3.Vec // from the pan axis to the elevation axis, mm, panned axes
	ElevationToEndMM r3.Vec // from the elevation axis to what the elbow holds, mm, elevated axes
	MassKG           float64
	RatedKG          float64 // heaviest load beyond the elbow, kg; 0 if not known
}

// Bracket is a fixed offset and turn between two parts.
type Bracket struct {
	Name     string
	OffsetMM r3.Vec // mm, axes of the part before
	Axes     Axes   // of the next part, from the axes of the part before
	MassKG   float64
	RatedKG  float64 // heaviest load beyond the bracket, kg; 0 if not known
}

// Turns is a plate joint of up to three hinges. Its settings are "pan" (about the
// screen's up), "tilt" (positive turns the face up) and "roll" (about the screen's
// normal, positive counterclockwise for the viewer), in this order outward.
type Turns struct {
	Name            string
	Pan, Tilt, Roll Range  // radians
	PanToTiltMM     r3.Vec // mm: x the screen's normal, y the viewer's right, z up
	TiltToRollMM    r3.Vec // mm, likewise
	MassKG          float64
	RatedKG         float64 // heaviest load beyond the plate joint, kg; 0 if not known
}

// Ball is a plate joint that leans anywhere within a cone about its stem, which
// lies along the screen's normal, and spins.
//
// It is written as three turns: "lean_toward" about the stem (0 up, positive
// counterclockwise for the viewer, a whole turn), "lean" away from the stem (0 to
// the cone's half angle) and "spin" about the leaned stem. In these the cone is
// a plain limit on lean, exactly, which it is not in pan and tilt. The price: with
// no lean only lean_toward + spin counts, and the screen's roll is then that sum.
type Ball struct {
	Name   string
	Cone   frame.Angle // greatest lean, more than 0 and no more than 180 degrees
	Step   frame.Angle // readable step of lean and lean_toward; 0 means 1 degree
	Effort float64     // weight of lean; 0 means 1
	Spin   Range       // radians; zero means free all round
	StemMM float64     // from the ball's middle to the plate, along the normal, mm
	// JointStiffness is how the ball behaves under load, about any axis through its middle.
	// It is that of "lean", and the other two of the three turns have none.
	Stiffness JointStiffness
	MassKG    float64
	RatedKG   float64 // heaviest load beyond the ball, kg; 0 if not known
}

// Facing is where the screen faces at zero settings, in the axes of the part that
// carries the first plate joint (or the plate, if there is no joint).
type Facing int

// The four ways to face. At the end of an arm that runs ahead, back is along the
// arm toward the elbow.
const (
	FacesBack Facing = iota
	FacesAhead
	FacesLeft
	FacesRight
)

// Plate is the end of the mount and the screen on it.
type Plate struct {
	Name  string
	Faces Facing
	// OffsetMM leads from the plate joint to where the screen is fixed, mm, in
	// screen axes: right, up, toward the viewer. It is the mount's, and mirrored
	// with it.
	OffsetMM r3.Vec
	// FixedAtMM is where the screen is fixed, from the middle of the display area, mm,
	// screen axes. It is the screen's, and the same on either side.
	FixedAtMM r3.Vec
	MassKG    float64 // plate, screen and tracker, kg
	// PlateKG is how much of MassKG is the plate's own, kg. It carries the rest, the
	// screen and tracker, and that alone counts for RatedKG.
	PlateKG float64
	// CenterMM is the center of mass from the middle of the display area, mm, screen
	// axes; the same on either side.
	CenterMM r3.Vec
	RatedKG  float64 // heaviest screen and tracker, kg; 0 if not known
}

// Side is the side of the chair on which the clamp sits.
type Side int

// The two sides.
const (
	OnLeft Side = iota
	OnRight
)

// String returns "left" or "right".
func (s Side) String() string {
	if s == OnRight {
		return "right"
	}
	return "left"
}

// Axes are a set of axes as they are measured: rotated about up (positive to the left),
// then tilted back, then rolled to the left.
type Axes struct{ Rotation, Tilt, Roll frame.Angle }

// Matrix returns the rotation of the axes: R = Rz(Rotation) Ry(-Tilt) Rx(-Roll).
func (a Axes) Matrix() frame.Rotation {
	turned := frame.About(r3.Vec{Z: 1}, a.Rotation)
	back := frame.About(r3.Vec{Y: 1}, -a.Tilt)
	left := frame.About(r3.Vec{X: 1}, -a.Roll)
	return turned.Mul(back).Mul(left)
}

// AxesOf returns the axes that r stands for, the inverse of [Axes.Matrix]. Leaned back by 90° only the sum
// of the other two counts, and the lean to the left is then taken as zero.
//
// With R = Rz(t) Ry(-b) Rx(-l), the image of x is (cos b cos t, cos b sin t,
// sin b), and the lowest entries of the other columns are -sin l cos b, cos l cos b.
func AxesOf(r frame.Rotation) Axes {
	level := math.Hypot(r.X.X, r.X.Y)
	a := Axes{Tilt: frame.Angle(math.Atan2(r.X.Z, level))}
	if level < 1e-9 {
		a.Rotation = frame.Angle(math.Atan2(-r.Y.X, r.Y.Y))
		return a
	}
	a.Rotation = frame.Angle(math.Atan2(r.X.Y, r.X.X))
	a.Roll = frame.Angle(math.Atan2(-r.Y.Z, r.Z.Z))
	return a
}

// Mounting is where a kit is clamped: everything as it really is, in carrier
// axes, on either side.
type Mounting struct {
	ClampMM r3.Vec // middle of the clamp, mm
	Axes    Axes   // of the clamp; zero is upright and ahead
	Side    Side   // on the right all that follows the clamp is mirrored
	// SlideLowMM and SlideHighMM bound how far the clamp can be moved from ClampMM
	// along SlideAlong (a direction in carrier axes, of any length), mm. Both zero
	// means that it cannot.
	SlideLowMM, SlideHighMM float64
	SlideAlong              r3.Vec
}
