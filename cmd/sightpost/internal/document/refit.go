package document

import (
	"context"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/mount/fit/refit"
	"sightpost/plots/units"
)

// Refit is what to change on a mount after the person's sitting has changed.
type Refit struct {
	// Version of this form.
	Version int `json:"sightpost" jsonschema:"const=2"`
	// The question that was answered: "refit".
	Kind Kind `json:"kind" jsonschema:"const=refit"`
	// Code of the case, as the clinic chose it.
	Label string `json:"label"`
	// The margin to restore, and where it comes from: what was asked for or the case
	// prefers, what the mount had before, or a full re-setup that gives no more.
	RequiredMM   float64 `json:"required_mm"`
	RequiredFrom string  `json:"required_from" jsonschema:"enum=given,enum=before,enum=full_setup"`
	// What needs attention with the changes made or, where these do not restore the margin,
	// as found.
	Warnings []Finding `json:"warnings"`
	// True when something has to be changed.
	Needed bool `json:"needed"`
	// True when the margin is as required once the changes are made, or without any.
	Restored bool `json:"restored"`
	// Least margin of the postures that must work, with the settings as found.
	MarginMM float64 `json:"margin_mm"`
	// The same with the changes made.
	AfterMM float64 `json:"after_mm"`
	// What does not work with the settings as found.
	Reasons []Finding `json:"reasons"`
	// What still does not work with the changes made.
	Left []Finding `json:"left"`
	// What would help when the margin cannot be restored.
	Remedies []Finding `json:"remedies"`
	// The result in every posture with the settings as found.
	Losses []Loss `json:"losses"`
	// The settings as found, from the clamp outward.
	Settings []SettingValue `json:"settings"`
	// The settings to change, from the clamp outward. When the margin cannot be
	// restored they lead to the best there is.
	Changes []Change `json:"changes"`
	// The same as a person makes them: of a ball tilt, rotation and roll of its plate.
	Told []ToldChange `json:"as_read"`
	// Sum of the efforts of the changes, a ball counted once.
	Effort float64 `json:"effort"`
	// The changes in the order in which to make them.
	Steps []Step `json:"steps"`
	// Why nothing cheaper is enough.
	Tried []Attempt `json:"tried"`
	// A full re-setup of the mount, for comparison.
	FullSetup FullSetup `json:"full_setup"`
	// What to observe in this case.
	Cautions []Line `json:"cautions"`

	before, after *Report // as found, without its settings, and with the changes made; nil without any
	spoils        string  // see [Report.spoils], of the state of the warnings
}

// Loss is the result in a posture with the settings as found.
type Loss struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// True when the case cannot do without this posture.
	MustWork bool `json:"must_work"`
	// Its margin now.
	MarginMM float64 `json:"margin_mm"`
	// Its margin before the change; absent when that is not known.
	BeforeMM *float64 `json:"before_mm,omitempty"`
	// The conditions with the least margin now, the limiting one first.
	Limiting []Stop `json:"limiting"`
}

// Stop is a condition and its margin.
type Stop struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// The condition, in plain words.
	Condition string `json:"condition"`
	// Its margin.
	MarginMM float64 `json:"margin_mm"`
}

// Change is a setting that is moved.
type Change struct {
	Moved
	// Effort of moving it.
	Effort float64 `json:"effort"`
}

// Attempt is a set of settings that is not enough.
type Attempt struct {
	// The settings that may be moved, the others as found.
	Settings []string `json:"settings"`
	// Sum of their efforts, a ball counted once.
	Effort float64 `json:"effort"`
	// The best margin that they can give.
	MarginMM float64 `json:"margin_mm"`
	// True when they would do if they could be set more finely than they can be
	// read.
	Unreadable bool `json:"unreadable"`
	// What limits them there, the limiting condition first.
	Against []Stop `json:"against"`
	// What could not be kept, in plain words; absent when all is.
	Kept Text `json:"kept,omitzero"`
	// Those of the settings that are at the end of their range.
	AtLimit []string `json:"at_limit"`
}

// FullSetup is a full re-setup of the mount.
type FullSetup struct {
	// True when every posture that must work does.
	Works bool `json:"works"`
	// Least margin of the postures that must work.
	MarginMM float64 `json:"margin_mm"`
	// What would have to be changed to get there.
	Changes []Change `json:"changes"`
	// The same as a person changes it.
	Told []ToldChange `json:"as_read"`
	// Sum of the efforts of the changes, a ball counted once.
	Effort float64 `json:"effort"`
}

// NewRefit returns the object for plan p of case c. The error is that of [New].
func NewRefit(ctx context.Context, c *casefile.Case, p *refit.Plan) (*Refit, error) {
	then := p.After
	if !p.Restored {
		then = p.Current
	}
	state := newReport(Check, c, then)
	r := &Refit{
		Version: Version, Kind: "refit", Label: c.Label,
		RequiredMM: plain(p.RequiredMM), RequiredFrom: origins[p.From], Warnings: state.Warnings, spoils: state.spoils(),
		Needed: p.Needed, Restored: p.Restored,
		MarginMM: plain(p.Current.MarginMM()), AfterMM: plain(p.After.MarginMM()),
		Reasons: reasons(p.Current), Left: reasons(p.After), Remedies: []Finding{},
		Losses: newLosses(p), Settings: newSettingValues(p.Current),
		Changes: each(p.Changes, newChange), Told: toldPlan(p, p.After, p.Changes), Effort: p.Effort,
		Steps: []Step{}, Tried: each(p.Tried, func(a refit.Attempt) Attempt { return newAttempt(p.Current, a) }),
		FullSetup: FullSetup{
			Works: p.FullSetup.Result.Works, MarginMM: plain(p.FullSetup.Result.MarginMM()),
			Changes: each(p.FullSetup.Changes, newChange), Told: toldPlan(p, p.FullSetup.Result, p.FullSetup.Changes),
			Effort: p.FullSetup.Effort,
		},
		Cautions: state.Cautions,
	}
	if len(p.Steps) > 0 {
		after, err := New(ctx, Check, c, p.After)
		if err != nil {
			return nil, err
		}
		r.before, r.after = newReport(Check, c, p.Current), after
		r.after.Planned = true
		r.Steps = r.after.newSteps(p.Steps)
	}
	if !p.Restored {
		r.Remedies = newReport(Solve, c, p.FullSetup.Result).remedies()
	}
	return r, nil
}

func newLosses(p *refit.Plan) []Loss {
	out := make([]Loss, len(p.Losses))
	for i, l := range p.Losses {
		out[i] = Loss{
			Posture: l.Posture, MustWork: p.Current.Postures[i].Posture.MustWork, MarginMM: plain(l.MarginMM), BeforeMM: l.BeforeMM,
			Limiting: each(l.Limiting, func(m gaze.ConditionMargin) Stop { return newStop(l.Posture, m) }),
		}
	}
	return out
}

func newStop(posture string, m gaze.ConditionMargin) Stop {
	return Stop{Posture: posture, Condition: m.Condition.String(), MarginMM: plain(m.MM)}
}

func newChange(c refit.Change) Change {
	return Change{Moved: newMoved(c.Joint, c.From, c.To), Effort: c.Joint.Effort}
}

// toldPlan returns changes from the settings as found to those of a result, as a person makes
// them.
func toldPlan(p *refit.Plan, to *fit.Result, changes []refit.Change) []ToldChange {
	return toldChanges(SettingsTold(p.Current), SettingsTold(to), func(i int) bool {
		return slices.ContainsFunc(changes, func(c refit.Change) bool { return c.Setting == i })
	})
}

func newAttempt(r *fit.Result, a refit.Attempt) Attempt {
	moving := r.Set.Chain.Moving()
	return Attempt{
		Settings: each(a.Settings, func(i int) string { return moving[i].Name }), Effort: a.Effort,
		MarginMM: plain(a.MarginMM), Unreadable: a.Unreadable, Kept: missedWords(r, a.Missed),
		Against: each(a.Against, func(s refit.PostureMargin) Stop { return newStop(s.Posture, s.Margin) }),
		AtLimit: a.AtLimit,
	}
}

// Document returns r in words.
func (r *Refit) Document() *Document {
	d := &Document{Label: r.Label, Works: r.Restored, Verdict: r.verdict(), Summary: r.summary()}
	title := "Changes"
	var care, work, checks, parked Section
	if len(r.Steps) > 0 {
		care = safety(r.Cautions)
	}
	if !r.Restored {
		title = "Closest settings found: DO NOT USE"
	} else if work = orderOfWork(r.Steps, false); r.after != nil {
		checks, parked = r.after.checks(), r.parked()
	}
	return d.with(
		findings(SectionReasons, "What fails as found", r.Reasons),
		findings("", "What still fails after the changes", r.Left),
		findings(SectionRemedies, "What would help", r.Remedies),
		findings(SectionWarnings, "Warnings", r.Warnings),
		care, changes(title, r.Told), work, checks, parked, r.losses(), r.tried(), r.fullSetup(),
	)
}

// verdict says what has to be done.
func (r *Refit) verdict() Text {
	switch {
	case !r.Needed:
		return Say("Nothing to change.%s", r.spoils)
	case r.Restored:
		return Say("Change %s.%s", settingNames(r.Told), r.spoils)
	}
	return Say("No change of settings restores the margin. DO NOT USE the closest settings found.%s", r.spoils)
}

func (r *Refit) summary() Text {
	then := Say(",")
	switch {
	case r.Needed && r.Restored:
		then = Say("; after the changes: %s;", Margin(r.AfterMM))
	case r.Needed:
		then = Say("; at best: %s;", Margin(r.AfterMM))
	}
	return Say("Head-movement margin with the settings as found: %s%s required %s%s.", Margin(r.MarginMM), then, Length(r.RequiredMM), originWords[r.RequiredFrom])
}

// origins are where a margin to restore comes from, in the words of the object, and
// originWords those of the summary.
var (
	origins     = [...]string{refit.FromCase: "given", refit.FromBefore: "before", refit.FromFullSetup: "full_setup"}
	originWords = map[string]string{"before": ", as before, rounded down", "full_setup": ", as much as a full re-setup gives"}
)

// plateBall returns the name of the ball that turns a plate, in words.
func plateBall(told string) string {
	part, _, _ := strings.Cut(told, ".")
	return settingName(part)
}

// settingNames returns the names of the settings that change.
func settingNames(changes []ToldChange) string {
	names := slices.Compact(each(changes, func(c ToldChange) string {
		if c.Plate {
			return plateBall(c.Name)
		}
		return settingName(c.Name)
	}))
	return enumerated(names)
}

// changes lists settings from and to.
func changes(title string, all []ToldChange) Section {
	s := Section{Title: title, Note: Say("from the clamp outward"), Head: []string{"setting", "from", "to"}}
	for _, c := range all {
		s.row(settingName(c.Name), c.before(), c.Words())
	}
	return s
}

// parked says where the mount is parked with the changes made, and where it was.
func (r *Refit) parked() Section {
	s := r.after.parked()
	if was := r.before.SwingClear.parkedAt(); !was.Empty() && was.In(units.MM) != r.after.SwingClear.parkedAt().In(units.MM) {
		s.say("CHANGED: until now it was parked at %s. Tell everyone who helps.", was)
	}
	return s
}

// losses lists what the change of sitting has cost.
func (r *Refit) losses() Section {
	s := Section{ID: SectionMargins, Title: "Head-movement margin as found", Head: []string{"posture", "", "now", "before", "limiting condition"}}
	for _, l := range r.Losses {
		before := Text{}
		if l.BeforeMM != nil {
			before = Say("%s", Margin(*l.BeforeMM))
		}
		limiting := ""
		if len(l.Limiting) > 0 {
			limiting = l.Limiting[0].Condition
		}
		s.row(l.Posture, need(l.MustWork), Margin(l.MarginMM), before, limiting)
		s.full("%s: %s.", l.Posture, stops(l.Limiting, false))
	}
	if len(r.Losses) > 0 && r.Losses[0].BeforeMM == nil {
		s.Head[3] = ""
	}
	return s
}

// stops lists conditions with their margins.
func stops(all []Stop, posture bool) Text {
	list := make([]Text, len(all))
	for i, s := range all {
		list[i] = Say("%s (%s)", s.Condition, Margin(s.MarginMM))
		if posture {
			list[i] = Say("%s, %s", s.Posture, list[i])
		}
	}
	return Join("; ", list...)
}

// tried says why nothing cheaper is enough.
func (r *Refit) tried() Section {
	s := Section{Title: "Cheaper changes are not enough", Note: Say("every cheaper change is part of one of these; margin at best"), Full: true}
	for _, a := range r.Tried {
		parts := []Text{Say("%s: %s", settingWords(a.Settings), Margin(a.MarginMM))}
		switch {
		case a.Unreadable:
			parts[0] = Say("%s at readable values", parts[0])
		case !a.Kept.Empty():
			parts = append(parts, Say("cannot keep the %s", a.Kept))
		}
		if len(a.Against) > 0 {
			parts = append(parts, Say("limited by %s", stops(a.Against, true)))
		}
		if len(a.AtLimit) > 0 {
			parts = append(parts, Say("at the end of the range: %s", settingWords(a.AtLimit)))
		}
		s.line(Say("%s.", Join("; ", parts...)))
	}
	return s
}

// settingWords returns names of settings in words, that of a ball once.
func settingWords(names []string) string {
	return strings.Join(slices.Compact(each(names, settingName)), ", ")
}

// fullSetup says what a full re-setup would bring.
func (r *Refit) fullSetup() Section {
	s := changes("Full re-setup instead", r.FullSetup.Told)
	s.Note = Text{}
	for i := range s.Rows {
		s.Rows[i].Full = true
	}
	if len(r.FullSetup.Changes) == 0 {
		s.say("The settings as found are the best there are: margin %s.", Margin(r.FullSetup.MarginMM))
		return s
	}
	enough := ""
	if !r.FullSetup.Works {
		enough = ": not enough"
	}
	s.say("%s to change, margin then %s%s.", count(len(r.FullSetup.Changes), "setting"), Margin(r.FullSetup.MarginMM), enough)
	return s
}
