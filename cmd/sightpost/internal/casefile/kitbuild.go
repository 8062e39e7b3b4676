package casefile

import (
	"cmp"

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
			OffsetMM: p.offset("offset"), RatedKG: ratedKG,
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
	section := t.get("tube")
	tube := mount.Tube{
		Name: t.word("name"), Runs: runs, Slide: t.setting(slide), Turn: t.setting(turn),
		Section: mount.Section{OutsideMM: section.number("outside"), WallMM: section.number("wall"), Material: material(section.get("material"))},
		Shape:   mount.Centreline{BendRadiusMM: t.number("bend_radius"), EndMM: t.number("end")},
		TotalMM: t.number("total"), RatedKG: t.number("rated"),
	}
	for _, b := range t.list("bends") {
		tube.Shape.Bends = append(tube.Shape.Bends, mount.Bend{StraightMM: b.number("straight"), Turn: b.angle("rotation"), Angle: b.angle("angle")})
	}
	return tube
}

// isSetting reports whether n is a setting of a part.
func (n *node) isSetting() bool { return n != nil && (n.row.form == "slide" || n.row.form == "turn") }

// setting returns a setting of a part, in mm or radians; none if the part does not say it.
func (n *node) setting(key string) mount.Range {
	if n = n.get(key); n == nil {
		return mount.Range{}
	}
	of := n.number
	if n.row.form == "turn" {
		of = func(key string) float64 { return n.angle(key).Radians() }
	}
	return mount.Range{
		Low: of("from"), High: of("to"), Preferred: of("preferred"),
		Step: cmp.Or(of("step"), of("stops_every")), Indexed: n.has("stops_every"),
		Stiffness: n.stiffness(), Effort: n.number("effort"), Read: n.word("read"),
	}
}

// stiffness returns how a joint behaves under load.
func (n *node) stiffness() mount.JointStiffness {
	return mount.JointStiffness{SlipLoad: cmp.Or(n.number("slip_force"), n.number("slip_torque")), Compliance: n.angle("compliance").Radians()}
}

// offset returns a move in the axes of a part.
func (n *node) offset(key string) r3.Vec { return n.xyz(key, "ahead", "left", "up") }

// inJoint returns a move in the axes of a plate joint.
func (n *node) inJoint(key string) r3.Vec { return n.xyz(key, "toward", "right", "up") }

// alloys are the materials that a kit may name. Moduli are independent published values:
// they need not fit each other.
var alloys = map[string]mount.Material{
	// Data sheets of suppliers: E 68.9 GPa, G 26.0 GPa, 2.70 g/cm³, yield 276 MPa.
	"aluminum-6061-T6": {YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276},
	// EN 1999-1-1 and EN 755-2, extruded tube up to 5 mm thick, from memory.
	"aluminum-6082-T6": {YoungMPa: 70000, ShearMPa: 27000, DensityKGM3: 2700, YieldMPa: 250},
	// Data sheets of suppliers: E 193 GPa, G 77 GPa, 8.00 g/cm³; yield 205 MPa is
	// their least, 215 MPa their usual value.
	"stainless-1.4301": {YoungMPa: 193000, ShearMPa: 77000, DensityKGM3: 8000, YieldMPa: 205},
	// EN 1993-1-1, from memory.
	"steel-S235": {YoungMPa: 210000, ShearMPa: 81000, DensityKGM3: 7850, YieldMPa: 235},
}

func material(m *node) mount.Material {
	if !m.isGroup() {
		alloy := alloys[m.Word]
		alloy.Name = m.Word
		return alloy
	}
	return mount.Material{
		Name: m.word("name"), YoungMPa: m.number("elastic_modulus"), ShearMPa: m.number("shear_modulus"),
		DensityKGM3: m.number("density"), YieldMPa: m.number("yield"),
	}
}
