package document

import (
	"context"
	"embed"
	"fmt"
	"math"
	"slices"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// Version is the version of the object: it changes when a name or a meaning of a released one does.
const Version = 2

// boundOfMount is what Report.BoundOf says of a mount.
const boundOfMount = "mount"

// Kind says which question a report answers.
type Kind string

// The kinds of report: where the screen should go and how to set the mount, or
// how well the screen is placed as the mount is set.
const (
	Solve Kind = "solve"
	Check Kind = "check"
)

// Report is everything that is known of one case.
type Report struct {
	// Version of this form.
	Version int `json:"sightpost" jsonschema:"const=2"`
	// The question that was answered: "solve" from the case to the settings,
	// "check" from the settings to the margins.
	Kind Kind `json:"kind" jsonschema:"enum=solve,enum=check"`
	// Code of the case, as the clinic chose it.
	Label string `json:"label"`
	// What was noted in the case.
	Note string `json:"note,omitempty"`
	// True when every posture that must work does and no keep-clear zone is touched.
	Works bool `json:"works"`
	// What does not work.
	Reasons []Finding `json:"reasons"`
	// What would help when it does not work.
	Remedies []Finding `json:"remedies"`
	// Least margin over the postures that must work: how far the head may still
	// move, any way, beyond its usual movement. Right in sign only when negative.
	MarginMM float64 `json:"margin_mm"`
	// What the margin does not exceed; absent where the required margin was found.
	BoundMM *float64 `json:"bound_mm,omitempty"`
	// With what it does not: "screen" is any screen, and so any settings of any mount,
	// "mount" any settings of this mount.
	BoundOf string `json:"bound_of,omitempty" jsonschema:"enum=screen,enum=mount"`
	// Name of the posture with the least margin.
	LimitingPosture string `json:"limiting_posture"`
	// The limiting condition, in plain words.
	Limiting string `json:"limiting"`
	// Where the screen should be; absent from a check.
	Target *Target `json:"target,omitempty"`
	// Every posture of the case, in its order.
	Postures []Posture `json:"postures"`
	// The mount and its settings; absent when the case has no mount.
	Mount *Mount `json:"mount,omitempty"`
	// What to measure once all is set and the device hangs.
	Tape Tape `json:"check_by_tape"`
	// Clearances of the keep-clear zones, each in the posture in which it is least.
	Clearances []Clearance `json:"clearances"`
	// Ground clearance of the mount's tubes, their middle lines, also with the seat level;
	// absent unless a chair carries it.
	Ground *Clearance `json:"ground,omitempty"`
	// Keep-clear zones that hold the screen back from where it would best be, the
	// one most in the way first; empty in a check.
	Obstacles []Obstacle `json:"obstacles"`
	// What weight does to the mount; absent without a mount.
	Load *Load `json:"load,omitempty"`
	// How the mount swings clear; absent when there is none, or none of its joints
	// swings it.
	SwingClear *SwingClear `json:"swing_clear,omitempty"`
	// How near the mount comes to tipping the chair at the worst; absent when the case does
	// not say where the wheels are.
	Tipping *Tipping `json:"tipping,omitempty"`
	// The grid of targets that is requested; absent when none is.
	Grid *Grid `json:"grid,omitempty"`
	// Values that were taken for lack of a measurement.
	Assumptions []casefile.Assumption `json:"assumptions"`
	// What needs attention in this case.
	Warnings []Finding `json:"warnings"`
	// What to observe in this case.
	Cautions []Line `json:"cautions"`

	// Planned says that the settings checked are not on the mount yet.
	Planned bool `json:"-"`

	result *fit.Result
	there  circumstances
}

// New returns the report of kind k on the result r of case c. The error is that of ctx, or says
// that the settings of the result do not fit its chain, which no result of package
// fit's does.
func New(ctx context.Context, k Kind, c *casefile.Case, r *fit.Result) (*Report, error) {
	rep := newReport(k, c, r)
	if rep.Mount != nil {
		if err := rep.Mount.addSettings(ctx, r); err != nil {
			return nil, fmt.Errorf("document: %s: %w", c.Label, err)
		}
	}
	rep.Tape, rep.Remedies = newTape(r), rep.remedies()
	return rep, nil
}

// newReport returns the report without settings, checks by tape and remedies, which take
// longer than all the rest.
func newReport(k Kind, c *casefile.Case, r *fit.Result) *Report {
	job := r.Job
	tight, there := &r.Postures[r.LimitingPosture], circumstancesOf(c, r)
	rep := &Report{
		Version: Version, Kind: k, Label: c.Label, Note: c.Note, Works: r.Works, Reasons: reasons(r),
		MarginMM: plain(tight.MarginMM), LimitingPosture: tight.Posture.Name, Limiting: tight.Limiting().String(),
		Postures:   each(r.Postures, func(p fit.PostureResult) Posture { return newPosture(job, &p) }),
		Clearances: newClearances(r), Ground: newGround(r, there), Obstacles: newObstacles(r), Load: newLoad(r), SwingClear: newSwingClear(r), Tipping: newTipping(r),
		Grid: (*Grid)(job.Grid), Assumptions: listed(c.Assumptions), Cautions: cautions(there),
		result: r, there: there,
	}
	if k == Solve {
		rep.Target = newTarget(r)
	}
	if b := r.Bound; b != nil && !math.IsInf(b.MM, 0) {
		rep.BoundMM, rep.BoundOf = new(plain(b.MM)), "screen"
		if b.OfMount {
			rep.BoundOf = boundOfMount
		}
	}
	if r.Set != nil {
		rep.Mount = newMount(c, r)
	}
	rep.Warnings = append(append(unlikely(c), rep.warnings(c.Warnings)...), sinceBefore(c)...)
	return rep
}

// each returns what of makes of every one; an empty list, which JSON shows as one, of none.
func each[From, To any](all []From, of func(From) To) []To {
	to := make([]To, len(all))
	for i := range all {
		to[i] = of(all[i])
	}
	return to
}

// listed returns all of them; an empty list, which JSON shows as one, of none.
func listed[T any](all []T) []T { return append([]T{}, all...) }

// leading returns the place of the posture in which the mount is set: the first
// that must work.
func leading(job *fit.Job) int { return max(job.Leading(), 0) }

// Lead returns the posture in which the mount is set and measured.
func (r *Report) Lead() *Posture { return &r.Postures[leading(r.result.Job)] }

// requiredMM returns the margin that counts as good enough.
func (r *Report) requiredMM() float64 { return r.result.Job.Preferences.MarginMM }

// plain returns v without the sign of a negative zero, which JSON would show.
func plain(v float64) float64 {
	if v == 0 {
		return 0
	}
	return v
}

// degreesOf returns an angle as the object shows it.
func degreesOf(a frame.Angle) float64 { return plain(a.Degrees()) }

// Finding is something that fails, that would help, or that needs attention.
type Finding struct {
	// What kind of finding it is.
	Kind string `json:"kind"`
	// Name of the posture concerned, if any.
	Posture string `json:"posture,omitempty"`
	// The part of the mount, the setting, the entry of the case, or "housing", if any.
	Part string `json:"part,omitempty"`
	// Name of the keep-clear zone, if any.
	Zone string `json:"zone,omitempty"`
	// Its numbers, by name and unit.
	Values map[string]float64 `json:"values,omitempty"`
	// The same in words, lengths in mm.
	Text Text `json:"text"`
}

// found returns a finding.
func found(kind, format string, args ...any) Finding {
	return Finding{Kind: kind, Text: Say(format, args...)}
}

// The schemas are made from the types of this package; TestSchema says how.
//
//go:embed schema*.json
var schemas embed.FS

// Schema returns the JSON Schema of an object of this package: of a "result", which is a
// [Report], of "vary", "refit", "match", "records" or "comparison". The error says that
// there is no such object.
func Schema(object string) ([]byte, error) { return schemas.ReadFile("schema-" + object + ".json") }

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
	"in_front_of_device": "mount.kit", "in_housing": "mount.kit", "tipping": "chair.stability", "comfort": "preferences", "off_target": "mount.kit", "gaze_down": "person.rest_gaze", "incidence": "preferences",
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
