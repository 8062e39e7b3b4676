package casefile

// The forms of a case file. Each field's tags are explained at [field]; docs are
// written for the person who fills the file in.

type caseForm struct {
	here
	Version     version         `key:"sightpost" doc:"version of the format, 1."`
	Label       text            `key:"label" doc:"code that the clinic chose for this case. No names: the code is all that tells whose case it is."`
	Note        *text           `key:"note" doc:"anything worth keeping. Begin with | and indent the lines below it."`
	Measured    measuredForm    `key:"measured" doc:"how the person sat when measured. Other postures are predicted from this one."`
	Person      personForm      `key:"person" doc:"what belongs to the person rather than to how they sit."`
	Body        bodyForm        `key:"body" doc:"spaces that the person's body takes up, which screen and tubes keep out of. What is left out is assumed from published dimensions."`
	Chair       chairForm       `key:"chair" doc:"the chair, everything given as it is with the seat untilted, however it was tilted when the person was measured. For a bed, its two halves are seat and back support."`
	Tracker     trackerForm     `key:"tracker" doc:"the eye tracker, from its data sheet."`
	Screen      screenForm      `key:"screen" doc:"the screen and the box around it."`
	Postures    []postureForm   `key:"postures" least:"1" doc:"postures in which the screen is wanted. The first that must work leads."`
	Preferences preferencesForm `key:"preferences" doc:"what the place of the screen is chosen by."`
	Keep        []keepForm      `key:"keep_clear" doc:"spaces that screen and tubes must keep out of, where they are with the seat tilted as measured; only what forward counts from stays that of the untilted seat. One named as an assumed space is (face, trunk, left thigh, left armrest, joystick, tray) takes its place."`
	Mount       mountForm       `key:"mount" doc:"the mount and where it is clamped. Leave kit and clamp out if only the place of the screen is wanted."`
	Passage     *passageForm    `key:"passage" doc:"what chair and mount must pass through, and how the mount goes aside."`
	Spreads     uncertaintyForm `key:"uncertainty" doc:"how far the truth may be from what was measured and set. What is left out is assumed."`
}

// pointForm is a point in chair axes.
type pointForm struct {
	here
	Forward length `key:"forward" doc:"forward of where seat and back support meet while the seat is untilted, negative behind it."`
	Left    length `key:"left" doc:"to the person's left of the chair's midline, negative to the right."`
	Up      length `key:"up" doc:"above the floor."`
}

// sideViewForm is a point of which only the side view matters.
type sideViewForm struct {
	here
	Forward length `key:"forward" doc:"forward of where seat and back support meet while the seat is untilted, negative behind it."`
	Up      length `key:"up" doc:"above the floor."`
}

type headForm struct {
	here
	Flexion        angle `key:"flexion" within:"-90 90" doc:"chin toward the chest, negative backward."`
	Rotation       angle `key:"rotation" within:"-90 90" doc:"face turned to the left, negative to the right."`
	LateralFlexion angle `key:"lateral_flexion" within:"-90 90" doc:"head leaned toward the left shoulder, negative toward the right."`
}

type measuredForm struct {
	here
	SeatTilt  angle     `key:"seat_tilt" within:"-90 90" doc:"tilt of the seat with everything on it, backward positive. 0 where the chair does not tilt."`
	BackAngle angle     `key:"back_angle" within:"45 180" doc:"angle between seat and back support."`
	Eyes      pointForm `key:"eyes" doc:"point midway between the eyes, with the seat tilted as measured: up is the tape from the floor to the outer corner of the eye."`
	Head      headForm  `key:"head" doc:"angles of the head, against the room."`
}

type personForm struct {
	here
	PupilSpacing length        `key:"pupil_spacing" is:"positive" within:"30 90" default:"63 mm" source:"dodgson" doc:"distance between the pupils. Adults are near 63 mm, children of five years and more rarely below 40 mm."`
	NeckToEyes   neckForm      `key:"neck_to_eyes" doc:"from the point about which the head nods to the point midway between the eyes, head upright."`
	EyesUsed     choice        `key:"eyes_used" of:"both left right either" default:"both" source:"choice" doc:"eyes that the tracker needs. With either, one is enough, whichever has more room."`
	RestGaze     *restGazeForm `key:"rest_gaze" doc:"direction in which the eyes rest, in the head. If left out, a published one is used."`
	GazeRange    gazeRangeForm `key:"gaze_range" doc:"how far the eyes turn in the head."`
	Glasses      *glassesForm  `key:"glasses" doc:"yes if glasses are worn, or how their lenses stand. None if left out."`
	Movement     movementForm  `key:"movement" doc:"how far the head is seen to move about the posture, each way from its middle."`
}

type neckForm struct {
	here
	Forward length `key:"forward" within:"0 300" default:"80.5 mm" source:"gordon" doc:"eyes forward of the neck point."`
	Up      length `key:"up" within:"-100 300" default:"75 mm" source:"gordon" doc:"eyes above the neck point."`
}

type restGazeForm struct {
	here
	Down angle `key:"down" within:"-60 75" doc:"below straight ahead of the head."`
	Left angle `key:"left" within:"-60 60" doc:"to the person's left of straight ahead."`
}

type gazeRangeForm struct {
	here
	Left  angle `key:"left" is:"not negative" within:"0 90" default:"30.5 deg" source:"lee" doc:"gaze range to the person's left."`
	Right angle `key:"right" is:"not negative" within:"0 90" default:"30.5 deg" source:"lee" doc:"gaze range to the person's right."`
	Up    angle `key:"up" is:"not negative" within:"0 90" default:"12.7 deg" source:"lee" doc:"gaze range upward."`
	Down  angle `key:"down" is:"not negative" within:"0 90" default:"31.1 deg" source:"lee" doc:"gaze range downward."`
}

type movementForm struct {
	here
	Forward length `key:"forward" is:"not negative" within:"0 500" doc:"forward and backward."`
	Left    length `key:"left" is:"not negative" within:"0 500" doc:"to the left and right."`
	Up      length `key:"up" is:"not negative" within:"0 500" doc:"up and down."`
}

type trackerForm struct {
	here
	Near      length `key:"near" is:"positive" doc:"least distance at which the tracker works, along its optical axis."`
	Best      length `key:"best" is:"positive" doc:"distance at which the tracker works best."`
	Far       length `key:"far" is:"positive" doc:"greatest distance at which the tracker works."`
	Across    angle  `key:"across" is:"positive" below:"180" doc:"whole angle of the tracker's view from side to side."`
	UpDown    angle  `key:"up_down" is:"positive" below:"180" doc:"whole angle of the tracker's view from bottom to top."`
	Below     length `key:"below" doc:"tracker below the middle of the display area, negative above it."`
	InFront   length `key:"in_front" doc:"tracker in front of the glass, toward the viewer."`
	AimedUp   angle  `key:"aimed_up" within:"-60 60" doc:"optical axis turned up from square to the glass."`
	GazeLimit angle  `key:"gaze_limit" is:"positive" below:"90" doc:"greatest angle, at the eye, between the direction to the tracker and the direction of gaze."`
	Accuracy  angle  `key:"accuracy" is:"not negative" within:"0 20" doc:"mean error of the direction of gaze, at the eye."`
	Precision angle  `key:"precision" is:"not negative" within:"0 20" doc:"spread of the direction of gaze while the eye rests, at the eye (root mean square)."`
}

type screenForm struct {
	here
	Display displayForm `key:"display" doc:"size of the display area."`
	Used    *usedForm   `key:"used" doc:"part of the display area that is looked at. If left out, all of it."`
	Housing housingForm `key:"housing" doc:"the box round screen and tracker."`
	Mass    mass        `key:"mass" is:"positive" within:"0 50" hint:"more is heavier than a person; is the unit right?" doc:"screen, tracker and housing together, on the scales."`
	Grid    *gridForm   `key:"grid" doc:"arrangement of targets that the screen is wanted for, if there is one in particular."`
	Fixed   *fixedForm  `key:"fixed_at" doc:"where the plate is screwed to the housing's back. If left out, in its middle."`
}

type displayForm struct {
	here
	Width  length `key:"width" is:"positive" doc:"from side to side."`
	Height length `key:"height" is:"positive" doc:"from bottom to top."`
}

type usedForm struct {
	here
	Left   length `key:"left" is:"not negative" doc:"left edge of the used part, from the left edge of the display area as the viewer sees it."`
	Right  length `key:"right" is:"positive" doc:"right edge of the used part, also from the left edge of the display area."`
	Bottom length `key:"bottom" is:"not negative" doc:"lower edge of the used part, from the lower edge of the display area."`
	Top    length `key:"top" is:"positive" doc:"upper edge of the used part, also from the lower edge of the display area."`
}

type housingForm struct {
	here
	Width  length `key:"width" is:"positive" doc:"from side to side."`
	Height length `key:"height" is:"positive" doc:"from bottom to top."`
	Depth  length `key:"depth" is:"positive" doc:"from the glass to the back."`
	Below  length `key:"below" doc:"middle of the housing below the middle of the display area, negative above it."`
}

type fixedForm struct {
	here
	Right length `key:"right" doc:"to the viewer's right of the middle of the housing, negative to the left."`
	Up    length `key:"up" doc:"above the middle of the housing, negative below it."`
}

type postureForm struct {
	here      `needs:"eyes head"`
	Name      text       `key:"name" doc:"what this posture is called."`
	MustWork  truth      `key:"must_work" default:"yes" doc:"whether the tracker must see the eyes in this posture. If not, that is only reported on; what the mount touches and bears counts all the same. Yes if left out."`
	SeatTilt  *angle     `key:"seat_tilt" within:"-90 90" doc:"tilt of the seat. As measured if left out."`
	BackAngle *angle     `key:"back_angle" within:"45 180" doc:"angle between seat and back support. As measured if left out."`
	Slump     *length    `key:"slump" within:"-500 500" doc:"how far trunk and head have slid down along the back support. 0 if left out."`
	Head      *headForm  `key:"head" doc:"angles of the head: against the trunk, which is upright as measured; against the room if eyes are given. As measured if left out."`
	Eyes      *pointForm `key:"eyes" doc:"point midway between the eyes, if it was measured in this posture too. It wins over the prediction."`
}

type preferencesForm struct {
	here
	Margin        length     `key:"margin" is:"not negative" default:"0 mm" source:"choice" doc:"margin that counts as good enough. How far the head may still move beyond its usual movement."`
	FaceClearance length     `key:"face_clearance" is:"not negative" default:"200 mm" source:"choice" doc:"least distance of the housing from the eyes."`
	RollFollows   choice     `key:"roll_follows" of:"head level" default:"head" source:"choice" doc:"what the upper edge of the screen follows."`
	Safety        number     `key:"safety_factor" within:"1 10" default:"2" source:"choice" doc:"by how much the yield of a tube must exceed its stress."`
	ShockFactor   number     `key:"shock_factor" within:"1 10" default:"2" source:"choice" doc:"by how much rough ground multiplies every weight. 1 for a floor without sills."`
	Rates         ratesForm  `key:"rates" doc:"mm of margin that a step away from the preferred place is worth."`
	Ranges        rangesForm `key:"ranges" doc:"bounds of the screen's place as the person sees it in the leading posture."`
}

type ratesForm struct {
	here
	Gaze     number `key:"gaze" is:"not negative" default:"1" source:"choice" doc:"mm for each degree off the resting gaze."`
	Facing   number `key:"facing" is:"not negative" default:"1" source:"choice" doc:"mm for each degree that the screen is turned off the line of sight."`
	Roll     number `key:"roll" is:"not negative" default:"1" source:"choice" doc:"mm for each degree of roll."`
	Distance number `key:"distance" is:"not negative" default:"0.1" source:"choice" doc:"mm for each mm off the tracker's best distance."`
}

type rangesForm struct {
	here
	GazeLeft    angles  `key:"gaze_left" within:"-90 90" default:"-60 to 60 deg" source:"choice" doc:"line of sight to the person's left of straight ahead."`
	GazeDown    angles  `key:"gaze_down" within:"-90 90" default:"-60 to 75 deg" source:"choice" doc:"line of sight below straight ahead."`
	Distance    lengths `key:"distance" is:"positive" default:"150 to 1500 mm" source:"choice" doc:"from the eyes to the middle of the display area."`
	FacingUp    angles  `key:"facing_up" within:"-80 80" default:"-40 to 40 deg" source:"incidence" doc:"screen turned up, off square to the line of sight."`
	FacingRight angles  `key:"facing_right" within:"-80 80" default:"-40 to 40 deg" source:"incidence" doc:"screen turned to the viewer's right, off square to the line of sight."`
	Roll        angles  `key:"roll" default:"-30 to 30 deg" source:"choice" doc:"screen rolled, counter-clockwise as the viewer sees it."`
}

type keepForm struct {
	here      `one:"box capsule"`
	Name      text         `key:"name" doc:"what is kept clear."`
	Box       *boxForm     `key:"box" doc:"a box, where it is with the seat tilted as measured."`
	Capsule   *capsuleForm `key:"capsule" doc:"a rod with round ends, where it is with the seat tilted as measured. Good for limbs and tubes."`
	CarriedBy choice       `key:"carried_by" of:"seat base floor table bed" doc:"what carries it. What the seat carries tilts with it."`
	Clearance length       `key:"clearance" is:"not negative" within:"0 1000" doc:"least gap to screen and tubes."`
}

type boxForm struct {
	here
	Middle   pointForm `key:"middle" doc:"middle of the box."`
	Size     sizeForm  `key:"size" doc:"whole size of the box."`
	Rotation *angle    `key:"rotation" doc:"box turned about its upright axis to the left. 0 if left out."`
}

type sizeForm struct {
	here
	Forward length `key:"forward" is:"not negative" doc:"from back to front."`
	Left    length `key:"left" is:"not negative" doc:"from right to left."`
	Up      length `key:"up" is:"not negative" doc:"from bottom to top."`
}

type capsuleForm struct {
	here
	From   pointForm `key:"from" doc:"one end of the middle line."`
	To     pointForm `key:"to" doc:"other end of the middle line."`
	Radius length    `key:"radius" is:"not negative" within:"0 1000" doc:"half the thickness."`
}

type mountForm struct {
	here      `needs:"kit clamp;clamp side"`
	Kit       *kitOrPathForm `key:"kit" doc:"file of the kit, seen from the case's folder, or the kit itself."`
	CarriedBy choice         `key:"carried_by" of:"seat base floor table bed" default:"seat" source:"choice" doc:"what the mount is clamped to. What the seat carries tilts with it."`
	Side      *choice        `key:"side" of:"left right either" doc:"side of the chair on which the mount stands. With either, the clamp and its mirror image about the chair's midline are both tried."`
	Clamp     *clampAtForm   `key:"clamp" doc:"where the clamp sits with the seat tilted as measured."`
}

type kitOrPathForm struct {
	here
	Word text     `doc:"file of the kit, seen from the case's folder"`
	Form *kitForm `doc:"the kit itself"`
}

type clampAtForm struct {
	here     `needs:"slides along;along slides"`
	At       pointForm  `key:"at" doc:"middle of the clamp."`
	Rotation *angle     `key:"rotation" doc:"clamp rotated to the left. 0 if left out: it looks forward."`
	Tilt     *angle     `key:"tilt" doc:"clamp tilted backward. 0 if left out: a post in it is upright."`
	Roll     *angle     `key:"roll" doc:"clamp rolled to the left. 0 if left out: a post in it is upright."`
	Slides   *lengths   `key:"slides" within:"-2000 2000" doc:"how far the clamp can be moved from there along its tube."`
	Along    *alongForm `key:"along" doc:"direction of that tube, with the seat tilted as measured."`
}

type alongForm struct {
	here
	Word choice   `of:"forward left up" doc:"direction of the tube"`
	Form *wayForm `doc:"direction of the tube"`
}

// wayForm is a direction: how far one gets each way when following it.
type wayForm struct {
	here
	Forward length `key:"forward" doc:"how far forward one gets."`
	Left    length `key:"left" doc:"how far to the left one gets."`
	Up      length `key:"up" doc:"how far up one gets."`
}
