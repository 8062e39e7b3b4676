package casefile

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// newKit returns the kit of a file without problems.
func newKit(k *node) mount.Kit {
	kit := mount.Kit{Name: k.word("name"), RatedKG: k.number("rated")}
	for _, p := range k.list("parts") {
		kit.Parts = append(kit.Parts, newPart(p.part()))
	}
	return kit
}

// newPart returns a part of a kit.
func newPart(p *node) mount.Part {
	name, massKG, ratedKG := p.word("name"), p.number("mass"), p.number("rated")
	switch p.row.Key {
	case "clamp":
		return mount.Clamp{
			Name: name, PositionStepMM: p.number("position_step"), PositionEffort: p.number("position_effort"),
			PositionStiffness: mount.JointStiffness{SlipLoad: p.number("position_slip_force")},
			Index:             p.setting("index"), IndexAbout: directions[p.word("index_about")],
			OffsetMM: p.offset("offset"), MassKG: massKG, RatedKG: ratedKG,
		}
	case "post":
		return newTube(p, mount.Up, "height", "swing")
	case "arm":
		return newTube(p, mount.Ahead, "extension", "twist")
	case "elbow":
		return mount.Elbow{
			Name: name, Pan: p.setting("pan"), Elevation: p.setting("elevation"),
			PanToElevationMM: p.offset("pan_to_elevation"), ElevationToEndMM: p.offset("elevation_to_end"),
			MassKG: massKG, RatedKG: ratedKG,
		}
	case "bracket":
		return mount.Bracket{Name: name, OffsetMM: p.offset("offset"), Axes: axes(p), MassKG: massKG, RatedKG: ratedKG}
	case "plate_joint":
		return mount.Turns{
			Name: name, Pan: p.setting("pan"), Tilt: p.setting("tilt"), Roll: p.setting("roll"),
			PanToTiltMM: p.inJoint("pan_to_tilt"), TiltToRollMM: p.inJoint("tilt_to_roll"),
			MassKG: massKG, RatedKG: ratedKG,
		}
	case "ball":
		return mount.Ball{
			Name: name, Cone: p.angle("cone"), Step: p.angle("step"), Effort: p.number("effort"),
			Spin: p.setting("spin"), StemMM: p.number("stem"), Stiffness: p.stiffness(),
			MassKG: massKG, RatedKG: ratedKG,
		}
	}
	return mount.Plate{Name: name, Faces: faces[p.word("faces")], OffsetMM: p.xyz("offset", "right", "up", "toward"), MassKG: massKG, RatedKG: ratedKG}
}

// What the words of a kit stand for.
var (
	directions = map[string]mount.Direction{"up": mount.Up, "left": mount.Left, "ahead": mount.Ahead}
	faces      = map[string]mount.Facing{"back": mount.FacesBack, "ahead": mount.FacesAhead, "left": mount.FacesLeft, "right": mount.FacesRight}
)

// newTube returns the tube of a post or arm with the keys of its settings.
func newTube(t *node, runs mount.Direction, slide, turn string) mount.Tube {
	tube := mount.Tube{
		Name: t.word("name"), Runs: runs, Slide: t.setting(slide), Turn: t.setting(turn),
		Section: t.section(),
		Shape:   t.shape(),
		TotalMM: t.number("total"), RatedKG: t.number("rated"),
	}
	if weighed, kg := t.number("mass"), t.tubeKG(tube.Section); weighed > 0 { // spread along the tube
		tube.Section.Material.DensityKGM3 *= weighed / kg
	}
	return tube
}

// section returns the cross-section of a tube.
func (n *node) section() mount.Section {
	n = n.get("tube")
	return mount.Section{OutsideMM: n.number("outside"), WallMM: n.number("wall"), Material: material(n.get("material"))}
}

// tubeKG returns the mass of a tube as its section, material and total make it.
func (n *node) tubeKG(s mount.Section) float64 {
	const mm3InM3 = 1e9
	return math.Pi * (s.OutsideMM - s.WallMM) * s.WallMM * n.number("total") / mm3InM3 * s.Material.DensityKGM3
}

// shape returns the center line of a tube.
func (n *node) shape() mount.Centerline {
	shape := mount.Centerline{BendRadiusMM: n.number("bend_radius"), EndMM: n.number("end")}
	for i, b := range n.list("bends") {
		shape.Bends = append(shape.Bends, mount.Bend{StraightMM: n.straight(i), Turn: b.angle("rotation"), Angle: b.angle("angle")})
	}
	return shape
}

// straight returns the straight tube before a bend (mm). Its corner is the offset o from
// the line of the straight before the bend before it, which is bent by a: d = o/sin a along
// the tube from corner to corner, of which bends of radius R by a and b take R tan(a/2) and
// R tan(b/2).
func (n *node) straight(i int) float64 {
	bend := n.list("bends")[i]
	if !bend.has("offset") || i == 0 {
		return bend.number("straight")
	}
	return bend.number("offset")/math.Sin(n.list("bends")[i-1].angle("angle").Radians()) - n.corners(i)
}

// corners returns how much of the way from the corner of the bend before a bend to its own
// is bent (mm).
func (n *node) corners(i int) float64 {
	bends := n.list("bends")
	half := func(i int) float64 { return math.Tan(bends[i].angle("angle").Radians() / 2) }
	return n.number("bend_radius") * (half(i-1) + half(i))
}

// isSetting reports whether n is a setting of a part.
func (n *node) isSetting() bool { return n != nil && (n.row.form == "slide" || n.row.form == "turn") }

// setting returns a setting of a part, in mm or radians; none if the part does not say it.
func (n *node) setting(key string) mount.Range {
	if n = n.get(key); n == nil {
		return mount.Range{}
	}
	sense := n.word("scale.sense")
	return mount.Range{
		Low: n.size("from"), High: n.size("to"), Preferred: n.size("preferred"),
		Step: cmp.Or(n.size("step"), n.size("stops_every")), Indexed: n.has("stops_every"),
		Stiffness: n.stiffness(), Effort: n.number("effort"), Read: n.word("read"),
		Scale: mount.Scale{Given: n.has("scale"), ZeroAt: n.size("scale.zero_at"), Falls: sense == "clockwise" || sense == "falling"},
	}
}

// stiffness returns how a joint behaves under load.
func (n *node) stiffness() mount.JointStiffness {
	return mount.JointStiffness{SlipLoad: cmp.Or(n.number("slip_force"), n.number("slip_torque")), Compliance: n.size("compliance")}
}

// offset returns a move in the axes of a part.
func (n *node) offset(key string) r3.Vec { return n.xyz(key, "ahead", "left", "up") }

// inJoint returns a move in the axes of a plate joint.
func (n *node) inJoint(key string) r3.Vec { return n.xyz(key, "toward", "right", "up") }

func material(m *node) mount.Material {
	if !m.isGroup() {
		return Materials[slices.IndexFunc(Materials, func(known Material) bool { return known.Name == m.Word })].Material
	}
	return mount.Material{
		Name: m.word("name"), YoungMPa: m.number("elastic_modulus"), ShearMPa: m.number("shear_modulus"),
		DensityKGM3: m.number("density"), YieldMPa: m.number("yield"),
	}
}
