package casefile

import (
	"slices"

	"sightpost/mount"
)

// kitRows is the table of a kit.
func kitRows() []Entry {
	return []Entry{
		{Key: "sightpost_kit", Kind: Version, Doc: "version of the format, 1."},
		{Key: "name", Kind: Words, Doc: "what this kit is called."},
		{Key: "note", Kind: Words, Advanced: true, optional: true, Doc: "anything worth keeping. Begin with | and indent the lines below it.", howto: "No names."},
		{Key: "rated", of: mass, sign: positive, absent: "not known", Doc: "heaviest load that the mount is rated for."},
		{Key: "parts", Kind: List, form: "part", Least: 2, Doc: "parts from the chair outward, as on the person's left side. The first is the clamp, the last the plate.", One: []string{"clamp", "post", "arm", "elbow", "bracket", "plate_joint", "ball", "plate"}, Fields: []Entry{
			part("the clamp", Entry{Key: "clamp", Doc: "holds the mount to the chair, table or bed. How far it slides there, the case says.", needs: [][]string{{"index", "index_about"}, {"index_about", "index"}}, Fields: []Entry{
				{Key: "position_step", Advanced: true, of: length, sign: positive, def: "5 mm", Doc: "finest step in which the position of the clamp along its tube can be read."},
				{Key: "position_effort", Advanced: true, of: number, sign: positive, def: "1", Doc: "effort of moving the clamp along its tube, relative to 1 for a plain clamp screw."},
				{Key: "position_slip_force", Advanced: true, of: force, sign: positive, absent: "not known", Doc: "slip force of the clamp along its tube."},
				turning("index", "one position", "positions in which the clamp can be mounted, as turns.", "clamp.index", "The angle between two positions, and in how many it can be mounted."),
				{Key: "index_about", Advanced: true, absent: "the clamp must have no index", Options: []string{"up", "left", "ahead"}, Doc: "axis of these turns, by the right-hand rule: thumb along the axis, fingers curl in the positive direction."},
				{Key: "offset", absent: "0", Doc: "from the middle of the clamp to where the next part sits.", picture: "clamp.offset", howto: "Tape from the middle of the clamp to the middle of the post.", form: "offset", Fields: offsetRows()},
			}}),
			part("", Entry{Key: "post", Doc: "a tube that runs up.", needs: tubeNeeds, Fields: append(tubeRows(),
				sliding("height", "fixed", "height of the upper end of the tube above the middle of what holds it.", "post.height", "Tape upright, not along a bend, from the middle of the clamp to the level of its upper end, at its lowest and at its highest."),
				turning("swing", "fixed", "swing: rotation of the post about its own axis, positive to the left.", "post.swing", "0 is with its first bend, or what it carries, straight ahead."),
			)}),
			part("", Entry{Key: "arm", Doc: "a tube that runs ahead.", needs: tubeNeeds, Fields: append(tubeRows(),
				sliding("extension", "fixed", "extension: outer end of the tube ahead of the middle of what holds it.", "arm.extension", "Tape straight ahead, not along a bend, from the middle of what holds it to its outer end, at its shortest and at its longest."),
				turning("twist", "fixed", "twist: rotation of the arm about its own axis, positive with its top to the right.", "arm.twist", "0 is with its first bend, or the plate, upright."),
			)}),
			part("the elbow", Entry{Key: "elbow", Doc: "a double hinge: pan about the part below it, then elevation.", Fields: []Entry{
				turning("pan", "fixed", "pan: rotation about the upright axis, positive to the left.", "elbow.pan", "0 is straight ahead."),
				turning("elevation", "fixed", "elevation of what it holds, positive up.", "elbow.elevation", "Inclinometer on what it holds, the post upright: 0 is level."),
				{Key: "pan_to_elevation", absent: "0", Doc: "from the pan axis to the elevation axis.", picture: "elbow.pan_to_elevation", howto: "Tape from the end of the part below it to the middle of the hinge.", form: "offset", Fields: offsetRows()},
				{Key: "elevation_to_end", absent: "0", Doc: "from the elevation axis to what the elbow holds.", picture: "elbow.elevation_to_end", howto: "Tape from the middle of the hinge to the middle of what holds the arm.", form: "offset", Fields: offsetRows()},
			}}),
			part("the bracket", Entry{Key: "bracket", Doc: "a fixed offset between two parts.", Fields: []Entry{
				{Key: "offset", absent: "0", Doc: "from the end of the part before it to where the next part sits.", picture: "bracket.offset", howto: "Tape along each of the three directions.", form: "offset", Fields: offsetRows()},
				{Key: "rotation", of: angle, def: "0 deg", picture: "bracket.rotation", Doc: "rotation of the next part to the left."},
				{Key: "tilt", of: angle, def: "0 deg", picture: "bracket.tilt", Doc: "tilt of the next part backward."},
				{Key: "roll", of: angle, def: "0 deg", picture: "bracket.roll", Doc: "roll of the next part to the left."},
			}}),
			part("the joint", Entry{Key: "plate_joint", form: "plateJoint", Doc: "up to three hinges before the plate.", Fields: []Entry{
				turning("pan", "fixed", "pan: face to the left seen from above, positive.", "plate_joint.pan", "0 is as the plate says by faces."),
				turning("tilt", "fixed", "tilt: face up, positive.", "plate_joint.tilt", "Inclinometer on the glass, the arm level: 0 is upright."),
				turning("roll", "fixed", "roll: picture counterclockwise for the viewer, positive.", "plate_joint.roll", "Inclinometer on the lower edge: 0 is level."),
				{Key: "pan_to_tilt", absent: "0", Doc: "from the pan axis to the tilt axis.", picture: "plate_joint.pan_to_tilt", howto: "Tape from the middle of the one hinge to the middle of the other.", form: "face", Fields: faceRows()},
				{Key: "tilt_to_roll", absent: "0", Doc: "from the tilt axis to the roll axis.", form: "face", Fields: faceRows()},
			}}),
			part("the ball and its socket", Entry{Key: "ball", Doc: "a ball joint before the plate, that tilts within a cone and spins.", Fields: []Entry{
				{Key: "cone", of: angle, sign: positive, within: bounds{0, 180}, picture: "ball.cone", Doc: "how far the stem may tip in its socket, in any direction.", howto: "Inclinometer on the plate: stem straight in its socket, then tipped as far as it goes; the difference."},
				{Key: "step", Advanced: true, of: angle, sign: positive, absent: "1 deg", Doc: "finest step in which tilt, rotation and roll of the plate can be read."},
				{Key: "effort", Advanced: true, of: number, sign: positive, def: "1", Doc: "effort of changing that angle, relative to 1 for a plain clamp screw."},
				{Key: "slip_torque", Advanced: true, of: moment, sign: positive, absent: "not known", Doc: "slip torque: moment at which it begins to slip once tightened."},
				{Key: "compliance", Advanced: true, of: angle, sign: notNegative, within: bounds{0, 10}, def: "0 deg", Doc: "compliance: rotation under load per N m. 0 for a stiff joint."},
				turning("spin", "free all round", "spin: picture counterclockwise for the viewer, positive.", "", ""),
				{Key: "stem", of: length, absent: "0 mm", picture: "ball.stem", Doc: "from the middle of the ball to the plate.", howto: "Tape from the middle of the ball to the back of the plate."},
			}}),
			part("the plate alone, without the screen", Entry{Key: "plate", Doc: "what the screen is screwed to.", Fields: []Entry{
				{Key: "faces", picture: "plate.faces", Options: []string{"back", "ahead", "left", "right"}, Doc: "where the screen faces with every setting at zero, seen from the part before the joint. Back is along an arm toward its elbow."},
				{Key: "offset", absent: "0", Doc: "from the last joint to the middle of the plate, where it touches the back of the housing.", picture: "plate.offset", howto: "Tape from the middle of the last hinge, or from the end of the ball's stem, to the face of the plate.", form: "face", Fields: faceRows()},
			}}),
		}},
	}
}

// tubeRows are what posts and arms have in common.
func tubeRows() []Entry {
	return []Entry{
		{Key: "tube", Advanced: true, Doc: "cross-section and material of the tube.", form: "section", Fields: sectionRows()},
		{Key: "total", of: length, sign: positive, absent: "not known", picture: "tube.total", usual: by(50, 3000, 0), Doc: "length of the whole tube along its center line.", howto: "Tape from end to end, flexible tape along the middle of its side where it is bent."},
		{Key: "mass", Advanced: true, of: mass, sign: positive, absent: "computed from section and material", Doc: "mass of the whole tube as weighed.", howto: "Scale, with all that is fixed to it."},
		{Key: "bends", Kind: List, Doc: "bends from the clamp outward. Without bends the tube is straight.", form: "bend", One: []string{"straight", "offset"}, Fields: bendRows()},
		{Key: "bend_radius", of: length, sign: positive, absent: "the tube must have no bends", picture: "tube.bend_radius", usual: by(15, 500, 0), Doc: "radius of every bend, to the center line of the tube.", howto: "Straight edges along the inside of both straights meet at a corner: tape from there to where the bend begins, divided by the tangent of half the angle of the bend (0.27 for 30°, 0.41 for 45°, 0.58 for 60°, 1 for 90°), plus half the outside diameter."},
		{Key: "end", of: length, sign: notNegative, absent: "0 mm", picture: "tube.end", Doc: "straight tube after the last bend. In a straight tube that cannot slide, its length."},
	}
}

var tubeNeeds = [][]string{{"mass", "total"}, {"bends", "bend_radius"}}

func sectionRows() []Entry {
	return []Entry{
		{Key: "outside", of: length, sign: positive, within: bounds{0, 200}, picture: "tube.outside", usual: by(8, 80, 0), Doc: "outside diameter.", howto: "Caliper across the tube."},
		{Key: "wall", of: length, sign: positive, within: bounds{0, 100}, picture: "tube.wall", usual: by(0.5, 20, 0), Doc: "wall thickness.", howto: "Caliper at an open end."},
		{Key: "material", Doc: "a known material, or the properties of another.", Word: &Entry{Options: materialNames(), Doc: "a known material"}, instead: form{"numbers", "properties of another material"}, Fields: []Entry{
			{Key: "name", Kind: Words, Doc: "name of the material."},
			{Key: "elastic_modulus", of: stress, sign: positive, usual: by(1e3, 5e5, 0), Doc: "modulus of elasticity, Young's modulus (stiffness in bending)."},
			{Key: "shear_modulus", of: stress, sign: positive, usual: by(300, 2e5, 0), Doc: "shear modulus (stiffness in torsion)."},
			{Key: "density", of: density, sign: positive, usual: by(700, 12000, 0), Doc: "density."},
			{Key: "yield", of: stress, sign: positive, usual: by(10, 3000, 0), Doc: "yield strength: stress at which it stays bent."},
		}},
	}
}

func bendRows() []Entry {
	return []Entry{
		{Key: "straight", of: length, sign: notNegative, picture: "bend.straight", Doc: "straight tube before the bend.", howto: "A straight edge along the tube shows a gap where a bend begins: tape from where the bend before ends to there. Before the first bend: from the near end of a tube that slides, from the middle of what holds one that does not."},
		{Key: "offset", of: length, sign: positive, Doc: "instead of straight, from the second bend on: distance of the bend's corner, where the center lines of its straights meet, from the line of the tube before the bend before it.", picture: "bend.offset", howto: "Between parallel straights: tape square across, from one side of the tube to the same side of the other straight."},
		{Key: "rotation", of: turn, picture: "bend.rotation", Doc: "rotation of the plane of the bend about the tube, from that of the bend before, clockwise looking along the tube from its near end.", howto: "0 for a first bend ahead in a post, up in an arm; 90 deg for one to the left in a post, to the right in an arm; 180 deg for a bend back."},
		{Key: "angle", of: angle, sign: positive, below: 180, picture: "bend.angle", Doc: "angle of the bend.", howto: "Inclinometer on the straight before and on the straight after; the difference."},
	}
}

// offsetRows are an offset in the axes of a part.
func offsetRows() []Entry {
	return []Entry{
		{Key: "ahead", of: length, Doc: "ahead."},
		{Key: "left", of: length, Doc: "to the left."},
		{Key: "up", of: length, Doc: "up."},
	}
}

// faceRows are an offset in the axes of the screen.
func faceRows() []Entry {
	return []Entry{
		{Key: "right", of: length, Doc: "to the viewer's right."},
		{Key: "up", of: length, Doc: "up, along the screen."},
		{Key: "toward", of: length, Doc: "toward the viewer, square to the screen."},
	}
}

// part returns the group of a part, with what all parts have in common. The mass of what is
// named is 0 unless it is given.
func part(massOf string, e Entry) Entry {
	name := Entry{Key: "name", Advanced: true, Kind: Words, pattern: partName, def: e.Key, Doc: "name of the part, if there are several of its kind."}
	if e.Key == "plate" { // of which there is one
		name.Doc = "name of the part."
	}
	e.Fields = slices.Concat([]Entry{name}, e.Fields)
	if massOf != "" {
		e.Fields = append(e.Fields, Entry{Key: "mass", Advanced: true, of: mass, sign: notNegative, def: "0 kg", Doc: "mass of " + massOf + "."})
	}
	e.Fields = append(e.Fields, Entry{Key: "rated", Advanced: true, of: mass, sign: positive, absent: "not known", Doc: "heaviest load that this part is rated for: all that it carries beyond itself."})
	return e
}

// sliding returns the group of a setting in mm.
func sliding(key, absent, doc, picture, howto string) Entry {
	return setting(Entry{Key: key, form: "slide", absent: absent, Doc: doc, picture: picture, howto: howto}, length, length,
		Entry{Key: "stops_every", Advanced: true, picture: "slide.stops_every", Doc: "distance between holes or notches, counted from the lowest setting."},
		scale("mark", length, "0 mm", []string{"rising", "falling"}, "whether its numbers rise or fall where the setting rises."),
		Entry{Key: "slip_force", Advanced: true, of: force, sign: positive, absent: "not known", Doc: "slip force: force along it at which it begins to slip once tightened."})
}

// turning returns the group of a setting in degrees.
func turning(key, absent, doc, picture, howto string) Entry {
	return setting(Entry{Key: key, form: "turn", absent: absent, Doc: doc, picture: picture, howto: howto}, turn, angle,
		Entry{Key: "stops_every", Advanced: true, picture: "turn.stops_every", Doc: "angle between stops, counted from the lowest setting."}, slices.Concat([]Entry{
			scale("protractor", turn, "0 deg", []string{"counterclockwise", "clockwise"},
				"which way its numbers rise, counterclockwise where the setting rises: seen from above for swing and pan, from the outer end for twist, by the viewer for roll, from the right for tilt and elevation, against the axis for an index."),
		}, gripRows())...)
}

// scale returns the group of what a part is marked with.
func scale(form string, of *kind, zero string, senses []string, sense string) Entry {
	return Entry{Key: "scale", Advanced: true, form: form, absent: "numbered as here", Doc: "the part's own scale, if it is numbered otherwise than here. Settings are then told and read as it shows them.", Fields: []Entry{
		{Key: "zero_at", of: of, def: zero, Doc: "setting at which the scale shows 0."},
		{Key: "sense", Options: senses, def: senses[0], Doc: sense},
	}}
}

// gripRows are how what turns behaves under load.
func gripRows() []Entry {
	return []Entry{
		{Key: "slip_torque", Advanced: true, of: moment, sign: positive, absent: "not known", Doc: "slip torque: moment at which it begins to slip once tightened."},
		{Key: "compliance", Advanced: true, of: angle, sign: notNegative, within: bounds{0, 10}, def: "0 deg", Doc: "compliance: rotation under load per N m. 0 for a stiff joint."},
	}
}

// setting fills in the group of a setting of one kind whose steps are of another.
func setting(e Entry, of, steps *kind, stops Entry, load ...Entry) Entry {
	stops.of, stops.sign = steps, positive
	e.One = []string{"step", "stops_every"}
	e.Fields = slices.Concat([]Entry{
		{Key: "from", of: of, Doc: "lowest setting."},
		{Key: "to", of: of, over: "from", Doc: "highest setting."},
		{Key: "step", Advanced: true, of: steps, sign: positive, Doc: "finest step that can be read."},
		stops,
		{Key: "preferred", Advanced: true, of: of, Doc: "preferred setting."},
	}, load, []Entry{
		{Key: "effort", Advanced: true, of: number, sign: positive, def: "1", Doc: "effort of changing it, relative to 1 for a plain clamp screw."},
		{Key: "read", Advanced: true, Kind: Words, absent: "the tool's own words", Doc: "how to read it."},
	})
	return e
}

// Material is a material that a kit may name, and where its values come from.
type Material struct {
	mount.Material
	Source string
}

// Materials are the materials that a kit may name. Moduli are independent published values:
// they need not fit each other. One that is named without its alloy is the weakest of the
// usual ones; of carbon, which breaks and does not yield, no strength is known.
var Materials = []Material{
	{mount.Material{Name: "aluminum", YoungMPa: 68900, ShearMPa: 25800, DensityKGM3: 2700, YieldMPa: 145}, "alloy 6063-T5, typical values of the Aluminum Association"},
	{mount.Material{Name: "aluminum-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}, "data sheets of suppliers"},
	{mount.Material{Name: "aluminum-6082-T6", YoungMPa: 70000, ShearMPa: 27000, DensityKGM3: 2700, YieldMPa: 250}, "EN 1999-1-1 and EN 755-2, extruded tube up to 5 mm thick, from memory"},
	{mount.Material{Name: "steel", YoungMPa: 210000, ShearMPa: 81000, DensityKGM3: 7850, YieldMPa: 235}, "S235, EN 1993-1-1, from memory"},
	{mount.Material{Name: "steel-S235", YoungMPa: 210000, ShearMPa: 81000, DensityKGM3: 7850, YieldMPa: 235}, "EN 1993-1-1, from memory"},
	{mount.Material{Name: "stainless-1.4301", YoungMPa: 193000, ShearMPa: 77000, DensityKGM3: 8000, YieldMPa: 205}, "data sheets of suppliers, the least yield strength"},
	{mount.Material{Name: "carbon-tube-70GPa", YoungMPa: 70000, ShearMPa: 5000, DensityKGM3: 1600}, "woven standard-modulus carbon in epoxy, from memory"},
	{mount.Material{Name: "carbon-tube-135GPa", YoungMPa: 135000, ShearMPa: 5000, DensityKGM3: 1600}, "standard-modulus carbon in epoxy, all fibers along the tube, from memory"},
}

// materialNames returns the names of the materials.
func materialNames() []string {
	names := make([]string, len(Materials))
	for i, m := range Materials {
		names[i] = m.Name
	}
	return names
}
