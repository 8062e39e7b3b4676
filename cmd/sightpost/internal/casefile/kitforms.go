package casefile

// The forms of a kit file.

type kitForm struct {
	here
	Version version    `key:"sightpost_kit" doc:"version of the format, 1."`
	Name    text       `key:"name" doc:"what this kit is called."`
	Note    *text      `key:"note" doc:"anything worth keeping. Begin with | and indent the lines below it."`
	Rated   *mass      `key:"rated" is:"positive" doc:"heaviest load that the mount is made for. Leave out if not known."`
	Parts   []partForm `key:"parts" least:"2" doc:"parts from the chair outward, drawn for the person's left side. The first is the clamp, the last the plate."`
}

type partForm struct {
	here       `one:"clamp post arm elbow bracket plate_joint ball plate"`
	Clamp      *clampForm      `key:"clamp" doc:"holds the mount to the chair, table or bed."`
	Post       *postForm       `key:"post" doc:"a tube that runs up."`
	Arm        *armForm        `key:"arm" doc:"a tube that runs ahead."`
	Elbow      *elbowForm      `key:"elbow" doc:"a double hinge. It pans about what it sits on, then rises."`
	Bracket    *bracketForm    `key:"bracket" doc:"a fixed offset between two parts."`
	PlateJoint *plateJointForm `key:"plate_joint" doc:"up to three hinges before the plate."`
	Ball       *ballForm       `key:"ball" doc:"a ball before the plate, that leans within a cone and spins."`
	Plate      *plateForm      `key:"plate" doc:"what the screen is screwed to."`
}

// offsetForm is a move in the axes of a part.
type offsetForm struct {
	here
	Ahead length `key:"ahead" doc:"ahead."`
	Left  length `key:"left" doc:"to the left."`
	Up    length `key:"up" doc:"up."`
}

// faceForm is a move in the axes of the screen.
type faceForm struct {
	here
	Right  length `key:"right" doc:"to the viewer's right."`
	Up     length `key:"up" doc:"up, along the screen."`
	Toward length `key:"toward" doc:"toward the viewer, square to the screen."`
}

// settingCommon is what slides and turns have in common.
type settingCommon struct {
	Effort *number `key:"effort" is:"positive" doc:"how much work changing it is, against 1 for a plain clamp screw. 1 if left out."`
	Read   *text   `key:"read" doc:"how to read it. A sentence of the tool's own if left out."`
}

// gripCommon is how what turns behaves under load.
type gripCommon struct {
	Holds *moment `key:"slip_torque" is:"positive" doc:"moment at which it begins to slip once it is tightened. Leave out if not known."`
	Gives *angle  `key:"compliance" is:"not negative" within:"0 10" doc:"how far it gives for each N m. 0 if left out: stiff."`
}

// partCommon is what all parts have in common.
type partCommon struct {
	Rated *mass `key:"rated" is:"positive" doc:"heaviest load that this part is made for: all that it carries beyond itself. Leave out if not known."`
}

type slideForm struct {
	here      `one:"step stops_every"`
	From      length  `key:"from" doc:"lowest setting."`
	To        length  `key:"to" doc:"highest setting."`
	Step      *length `key:"step" is:"positive" doc:"finest step that can be read."`
	Stops     *length `key:"stops_every" is:"positive" doc:"distance of the holes or notches, counted from the lowest setting, if it has some."`
	Preferred length  `key:"preferred" doc:"where it is best left."`
	Holds     *force  `key:"slip_force" is:"positive" doc:"force along it at which it begins to slip once it is tightened. Leave out if not known."`
	settingCommon
}

type turnForm struct {
	here      `one:"step stops_every"`
	From      turned `key:"from" doc:"lowest setting."`
	To        turned `key:"to" doc:"highest setting."`
	Step      *angle `key:"step" is:"positive" doc:"finest step that can be read."`
	Stops     *angle `key:"stops_every" is:"positive" doc:"angle between stops, counted from the lowest setting, if it has some."`
	Preferred turned `key:"preferred" doc:"where it is best left."`
	gripCommon
	settingCommon
}

type clampForm struct {
	here              `needs:"index index_about;index_about index"`
	Name              partName    `key:"name" default:"clamp" doc:"name of the part, if there are several of its sort."`
	AlongStep         *length     `key:"position_step" is:"positive" doc:"finest step that can be read where the clamp sits along its tube. 5 mm if left out."`
	AlongWork         *number     `key:"position_effort" is:"positive" doc:"how much work moving the clamp along its tube is. 1 if left out."`
	PositionSlipForce *force      `key:"position_slip_force" is:"positive" doc:"force at which the clamp begins to slip along its tube. Leave out if not known."`
	Index             *turnForm   `key:"index" doc:"positions in which the clamp can be mounted, as turns."`
	About             *choice     `key:"index_about" of:"up left ahead" doc:"axis of these turns, by the right-hand rule: thumb along the axis, fingers curl the way it turns."`
	Offset            *offsetForm `key:"offset" doc:"from the middle of the clamp to where the next part sits. 0 if left out."`
	partCommon
}

// tubeCommon is what posts and arms have in common.
type tubeCommon struct {
	Tube       sectionForm `key:"tube" doc:"the tube itself."`
	Total      *length     `key:"total" is:"positive" doc:"length of the whole tube, along its middle line."`
	Bends      []bendForm  `key:"bends" doc:"bends from the clamp outward, as a tube bender is set. Without bends the tube is straight."`
	BendRadius *length     `key:"bend_radius" is:"positive" doc:"radius of every bend, of the tube's middle line."`
	End        *length     `key:"end" is:"not negative" doc:"straight tube after the last bend. In a straight tube that cannot slide, its length."`
}

type sectionForm struct {
	here
	Outside  length       `key:"outside" is:"positive" within:"0 200" doc:"outside diameter."`
	Wall     length       `key:"wall" is:"positive" within:"0 100" doc:"thickness of the wall."`
	Material materialForm `key:"material" doc:"a known alloy or its numbers."`
}

type materialForm struct {
	here
	Word choice       `of:"aluminum-6061-T6 aluminum-6082-T6 stainless-1.4301 steel-S235" doc:"a known alloy"`
	Form *numbersForm `doc:"numbers of another material"`
}

type numbersForm struct {
	here
	Name           text    `key:"name" doc:"what the material is called."`
	ElasticModulus stress  `key:"elastic_modulus" is:"positive" doc:"elastic modulus, Young's modulus (stiffness in bending)."`
	ShearModulus   stress  `key:"shear_modulus" is:"positive" doc:"shear modulus (stiffness in twisting)."`
	Density        density `key:"density" is:"positive" doc:"mass of a cubic metre."`
	Yield          stress  `key:"yield" is:"positive" doc:"stress at which it stays bent."`
}

type bendForm struct {
	here
	Straight length `key:"straight" is:"not negative" doc:"straight tube before the bend."`
	Rotation turned `key:"rotation" doc:"plane of the bend turned about the tube from that of the bend before it, clockwise looking along the tube."`
	Angle    angle  `key:"angle" is:"positive" below:"180" doc:"how far it is bent."`
}

type postForm struct {
	here
	Name partName `key:"name" default:"post" doc:"name of the part, if there are several of its sort."`
	tubeCommon
	Height *slideForm `key:"height" doc:"far end of the tube above the middle of what holds it."`
	Swing  *turnForm  `key:"swing" doc:"post turned about its own axis, to the left positive."`
	partCommon
}

type armForm struct {
	here
	Name partName `key:"name" default:"arm" doc:"name of the part, if there are several of its sort."`
	tubeCommon
	Reach *slideForm `key:"extension" doc:"far end of the tube ahead of the middle of what holds it."`
	Twist *turnForm  `key:"twist" doc:"arm turned about its own axis, top to the right positive."`
	partCommon
}

type elbowForm struct {
	here
	Name           partName    `key:"name" default:"elbow" doc:"name of the part, if there are several of its sort."`
	Pan            *turnForm   `key:"pan" doc:"turned about the upright axis, to the left positive."`
	Elevation      *turnForm   `key:"elevation" doc:"what it holds lifted, up positive."`
	PanToElevation *offsetForm `key:"pan_to_elevation" doc:"from the pan axis to the rise axis. 0 if left out."`
	ElevationToEnd *offsetForm `key:"elevation_to_end" doc:"from the rise axis to what the elbow holds. 0 if left out."`
	Mass           *mass       `key:"mass" is:"not negative" doc:"of the elbow. 0 if left out."`
	partCommon
}

type bracketForm struct {
	here
	Name     partName    `key:"name" default:"bracket" doc:"name of the part, if there are several of its sort."`
	Offset   *offsetForm `key:"offset" doc:"to where the next part sits. 0 if left out."`
	Rotation *angle      `key:"rotation" doc:"next part rotated to the left. 0 if left out."`
	Tilt     *angle      `key:"tilt" doc:"next part tilted backward. 0 if left out."`
	Roll     *angle      `key:"roll" doc:"next part rolled to the left. 0 if left out."`
	Mass     *mass       `key:"mass" is:"not negative" doc:"of the bracket. 0 if left out."`
	partCommon
}

type plateJointForm struct {
	here
	Name       partName  `key:"name" default:"plate_joint" doc:"name of the part, if there are several of its sort."`
	Pan        *turnForm `key:"pan" doc:"face turned to the left seen from above, positive."`
	Tilt       *turnForm `key:"tilt" doc:"face turned up, positive."`
	Roll       *turnForm `key:"roll" doc:"picture turned counter-clockwise for the viewer, positive."`
	PanToTilt  *faceForm `key:"pan_to_tilt" doc:"from the pan axis to the tilt axis. 0 if left out."`
	TiltToRoll *faceForm `key:"tilt_to_roll" doc:"from the tilt axis to the roll axis. 0 if left out."`
	Mass       *mass     `key:"mass" is:"not negative" doc:"of the joint. 0 if left out."`
	partCommon
}

type ballForm struct {
	here
	Name   partName `key:"name" default:"ball" doc:"name of the part, if there are several of its sort."`
	Cone   angle    `key:"cone" is:"positive" within:"0 180" doc:"greatest lean from the stem, any way."`
	Step   *angle   `key:"step" is:"positive" doc:"finest step of the lean that can be read. 1 deg if left out."`
	Effort *number  `key:"effort" is:"positive" doc:"how much work changing the lean is. 1 if left out."`
	gripCommon
	Spin *turnForm `key:"spin" doc:"picture turned counter-clockwise for the viewer, positive. Free all round if left out."`
	Stem *length   `key:"stem" doc:"from the middle of the ball to the plate. 0 if left out."`
	Mass *mass     `key:"mass" is:"not negative" doc:"of the ball and its socket. 0 if left out."`
	partCommon
}

type plateForm struct {
	here
	Name   partName  `key:"name" default:"plate" doc:"name of the part."`
	Faces  choice    `key:"faces" of:"back ahead left right" doc:"where the screen faces with every setting at zero, seen from the part before the joint. Back is along an arm toward its elbow."`
	Offset *faceForm `key:"offset" doc:"from the last joint to the middle of the plate, where the back of the housing touches it. 0 if left out."`
	Mass   *mass     `key:"mass" is:"not negative" doc:"of the plate alone, without the screen. 0 if left out."`
	partCommon
}
