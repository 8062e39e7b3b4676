package document

import (
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit"
)

// Item is a line of the summary of a result.
type Item struct {
	Title string
	Texts []Text // each a sentence or more
	// Fails says that it is a reason why the case does not work, Warns that it needs
	// attention.
	Fails, Warns bool
	// Entry of the case where the work on it goes on: a path, of a list without a number;
	// "" where that is no entry.
	Entry string
}

// Brief returns verdict and summary of the document of r, in its order, as far as they take
// no time to find: what fails, warnings, then a point each for margin, clearances, weight,
// swing, targets and what was assumed.
func Brief(k Kind, c *casefile.Case, r *fit.Result) (verdict Text, items []Item) {
	rep := newReport(k, c, r)
	verdict = rep.verdict()
	if k == Check {
		verdict = Say("With the settings as found: %s", verdict)
	}
	items = append(items, Item{Title: "Margin", Texts: []Text{rep.headroom()}})
	for _, f := range rep.Reasons {
		items = append(items, Item{Title: "Fails", Texts: []Text{f.Text}, Fails: true, Entry: f.entry()})
	}
	for _, f := range rep.Warnings {
		items = append(items, Item{Title: "Warning", Texts: []Text{f.Text}, Warns: true, Entry: f.entry()})
	}
	for _, s := range []Section{rep.clearances(), rep.weight(), rep.parked(), rep.targets()} {
		if s = s.Short(); !s.Empty() && (s.ID != SectionClearances || !rep.touches()) {
			items = append(items, Item{Title: s.Title, Texts: each(s.Lines, func(l Line) Text { return l.Text }), Entry: sectionEntries[s.ID]})
		}
	}
	if assumed := rep.unmeasured(); !assumed.Empty() {
		items = append(items, Item{Title: "Assumed", Texts: []Text{Say("%s.", assumed.Lines[0].Text)}, Entry: rep.firstUnmeasured()})
	}
	return verdict, items
}

// firstUnmeasured returns the first entry of those that were not measured.
func (r *Report) firstUnmeasured() string {
	at := slices.IndexFunc(r.Assumptions, func(a casefile.Assumption) bool { return !chosen(a.Key) })
	return r.Assumptions[max(at, 0)].Key
}

// touches reports whether a reason says already what comes too near.
func (r *Report) touches() bool {
	return slices.ContainsFunc(r.Reasons, func(f Finding) bool { return f.Kind == reasonKinds[fit.TooClose].name })
}

// sectionEntries are the entries of a case that sections are about.
var sectionEntries = map[ID]string{
	SectionClearances: "keep_clear", SectionWeight: "screen.mass", SectionParked: "passage", SectionTargets: "screen.grid",
}

// findingEntries are the entries of a case where the work on a finding goes on, by its kind.
var findingEntries = map[string]string{
	"not_tracking": "postures", "margin_short": "preferences.margin", "too_close": "keep_clear", "face_too_close": "preferences.face_clearance",
	"out_of_range": "preferences", "device_too_heavy": "screen.mass",
	"differs": "measured", "case": "measured",
	"in_front_of_device": "mount.kit", "in_housing": "mount.kit", "tipping": "chair.stability", "comfort": "preferences", "gaze_down": "person.rest_gaze", "incidence": "preferences",
	"targets_small": "screen.grid", "glare": "person.glasses", "view_hidden": "chair.drives",
	"cannot_swing": "keep_clear", "stays_in_transfer": "passage", "transfer_narrow": "passage",
	"passage": "passage",
}

// entry returns the entry of the case where the work on f goes on; of what is about the
// mount alone, that is its kit.
func (f *Finding) entry() string {
	if f.Kind == unlikelyKind || f.Kind == carriedKind {
		return f.Part
	}
	if at := findingEntries[f.Kind]; at != "" {
		return at
	}
	return "mount.kit"
}
