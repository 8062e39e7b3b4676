package casefile

import "sightpost/gaze/body"

// chairRows are the chair. Where a default is computed from published dimensions, absent
// says so in words.
func chairRows() []Entry {
	return []Entry{
		{Key: "tilt_pivot", steady: true, absent: "none", point: "the axis about which the seat tilts", Doc: "axis about which the seat tilts with everything on it (tilt in space). Needed if postures differ in seat tilt.", form: "sideView", Fields: axisRows()},
		{Key: "back_hinge", steady: true, absent: "none", point: "the axis about which the back support reclines", Doc: "axis about which the back support reclines. Needed if postures differ in back angle.", form: "sideView", Fields: axisRows()},
		{Key: "seat_height", of: length, sign: positive, within: bounds{50, 1200}, absent: "as the back hinge", def: "495 mm", Source: wheeled2010, usual: by(200, 1000, 0), Doc: "height above the floor of the top of the seat under the person, at the junction with the back support.", howto: "Tape from the floor up to the top of the seat, where it meets the back support."},
		{Key: "size", form: "chairSize", absent: "a published one for a mount on a wheelchair", Doc: "floor area that the chair takes up, seen from above.", Fields: []Entry{
			{Key: "width", of: length, optional: true, sign: positive, within: bounds{200, 2000}, def: "660 mm", Source: adaag1991, usual: by(400, 1200, 0), Doc: "greatest width.", howto: "Tape across the chair at its widest."},
			{Key: "behind", of: length, optional: true, sign: notNegative, within: bounds{0, 2000}, def: "300 mm", Source: adaagParted, Doc: "length behind the junction of seat and back support.", howto: "Tape from the junction of seat and back support back to the rearmost part of the chair."},
			{Key: "ahead", of: length, optional: true, sign: positive, within: bounds{100, 3000}, def: "915 mm", Source: adaagParted, usual: by(400, 2200, 0), Doc: "length ahead of that junction, toes included.", howto: "Tape from the junction of seat and back support forward to the tips of the toes."},
		}},
		{Key: "stability", Advanced: true, absent: "none", Doc: "where the wheels touch the floor and what they bear, as the chair is used with the person in it, without mount and device. Needed to judge whether the chair tips with the mount swung out.", Fields: []Entry{
			{Key: "front_wheels", of: length, steady: true, within: bounds{-1000, 2000}, over: "rear_wheels", Doc: "contact of the front wheels, forward of the junction of seat and back support.", howto: "Casters turned back. Tape from the junction of seat and back support forward to where the front wheels touch the floor."},
			{Key: "rear_wheels", of: length, steady: true, within: bounds{-2000, 1000}, Doc: "contact of the rear wheels, forward of that junction, negative behind it.", howto: "Tape from the junction of seat and back support to where the rear wheels touch the floor; negative behind it."},
			{Key: "track", of: length, steady: true, sign: positive, within: bounds{100, 1500}, Doc: "from the contact of the left to that of the right wheel, at the pair where it is less.", howto: "Casters turned inward. Tape along the floor from the middle of the left wheel to the middle of the right one, at the front and at the rear; give the smaller."},
			{Key: "mass", of: mass, sign: positive, within: bounds{5, 500}, over: "front_mass", Picture: "none", Doc: "mass of chair and person, without mount and device.", howto: "Platform scales, or the chair's data sheet and the person's weight: chair and person together, without mount and device."},
			{Key: "front_mass", of: mass, sign: positive, within: bounds{0.5, 400}, Picture: "none", Doc: "part of it on the front wheels.", howto: "Front wheels alone on the scales, the rear ones as high beside them: what the scales show."},
		}},
		{Key: "drives", Kind: YesNo, def: "no", Doc: "whether the person drives the chair, and so must see the floor ahead."},
		{Key: "armrests", absent: "none", Doc: "yes if there are armrests, or their measurements.", Word: &Entry{Kind: YesNo, Doc: "whether there are armrests"}, instead: form{"armrestSizes", "their measurements"}, Fields: []Entry{
			{Key: "spacing", of: length, optional: true, sign: positive, within: bounds{100, 1200}, def: "510 mm", Source: unsourced, Doc: "from the middle of one to the middle of the other.", howto: "Tape from the middle of one armrest across to the middle of the other."},
			{Key: "top", of: length, sign: positive, absent: "above the seat by a published height", Source: adaag1991, usual: by(300, 1300, 0), Doc: "height of the upper side above the floor.", howto: "Tape from the floor up to the upper side of the armrest."},
			{Key: "back", of: length, optional: true, def: "60 mm", Source: unsourced, Doc: "rear end, forward of the junction of seat and back support.", howto: "Tape from the junction of seat and back support forward to the rear end of the armrest."},
			{Key: "front", of: length, optional: true, def: "400 mm", Source: unsourced, over: "back", Doc: "front end, forward of that junction.", howto: "Tape from the junction of seat and back support forward to the front end of the armrest."},
			{Key: "width", of: length, optional: true, sign: positive, within: bounds{5, 500}, def: "60 mm", Source: unsourced, Doc: "width of each.", howto: "Ruler across an armrest."},
			{Key: "thickness", of: length, optional: true, sign: positive, within: bounds{5, 800}, def: "40 mm", Source: unsourced, Doc: "from upper to lower side.", howto: "Ruler from the lower to the upper side of an armrest."},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "20 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between an armrest and screen or tubes."},
		}},
		{Key: "joystick", absent: "none", Doc: "left or right if there is a joystick on that side, or its measurements.", Word: &Entry{Options: []string{"left", "right"}, Doc: "side of the joystick"}, instead: form{"joystickSize", "its side and measurements"}, Fields: []Entry{
			{Key: "side", Options: []string{"left", "right"}, Doc: "side of the chair on which it is."},
			{Key: "at", absent: "at the front of an armrest", point: "the middle of joystick and hand", Doc: "middle of the box around joystick and hand.", form: "point", Fields: pointRows()},
			{Key: "size", form: "joystickBox", optional: true, point: "joystick and hand", Doc: "full size of that box.", Fields: assumedRows(boxSizeRows(), "120 mm", "90 mm", "140 mm")},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "40 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between joystick or hand and screen or tubes."},
		}},
		{Key: "tray", absent: "none", Doc: "yes if there is a tray, or its measurements.", Word: &Entry{Kind: YesNo, Doc: "whether there is a tray"}, instead: form{"traySize", "its measurements"}, Fields: []Entry{
			{Key: "width", of: length, optional: true, sign: positive, within: bounds{50, 2000}, def: "600 mm", Source: unsourced, Doc: "from side to side.", howto: "Tape across the tray from side to side."},
			{Key: "back", of: length, optional: true, def: "250 mm", Source: unsourced, Doc: "edge in front of the trunk, forward of the junction of seat and back support.", howto: "Tape from the junction of seat and back support forward to the near edge of the tray."},
			{Key: "front", of: length, optional: true, def: "650 mm", Source: unsourced, over: "back", Doc: "far edge, forward of that junction.", howto: "Tape from the junction of seat and back support forward to the far edge of the tray."},
			{Key: "top", of: length, sign: positive, absent: "above the seat by a published height of armrests", Source: adaag1991, usual: by(300, 1300, 0), Doc: "height of the upper side above the floor.", howto: "Tape from the floor up to the upper side of the tray."},
			{Key: "thickness", of: length, optional: true, sign: positive, within: bounds{1, 300}, def: "15 mm", Source: unsourced, Doc: "from upper to lower side.", howto: "Ruler from the lower to the upper side of the tray."},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "20 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between the tray and screen or tubes."},
		}},
	}
}

// bodyRows are the space that the person's body takes up.
func bodyRows() []Entry {
	return []Entry{
		{Key: "face", form: "faceSpace", absent: "assumed", Doc: "head and face, which move with the head. none to leave them out, or their measurements.", Word: &Entry{Options: []string{"assumed", "none"}, Doc: "assumed, or none to leave it out"}, instead: form{"headSize", "its measurements"}, Fields: []Entry{
			{Key: "breadth", of: length, sign: positive, within: bounds{60, 400}, size: body.HeadBreadth, absent: "a published one", Source: army2012, Doc: "breadth of the head with what it wears.", howto: "Blunt caliper across the head with what it wears, from side to side."},
			{Key: "length", of: length, sign: positive, within: bounds{60, 500}, size: body.EyesToBack, absent: "a published one", Source: army2012 + ", and " + pheasant1996, Doc: "from the eyes to the back of the head.", howto: "Soft tape beside the head, from the eyes to the back of the head."},
			{Key: "above_eyes", of: length, sign: positive, within: bounds{20, 300}, size: body.CrownAboveEyes, absent: "a published one", Source: army2012, Doc: "top of the head above the eyes.", howto: "Soft tape beside the head, from the eyes up to the top of the head."},
			{Key: "below_eyes", of: length, optional: true, sign: positive, within: bounds{20, 300}, def: "110 mm", Source: unsourced, Doc: "chin below the eyes.", howto: "Soft tape beside the head, from the eyes down to the chin."},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "100 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between the face and screen or tubes."},
		}},
		{Key: "trunk", form: "trunkSpace", absent: "assumed", Doc: "trunk with the upper arms, which moves with the back support. none to leave it out, or its measurements.", Word: &Entry{Options: []string{"assumed", "none"}, Doc: "assumed, or none to leave it out"}, instead: form{"trunkSize", "its measurements"}, Fields: []Entry{
			{Key: "breadth", of: length, sign: positive, within: bounds{100, 1200}, size: body.ShoulderBreadth, absent: "a published one", Source: army2012, Doc: "across the shoulders and upper arms.", howto: "Tape straight across the shoulders and upper arms."},
			{Key: "depth", of: length, sign: positive, within: bounds{50, 800}, size: body.BellyDepth, absent: "a published one", Source: army2012, Doc: "from the back support to the front of the belly.", howto: "Tape from the back support to the front of the belly."},
			{Key: "height", of: length, sign: positive, within: bounds{100, 1000}, absent: "below the neck by a published distance", Source: army2012, Doc: "height of the shoulders above the seat, along the back support.", howto: "Tape along the back support, from the seat up to the shoulders."},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "50 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between the trunk and screen or tubes."},
		}},
		{Key: "thighs", form: "thighSpace", absent: "assumed", Doc: "thighs and knees, which move with the seat. none to leave them out, or their measurements.", Word: &Entry{Options: []string{"assumed", "none"}, Doc: "assumed, or none to leave them out"}, instead: form{"thighSizes", "their measurements"}, Fields: []Entry{
			{Key: "thickness", of: length, sign: positive, within: bounds{30, 400}, size: body.ThighThickness, absent: "a published one", Source: army2012, Doc: "thickness of the thigh above the seat.", howto: "Tape from the seat up to the top of the thigh."},
			{Key: "length", of: length, sign: positive, within: bounds{100, 1200}, size: body.ThighLength, absent: "a published one", Source: army2012, Doc: "from the back support to the front of the knee.", howto: "Tape from the back support to the front of the knee."},
			{Key: "spacing", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "200 mm", Source: unsourced, Doc: "from the middle of one thigh to the middle of the other.", howto: "Tape from the middle of one thigh across to the middle of the other."},
			{Key: "clearance", of: length, optional: true, sign: notNegative, within: bounds{0, 1000}, def: "20 mm", Source: unsourced, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between the thighs and screen or tubes."},
		}},
	}
}

// assumedRows gives rows a default of each, a choice of this tool.
func assumedRows(rows []Entry, defaults ...string) []Entry {
	for i := range rows {
		rows[i].def, rows[i].Source = defaults[i], unsourced
	}
	return rows
}
