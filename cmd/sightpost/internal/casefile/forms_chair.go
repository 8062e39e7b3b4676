package casefile

// The forms of the chair and of the person's body. Where a default is computed from
// published dimensions, its tag says so in words.

type chairForm struct {
	here
	TiltPivot  *sideViewForm  `key:"tilt_pivot" point:"the axis about which the seat tilts" absent:"none" doc:"axis about which the seat tilts with everything on it (tilt in space). Needed if postures differ in seat tilt."`
	BackHinge  *sideViewForm  `key:"back_hinge" point:"the axis about which the back support reclines" absent:"none" doc:"axis about which the back support reclines. Needed if postures differ in back angle."`
	SeatHeight *length        `key:"seat_height" is:"positive" within:"50 1200" absent:"the height of back_hinge" default:"495 mm" source:"wheeled" doc:"height above the floor of the top of the seat under the person, at the junction with the back support." howto:"Tape from the floor up to the top of the seat, where it meets the back support."`
	Size       *chairSizeForm `key:"size" absent:"a published one for a mount on a wheelchair" doc:"floor area that the chair takes up, seen from above."`
	Drives     truth          `key:"drives" default:"no" doc:"whether the person drives the chair, and so must see the floor ahead."`
	Armrests   *armrestsForm  `key:"armrests" absent:"none" doc:"yes if there are armrests, or their measurements."`
	Joystick   *joystickForm  `key:"joystick" absent:"none" doc:"left or right if there is a joystick on that side, or its measurements."`
	Tray       *trayForm      `key:"tray" absent:"none" doc:"yes if there is a tray, or its measurements."`
}

type chairSizeForm struct {
	here
	Width  *length `key:"width" is:"positive" within:"200 2000" default:"660 mm" source:"adaag" doc:"greatest width." howto:"Tape across the chair at its widest."`
	Behind *length `key:"behind" is:"not negative" within:"0 2000" default:"300 mm" source:"parted" doc:"length behind the junction of seat and back support." howto:"Tape from the junction of seat and back support back to the rearmost part of the chair."`
	Ahead  *length `key:"ahead" is:"positive" within:"100 3000" default:"915 mm" source:"parted" doc:"length ahead of that junction, toes included." howto:"Tape from the junction of seat and back support forward to the tips of the toes."`
}

type armrestsForm struct {
	here
	Word truth             `doc:"whether there are armrests"`
	Form *armrestSizesForm `doc:"their measurements"`
}

type armrestSizesForm struct {
	here
	Spacing   *length `key:"spacing" is:"positive" within:"100 1200" default:"510 mm" source:"choice" doc:"from the middle of one to the middle of the other." howto:"Tape from the middle of one armrest across to the middle of the other."`
	Top       *length `key:"top" is:"positive" absent:"above the seat by a published height" source:"adaag" doc:"height of the upper side above the floor." howto:"Tape from the floor up to the upper side of the armrest."`
	Back      *length `key:"back" default:"60 mm" source:"choice" doc:"rear end, forward of the junction of seat and back support." howto:"Tape from the junction of seat and back support forward to the rear end of the armrest."`
	Front     *length `key:"front" default:"400 mm" source:"choice" doc:"front end, forward of that junction." howto:"Tape from the junction of seat and back support forward to the front end of the armrest."`
	Width     *length `key:"width" is:"positive" within:"5 500" default:"60 mm" source:"choice" doc:"width of each." howto:"Ruler across an armrest."`
	Thickness *length `key:"thickness" is:"positive" within:"5 800" default:"40 mm" source:"choice" doc:"from upper to lower side." howto:"Ruler from the lower to the upper side of an armrest."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" default:"20 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between an armrest and screen or tubes."`
}

type joystickForm struct {
	here
	Word choice            `of:"left right" doc:"side of the joystick"`
	Form *joystickSizeForm `doc:"its side and measurements"`
}

type joystickSizeForm struct {
	here
	Side      choice           `key:"side" of:"left right" doc:"side of the chair on which it is."`
	At        *pointForm       `key:"at" point:"the middle of joystick and hand" absent:"at the front of an armrest" doc:"middle of the box around joystick and hand."`
	Size      *joystickBoxForm `key:"size" point:"joystick and hand" doc:"full size of that box."`
	Clearance *length          `key:"clearance" is:"not negative" within:"0 1000" default:"40 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between joystick or hand and screen or tubes."`
}

type joystickBoxForm struct {
	here
	Forward length `key:"forward" is:"not negative" default:"120 mm" source:"choice" doc:"from back to front." howto:"Tape along {} from back to front."`
	Left    length `key:"left" is:"not negative" default:"90 mm" source:"choice" doc:"from side to side." howto:"Tape along {} from side to side."`
	Up      length `key:"up" is:"not negative" default:"140 mm" source:"choice" doc:"from bottom to top." howto:"Tape along {} from bottom to top."`
}

type trayForm struct {
	here
	Word truth         `doc:"whether there is a tray"`
	Form *traySizeForm `doc:"its measurements"`
}

type traySizeForm struct {
	here
	Width     *length `key:"width" is:"positive" within:"50 2000" default:"600 mm" source:"choice" doc:"from side to side." howto:"Tape across the tray from side to side."`
	Back      *length `key:"back" default:"250 mm" source:"choice" doc:"edge in front of the trunk, forward of the junction of seat and back support." howto:"Tape from the junction of seat and back support forward to the near edge of the tray."`
	Front     *length `key:"front" default:"650 mm" source:"choice" doc:"far edge, forward of that junction." howto:"Tape from the junction of seat and back support forward to the far edge of the tray."`
	Top       *length `key:"top" is:"positive" absent:"above the seat by a published height of armrests" source:"adaag" doc:"height of the upper side above the floor." howto:"Tape from the floor up to the upper side of the tray."`
	Thickness *length `key:"thickness" is:"positive" within:"1 300" default:"15 mm" source:"choice" doc:"from upper to lower side." howto:"Ruler from the lower to the upper side of the tray."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" default:"20 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between the tray and screen or tubes."`
}

type bodyForm struct {
	here
	Face   *faceSpaceForm  `key:"face" absent:"assumed" doc:"head and face, which move with the head. none to leave them out, or their measurements."`
	Trunk  *trunkSpaceForm `key:"trunk" absent:"assumed" doc:"trunk with the upper arms, which moves with the back support. none to leave it out, or its measurements."`
	Thighs *thighSpaceForm `key:"thighs" absent:"assumed" doc:"thighs and knees, which move with the seat. none to leave them out, or their measurements."`
}

type faceSpaceForm struct {
	here
	Word choice        `of:"assumed none" doc:"assumed, or none to leave it out"`
	Form *headSizeForm `doc:"its measurements"`
}

type headSizeForm struct {
	here
	Breadth   *length `key:"breadth" is:"positive" within:"60 400" absent:"a published one" source:"gordon2014" doc:"breadth of the head with what it wears." howto:"Caliper across the head with what it wears, from side to side."`
	Length    *length `key:"length" is:"positive" within:"60 500" absent:"a published one" source:"gordon2014" doc:"from the eyes to the back of the head." howto:"Ruler beside the head, from the eyes to the back of the head."`
	Above     *length `key:"above_eyes" is:"positive" within:"20 300" absent:"a published one" source:"gordon2014" doc:"top of the head above the eyes." howto:"Ruler beside the head, from the eyes up to the top of the head."`
	Below     *length `key:"below_eyes" is:"positive" within:"20 300" default:"110 mm" source:"choice" doc:"chin below the eyes." howto:"Ruler beside the head, from the eyes down to the chin."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" default:"100 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between the face and screen or tubes."`
}

type trunkSpaceForm struct {
	here
	Word choice         `of:"assumed none" doc:"assumed, or none to leave it out"`
	Form *trunkSizeForm `doc:"its measurements"`
}

type trunkSizeForm struct {
	here
	Breadth   *length `key:"breadth" is:"positive" within:"100 1200" absent:"a published one" source:"gordon2014" doc:"across the shoulders and upper arms." howto:"Tape straight across the shoulders and upper arms."`
	Depth     *length `key:"depth" is:"positive" within:"50 800" absent:"a published one" source:"gordon2014" doc:"from the back support to the front of the belly." howto:"Tape from the back support to the front of the belly."`
	Height    *length `key:"height" is:"positive" within:"100 1000" absent:"below the neck by a published distance" source:"gordon2014" doc:"height of the shoulders above the seat, along the back support." howto:"Tape along the back support, from the seat up to the shoulders."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" default:"50 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between the trunk and screen or tubes."`
}

type thighSpaceForm struct {
	here
	Word choice          `of:"assumed none" doc:"assumed, or none to leave them out"`
	Form *thighSizesForm `doc:"their measurements"`
}

type thighSizesForm struct {
	here
	Thickness *length `key:"thickness" is:"positive" within:"30 400" absent:"a published one" source:"gordon2014" doc:"thickness of the thigh above the seat." howto:"Tape from the seat up to the top of the thigh."`
	Length    *length `key:"length" is:"positive" within:"100 1000" absent:"a published one" source:"gordon2014" doc:"from the back support to the front of the knee." howto:"Tape from the back support to the front of the knee."`
	Spacing   *length `key:"spacing" is:"not negative" within:"0 1000" default:"200 mm" source:"choice" doc:"from the middle of one thigh to the middle of the other." howto:"Tape from the middle of one thigh across to the middle of the other."`
	Clearance *length `key:"clearance" is:"not negative" within:"0 1000" default:"20 mm" source:"choice" doc:"least clearance to screen and tubes." howto:"Decide the least clearance between the thighs and screen or tubes."`
}

type glassesForm struct {
	here
	Word truth     `doc:"whether glasses are worn"`
	Form *lensForm `doc:"slant of the lenses"`
}

type lensForm struct {
	here
	LensSlant angle `key:"lens_slant" within:"-30 45" default:"10 deg" source:"choice" doc:"slant of the lenses (pantoscopic tilt) from upright of the head, positive with the lower edge nearer to the face." howto:"From the side: how far the lower edge of the lenses is nearer to the face, as an angle from upright of the head."`
}
