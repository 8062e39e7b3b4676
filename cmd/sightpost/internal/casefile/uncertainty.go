package casefile

import (
	"math"
	"strings"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/variation"
)

// uncertainty returns what a case gives of a measure or a setting.
func uncertainty(n *node) variation.Uncertainty {
	if n.has("uniform") {
		return variation.Uncertainty{Kind: variation.Uniform, Size: n.size("uniform")}
	}
	return variation.Uncertainty{Size: n.size("normal")}
}

// asPart returns an uncertainty as a case would give it in a unit.
func asPart(u variation.Uncertainty, unit string) Part {
	size := u.Size
	if unit == angle.first() {
		const digits = 1e6 // leaves out what radians add
		size = math.Round(frame.Angle(size).Degrees()*digits) / digits
	}
	return Part{Name: u.Kind.String(), Value: Value{Low: size, High: size, Unit: unit}}
}

// Uncertainty returns how far the truth may be from what was measured and from the
// settings of r, a result of the case, and the assumptions made for what the case
// leaves open: those of [variation.DefaultBudget]. Of settings only those count that the
// result's mount has, so that another kit may be tried.
func (c *Case) Uncertainty(r *fit.Result) (variation.Budget, []Assumption) {
	b := variation.DefaultBudget(r)
	given := c.form.get("uncertainty")
	var open []Assumption
	for _, row := range caseTable().At("uncertainty").rows(nil) {
		path := strings.TrimPrefix(row.Path, "uncertainty.")
		name := plainKey(strings.ReplaceAll(path, ".", " "))
		into := b.Named(strings.Replace(name, "neck to eyes", "neck", 1))
		switch n := given.get(path); {
		case into == nil: // no measure
		case n != nil:
			*into = uncertainty(n)
		default:
			open = append(open, assumption(row.Path, "uncertainty of "+name, unsourced, asPart(*into, row.Fields[0].Units[0])))
		}
	}
	if r != nil && r.Set != nil && ofSettings(given.list("settings"), r.Set.Chain.Told(), b.Settings) {
		open = append(open, assumption("uncertainty.settings", "uncertainty of the settings", unsourced,
			Part{Value: Value{Word: "half a readable step either way"}}))
	}
	return b, open
}

// ofSettings puts the uncertainties of settings in their places, and reports whether
// some are left open.
func ofSettings(given []*node, moving []mount.Joint, into []variation.Uncertainty) (open bool) {
	for i, j := range moving {
		found := false
		for _, e := range given {
			if e.word("name") == j.Name && e.has("angle") == (j.Motion == mount.Turn) {
				into[i], found = uncertainty(e.part()), true
			}
		}
		open = open || !found
	}
	return open
}

// uncertaintySense reports uncertainties that cannot be meant.
func (r *reader) uncertaintySense(f *node) {
	spacing, given := f.get("person.pupil_spacing"), f.get("uncertainty")
	for _, key := range []string{"normal", "uniform"} {
		r.compare(given.get("pupil_spacing."+key), spacing, func(size, spacing float64) bool { return size <= spacing/3 }, "at most a third of the pupil spacing, %s")
	}
	r.distinct(given.list("settings"))
	for _, e := range given.list("settings") {
		if name := e.get("name"); name.ok() && !f.has(kitEntry) {
			r.senseless(name.at, "the uncertainty of a setting", "mount.kit, the mount that has it")
		}
	}
}

// settingUncertainties reports uncertainties of settings that the mount of c does not have, or
// has in the other unit.
func (r *reader) settingUncertainties(c *Case) {
	moving := c.chain().Told()
	turns := make(map[string]bool, len(moving))
	for _, j := range moving {
		turns[j.Name] = j.Motion == mount.Turn
	}
	for _, e := range c.form.list("uncertainty.settings") {
		name := e.get("name")
		turning, known := turns[name.Word]
		switch {
		case !known:
			r.unknown(name, "the unknown setting ", "one of ", c.SettingNames(name.row))
		case turning && !e.has("angle"):
			r.senseless(name.at, quoted(name.Word)+" with a length", "an angle: this setting is in degrees")
		case !turning && e.has("angle"):
			r.senseless(name.at, quoted(name.Word)+" with an angle", "a length: this setting is in mm")
		}
	}
}

// chain returns the case's own mount.
func (c *Case) chain() mount.Chain {
	chain, _ := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[0]) // SetKit has found it sound
	return chain
}

// unknown reports that a name is none of the words that are there.
func (r *reader) unknown(name *node, what, expected string, words []string) {
	r.senseless(name.at, what+quoted(name.Word), expected+strings.Join(words, ", ")).Nearest = Nearest(name.Word, words)
}
