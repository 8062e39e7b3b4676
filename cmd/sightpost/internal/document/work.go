package document

import (
	"slices"
	"strconv"
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit/refit"
)

// Step is one step of the order of work.
type Step struct {
	// What is done.
	Action string `json:"action" jsonschema:"enum=take_off,enum=fit,enum=set,enum=tighten,enum=adjust,enum=hang,enum=fine_set,enum=measure,enum=swing,enum=try"`
	// The same in plain words.
	Words Text `json:"text"`
	// Name of the setting; absent when the step is about the device or the whole
	// mount.
	Setting string `json:"setting,omitempty"`
	// What to look out for, in plain words.
	Cautions []Text `json:"cautions"`
}

// actions are the words for an action in the object, and for what is done.
var actions = map[refit.Action]struct{ key, says string }{
	refit.TakeOff:    {"take_off", "Device off the mount: one person holds it, one unfastens it."},
	refit.Fit:        {"fit", "Fit the clamp, then the other parts outward: one person holds, one tightens."},
	refit.SetAll:     {"set", "Set {all} in this order, device still off: one person holds, one loosens, sets and tightens.{roughly}"},
	refit.TightenAll: {"tighten", "Tighten every joint as its maker says and test it by hand."},
	refit.Adjust:     {"adjust", "{setting} {from} → {to}: one person holds the {load}, one {moves}; let go, read ({read}), repeat until it is right."},
	refit.Hang:       {"hang", "Hang the device: one person holds it until it is fastened and every joint holds."},
	refit.FineSet:    {"fine_set", "Fine-set {fine}, one at a time: one person holds the device, one loosens, sets and tightens; let go, read as listed, repeat until it is right."},
	refit.Measure:    {"measure", "Check by tape, every line; write down what you find."},
	refit.Swing:      {"swing", "Swing the mount to its parked position and back, a hand on the device: nothing touches, no cable pulls."},
	refit.Try:        {"try", "Try it with the person, in every posture: {eyes} tracked, every corner selected; nothing touches during {moves}; no strain."},
}

// newSteps returns steps in words, of work that leads to r.
func (r *Report) newSteps(steps []refit.Step) []Step {
	out := []Step{}
	load, fine := "device", r.numbers((*Setting).sags)
	for i, s := range steps {
		if s.Action == refit.Adjust && r.Mount.Settings[s.Setting].Told.Plate {
			if !s.Frees {
				continue // the plate is turned in one step, by whichever of the ball's settings
			}
			s = plateStep(steps[i:])
		}
		switch {
		case s.Action == refit.SetAll && len(r.Mount.Settings) == 0, s.Action == refit.FineSet && fine == "":
			continue
		case s.Action == refit.Swing && (r.SwingClear == nil || r.SwingClear.Stuck()):
			continue
		case s.Action == refit.TakeOff:
			load = "mount"
		case s.Action == refit.Hang:
			load = "device"
		}
		out = append(out, r.newStep(s, fine, load))
	}
	return out
}

// plateStep returns the steps that change a ball, the first of steps, as one.
func plateStep(steps []refit.Step) refit.Step {
	all := steps[0]
	for _, s := range steps[1:] {
		if s.Frees || s.Action != refit.Adjust {
			break
		}
		all.Cautions = append(all.Cautions[:len(all.Cautions):len(all.Cautions)], s.Cautions...)
	}
	return all
}

// plate returns tilt, rotation and roll of a plate on a ball.
func (m *Mount) plate() Text {
	var all []Text
	for i := range m.Settings {
		if t := &m.Settings[i].Told; t.Plate {
			_, what, _ := strings.Cut(t.Name, ".")
			all = append(all, Say("%s %s", what, t.Words()))
		}
	}
	return Join(", ", all...)
}

// newStep returns a step in words: fine are the numbers of the settings that are read
// under load, load is what hangs on the mount, or the mount itself.
func (r *Report) newStep(s refit.Step, fine, load string) Step {
	action := actions[s.Action]
	values := map[string]any{"fine": fine, "all": "setting 1", "eyes": "the eye in use", "moves": r.there.motions(), "roughly": "", "load": load}
	if onDevice := r.numbers((*Setting).onDevice); onDevice != "" {
		values["roughly"] = " Set " + onDevice + " roughly: what is read on the device comes later."
	}
	if r.result.Job.Scene.Person.Eyes == gaze.Both {
		values["eyes"] = "both eyes"
	}
	if n := len(r.Mount.Settings); n > 1 {
		values["all"] = "settings 1 to " + strconv.Itoa(n)
	}
	out, d := Step{Action: action.key}, dial{Joint: s.Joint}
	if s.Setting >= 0 {
		out.Setting = s.Joint.Name
		set := &r.Mount.Settings[s.Setting]
		d.sign = set.Told.dial.sign
		values["setting"], values["from"], values["to"] = settingName(s.Joint.Name), newTold(d, s.From).Words(), newTold(d, s.To).Words()
		values["moves"], values["read"] = "loosens, moves and tightens", set.Read
		switch {
		case set.Told.Plate:
			action.says = "{setting}: one person holds the {load}, one loosens, turns the plate to {to} and tightens; let go, read all three, repeat until they are right."
			values["to"] = r.Mount.plate()
		case s.Joint.Indexed:
			values["moves"] = "lifts it out of its stop, moves it and lets it into the other"
		}
	}
	out.Words, out.Cautions = fillIn(action.says, values), each(s.Cautions, d.caution)
	return out
}

// numbers returns the numbers of the settings of which something is true.
func (r *Report) numbers(of func(*Setting) bool) string {
	var numbers []string
	for i := range r.Mount.Settings {
		if of(&r.Mount.Settings[i]) {
			numbers = append(numbers, strconv.Itoa(i+1))
		}
	}
	return enumerated(numbers)
}

// sags reports whether a setting sags with the load and is set again under it, onDevice
// whether it is read on the device.
func (s *Setting) sags() bool     { return s.Final != nil || s.Told.Plate }
func (s *Setting) onDevice() bool { return s.Told.Plate || s.Final != nil && s.Final.On != "arm" }

// work returns the steps that set up the mount of r.
func (r *Report) work() Section {
	if r.Mount == nil || !r.Works {
		return Section{}
	}
	return orderOfWork(r.newSteps(refit.Setup()), true)
}

// orderOfWork lists steps.
func orderOfWork(steps []Step, full bool) Section {
	s := Section{ID: SectionWork, Title: "Order of work", Note: Say("two people; one joint loose at a time"), Full: full}
	for i, step := range steps {
		s.row(strconv.Itoa(i+1), Join(" CAUTION: ", step.Words, Join(" ", step.Cautions...)))
	}
	return s
}

// caution says what to look out for in a step about a setting.
func (d dial) caution(c refit.Caution) Text {
	sign := d.sign
	switch {
	case d.Name != "" && settingName(d.Name) == settingName(d.Part()):
		sign = Sign{"on the ball", "on the ball", ""}
	case strings.HasSuffix(d.Name, ".height"):
		sign = Sign{"up", "down", ""}
	case strings.HasSuffix(d.Name, ".extension"):
		sign = Sign{"out", "in", ""}
	}
	way := sign.Minus
	if c.High != d.Scale.Falls {
		way = sign.Plus
	}
	switch c.Kind {
	case refit.Slides:
		return Say("Once loose, it slides %s: the load pulls with %s.", way, Force(c.ForceN))
	case refit.Swings:
		return Say("Once loose, it turns %s: the load turns it with %s.", way, Torque(c.MomentNM))
	case refit.PassesFace:
		return Say("On the way the housing comes within %s of the eyes.", Length(max(c.GapMM, 0)))
	case refit.Passes:
	}
	if c.GapMM <= 0 {
		return Say("On the way the %s would touch the %s: guide it around.", settingName(c.Part), c.Zone)
	}
	return Say("On the way the %s comes within %s of the %s.", settingName(c.Part), Length(c.GapMM), c.Zone)
}

// ChangeSheet returns r as a sheet to work from: the settings that change, the steps, and
// what to check. It is nil where nothing is to be changed, or no change is enough.
func (r *Refit) ChangeSheet() *Document {
	if !r.Needed || !r.Restored || r.after == nil {
		return nil
	}
	after := r.after.Document()
	d := &Document{
		Title: "Change sheet", Label: r.Label, Works: true, Usable: true,
		Verdict: r.verdict(), Summary: r.summary(), Unmeasured: after.Unmeasured,
	}
	return d.with(
		findings(SectionReasons, "What fails as found", r.Reasons), findings(SectionWarnings, "Warnings", r.Warnings), safety(r.Cautions),
		r.after.screen(), r.changed(), orderOfWork(r.Steps, false), r.after.checks(), r.after.margins(), r.after.clearances(), r.parked(),
	)
}

// changed returns the settings that change, with their numbers on the mount and what they
// change from.
func (r *Refit) changed() Section {
	s, found := r.after.settings(), SettingsTold(r.before.result)
	rows := s.Rows
	s.Title, s.Rows, s.Lines = "Changes", nil, nil
	for i, row := range rows {
		set := &r.after.Mount.Settings[i]
		moves := func(c Change) bool { // a ball all at once
			return c.Name == set.Name || set.Told.Plate && plateBall(c.Name) == plateBall(set.Name)
		}
		if slices.ContainsFunc(r.Changes, moves) {
			row.Cells[2] = Say("%s → %s", found[i].Words(), row.Cells[2])
			s.Rows = append(s.Rows, row)
		}
	}
	s.Head = slices.Clone(s.Head)
	s.Head[2] = "from → to"
	return s
}
