package casefile

// The forms of a kit file: the table of its entries.

type kitForm struct {
	here
	Version version    `key:"sightpost_kit" doc:"version of the format, 1."`
	Name    text       `key:"name" doc:"what this kit is called."`
	Note    *text      `key:"note" doc:"anything worth keeping. Begin with | and indent the lines below it."`
	Rated   *mass      `key:"rated" is:"positive" absent:"not known" doc:"heaviest load that the mount is rated for."`
	Parts   []partForm `key:"parts" least:"2" doc:"parts from the chair outward, as on the person's left side. The first is the clamp, the last the plate."`
}

type partForm struct {
	here       `one:"clamp post arm elbow bracket plate_joint ball plate"`
	Clamp      *clampForm      `key:"clamp" doc:"holds the mount to the chair, table or bed."`
	Post       *postForm       `key:"post" doc:"a tube that runs up."`
	Arm        *armForm        `key:"arm" doc:"a tube that runs ahead."`
	Elbow      *elbowForm      `key:"elbow" doc:"a double hinge: pan about the part below it, then elevation."`
	Bracket    *bracketForm    `key:"bracket" doc:"a fixed offset between two parts."`
	PlateJoint *plateJointForm `key:"plate_joint" doc:"up to three hinges before the plate."`
	Ball       *ballForm       `key:"ball" doc:"a ball joint before the plate, that tilts within a cone and spins."`
	Plate      *plateForm      `key:"plate" doc:"what the screen is screwed to."`
}

// offsetForm is an offset in the axes of a part.
type offsetForm struct {
	here
	Ahead length `key:"ahead" doc:"ahead."`
	Left  length `key:"left" doc:"to the left."`
	Up    length `key:"up" doc:"up."`
}

// faceForm is an offset in the axes of the screen.
type faceForm struct {
	here
	Right  length `key:"right" doc:"to the viewer's right."`
	Up     length `key:"up" doc:"up, along the screen."`
	Toward length `key:"toward" doc:"toward the viewer, square to the screen."`
}

// settingCommon is what slides and turns have in common.
type settingCommon struct {
	Effort number `key:"effort" is:"positive" default:"1" doc:"effort of changing it, relative to 1 for a plain clamp screw."`
	Read   *text  `key:"read" absent:"a sentence of the tool's own" doc:"how to read it."`
}

// gripCommon is how what turns behaves under load.
type gripCommon struct {
	SlipTorque *moment `key:"slip_torque" is:"positive" absent:"not known" doc:"slip torque: moment at which it begins to slip once tightened."`
	Compliance angle   `key:"compliance" is:"not negative" within:"0 10" default:"0 deg" doc:"compliance: rotation under load per N m. 0 for a stiff joint."`
}

// partCommon is what all parts have in common.
type partCommon struct {
	Rated *mass `key:"rated" is:"positive" absent:"not known" doc:"heaviest load that this part is rated for: all that it carries beyond itself."`
}

type slideForm struct {
	here      `one:"step stops_every"`
	From      length  `key:"from" doc:"lowest setting."`
	To        length  `key:"to" doc:"highest setting."`
	Step      *length `key:"step" is:"positive" doc:"finest step that can be read."`
	Stops     *length `key:"stops_every" is:"positive" doc:"distance between holes or notches, counted from the lowest setting."`
	Preferred length  `key:"preferred" doc:"preferred setting."`
	SlipForce *force  `key:"slip_force" is:"positive" absent:"not known" doc:"slip force: force along it at which it begins to slip once tightened."`
	settingCommon
}

type turnForm struct {
	here      `one:"step stops_every"`
	From      turned `key:"from" doc:"lowest setting."`
	To        turned `key:"to" doc:"highest setting."`
	Step      *angle `key:"step" is:"positive" doc:"finest step that can be read."`
	Stops     *angle `key:"stops_every" is:"positive" doc:"angle between stops, counted from the lowest setting."`
	Preferred turned `key:"preferred" doc:"preferred setting."`
	gripCommon
	settingCommon
}

type clampForm struct {
	here              `needs:"index index_about;index_about index"`
	Name              partName    `key:"name" default:"clamp" doc:"name of the part, if there are several of its kind."`
	PositionStep      length      `key:"position_step" is:"positive" default:"5 mm" doc:"finest step in which the position of the clamp along its tube can be read."`
	PositionEffort    number      `key:"position_effort" is:"positive" default:"1" doc:"effort of moving the clamp along its tube, relative to 1 for a plain clamp screw."`
	PositionSlipForce *force      `key:"position_slip_force" is:"positive" absent:"not known" doc:"slip force of the clamp along its tube."`
	Index             *turnForm   `key:"index" absent:"one position" doc:"positions in which the clamp can be mounted, as turns."`
	About             *choice     `key:"index_about" of:"up left ahead" doc:"axis of these turns, by the right-hand rule: thumb along the axis, fingers curl in the positive direction."`
	Offset            *offsetForm `key:"offset" absent:"0" doc:"from the middle of the clamp to where the next part sits."`
	partCommon
}

// tubeCommon is what posts and arms have in common.
type tubeCommon struct {
	Tube       sectionForm `key:"tube" doc:"cross-section and material of the tube."`
	Total      *length     `key:"total" is:"positive" doc:"length of the whole tube along its center line."`
	Bends      []bendForm  `key:"bends" doc:"bends from the clamp outward, as a tube bender is set. Without bends the tube is straight."`
	BendRadius *length     `key:"bend_radius" is:"positive" doc:"radius of every bend, to the center line of the tube."`
	End        *length     `key:"end" is:"not negative" absent:"0 mm" doc:"straight tube after the last bend. In a straight tube that cannot slide, its length."`
}

type sectionForm struct {
	here
	Outside  length       `key:"outside" is:"positive" within:"0 200" doc:"outside diameter."`
	Wall     length       `key:"wall" is:"positive" within:"0 100" doc:"wall thickness."`
	Material materialForm `key:"material" doc:"a known alloy, or the properties of another material."`
}

type materialForm struct {
	here
	Word choice       `of:"aluminum-6061-T6 aluminum-6082-T6 stainless-1.4301 steel-S235" doc:"a known alloy"`
	Form *numbersForm `doc:"properties of another material"`
}

type numbersForm struct {
	here
	Name           text    `key:"name" doc:"name of the material."`
	ElasticModulus stress  `key:"elastic_modulus" is:"positive" doc:"modulus of elasticity, Young's modulus (stiffness in bending)."`
	ShearModulus   stress  `key:"shear_modulus" is:"positive" doc:"shear modulus (stiffness in torsion)."`
	Density        density `key:"density" is:"positive" doc:"density."`
	Yield          stress  `key:"yield" is:"positive" doc:"yield strength: stress at which it stays bent."`
}

type bendForm struct {
	here
	Straight length `key:"straight" is:"not negative" doc:"straight tube before the bend."`
	Rotation turned `key:"rotation" doc:"rotation of the plane of the bend about the tube, from that of the bend before, clockwise looking along the tube."`
	Angle    angle  `key:"angle" is:"positive" below:"180" doc:"angle of the bend."`
}

type postForm struct {
	here
	Name partName `key:"name" default:"post" doc:"name of the part, if there are several of its kind."`
	tubeCommon
	Height *slideForm `key:"height" absent:"fixed" doc:"height of the far end of the tube above the middle of what holds it."`
	Swing  *turnForm  `key:"swing" absent:"fixed" doc:"swing: rotation of the post about its own axis, positive to the left."`
	partCommon
}

type armForm struct {
	here
	Name partName `key:"name" default:"arm" doc:"name of the part, if there are several of its kind."`
	tubeCommon
	Extension *slideForm `key:"extension" absent:"fixed" doc:"extension: far end of the tube ahead of the middle of what holds it."`
	Twist     *turnForm  `key:"twist" absent:"fixed" doc:"twist: rotation of the arm about its own axis, positive with its top to the right."`
	partCommon
}

type elbowForm struct {
	here
	Name           partName    `key:"name" default:"elbow" doc:"name of the part, if there are several of its kind."`
	Pan            *turnForm   `key:"pan" absent:"fixed" doc:"pan: rotation about the upright axis, positive to the left."`
	Elevation      *turnForm   `key:"elevation" absent:"fixed" doc:"elevation of what it holds, positive up."`
	PanToElevation *offsetForm `key:"pan_to_elevation" absent:"0" doc:"from the pan axis to the elevation axis."`
	ElevationToEnd *offsetForm `key:"elevation_to_end" absent:"0" doc:"from the elevation axis to what the elbow holds."`
	Mass           mass        `key:"mass" is:"not negative" default:"0 kg" doc:"mass of the elbow."`
	partCommon
}

type bracketForm struct {
	here
	Name     partName    `key:"name" default:"bracket" doc:"name of the part, if there are several of its kind."`
	Offset   *offsetForm `key:"offset" absent:"0" doc:"to where the next part sits."`
	Rotation angle       `key:"rotation" default:"0 deg" doc:"rotation of the next part to the left."`
	Tilt     angle       `key:"tilt" default:"0 deg" doc:"tilt of the next part backward."`
	Roll     angle       `key:"roll" default:"0 deg" doc:"roll of the next part to the left."`
	Mass     mass        `key:"mass" is:"not negative" default:"0 kg" doc:"mass of the bracket."`
	partCommon
}

type plateJointForm struct {
	here
	Name       partName  `key:"name" default:"plate_joint" doc:"name of the part, if there are several of its kind."`
	Pan        *turnForm `key:"pan" absent:"fixed" doc:"pan: face to the left seen from above, positive."`
	Tilt       *turnForm `key:"tilt" absent:"fixed" doc:"tilt: face up, positive."`
	Roll       *turnForm `key:"roll" absent:"fixed" doc:"roll: picture counterclockwise for the viewer, positive."`
	PanToTilt  *faceForm `key:"pan_to_tilt" absent:"0" doc:"from the pan axis to the tilt axis."`
	TiltToRoll *faceForm `key:"tilt_to_roll" absent:"0" doc:"from the tilt axis to the roll axis."`
	Mass       mass      `key:"mass" is:"not negative" default:"0 kg" doc:"mass of the joint."`
	partCommon
}

type ballForm struct {
	here
	Name   partName `key:"name" default:"ball" doc:"name of the part, if there are several of its kind."`
	Cone   angle    `key:"cone" is:"positive" within:"0 180" doc:"largest angle between plate and stem, in any direction."`
	Step   *angle   `key:"step" is:"positive" absent:"1 deg" doc:"finest step of that angle that can be read."`
	Effort number   `key:"effort" is:"positive" default:"1" doc:"effort of changing that angle, relative to 1 for a plain clamp screw."`
	gripCommon
	Spin *turnForm `key:"spin" absent:"free all round" doc:"spin: picture counterclockwise for the viewer, positive."`
	Stem *length   `key:"stem" absent:"0 mm" doc:"from the middle of the ball to the plate."`
	Mass mass      `key:"mass" is:"not negative" default:"0 kg" doc:"mass of the ball and its socket."`
	partCommon
}

type plateForm struct {
	here
	Name   partName  `key:"name" default:"plate" doc:"name of the part."`
	Faces  choice    `key:"faces" of:"back ahead left right" doc:"where the screen faces with every setting at zero, seen from the part before the joint. Back is along an arm toward its elbow."`
	Offset *faceForm `key:"offset" absent:"0" doc:"from the last joint to the middle of the plate, where it touches the back of the housing."`
	Mass   mass      `key:"mass" is:"not negative" default:"0 kg" doc:"mass of the plate alone, without the screen."`
	partCommon
}
