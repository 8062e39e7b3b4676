package document

import (
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// circumstances are what of a case decides which cautions apply.
type circumstances struct {
	carrier string // of the mount, in the word of the case; "" without one
	// moves says that the seat tilts, the back support reclines or the bed moves; unjudged
	// that it is not known whether the chair tips.
	moves, lies, swings, drives, glasses, unjudged bool
}

// on returns whether one of so many carries the mount.
func on(carriers ...string) func(circumstances) bool {
	return func(c circumstances) bool { return slices.Contains(carriers, c.carrier) }
}

// onChair reports whether the chair carries the mount.
func (c circumstances) onChair() bool { return on("seat", "base")(c) }

// motions says what is to be tried once the mount is set.
func (c circumstances) motions() string {
	all := []string{"reaching"}
	if c.onChair() {
		all = []string{"driving", "reaching"}
	}
	if c.carrier == "bed" {
		all[0] = "moving the bed, reaching"
	} else if c.moves {
		all = append([]string{"tilting"}, all...)
	}
	if c.swings {
		all = append(all, "swinging clear")
	}
	return enumerated(all)
}

// enumerated returns words as a sentence lists them: "one, two and three".
func enumerated(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// liesFrom is from which angle of the back support off plumb a person lies below the device.
// A choice of this tool, no source.
const liesFrom = 45 * frame.Degree

// circumstancesOf returns those of a case and its result.
func circumstancesOf(c *casefile.Case, r *fit.Result) circumstances {
	scene, first := &c.Job.Scene, c.Job.Postures[0]
	all := circumstances{
		carrier: c.CarriedBy(), swings: r.SwingClear != nil, drives: c.Job.Drives, glasses: scene.Person.Glasses != nil,
		moves: scene.Chair != (gaze.Chair{}),
	}
	all.unjudged = all.onChair() && r.Tipping == nil
	for _, p := range c.Job.Postures {
		all.moves = all.moves || p.SeatTilt != first.SeatTilt || p.BackAngle != first.BackAngle
		all.lies = all.lies || all.carrier == "bed" || p.SeatTilt+p.BackAngle-90*frame.Degree >= liesFrom
	}
	return all
}

// cautionTable holds every caution in the order of reading: what it says, when it applies,
// nil for always, and whether the short form shows it.
var cautionTable = []struct {
	says  string
	when  func(circumstances) bool
	short bool
}{
	{"A falling device injures: hold it before you loosen a joint; take it off to change a part.", nil, true},
	{"The device hangs above a person who lies: secure it a second time, as its maker approves.", func(c circumstances) bool { return c.lies }, true},
	{"Tilt and recline pinch: keep hands and knees out from between joints, screen and lap.", func(c circumstances) bool { return c.moves && on("seat")(c) }, true},
	{"The screen stays when seat or back moves: swing it clear first, or it pins the person.", func(c circumstances) bool { return c.moves && on("base", "floor", "table")(c) }, true},
	{"Bed rails, head and height move: keep the mount clear; never lower the bed onto the post.", on("bed"), true},
	{"Lock the wheels of the stand: it tips when the screen is pushed or pulled.", on("floor"), true},
	{"Whether the chair tips with the mount swung out is not judged: have someone hold the chair.", func(c circumstances) bool { return c.unjudged }, true},
	{"Drive with the screen in use only if the prescriber approves.", func(c circumstances) bool { return c.drives }, true},
	{"While the screen is parked, the person needs another way to call for help.", nil, true},
	{"A trained person who sees the user decides. Makers' instructions and local rules come first.", nil, true},

	{"A chair tips more easily with the mount swung out, on a slope, or without the person in it.", func(c circumstances) bool { return c.onChair() && c.swings }, false},
	{"Do not drive with the screen in use unless the prescriber approves.", func(c circumstances) bool { return c.onChair() && !c.drives }, false},
	{"Clamp only where the maker of the chair allows it.", on("seat", "base"), false},
	{"Clamp only where the maker of the bed allows it.", on("bed"), false},
	{"Clamp only to a table that neither tips nor slides under the load.", on("table"), false},
	{"Keep each part within its rated mass. Secure tubes against sliding out. Never force a joint.", nil, false},
	{"Tighten every joint as its maker says, test it by hand, and tighten again after the first day.", nil, false},
	{"Keep fingers out of joints that move.", nil, false},
	{"Cap the ends of tubes, cover sharp edges, and check the skin where screen or mount may touch.", nil, false},
	{"Lead cables along the tubes: slack at every joint, no loop near the neck, none that can snag.", nil, false},
	{"Charge only while neither chair, bed nor mount moves.", nil, false},
	{"Head or arms may move suddenly: leave more clearance, and pad what they could hit.", nil, false},
	{"A bump drives glasses into the face: keep the face clearance with them on.", func(c circumstances) bool { return c.glasses }, false},
	{"Show everyone who helps how to get the screen away fast, and let them try it.", nil, false},
	{"Stay with the person for the first trials.", nil, false},
	{"Keep free: leaving the chair or bed, breathing, the view ahead, a caregiver's reach.", nil, false},
	{"In a vehicle, secure or remove the mount as instructed. Check every setting after transport.", func(c circumstances) bool { return !on("bed")(c) }, false},
	{"Measure at the eyes with a soft tape beside the temple; point nothing at an eye.", nil, false},
}

// cautions returns what to observe in a case, the falling device first.
func cautions(there circumstances) []Line {
	all := []Line{}
	for _, c := range cautionTable {
		if c.when == nil || c.when(there) {
			all = append(all, Line{Say("%s", c.says), !c.short})
		}
	}
	return all
}

// safety returns cautions as a section.
func safety(all []Line) Section {
	return Section{ID: SectionSafety, Title: "Safety", Lines: all}
}
