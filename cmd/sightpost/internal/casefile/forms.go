package casefile

// The forms of a case file: the table of its entries. The tags of each field are a row,
// explained at [field]; they are written for the person who fills the file in.

type caseForm struct {
	here
	Version     version         `key:"sightpost" group:"case" doc:"version of the format, 1."`
	Label       text            `key:"label" group:"case" doc:"code that the clinic chose for this case. No names: the code is all that tells whose case it is."`
	Note        *text           `key:"note" group:"case" doc:"anything worth keeping. Begin with | and indent the lines below it."`
	Measured    measuredForm    `key:"measured" group:"measured" doc:"posture in which the person was measured. Other postures are predicted from it."`
	Person      personForm      `key:"person" group:"person" doc:"what belongs to the person in every posture."`
	Body        bodyForm        `key:"body" group:"person" advanced:"yes" doc:"space that the person's body takes up, which screen and tubes keep out of. What is left out is assumed from published dimensions."`
	Chair       chairForm       `key:"chair" group:"chair" doc:"the chair, measured with the seat level, however it was tilted when the person was measured. For a bed, its two halves are seat and back support."`
	Tracker     trackerForm     `key:"tracker" group:"tracker" doc:"the eye tracker, from its data sheet. Near, far, across and up_down bound its tracking volume, also called head box."`
	Screen      screenForm      `key:"screen" group:"screen" doc:"the screen and its housing."`
	Postures    []postureForm   `key:"postures" group:"postures" least:"1" doc:"postures in which the screen is used. The mount is set in the first that must work."`
	Preferences preferencesForm `key:"preferences" group:"more" doc:"preferences for the place of the screen."`
	Keep        []keepClearForm `key:"keep_clear" group:"clear" doc:"keep-clear zones: what screen and tubes must stay out of, with the seat tilted as measured. A zone named like an assumed one (face, trunk, left thigh, left armrest, joystick, tray) replaces it."`
	Mount       mountForm       `key:"mount" group:"mount" doc:"the mount and where it is clamped. Leave out kit and clamp to ask only for the place of the screen."`
	Passage     *passageForm    `key:"passage" group:"more" doc:"doorway and floor that chair and mount must fit, and how the mount swings clear."`
	Uncertainty uncertaintyForm `key:"uncertainty" group:"more" advanced:"yes" picture:"none" doc:"how far measurements and settings may be off. What is left out is assumed."`
}

// pointForm is a point in chair axes. In its tags {} is what the point is, the tag
// point of the field that holds it.
type pointForm struct {
	here
	Forward length `key:"forward" doc:"forward of the junction of seat and back support, with the seat level; negative behind it." howto:"Tape from the junction of seat and back support forward to {}; negative behind it."`
	Left    length `key:"left" doc:"to the person's left of the chair's midline, negative to the right." howto:"Tape from the chair's midline to {}; negative to the person's right."`
	Up      length `key:"up" doc:"above the floor." howto:"Tape from the floor up to {}."`
}

// sideViewForm is a point of which only the side view matters.
type sideViewForm struct {
	here
	Forward length `key:"forward" doc:"forward of the junction of seat and back support, with the seat level; negative behind it." howto:"Tape from the junction of seat and back support forward to {}; negative behind it."`
	Up      length `key:"up" doc:"above the floor." howto:"Tape from the floor up to {}."`
}

type headForm struct {
	here
	Flexion        angle `key:"flexion" within:"-90 90" doc:"chin toward the chest, negative backward." howto:"By eye or inclinometer: head bent from upright. Chin toward the chest is positive."`
	Rotation       angle `key:"rotation" within:"-90 90" doc:"face turned to the person's left, negative to the right." howto:"By eye: face turned from straight ahead. To the person's left is positive."`
	LateralFlexion angle `key:"lateral_flexion" within:"-90 90" doc:"head tilted toward the left shoulder, negative toward the right." howto:"By eye: head tilted sideways from upright. Toward the left shoulder is positive."`
}

type measuredForm struct {
	here
	SeatTilt  angle     `key:"seat_tilt" within:"-90 90" doc:"seat tilt (tilt in space), backward positive. 0 if the chair does not tilt." howto:"Inclinometer on the seat: tilt from level, backward positive. 0 if the chair does not tilt."`
	BackAngle angle     `key:"back_angle" within:"45 180" doc:"angle between seat and back support." howto:"Goniometer or inclinometer: the angle between seat and back support, on the person's side."`
	Eyes      pointForm `key:"eyes" point:"the point midway between the eyes (for the height: the outer corner of the eye)" doc:"point midway between the eyes, with the seat tilted as measured."`
	Head      headForm  `key:"head" doc:"angles of the head, relative to the room."`
}

type personForm struct {
	here
	PupilSpacing length        `key:"pupil_spacing" is:"positive" within:"30 90" default:"63 mm" source:"dodgson" doc:"distance between the pupils. Adults have about 63 mm, children of five years and more rarely less than 40 mm." howto:"Ruler across the bridge of the nose: from pupil to pupil while the person looks far away."`
	NeckToEyes   neckForm      `key:"neck_to_eyes" doc:"from the point about which the head nods to the point midway between the eyes, with the head upright."`
	EyesUsed     choice        `key:"eyes_used" of:"both left right either" default:"both" source:"choice" doc:"eyes that the tracker must see. With either, one is enough, and the one with the larger margin counts."`
	RestGaze     *restGazeForm `key:"rest_gaze" advanced:"yes" absent:"a published resting gaze" doc:"direction in which the eyes rest, relative to the head."`
	GazeRange    gazeRangeForm `key:"gaze_range" doc:"how far the eyes turn in the head."`
	Glasses      *glassesForm  `key:"glasses" absent:"none" doc:"yes if glasses are worn, or the slant of their lenses."`
	Movement     movementForm  `key:"movement" doc:"how far the head moves about its usual place during use, each way."`
}

type neckForm struct {
	here
	Forward length `key:"forward" within:"0 300" default:"80.5 mm" source:"gordon" doc:"eyes forward of the neck point." howto:"Ruler from the top of the neck, where the head nods, forward to the eyes."`
	Up      length `key:"up" within:"-100 300" default:"75 mm" source:"gordon" doc:"eyes above the neck point." howto:"Ruler from the top of the neck, where the head nods, up to the eyes."`
}

type restGazeForm struct {
	here
	Down angle `key:"down" within:"-60 75" doc:"below straight ahead of the head." howto:"By eye: from straight ahead of the head down to where the eyes rest."`
	Left angle `key:"left" within:"-60 60" doc:"to the person's left of straight ahead." howto:"By eye: from straight ahead of the head to where the eyes rest, to the person's left."`
}

type gazeRangeForm struct {
	here
	Left  angle `key:"left" is:"not negative" within:"0 90" default:"30.5 deg" source:"lee" doc:"gaze range to the person's left." howto:"How far the eyes turn to the person's left while the head is still."`
	Right angle `key:"right" is:"not negative" within:"0 90" default:"30.5 deg" source:"lee" doc:"gaze range to the person's right." howto:"How far the eyes turn to the person's right while the head is still."`
	Up    angle `key:"up" is:"not negative" within:"0 90" default:"12.7 deg" source:"lee" doc:"gaze range upward." howto:"How far the eyes turn up while the head is still."`
	Down  angle `key:"down" is:"not negative" within:"0 90" default:"31.1 deg" source:"lee" doc:"gaze range downward." howto:"How far the eyes turn down while the head is still."`
}

type movementForm struct {
	here
	Forward length `key:"forward" is:"not negative" within:"0 500" doc:"forward and backward." howto:"Watch a few minutes of use: how far the head moves forward from its usual place, and as far back."`
	Left    length `key:"left" is:"not negative" within:"0 500" doc:"to the left and right." howto:"Watch a few minutes of use: how far the head moves to the left from its usual place, and as far to the right."`
	Up      length `key:"up" is:"not negative" within:"0 500" doc:"up and down." howto:"Watch a few minutes of use: how far the head moves up from its usual place, and as far down."`
}

type trackerForm struct {
	here
	Near      length `key:"near" is:"positive" doc:"shortest distance at which the tracker works." howto:"Data sheet: shortest operating distance, from the tracker along its optical axis."`
	Best      length `key:"best" is:"positive" doc:"distance at which the tracker works best." howto:"Data sheet: best operating distance, from the tracker along its optical axis."`
	Far       length `key:"far" is:"positive" doc:"longest distance at which the tracker works." howto:"Data sheet: longest operating distance, from the tracker along its optical axis."`
	Across    angle  `key:"across" is:"positive" below:"180" doc:"full angle of the tracking volume (head box) from side to side." howto:"Data sheet: full angle of view from side to side, or 2 atan(width of the head box / 2 / its distance)."`
	UpDown    angle  `key:"up_down" is:"positive" below:"180" doc:"full angle of the tracking volume (head box) from bottom to top." howto:"Data sheet: full angle of view from bottom to top, or 2 atan(height of the head box / 2 / its distance)."`
	Below     length `key:"below" doc:"tracker below the middle of the display area, negative above it." howto:"Ruler from the middle of the display area down to the tracker; negative if it is above."`
	InFront   length `key:"in_front" doc:"tracker in front of the glass, toward the viewer." howto:"Ruler from the glass forward to the tracker."`
	AimedUp   angle  `key:"aimed_up" within:"-60 60" doc:"optical axis tilted up from square to the glass." howto:"Data sheet: how far the tracker's optical axis is tilted up from square to the glass."`
	GazeLimit angle  `key:"gaze_limit" is:"positive" below:"90" doc:"gaze-angle limit: largest angle at the eye between the direction to the tracker and the direction of gaze." howto:"Data sheet: largest gaze angle, at the eye, between the direction to the tracker and the direction of gaze."`
	Accuracy  angle  `key:"accuracy" is:"not negative" within:"0 20" doc:"mean error of the measured gaze direction, at the eye." howto:"Data sheet: accuracy, the mean angle at the eye between where the person looks and where the tracker says."`
	Precision angle  `key:"precision" is:"not negative" within:"0 20" doc:"scatter of the measured gaze direction while the eye is still, at the eye (root mean square)." howto:"Data sheet: precision, the scatter at the eye of what the tracker says while the eye is still (RMS)."`
}

type screenForm struct {
	here
	Display displayForm `key:"display" doc:"size of the display area."`
	Used    *usedForm   `key:"used" advanced:"yes" absent:"all of it" doc:"part of the display area that is looked at."`
	Housing housingForm `key:"housing" doc:"the box around screen and tracker."`
	Mass    mass        `key:"mass" is:"positive" within:"0 50" hint:"more is heavier than a person; is the unit right?" doc:"mass of screen, tracker and housing together." howto:"Screen, tracker and housing together on the scales."`
	Grid    *gridForm   `key:"grid" absent:"no particular one" doc:"grid of targets that the screen must be able to show."`
	Fixed   *fixedForm  `key:"fixed_at" advanced:"yes" absent:"in its middle" doc:"where the plate is screwed to the back of the housing."`
}

type displayForm struct {
	here
	Width  length `key:"width" is:"positive" doc:"from side to side." howto:"Ruler along the display area from side to side."`
	Height length `key:"height" is:"positive" doc:"from bottom to top." howto:"Ruler along the display area from bottom to top."`
}

type usedForm struct {
	here
	Left   length `key:"left" is:"not negative" doc:"left edge of the used part, from the left edge of the display area as the viewer sees it." howto:"Ruler from the left edge of the display area to the left edge of the used part."`
	Right  length `key:"right" is:"positive" doc:"right edge of the used part, also from the left edge of the display area." howto:"Ruler from the left edge of the display area to the right edge of the used part."`
	Bottom length `key:"bottom" is:"not negative" doc:"lower edge of the used part, from the lower edge of the display area." howto:"Ruler from the lower edge of the display area up to the lower edge of the used part."`
	Top    length `key:"top" is:"positive" doc:"upper edge of the used part, also from the lower edge of the display area." howto:"Ruler from the lower edge of the display area up to the upper edge of the used part."`
}

type housingForm struct {
	here
	Width  length `key:"width" is:"positive" doc:"from side to side." howto:"Ruler along the housing from side to side."`
	Height length `key:"height" is:"positive" doc:"from bottom to top." howto:"Ruler along the housing from bottom to top."`
	Depth  length `key:"depth" is:"positive" doc:"from the glass to the back." howto:"Ruler from the glass to the back of the housing."`
	Below  length `key:"below" doc:"middle of the housing below the middle of the display area, negative above it." howto:"Ruler from the middle of the display area down to the middle of the housing; negative if it is above."`
}

type fixedForm struct {
	here
	Right length `key:"right" doc:"to the viewer's right of the middle of the housing, negative to the left." howto:"Ruler on the back of the housing, from its middle to the middle of the plate, to the viewer's right."`
	Up    length `key:"up" doc:"above the middle of the housing, negative below it." howto:"Ruler on the back of the housing, from its middle up to the middle of the plate."`
}

type gridForm struct {
	here
	Rows    number `key:"rows" is:"positive" within:"1 100" doc:"number of rows of targets." howto:"Count the rows of targets."`
	Columns number `key:"columns" is:"positive" within:"1 100" doc:"number of columns of targets." howto:"Count the columns of targets."`
	Gap     length `key:"gap" is:"not negative" within:"0 500" default:"0 mm" source:"choice" doc:"gap between neighboring targets, where nothing is selected." howto:"Ruler between two neighboring targets: the gap in which nothing is selected."`
}

type postureForm struct {
	here      `needs:"eyes head"`
	Name      text       `key:"name" doc:"what this posture is called."`
	MustWork  truth      `key:"must_work" default:"yes" doc:"whether the tracker must see the eyes in this posture. If not, it is only reported; collisions and loads count all the same."`
	SeatTilt  *angle     `key:"seat_tilt" within:"-90 90" picture:"measured.seat_tilt" absent:"as measured" doc:"seat tilt (tilt in space), backward positive." howto:"Inclinometer on the seat: tilt from level, backward positive."`
	BackAngle *angle     `key:"back_angle" within:"45 180" picture:"measured.back_angle" absent:"as measured" doc:"angle between seat and back support." howto:"Goniometer or inclinometer: the angle between seat and back support, on the person's side."`
	Slump     *length    `key:"slump" within:"-500 500" absent:"0 mm" doc:"how far trunk and head have slid down along the back support." howto:"Tape along the back support: how far trunk and head have slid down."`
	Head      *headForm  `key:"head" picture:"measured.head" absent:"as measured" doc:"angles of the head: relative to the trunk, which is upright as measured; relative to the room if eyes are given."`
	Eyes      *pointForm `key:"eyes" picture:"measured.eyes" point:"the point midway between the eyes (for the height: the outer corner of the eye)" absent:"predicted from the measured posture" doc:"point midway between the eyes, if measured in this posture too. It replaces the prediction."`
}

type preferencesForm struct {
	here
	Margin        length     `key:"margin" is:"not negative" default:"0 mm" source:"choice" doc:"head-movement margin that is good enough: how far the head may move beyond its usual movement." howto:"Decide how far the head should be able to move beyond its usual movement."`
	FaceClearance length     `key:"face_clearance" is:"not negative" default:"200 mm" source:"choice" doc:"least distance of the housing from the eyes." howto:"Decide the least distance from the eyes to the housing."`
	RollFollows   choice     `key:"roll_follows" advanced:"yes" of:"head level" default:"head" source:"choice" doc:"what the upper edge of the screen follows: the head, or the horizontal."`
	Safety        number     `key:"safety_factor" advanced:"yes" picture:"none" within:"1 10" default:"2" source:"choice" doc:"safety factor: yield strength of a tube over its stress."`
	ShockFactor   number     `key:"shock_factor" advanced:"yes" picture:"none" within:"1 10" default:"2" source:"choice" doc:"shock factor: by how much rough ground multiplies every weight. 1 for a floor without sills."`
	Rates         ratesForm  `key:"rates" advanced:"yes" picture:"none" doc:"how many mm of margin each step away from the preferred place costs."`
	Ranges        rangesForm `key:"ranges" advanced:"yes" doc:"limits for the place of the screen, as the person sees it in the leading posture."`
}

type ratesForm struct {
	here
	Gaze     number `key:"gaze" is:"not negative" default:"1" source:"choice" doc:"mm per degree off the resting gaze."`
	Facing   number `key:"facing" is:"not negative" default:"1" source:"choice" doc:"mm per degree that the screen is turned off the line of sight."`
	Roll     number `key:"roll" is:"not negative" default:"1" source:"choice" doc:"mm per degree of roll."`
	Distance number `key:"distance" is:"not negative" default:"0.1" source:"choice" doc:"mm per mm off the tracker's best distance."`
}

type rangesForm struct {
	here
	GazeLeft    angles  `key:"gaze_left" within:"-90 90" default:"-60 to 60 deg" source:"choice" doc:"line of sight to the person's left of straight ahead." howto:"Decide the limits from straight ahead to the line of sight, to the person's left."`
	GazeDown    angles  `key:"gaze_down" within:"-90 90" default:"-60 to 75 deg" source:"choice" doc:"line of sight below straight ahead." howto:"Decide the limits from straight ahead down to the line of sight."`
	Distance    lengths `key:"distance" is:"positive" default:"150 to 1500 mm" source:"choice" doc:"viewing distance, from the eyes to the middle of the display area." howto:"Decide the limits of the viewing distance, from the eyes to the middle of the display area."`
	FacingUp    angles  `key:"facing_up" within:"-80 80" default:"-40 to 40 deg" source:"incidence" doc:"screen tilted up, off square to the line of sight." howto:"Decide the limits of tilt, up from square to the line of sight."`
	FacingRight angles  `key:"facing_right" within:"-80 80" default:"-40 to 40 deg" source:"incidence" doc:"screen rotated to the viewer's right, off square to the line of sight." howto:"Decide the limits of rotation, to the viewer's right from square to the line of sight."`
	Roll        angles  `key:"roll" default:"-30 to 30 deg" source:"choice" doc:"roll of the screen, counterclockwise as the viewer sees it." howto:"Decide the limits of roll, counterclockwise as the viewer sees it."`
}

type keepClearForm struct {
	here      `one:"box capsule"`
	Name      text         `key:"name" doc:"what must stay clear."`
	Box       *boxForm     `key:"box" doc:"a box, where it is with the seat tilted as measured."`
	Capsule   *capsuleForm `key:"capsule" doc:"a rod with round ends, where it is with the seat tilted as measured. Good for limbs and tubes."`
	CarriedBy choice       `key:"carried_by" of:"seat base floor table bed" doc:"what carries it. What the seat carries tilts with the seat."`
	Clearance length       `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between this zone and screen or tubes."`
}

type boxForm struct {
	here
	Middle   pointForm `key:"middle" point:"the middle of the box" doc:"middle of the box."`
	Size     sizeForm  `key:"size" point:"the box" doc:"full size of the box."`
	Rotation angle     `key:"rotation" default:"0 deg" doc:"box rotated to the left about its upright axis." howto:"Seen from above: how far the box is rotated to the left."`
}

// sizeForm is the size of what the tag point of the holding field says.
type sizeForm struct {
	here
	Forward length `key:"forward" is:"not negative" doc:"from back to front." howto:"Tape along {} from back to front."`
	Left    length `key:"left" is:"not negative" doc:"from side to side." howto:"Tape along {} from side to side."`
	Up      length `key:"up" is:"not negative" doc:"from bottom to top." howto:"Tape along {} from bottom to top."`
}

type capsuleForm struct {
	here
	From   pointForm `key:"from" point:"one end of the rod's center line" doc:"one end of the center line."`
	To     pointForm `key:"to" point:"the other end of the rod's center line" doc:"other end of the center line."`
	Radius length    `key:"radius" is:"not negative" within:"0 1000" doc:"half the thickness." howto:"Half the thickness of the rod."`
}

type mountForm struct {
	here      `needs:"kit clamp;clamp side"`
	Kit       *kitOrPathForm `key:"kit" absent:"none" doc:"file of the kit, relative to the case's folder, or the kit itself."`
	CarriedBy choice         `key:"carried_by" of:"seat base floor table bed" default:"seat" source:"choice" doc:"what the mount is clamped to. What the seat carries tilts with the seat."`
	Side      *choice        `key:"side" of:"left right either" doc:"side of the chair on which the mount is. With either, the clamp and its mirror image about the chair's midline are both tried."`
	Clamp     *clampAtForm   `key:"clamp" absent:"none" doc:"where the clamp is, with the seat tilted as measured."`
}

type kitOrPathForm struct {
	here
	Word text     `doc:"file of the kit, relative to the case's folder"`
	Form *kitForm `doc:"the kit itself"`
}

type clampAtForm struct {
	here     `needs:"slides along;along slides"`
	At       pointForm  `key:"at" point:"the middle of the clamp" doc:"middle of the clamp."`
	Rotation angle      `key:"rotation" advanced:"yes" default:"0 deg" doc:"clamp rotated to the left. At 0 it faces forward." howto:"Seen from above: how far the clamp is rotated to the left from facing forward."`
	Tilt     angle      `key:"tilt" advanced:"yes" default:"0 deg" doc:"clamp tilted backward. At 0 a post in it is upright." howto:"Inclinometer on a post in the clamp: tilt backward from upright."`
	Roll     angle      `key:"roll" advanced:"yes" default:"0 deg" doc:"clamp rolled to the person's left. At 0 a post in it is upright." howto:"Inclinometer on a post in the clamp: roll to the person's left from upright."`
	Slides   *lengths   `key:"slides" within:"-2000 2000" absent:"it stays there" doc:"how far the clamp can be moved along its tube, from where it was measured." howto:"Tape along the tube: how far the clamp can be moved from there, such as 0 to 120."`
	Along    *alongForm `key:"along" doc:"direction of that tube, with the seat tilted as measured."`
}

type alongForm struct {
	here
	Word choice   `of:"forward left up" doc:"direction of the tube"`
	Form *wayForm `doc:"direction of the tube"`
}

// wayForm is a direction, by the way from one point of a tube to another.
type wayForm struct {
	here
	Forward length `key:"forward" doc:"forward from one point of the tube to another." howto:"Between two points of the tube: how far forward the second is of the first."`
	Left    length `key:"left" doc:"to the left, between the same two points." howto:"Between two points of the tube: how far to the left the second is of the first."`
	Up      length `key:"up" doc:"up, between the same two points." howto:"Between two points of the tube: how far the second is above the first."`
}

type passageForm struct {
	here
	About      *text      `key:"about" absent:"the tool chooses" doc:"joint about which the mount swings clear, such as post.swing."`
	Doorway    *length    `key:"doorway" is:"positive" within:"300 5000" default:"812.8 mm" source:"door" doc:"clear width of the narrowest doorway. Local rules come first." howto:"Tape across the narrowest doorway: its clear width with the door open."`
	ClearFloor *floorForm `key:"clear_floor" doc:"clear floor space. Local rules come first."`
}

type floorForm struct {
	here
	Width  length `key:"width" is:"positive" within:"300 10000" default:"762 mm" source:"floor" doc:"across the direction in which the chair faces." howto:"Tape along the clear floor space, across the direction in which the chair faces."`
	Length length `key:"length" is:"positive" within:"300 10000" default:"1219.2 mm" source:"floor" doc:"along the direction in which the chair faces." howto:"Tape along the clear floor space, in the direction in which the chair faces."`
}
