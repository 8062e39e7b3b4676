package record

import (
	"fmt"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// personWords returns what of the person changed that is no number.
func personWords(before, after *fit.Job) []Change {
	eyes := [...]string{gaze.Both: "both", gaze.LeftOnly: "left", gaze.RightOnly: "right", gaze.Either: "either"}
	changes := wording(nil, "person.eyes_used", "eyes used", eyes[before.Scene.Person.Eyes], eyes[after.Scene.Person.Eyes])
	changes = wording(changes, "chair.drives", "drives the chair", yes(before.Drives), yes(after.Drives))
	need := func(j *fit.Job, name string) string {
		for _, p := range j.Postures {
			switch {
			case p.Name != name:
			case p.MustWork:
				return "must work"
			default:
				return "if it can"
			}
		}
		return ""
	}
	for _, name := range union(postureNames(before), postureNames(after)) {
		changes = wording(changes, "postures."+name, "posture "+name, need(before, name), need(after, name))
	}
	return changes
}

// yes returns a truth in words.
func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

func postureNames(j *fit.Job) []string {
	names := make([]string, 0, len(j.Postures))
	for _, p := range j.Postures {
		names = append(names, p.Name)
	}
	return names
}

// union returns the words of both lists, each once, in order.
func union(a, b []string) []string {
	seen := make(map[string]bool, len(a)+len(b))
	var all []string
	for _, list := range [][]string{a, b} {
		for _, s := range list {
			if !seen[s] {
				all = append(all, s)
			}
			seen[s] = true
		}
	}
	return all
}

// thingWords returns what of everything but the person changed that is no number.
func thingWords(before, after Assessment) []Change {
	a, b := before.Job, after.Job
	changes := wording(nil, "mount.kit", "kit", kitName(a), kitName(b))
	if len(changes) == 0 && a.Mount != nil && !reflect.DeepEqual(parts(a.Mount.Kit), parts(b.Mount.Kit)) {
		changes = wording(changes, "mount.kit", "kit", "as it was", "the same name, but not the same parts")
	}
	changes = wording(changes, "mount.side", "clamped on the", before.Record.Side, after.Record.Side)
	if a.Mount != nil && b.Mount != nil {
		p, q := before.mounting(), after.mounting()
		p.Side, q.Side = 0, 0
		if p != q {
			changes = wording(changes, "mount.clamp", "clamp", "as it was", "at another place")
		}
	}
	carrier := map[gaze.Carrier]string{gaze.Seat: "the seat", gaze.Base: "what stands still"}
	changes = wording(changes, "mount.carried_by", "mount carried by", carrier[a.Scene.Carrier], carrier[b.Scene.Carrier])
	changes = wording(changes, "screen.grid", "targets wanted", gridWords(a.Grid), gridWords(b.Grid))
	changes = wording(changes, "preferences.shock_factor", "rough ground", factor(a.Demand.ShockFactor), factor(b.Demand.ShockFactor))
	changes = wording(changes, "preferences.safety_factor", "safety of tubes", factor(a.Demand.SafetyFactor), factor(b.Demand.SafetyFactor))
	changes = wording(changes, "passage.about", "swings aside about", a.Passage.About, b.Passage.About)
	return append(changes, keepWords(a, b)...)
}

// gridWords returns a grid of targets in words; none is "".
func gridWords(g *gaze.Grid) string {
	if g == nil {
		return ""
	}
	return fmt.Sprintf("%d x %d, %g mm apart", g.Rows, g.Columns, g.GapMM)
}

// factor returns a factor in words; 0 is "".
func factor(f float64) string {
	if f == 0 {
		return ""
	}
	return fmt.Sprintf("%g times", f)
}

// keepWords returns what changed of the spaces to keep clear.
func keepWords(before, after *fit.Job) []Change {
	names := func(j *fit.Job) (all []string, by map[string]fit.KeepClear) {
		by = make(map[string]fit.KeepClear, len(j.KeepClear))
		for _, k := range j.KeepClear {
			all = append(all, k.Name)
			by[k.Name] = k
		}
		return all, by
	}
	oldNames, old := names(before)
	newNames, now := names(after)
	var changes []Change
	for _, name := range union(oldNames, newNames) {
		was, is := "as it was", "at another place or of another size"
		k, had := old[name]
		l, has := now[name]
		switch {
		case had && has && (k == l || k.Assumed && l.Assumed):
			continue // what is assumed follows what is measured, which is told
		case !had:
			was, is = "", "new"
		case !has:
			is = ""
		}
		changes = wording(changes, "keep_clear."+name, "to keep clear: "+name, was, is)
	}
	return changes
}

func kitName(j *fit.Job) string {
	if j.Mount == nil {
		return ""
	}
	return j.Mount.Kit.Name
}

// parts returns the parts of a kit without what the screen on its plate adds.
func parts(k mount.Kit) []mount.Part {
	all := slices.Clone(k.Parts)
	for i, p := range all {
		if plate, ok := p.(mount.Plate); ok {
			plate.OffsetMM, plate.CentreMM, plate.MassKG, plate.PlateKG = r3.Vec{}, r3.Vec{}, 0, 0
			all[i] = plate
		}
	}
	return all
}

// mounting returns where the mount is clamped in the assessment.
func (a Assessment) mounting() mount.Mounting { return a.Job.Mount.Mountings[a.Result.Set.Mounting] }
