package casefile

// The forms of the chair, of the person's body, and of the room that chair and
// mount pass through.

type chairForm struct {
	here
	TiltPivot  *sideViewForm  `key:"tilt_pivot" doc:"axis about which the seat tilts with everything on it. Needed if postures differ in tilt."`
	BackHinge  *sideViewForm  `key:"back_hinge" doc:"axis about which the back support reclines. Needed if postures differ in back angle."`
	SeatHeight *length        `key:"seat_height" is:"positive" within:"50 1200" doc:"top of the seat under the person, where it meets the back support, above the floor. The height of back_hinge if left out, or a published one."`
	Size       *chairSizeForm `key:"size" doc:"room that the chair takes up, seen from above. A published one is assumed for a mount that seat or base carries."`
	Drives     truth          `key:"drives" default:"no" doc:"whether the person drives the chair, and so must see the way ahead. No if left out."`
	Armrests   *armrestsForm  `key:"armrests" doc:"yes if there are armrests, or their measures. None if left out."`
	Joystick   *joystickForm  `key:"joystick" doc:"left or right if there is a joystick on that side, or its measures. None if left out."`
	Tray       *trayForm      `key:"tray" doc:"yes if there is a tray, or its measures. None if left out."`
}

type chairSizeForm struct {
	here
	Width  *length `key:"width" is:"positive" within:"200 2000" doc:"greatest width. 660 mm if left out."`
	Behind *length `key:"behind" is:"not negative" within:"0 2000" doc:"how far the chair reaches behind the junction of seat and back support. 300 mm if left out."`
	Ahead  *length `key:"ahead" is:"positive" within:"100 3000" doc:"how far chair and toes reach ahead of that junction. 915 mm if left out."`
}

type armrestsForm struct {
	here
	Word truth             `doc:"whether there are armrests"`
	Form *armrestSizesForm `doc:"their measures"`
}

type armrestSizesForm struct {
	here
	Spacing   *length `key:"spacing" is:"positive" within:"100 1200" doc:"from the middle of one to the middle of the other. 510 mm if left out."`
	Top       *length `key:"top" is:"positive" doc:"upper side above the floor. 275 mm above the seat if left out."`
	Back      *length `key:"back" doc:"rear end forward of the junction of seat and back support. 60 mm if left out."`
	Front     *length `key:"front" doc:"front end forward of that junction. 400 mm if left out."`
	Width     *length `key:"width" is:"positive" within:"5 500" doc:"of each, from side to side. 60 mm if left out."`
	Thickness *length `key:"thickness" is:"positive" within:"5 800" doc:"from upper to lower side. 40 mm if left out."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 20 mm if left out."`
}

type joystickForm struct {
	here
	Word choice            `of:"left right" doc:"side of the joystick"`
	Form *joystickSizeForm `doc:"its side and measures"`
}

type joystickSizeForm struct {
	here
	Side      choice     `key:"side" of:"left right" doc:"side of the chair on which it is."`
	At        *pointForm `key:"at" doc:"middle of the box round joystick and hand. At the front of an armrest if left out."`
	Size      *sizeForm  `key:"size" doc:"whole size of that box. 120 mm forward, 90 mm left, 140 mm up if left out."`
	Clearance *length    `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 40 mm if left out."`
}

type trayForm struct {
	here
	Word truth         `doc:"whether there is a tray"`
	Form *traySizeForm `doc:"its measures"`
}

type traySizeForm struct {
	here
	Width     *length `key:"width" is:"positive" within:"50 2000" doc:"from side to side. 600 mm if left out."`
	Back      *length `key:"back" doc:"edge before the trunk, forward of the junction of seat and back support. 250 mm if left out."`
	Front     *length `key:"front" doc:"far edge forward of that junction. 650 mm if left out."`
	Top       *length `key:"top" is:"positive" doc:"upper side above the floor. 290 mm above the seat if left out."`
	Thickness *length `key:"thickness" is:"positive" within:"1 300" doc:"from upper to lower side. 15 mm if left out."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 20 mm if left out."`
}

type bodyForm struct {
	here
	Face   *faceSpaceForm  `key:"face" doc:"head and face, which move with the head. none to leave them out, or their measures."`
	Trunk  *trunkSpaceForm `key:"trunk" doc:"trunk with the upper arms, which moves with the back support. none to leave it out, or its measures."`
	Thighs *thighSpaceForm `key:"thighs" doc:"thighs and knees, which move with the seat. none to leave them out, or their measures."`
}

type faceSpaceForm struct {
	here
	Word choice        `of:"assumed none" doc:"assumed, or none to leave it out"`
	Form *headSizeForm `doc:"its measures"`
}

type headSizeForm struct {
	here
	Breadth   *length `key:"breadth" is:"positive" within:"60 400" doc:"of the head with what it wears, from side to side. A published one if left out."`
	Length    *length `key:"length" is:"positive" within:"60 500" doc:"from the eyes to the back of the head. A published one if left out."`
	Above     *length `key:"above_eyes" is:"positive" within:"20 300" doc:"top of the head above the eyes. A published one if left out."`
	Below     *length `key:"below_eyes" is:"positive" within:"20 300" doc:"chin below the eyes. 110 mm if left out."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 100 mm if left out."`
}

type trunkSpaceForm struct {
	here
	Word choice         `of:"assumed none" doc:"assumed, or none to leave it out"`
	Form *trunkSizeForm `doc:"its measures"`
}

type trunkSizeForm struct {
	here
	Breadth   *length `key:"breadth" is:"positive" within:"100 1200" doc:"across the shoulders and upper arms. A published one if left out."`
	Depth     *length `key:"depth" is:"positive" within:"50 800" doc:"from the back support to the front of the belly. A published one if left out."`
	Height    *length `key:"height" is:"positive" within:"100 1000" doc:"of the shoulders above the seat, along the back support. Below the neck by a published measure if left out."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 50 mm if left out."`
}

type thighSpaceForm struct {
	here
	Word choice          `of:"assumed none" doc:"assumed, or none to leave them out"`
	Form *thighSizesForm `doc:"their measures"`
}

type thighSizesForm struct {
	here
	Thickness *length `key:"thickness" is:"positive" within:"30 400" doc:"of the thigh, from the seat up. A published one if left out."`
	Length    *length `key:"length" is:"positive" within:"100 1000" doc:"from the back support to the front of the knee. A published one if left out."`
	Spacing   *length `key:"spacing" is:"not negative" within:"0 1000" doc:"from the middle of one thigh to the middle of the other. 200 mm if left out."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" doc:"least clearance to screen and tubes. 20 mm if left out."`
}

type glassesForm struct {
	here
	Word truth     `doc:"whether glasses are worn"`
	Form *lensForm `doc:"how the lenses stand"`
}

type lensForm struct {
	here
	LensSlant angle `key:"lens_slant" within:"-30 45" default:"10 deg" source:"choice" doc:"angle by which the lenses lean against upright of the head, positive with the lower edge nearer to the face."`
}

type gridForm struct {
	here
	Rows    number `key:"rows" is:"positive" within:"1 100" doc:"how many rows of targets."`
	Columns number `key:"columns" is:"positive" within:"1 100" doc:"how many columns of targets."`
	Gap     length `key:"gap" is:"not negative" within:"0 500" default:"0 mm" source:"choice" doc:"between neighbouring targets, where nothing is selected."`
}

type passageForm struct {
	here
	About      *text      `key:"about" doc:"joint about which the mount is swung aside, such as post.swing. The tool chooses if left out."`
	Doorway    *length    `key:"doorway" is:"positive" within:"300 5000" doc:"clear width of the narrowest doorway. Local rules come first. 32 in (812.8 mm) of the 2010 ADA Standards, section 404.2.3, if left out."`
	ClearFloor *floorForm `key:"clear_floor" doc:"clear floor space that is to be had. Local rules come first. 30 by 48 in (762 by 1219.2 mm) of the 2010 ADA Standards, section 305.3, if left out."`
}

type floorForm struct {
	here
	Width  length `key:"width" is:"positive" within:"300 10000" doc:"across the way that the chair faces."`
	Length length `key:"length" is:"positive" within:"300 10000" doc:"along the way that the chair faces."`
}
