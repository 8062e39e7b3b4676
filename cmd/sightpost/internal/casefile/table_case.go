package casefile

// caseRows is the table of a case. Its rows are written for the person who fills the file
// in; [Entry] explains their columns.
func caseRows() []Entry {
	return []Entry{
		{Key: "sightpost", Kind: Version, Group: "case", Doc: "version of the format, 1."},
		{Key: "label", Kind: Words, Group: "case", Doc: "code that the clinic chose for this case. No names: only the code identifies the case."},
		{Key: "note", Kind: Words, Group: "case", optional: true, Doc: "anything worth keeping. Begin with | and indent the lines below it.", howto: "No names."},
		{Key: "measured", Group: "measured", Doc: "posture in which the person was measured. Other postures are predicted from it.", Fields: []Entry{
			{Key: "seat_tilt", of: angle, Ways: [2]string{"back", "forward"}, within: bounds{-90, 90}, usual: tilted(-30, 70), Doc: "seat tilt (tilt in space), backward positive. 0 if the chair does not tilt.", howto: "Inclinometer on the seat: tilt from level, backward positive. 0 if the chair does not tilt."},
			{Key: "back_angle", of: angle, within: bounds{45, 180}, usual: tilted(70, 180), Doc: "angle between seat and back support.", howto: "Goniometer or inclinometer: the angle between seat and back support, on the person's side."},
			{Key: "eyes", point: "the point midway between the eyes", Doc: "point midway between the eyes, with the seat tilted as measured.", form: "point", Fields: eyesRows()},
			{Key: "head", Doc: "angles of the head against plumb, as an inclinometer shows them.", form: "head", Fields: headRows()},
		}},
		{Key: "person", Group: "person", Doc: "what belongs to the person in every posture.", Fields: []Entry{
			{Key: "pupil_spacing", of: length, sign: positive, within: bounds{30, 90}, def: "63 mm", Source: dodgson2004, usual: usual{40, 80, 0, dodgsonRange}, Doc: "distance between the pupils. About 63 mm in adults, rarely less than 40 mm in children aged five or more.", howto: "Soft tape across the bridge of the nose: from pupil to pupil while the person looks far away."},
			{Key: "neck_to_eyes", form: "neck", Doc: "from the point about which the head nods to the point midway between the eyes, with the head upright.", Fields: []Entry{
				{Key: "forward", of: length, within: bounds{0, 300}, def: "80.5 mm", Source: army1988, usual: by(30, 150, 0), Doc: "eyes forward of the neck point.", howto: "Soft tape beside the head, from the top of the neck, where the head nods, forward to the eyes."},
				{Key: "up", of: length, within: bounds{-100, 300}, def: "75 mm", Source: army1988, usual: by(20, 150, 0), Doc: "eyes above the neck point.", howto: "Soft tape beside the head, from the top of the neck, where the head nods, up to the eyes."},
			}},
			{Key: "eyes_used", Options: []string{"both", "left", "right", "either"}, def: "both", Source: unsourced, Doc: "eyes that the tracker must see. With either, one is enough, and the one with the larger margin counts."},
			{Key: "rest_gaze", form: "restGaze", Advanced: true, absent: "a published resting gaze", Doc: "direction in which the eyes rest, relative to the head.", Fields: []Entry{
				{Key: "down", of: angle, Ways: [2]string{"down", "up"}, within: bounds{-60, 75}, usual: tilted(-60, 75), Doc: "below straight ahead of the head.", howto: "By eye: from straight ahead of the head down to where the eyes rest."},
				{Key: "left", of: angle, Ways: [2]string{"left", "right"}, within: bounds{-60, 60}, usual: tilted(-60, 60), Doc: "to the person's left of straight ahead.", howto: "By eye: from straight ahead of the head to where the eyes rest, to the person's left."},
			}},
			{Key: "gaze_range", form: "gazeRange", Doc: "how far the eyes turn in the head.", Fields: []Entry{
				{Key: "left", of: angle, sign: notNegative, within: bounds{0, 90}, def: "30.5 deg", Source: lee2019, usual: usual{0, 58, 2, lee2019Range}, Doc: "gaze range to the person's left.", howto: "How far the eyes turn to the person's left while the head is still."},
				{Key: "right", of: angle, sign: notNegative, within: bounds{0, 90}, def: "30.5 deg", Source: lee2019, usual: usual{0, 58, 2, lee2019Range}, Doc: "gaze range to the person's right.", howto: "How far the eyes turn to the person's right while the head is still."},
				{Key: "up", of: angle, sign: notNegative, within: bounds{0, 90}, def: "12.7 deg", Source: lee2019, usual: usual{0, 44, 2, lee2019Range}, Doc: "gaze range upward.", howto: "How far the eyes turn up while the head is still."},
				{Key: "down", of: angle, sign: notNegative, within: bounds{0, 90}, def: "31.1 deg", Source: lee2019, usual: usual{0, 64, 2, lee2019Range}, Doc: "gaze range downward.", howto: "How far the eyes turn down while the head is still."},
			}},
			{Key: "glasses", absent: "none", Doc: "yes if glasses are worn, or the slant of their lenses.", Word: &Entry{Kind: YesNo, Doc: "whether glasses are worn"}, instead: form{"lens", "slant of the lenses"}, Fields: []Entry{
				{Key: "lens_slant", of: angle, within: bounds{-30, 45}, def: "10 deg", Source: unsourced, usual: tilted(-30, 45), Doc: "slant of the lenses (pantoscopic tilt) from upright of the head, positive with the lower edge nearer to the face.", howto: "From the side: how far the lower edge of the lenses is nearer to the face, as an angle from upright of the head."},
			}},
			{Key: "movement", Doc: "how far the head moves about its usual place during use, each way.", Fields: []Entry{
				{Key: "forward", of: length, sign: notNegative, within: bounds{0, 500}, usual: by(0, 200, 5), Doc: "forward and backward.", howto: "Watch a few minutes of use: how far the head moves forward from its usual place, and as far back."},
				{Key: "left", of: length, sign: notNegative, within: bounds{0, 500}, usual: by(0, 200, 5), Doc: "to the left and right.", howto: "Watch a few minutes of use: how far the head moves to the left from its usual place, and as far to the right."},
				{Key: "up", of: length, sign: notNegative, within: bounds{0, 500}, usual: by(0, 200, 5), Doc: "up and down.", howto: "Watch a few minutes of use: how far the head moves up from its usual place, and as far down."},
			}},
		}},
		{Key: "body", Group: "person", Advanced: true, Doc: "space that the person's body takes up, which screen and tubes keep out of. What is left out is assumed from published dimensions.", Fields: bodyRows()},
		{Key: "chair", Group: "chair", Doc: "the chair, measured with the seat level, however it was tilted when the person was measured. For a bed, its two halves are seat and back support.", Fields: chairRows()},
		{Key: "tracker", steady: true, Group: "tracker", Doc: "the eye tracker, from its data sheet. Near, far, across and up_down bound its tracking volume, also called head box.", Fields: []Entry{
			{Key: "near", of: length, sign: positive, usual: by(150, 900, 0), Doc: "shortest distance at which the tracker works.", howto: "Data sheet: shortest operating distance, from the tracker along its optical axis."},
			{Key: "best", of: length, sign: positive, over: "near", usual: by(250, 1200, 0), Doc: "distance at which the tracker works best.", howto: "Data sheet: best operating distance, from the tracker along its optical axis."},
			{Key: "far", of: length, sign: positive, over: "best", usual: by(350, 2500, 0), Doc: "longest distance at which the tracker works.", howto: "Data sheet: longest operating distance, from the tracker along its optical axis."},
			{Key: "across", of: angle, sign: positive, below: 180, usual: tilted(10, 120), Doc: "full angle of the tracking volume (head box) from side to side.", howto: "Data sheet: full angle of view from side to side, or 2 atan(width of the head box / 2 / its distance)."},
			{Key: "up_down", of: angle, sign: positive, below: 180, usual: tilted(8, 100), Doc: "full angle of the tracking volume (head box) from bottom to top.", howto: "Data sheet: full angle of view from bottom to top, or 2 atan(height of the head box / 2 / its distance)."},
			{Key: "below", of: length, usual: by(-500, 500, 0), Doc: "tracker below the middle of the display area, negative above it.", howto: "Ruler from the middle of the display area down to the tracker; negative if it is above."},
			{Key: "in_front", of: length, usual: by(-60, 200, 0), Doc: "tracker in front of the glass, toward the viewer.", howto: "Ruler from the glass forward to the tracker."},
			{Key: "aimed_up", of: angle, within: bounds{-60, 60}, usual: tilted(-30, 45), Doc: "optical axis tilted up from square to the glass.", howto: "Data sheet: how far the tracker's optical axis is tilted up from square to the glass."},
			{Key: "gaze_limit", of: angle, sign: positive, below: 90, usual: tilted(8, 80), Doc: "gaze-angle limit: largest angle at the eye between the direction to the tracker and the direction of gaze.", howto: "Data sheet: largest gaze angle, at the eye, between the direction to the tracker and the direction of gaze."},
			{Key: "accuracy", of: angle, sign: notNegative, within: bounds{0, 20}, usual: by(0, 5, 0.05), Doc: "mean error of the measured gaze direction, at the eye.", howto: "Data sheet: accuracy, the mean angle at the eye between where the person looks and where the tracker says."},
			{Key: "precision", of: angle, sign: notNegative, within: bounds{0, 20}, usual: by(0, 5, 0), Doc: "scatter of the measured gaze direction while the eye is still, at the eye (root mean square).", howto: "Data sheet: precision, the scatter at the eye of what the tracker says while the eye is still (RMS)."},
		}},
		{Key: "screen", Group: "screen", Doc: "the screen and its housing.", Fields: []Entry{
			{Key: "display", steady: true, Doc: "size of the display area.", Fields: []Entry{
				{Key: "width", of: length, sign: positive, usual: by(100, 900, 0), Doc: "from side to side.", howto: "Ruler along the display area from side to side."},
				{Key: "height", of: length, sign: positive, usual: by(60, 600, 0), Doc: "from bottom to top.", howto: "Ruler along the display area from bottom to top."},
			}},
			{Key: "used", Advanced: true, absent: "all of it", Doc: "part of the display area that is looked at.", Fields: []Entry{
				{Key: "left", of: length, sign: notNegative, Doc: "left edge of the used part, from the left edge of the display area as the viewer sees it.", howto: "Ruler from the left edge of the display area to the left edge of the used part."},
				{Key: "right", of: length, sign: positive, over: "left", Doc: "right edge of the used part, also from the left edge of the display area.", howto: "Ruler from the left edge of the display area to the right edge of the used part."},
				{Key: "bottom", of: length, sign: notNegative, Doc: "lower edge of the used part, from the lower edge of the display area.", howto: "Ruler from the lower edge of the display area up to the lower edge of the used part."},
				{Key: "top", of: length, sign: positive, over: "bottom", Doc: "upper edge of the used part, also from the lower edge of the display area.", howto: "Ruler from the lower edge of the display area up to the upper edge of the used part."},
			}},
			{Key: "housing", steady: true, Doc: "the box around screen and tracker.", Fields: []Entry{
				{Key: "width", of: length, sign: positive, usual: by(100, 1000, 0), Doc: "from side to side.", howto: "Ruler along the housing from side to side."},
				{Key: "height", of: length, sign: positive, usual: by(70, 700, 0), Doc: "from bottom to top.", howto: "Ruler along the housing from bottom to top."},
				{Key: "depth", of: length, sign: positive, usual: by(5, 200, 0), Doc: "from the glass to the back.", howto: "Ruler from the glass to the back of the housing."},
				{Key: "below", of: length, Doc: "middle of the housing below the middle of the display area, negative above it.", howto: "Ruler from the middle of the display area down to the middle of the housing; negative if it is above."},
			}},
			{Key: "mass", of: mass, sign: positive, within: bounds{0, 50}, usual: by(0.2, 15, 0), Doc: "mass of screen, tracker and housing together.", howto: "Screen, tracker and housing together on the scales."},
			{Key: "grid", absent: "no particular one", Doc: "grid of targets that the screen must be able to show.", Fields: []Entry{
				{Key: "rows", of: number, sign: positive, within: bounds{1, 100}, whole: true, Doc: "number of rows of targets.", howto: "Count the rows of targets."},
				{Key: "columns", of: number, sign: positive, within: bounds{1, 100}, whole: true, Doc: "number of columns of targets.", howto: "Count the columns of targets."},
				{Key: "gap", of: length, sign: notNegative, within: bounds{0, 500}, def: "0 mm", Source: unsourced, usual: by(0, 60, 0), Doc: "gap between neighboring targets, where nothing is selected.", howto: "Ruler between two neighboring targets: the gap in which nothing is selected."},
			}},
			{Key: "fixed_at", steady: true, form: "fixed", Advanced: true, absent: "in its middle", Doc: "where the plate is screwed to the back of the housing.", Fields: []Entry{
				{Key: "right", of: length, Doc: "to the viewer's right of the middle of the housing, negative to the left.", howto: "Ruler on the back of the housing, from its middle to the middle of the plate, to the viewer's right."},
				{Key: "up", of: length, Doc: "above the middle of the housing, negative below it.", howto: "Ruler on the back of the housing, from its middle up to the middle of the plate."},
			}},
		}},
		{Key: "postures", Kind: List, form: "posture", Group: "postures", Least: 1, Doc: "postures in which the screen is used. The mount is set in the first that must work.", Fields: []Entry{
			{Key: "name", Kind: Words, Doc: "what this posture is called."},
			{Key: "must_work", Kind: YesNo, def: "yes", Doc: "whether the tracker must see the eyes in this posture. If not, it is only reported; collisions and loads count all the same."},
			{Key: "seat_tilt", of: angle, Ways: [2]string{"back", "forward"}, within: bounds{-90, 90}, absent: "as measured", Picture: "measured.seat_tilt", usual: tilted(-30, 70), Doc: "seat tilt (tilt in space), backward positive.", howto: "Inclinometer on the seat: tilt from level, backward positive."},
			{Key: "back_angle", of: angle, within: bounds{45, 180}, absent: "as measured", Picture: "measured.back_angle", usual: tilted(70, 180), Doc: "angle between seat and back support.", howto: "Goniometer or inclinometer: the angle between seat and back support, on the person's side."},
			{Key: "slump", of: length, Ways: [2]string{"down", "up"}, within: bounds{-500, 500}, absent: "0 mm", usual: by(-200, 200, 3), Doc: "how far trunk and head have slid down along the back support.", howto: "Tape along the back support: how far trunk and head have slid down."},
			{Key: "head", absent: "moves with the trunk", Picture: "measured.head", Doc: "angles of the head against plumb, as an inclinometer shows them in this posture.", form: "head", Fields: headRows()},
			{Key: "head_on_trunk", Advanced: true, absent: "moves with the trunk", Picture: noPicture, Doc: "angles of the head against the trunk instead: 0 with the head in line with the back support.", form: "headOnTrunk", Fields: headOnTrunkRows()},
			{Key: "eyes", absent: "predicted from the measured posture", Picture: "measured.eyes", point: "the point midway between the eyes", Doc: "point midway between the eyes, if measured in this posture too. It replaces the prediction.", form: "point", Fields: eyesRows()},
		}},
		{Key: "preferences", Group: "more", Doc: "preferences for the place of the screen.", Fields: []Entry{
			{Key: "margin", of: length, sign: notNegative, def: "0 mm", Source: unsourced, usual: by(0, 100, 3), Doc: "head-movement margin that is good enough: how far the head may move beyond its usual movement.", howto: "Decide how far the head should be able to move beyond its usual movement."},
			{Key: "face_clearance", of: length, sign: notNegative, def: "200 mm", Source: unsourced, usual: by(50, 700, 0), Doc: "least distance of the housing from the eyes.", howto: "Decide the least distance from the eyes to the housing."},
			{Key: "roll_follows", Advanced: true, Options: []string{"head", "level"}, def: "head", Source: unsourced, Doc: "what the upper edge of the screen follows: the head, or the horizontal."},
			{Key: "safety_factor", of: number, Advanced: true, within: bounds{1, 10}, def: "2", Source: unsourced, Picture: "none", Doc: "safety factor: yield strength of a tube over its stress."},
			{Key: "shock_factor", of: number, Advanced: true, within: bounds{1, 10}, def: "2", Source: unsourced, Picture: "none", Doc: "shock factor: by how much rough ground multiplies every weight. 1 for a floor without sills."},
			{Key: "rates", Advanced: true, Picture: "none", Doc: "how many mm of margin each step away from the preferred place costs.", Fields: []Entry{
				{Key: "gaze", of: number, sign: notNegative, def: "1", Source: unsourced, Doc: "mm per degree off the resting gaze."},
				{Key: "facing", of: number, sign: notNegative, def: "1", Source: unsourced, Doc: "mm per degree that the screen is turned off the line of sight."},
				{Key: "roll", of: number, sign: notNegative, def: "1", Source: unsourced, Doc: "mm per degree of roll."},
				{Key: "distance", of: number, sign: notNegative, def: "0.1", Source: unsourced, Doc: "mm per mm off the tracker's best distance."},
			}},
			{Key: "ranges", Advanced: true, Doc: "limits for the place of the screen, as the person sees it in the leading posture.", Fields: []Entry{
				{Key: "gaze_left", Kind: Span, of: angle, within: bounds{-90, 90}, def: "-60 to 60 deg", Source: unsourced, Doc: "line of sight to the person's left of straight ahead.", howto: "Decide the limits from straight ahead to the line of sight, to the person's left."},
				{Key: "gaze_down", Kind: Span, of: angle, within: bounds{-90, 90}, def: "-60 to 75 deg", Source: unsourced, Doc: "line of sight below straight ahead.", howto: "Decide the limits from straight ahead down to the line of sight."},
				{Key: "distance", Kind: Span, of: length, sign: positive, def: "150 to 1500 mm", Source: unsourced, Doc: "viewing distance, from the eyes to the middle of the display area.", howto: "Decide the limits of the viewing distance, from the eyes to the middle of the display area."},
				{Key: "facing_up", Kind: Span, of: angle, within: bounds{-80, 80}, def: "-40 to 40 deg", Source: incidence1995, Doc: "screen tilted up, off square to the line of sight.", howto: "Decide the limits of tilt, up from square to the line of sight."},
				{Key: "facing_right", Kind: Span, of: angle, within: bounds{-80, 80}, def: "-40 to 40 deg", Source: incidence1995, Doc: "screen rotated to the viewer's right, off square to the line of sight.", howto: "Decide the limits of rotation, to the viewer's right from square to the line of sight."},
				{Key: "roll", Kind: Span, of: angle, def: "-30 to 30 deg", Source: unsourced, Doc: "roll of the screen, counterclockwise as the viewer sees it.", howto: "Decide the limits of roll, counterclockwise as the viewer sees it."},
			}},
		}},
		{Key: "keep_clear", Kind: List, form: "keepClear", Group: "clear", Doc: "keep-clear zones: what screen and tubes must stay out of, with the seat tilted as measured. A zone named like an assumed one (face, trunk, left thigh, left armrest, joystick, tray) replaces it.", One: []string{"box", "capsule"}, Fields: []Entry{
			{Key: "name", Kind: Words, Doc: "what must stay clear."},
			{Key: "box", Doc: "a box.", Fields: []Entry{
				{Key: "middle", point: "the middle of the box", Doc: "middle of the box.", form: "point", Fields: pointRows()},
				{Key: "size", point: "the box", Doc: "full size of the box.", Fields: boxSizeRows()},
				{Key: "rotation", of: angle, def: "0 deg", Doc: "box rotated to the left about its upright axis.", howto: "Seen from above: how far the box is rotated to the left."},
			}},
			{Key: "capsule", Doc: "a rod with round ends. Good for limbs and tubes.", Fields: []Entry{
				{Key: "from", point: "one end of the rod's center line", Doc: "one end of the center line.", form: "point", Fields: pointRows()},
				{Key: "to", point: "the other end of the rod's center line", Doc: "other end of the center line.", form: "point", Fields: pointRows()},
				{Key: "radius", of: length, sign: notNegative, within: bounds{0, 1000}, Doc: "half the thickness.", howto: "Half the thickness of the rod."},
			}},
			{Key: "carried_by", Options: []string{"seat", "base", "floor", "table", "bed"}, Doc: "what carries it. What the seat carries tilts with the seat."},
			{Key: "seat_tilt", of: angle, Advanced: true, Ways: [2]string{"back", "forward"}, within: bounds{-90, 90}, absent: "as measured", Picture: "measured.seat_tilt", Doc: "seat tilt at which the zone was measured, if another.", howto: "Inclinometer on the seat while the zone is measured: tilt from level, backward positive."},
			{Key: "clearance", of: length, sign: notNegative, within: bounds{0, 1000}, Doc: "least clearance to screen and tubes.", howto: "Decide the least clearance between this zone and screen or tubes."},
		}},
		{Key: "mount", Group: "mount", Doc: "the mount and where it is clamped. Leave out kit and clamp to ask only for the place of the screen.", needs: [][]string{{"kit", "clamp"}, {"clamp", "side"}}, Fields: []Entry{
			{Key: "kit", steady: true, form: "kitOrPath", Picture: "none", absent: "none", Doc: "file of the kit, relative to the case's folder, or the kit itself.", Word: &Entry{Kind: Words, Doc: "file of the kit, relative to the case's folder"}, instead: form{"kit", "the kit itself"}, Fields: kitRows()},
			{Key: "carried_by", steady: true, Options: []string{"seat", "base", "floor", "table", "bed"}, def: "seat", Source: unsourced, Doc: "what the mount is clamped to. What the seat carries tilts with the seat."},
			{Key: "side", optional: true, Options: []string{"left", "right", "either"}, Doc: "side of the chair on which the mount is. With either, the clamp and its mirror image about the chair's midline are both tried."},
			{Key: "clamp", form: "clampAt", absent: "none", Doc: "where the clamp is, with the seat tilted as measured.", needs: [][]string{{"slides", "along"}, {"along", "slides"}}, Fields: []Entry{
				{Key: "at", point: "the middle of the clamp", Doc: "middle of the clamp.", form: "point", Fields: clampRows()},
				{Key: "rotation", of: angle, Advanced: true, def: "0 deg", Doc: "clamp rotated to the left. At 0 it faces forward.", howto: "Seen from above: how far the clamp is rotated to the left from facing forward."},
				{Key: "tilt", of: angle, Advanced: true, def: "0 deg", Doc: "clamp tilted backward. At 0 a post in it is upright.", howto: "Inclinometer on a post in the clamp: tilt backward from upright."},
				{Key: "roll", of: angle, Advanced: true, def: "0 deg", Doc: "clamp rolled to the person's left. At 0 a post in it is upright.", howto: "Inclinometer on a post in the clamp: roll to the person's left from upright."},
				{Key: "seat_tilt", of: angle, Advanced: true, Ways: [2]string{"back", "forward"}, within: bounds{-90, 90}, absent: "as measured", Picture: "measured.seat_tilt", Doc: "seat tilt at which the clamp was measured, if another.", howto: "Inclinometer on the seat while the clamp is measured: tilt from level, backward positive."},
				{Key: "slides", Kind: Span, of: length, within: bounds{-2000, 2000}, absent: "it does not slide", Doc: "how far the clamp can be moved along its tube, from where it was measured.", howto: "Tape along the tube: how far the clamp can be moved from there, the least and the most with \"to\" between."},
				{Key: "along", optional: true, Doc: "direction of that tube.", Word: &Entry{Options: []string{"forward", "left", "up"}, Doc: "direction of the tube"}, instead: form{"way", "direction of the tube"}, Fields: []Entry{
					{Key: "forward", of: length, Doc: "forward from one point of the tube to another.", howto: "Between two points of the tube: how far forward the second is of the first."},
					{Key: "left", of: length, Doc: "to the left, between the same two points.", howto: "Between two points of the tube: how far to the left the second is of the first."},
					{Key: "up", of: length, Doc: "up, between the same two points.", howto: "Between two points of the tube: how far the second is above the first."},
				}},
			}},
		}},
		{Key: "passage", Group: "more", optional: true, Doc: "doorway and floor that chair and mount must fit, and how the mount swings clear.", Fields: []Entry{
			{Key: "about", Kind: Words, names: swings, absent: "the tool chooses", Doc: "joint about which the mount swings clear, such as post.swing."},
			{Key: "doorway", of: length, optional: true, sign: positive, within: bounds{300, 5000}, def: "812.8 mm", Source: adaDoor, usual: by(600, 2000, 0), Doc: "clear width of the narrowest doorway. Local rules come first.", howto: "Tape across the narrowest doorway: its clear width with the door open."},
			{Key: "ground_clearance", of: length, optional: true, within: bounds{0, 500}, def: "50 mm", Source: footplates, usual: by(20, 150, 0), Doc: "how high above the floor the tubes of a mount on a chair must stay: thresholds and ramps catch what hangs lower.", howto: "The highest threshold or bump that the chair must pass, and a little more."},
			{Key: "clear_floor", form: "floor", optional: true, Doc: "clear floor space. Local rules come first.", Fields: []Entry{
				{Key: "width", of: length, sign: positive, within: bounds{300, 10000}, def: "762 mm", Source: adaFloor, usual: by(600, 5000, 0), Doc: "across the direction in which the chair faces.", howto: "Tape along the clear floor space, across the direction in which the chair faces."},
				{Key: "length", of: length, sign: positive, within: bounds{300, 10000}, def: "1219.2 mm", Source: adaFloor, usual: by(800, 6000, 0), Doc: "along the direction in which the chair faces.", howto: "Tape along the clear floor space, in the direction in which the chair faces."},
			}},
		}},
		{Key: "uncertainty", Group: "more", Advanced: true, Picture: "none", Doc: "how far measurements and settings may be off. What is left out is assumed.", Fields: uncertaintyRows()},
	}
}

// uncertaintyRows are how far the truth may be from what was measured or set.
func uncertaintyRows() []Entry {
	return []Entry{
		{Key: "eyes", Doc: "of the place of the eyes.", form: "pointUncertainty", Fields: pointUncertaintyRows()},
		{Key: "head", form: "headUncertainty", Doc: "of the angles of the head.", Fields: []Entry{
			angleOff("flexion", "chin toward the chest and away from it."),
			angleOff("rotation", "face to the left and right."),
			angleOff("lateral_flexion", "head toward either shoulder."),
		}},
		angleOff("seat_tilt", "of the seat's tilt."),
		angleOff("back_angle", "of the angle between seat and back support."),
		lengthOff("slump", "of how far trunk and head have slid down."),
		lengthOff("pupil_spacing", "of the distance between the pupils."),
		{Key: "neck_to_eyes", form: "neckUncertainty", Doc: "of the way from the neck point to the eyes.", Fields: []Entry{
			lengthOff("forward", "eyes forward of the neck point."),
			lengthOff("up", "eyes above the neck point."),
		}},
		{Key: "clamp", Doc: "of the place of the clamp, or of the screen where there is no mount.", form: "pointUncertainty", Fields: pointUncertaintyRows()},
		{Key: "settings", Kind: List, form: "settingUncertainty", Doc: "of settings, each by its name. Half a readable step either way for those left out.", One: []string{"length", "angle"}, Fields: []Entry{
			{Key: "name", Kind: Words, names: anySetting, Doc: "name of the setting, such as post.height."},
			lengthOff("length", "of a setting in mm."),
			angleOff("angle", "of a setting in degrees."),
		}},
	}
}

// pointRows are a point in chair axes: {} in a how-to is what the point of its group says.
func pointRows() []Entry {
	return []Entry{
		{Key: "forward", of: length, Ways: [2]string{"forward", "back"}, Doc: "forward of the junction of seat and back support, with the seat level; negative behind it.", howto: "Tape from the junction of seat and back support forward to {}; negative behind it."},
		{Key: "left", of: length, Ways: [2]string{"left", "right"}, Doc: "to the person's left of the chair's midline, negative to the right.", howto: "Tape from the chair's midline to {}; negative to the person's right."},
		{Key: "up", of: length, Doc: "above the floor.", howto: "Tape from the floor up to {}."},
	}
}

// boxSizeRows are the full size of a box.
func boxSizeRows() []Entry {
	return []Entry{
		{Key: "forward", of: length, sign: notNegative, Doc: "from back to front.", howto: "Tape along {} from back to front."},
		{Key: "left", of: length, sign: notNegative, Doc: "from side to side.", howto: "Tape along {} from side to side."},
		{Key: "up", of: length, sign: notNegative, Doc: "from bottom to top.", howto: "Tape along {} from bottom to top."},
	}
}

// eyesRows are the point between the eyes. In adult wheelchairs they are 1090 to 1295 mm
// above the floor (ADAAG, 1991, Fig. A3); children, beds and raised seats need more.
// The bounds are for anyone who sits or lies on a piece of furniture: choices of this tool, no source.
func eyesRows() []Entry {
	rows := usually(pointRows(), by(-500, 1000, 0), by(-300, 300, 0), by(450, 1700, 0))
	rows[2].within, rows[2].howto = bounds{300, 2500}, "Tape from the floor up to the outer corner of the eye."
	return rows
}

// clampRows are the middle of a clamp.
func clampRows() []Entry {
	return usually(pointRows(), by(-1000, 1500, 0), by(-1000, 1000, 0), by(0, 1600, 20))
}

// axisRows are an axis of the chair, of which only the side view matters.
func axisRows() []Entry {
	point := pointRows()
	return usually([]Entry{point[0], point[2]}, by(-500, 800, 0), by(100, 1000, 0))
}

func headRows() []Entry {
	return []Entry{
		{Key: "flexion", of: angle, Ways: [2]string{"flexion", "extension"}, within: bounds{-90, 90}, usual: tilted(-75, 75), Doc: "chin toward the chest, negative backward.", howto: "By eye or inclinometer: head bent from plumb. Chin toward the chest is positive."},
		{Key: "rotation", of: angle, Ways: [2]string{"left", "right"}, within: bounds{-90, 90}, usual: tilted(-75, 75), Doc: "face turned to the person's left, negative to the right.", howto: "By eye: face turned from straight ahead. To the person's left is positive."},
		{Key: "lateral_flexion", of: angle, Ways: [2]string{"left", "right"}, within: bounds{-90, 90}, usual: tilted(-75, 75), Doc: "head tilted toward the left shoulder, negative toward the right.", howto: "By eye: head tilted sideways from plumb. Toward the left shoulder is positive."},
	}
}

// headOnTrunkRows are those of a head against the back support.
func headOnTrunkRows() []Entry {
	rows := headRows()
	rows[0].howto = "Goniometer, or the inclinometer on head and on back support: head bent forward from the line of the back support."
	rows[1].howto = "By eye: face turned from straight ahead of the trunk. To the person's left is positive."
	rows[2].howto = "By eye: head tilted sideways from the line of the trunk. Toward the left shoulder is positive."
	return rows
}

func pointUncertaintyRows() []Entry {
	return []Entry{
		lengthOff("forward", "forward and backward."),
		lengthOff("left", "to the left and right."),
		lengthOff("up", "up and down."),
	}
}

func lengthOff(key, doc string) Entry { return off(key, "lengthUncertainty", doc, length, 200) }

func angleOff(key, doc string) Entry { return off(key, "angleUncertainty", doc, angle, 45) }

// off returns the group of the uncertainty of a quantity, of at most so many of its units.
func off(key, form, doc string, of *kind, most float64) Entry {
	return Entry{Key: key, form: form, optional: true, Doc: doc, One: []string{"normal", "uniform"}, Fields: []Entry{
		{Key: "normal", of: of, sign: notNegative, within: bounds{0, most}, Doc: "standard deviation: about two in three errors are within it."},
		{Key: "uniform", of: of, sign: notNegative, within: bounds{0, most}, Doc: "equally likely anywhere within this, either way."},
	}}
}
