package document

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/plots/units"
)

// Mount is a mount and how it is set.
type Mount struct {
	// Name of the kit.
	Kit string `json:"kit"`
	// Where the case has the kit from: a file, or "in place".
	KitFile string `json:"kit_file"`
	// What was noted in the kit.
	KitNote string `json:"kit_note,omitempty"`
	// Side of the chair on which it is clamped, the person's own.
	Side string `json:"side" jsonschema:"enum=left,enum=right"`
	// What the mount carries at its plate.
	LoadKG float64 `json:"load_kg"`
	// Heaviest load the kit is made for; 0 when it is not known.
	RatedKG float64 `json:"rated_kg"`
	// True when the settings before rounding bring the screen to the target; always
	// true in a check, which has no target.
	Reached bool `json:"reached"`
	// Distance of the screen's middle from the target at the rounded settings.
	OffMM float64 `json:"off_mm"`
	// Angle by which the screen is turned off the target at the rounded settings.
	OffDeg float64 `json:"off_deg"`
	// The settings, in the order of work: from the clamp outward.
	Settings []Setting `json:"settings"`
	// Limits that hold the screen back from the target, most costly first.
	BindingLimits []BindingLimit `json:"binding_limits"`
	// The joints whose product is the pose of the screen.
	Chain Chain `json:"chain"`
}

// Setting is one number that the mount is set to.
type Setting struct {
	SettingValue
	// The value before it was rounded to what can be read off; absent from a check.
	Exact *float64 `json:"exact,omitempty"`
	// Lowest possible value.
	Low float64 `json:"low"`
	// Highest possible value.
	High float64 `json:"high"`
	// Finest step that can be read off, or the distance of the stops.
	Step float64 `json:"step"`
	// True when it can only be set at stops: low, low + step and so on.
	Indexed bool `json:"indexed"`
	// How to read it.
	Read Text `json:"read"`
	// What an inclinometer reads once all is set; absent for what is read otherwise.
	Final *Final `json:"final_reading,omitempty"`
	// How far it may be off.
	Tolerance Tolerance `json:"tolerance"`
	// How far it may be off as it is read on the mount, all others as read; absent without a ball. Where a
	// setting has a scale, that is not counted in.
	ToldTolerance *Tolerance `json:"tolerance_as_read,omitempty"`
}

// BindingLimit is a limit that holds the screen back.
type BindingLimit struct {
	// Name of the setting.
	Setting string `json:"setting"`
	// Unit of the other numbers.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// Which limit it is at.
	Limit string `json:"limit" jsonschema:"enum=low,enum=high"`
	// Where that limit is.
	At float64 `json:"at"`
	// How much further the setting would have to go.
	Need float64 `json:"need"`
	// What the score would gain.
	GainMM float64 `json:"gain_mm"`
}

// Chain is the mount as elementary joints: starting from the carrier's axes, go
// to each joint's origin and make its motion, then go to the tip. The product is
// the pose of the screen in the carrier's axes if nothing weighed anything; in front
// of it, a posture's chair_from_carrier gives that pose in chair axes, and in front
// of both its sag's motion gives the screen as it is reported.
type Chain struct {
	// The joints, from the carrier outward.
	Joints []Joint `json:"joints"`
	// From the last joint's moved frame to the screen: x right, y up, z toward the
	// viewer, the origin in the middle of the display area.
	Tip Pose `json:"tip"`
}

// Joint is one elementary joint.
type Joint struct {
	// Part, dot, what moves.
	Name string `json:"name"`
	// What it can do: nothing, move along its axis, or turn about it by the
	// right-hand rule.
	Motion string `json:"motion" jsonschema:"enum=fixed,enum=slide,enum=turn"`
	// This joint's frame in the moved frame of the joint before.
	Origin Pose `json:"origin"`
	// Unit vector in this joint's frame; absent when fixed.
	Axis *[3]float64 `json:"axis,omitempty"`
	// Unit of the value; absent when fixed.
	Unit string `json:"unit,omitempty" jsonschema:"enum=mm,enum=deg"`
	// How far it is moved; absent when fixed.
	Value *float64 `json:"value,omitempty"`
}

// newMount returns the mount of r without its settings.
func newMount(c *casefile.Case, r *fit.Result) *Mount {
	set := r.Set
	m := &Mount{
		KitFile: c.KitName, KitNote: c.KitNote, Side: set.Side.String(), LoadKG: set.LoadKG,
		Reached: set.Reached || set.Exact == nil, OffMM: plain(set.OffMM), OffDeg: degreesOf(set.Off),
		BindingLimits: each(set.BindingLimits, newBindingLimit), Chain: newChain(set),
	}
	if c.Job.Mount != nil {
		m.Kit, m.RatedKG = c.Job.Mount.Kit.Name, c.Job.Mount.Kit.RatedKG
	}
	return m
}

func newBindingLimit(h fit.BindingLimit) BindingLimit {
	hold := BindingLimit{
		Setting: h.Joint.Name, Unit: unitOf(h.Joint), Limit: "low",
		At: inUnit(h.Joint, h.Joint.Low), Need: inUnit(h.Joint, h.Need), GainMM: plain(h.Gain),
	}
	if h.High {
		hold.Limit, hold.At = "high", inUnit(h.Joint, h.Joint.High)
	}
	return hold
}

func newChain(set *fit.Set) Chain {
	c := Chain{Joints: make([]Joint, 0, len(set.Chain.Joints)), Tip: newPose(set.Chain.Tip)}
	i := 0
	for _, j := range set.Chain.Joints {
		joint := Joint{Name: j.Name, Motion: j.Motion.String(), Origin: newPose(j.Origin)}
		if j.Motion != mount.Fixed {
			joint.Axis, joint.Value, joint.Unit = new(triple(j.Axis)), new(inUnit(j, set.Settings[i])), unitOf(j)
			i++
		}
		c.Joints = append(c.Joints, joint)
	}
	return c
}

// unitOf returns the unit in which j's settings are told.
func unitOf(j mount.Joint) string {
	if j.Motion == mount.Turn {
		return "deg"
	}
	return "mm"
}

// inUnit returns the setting v of j in the unit of [unitOf].
func inUnit(j mount.Joint, v float64) float64 {
	if j.Motion == mount.Turn {
		return degreesOf(frame.Angle(v))
	}
	return plain(v)
}

// fromUnit is the inverse of inUnit.
func fromUnit(j mount.Joint, v float64) float64 {
	if j.Motion == mount.Turn {
		return (frame.Angle(v) * frame.Degree).Radians()
	}
	return v
}

// SettingsCSV returns the settings of the mount as a table: one line each, the unit beside the
// value, as people set and read them. The columns "setting", "unit" and "value" can be read
// back; the last column
// says in every line whether this is to be set at all, because a table goes where no
// report goes with it.
func (r *Report) SettingsCSV() []byte {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	rows := [][]string{{"setting", "unit", "value", "low", "high", "step", "read", "works", "plus"}}
	works := "yes"
	if !r.Works {
		works = "NO: do not set"
	}
	for _, s := range r.Mount.Settings {
		t := s.Told
		low, high := newTold(t.dial, t.dial.Low).Value, newTold(t.dial, t.dial.High).Value
		rows = append(rows, []string{written(t.Name), t.Unit, cell(t.Value), cell(min(low, high)), cell(max(low, high)), cell(t.Step), written(s.Read.In(units.MM)), works, t.Plus})
	}
	_ = w.WriteAll(rows) // a buffer takes all
	return text.Bytes()
}

// Formula reports whether a spreadsheet takes text for something to compute or to run.
func Formula(text string) bool { return text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) }

// written returns what someone wrote, quoted where it is a [Formula].
func written(text string) string {
	if Formula(text) {
		return "'" + text
	}
	return text
}

// cell returns v as a table has it.
func cell(v float64) string { return strconv.FormatFloat(Rounded(v, legible), 'f', -1, 64) }

// legible is to which part of a unit a number is rounded that turning degrees into radians
// and back has left with more digits.
const legible = 1e9

// Tolerance is how far one setting may be off, all others as set, before the case no
// longer works: until a posture that must work stops tracking or has less margin than
// required, the screen leaves its preferred range, something comes too near to a
// keep-clear zone, to the face or to the floor, or something cannot bear its load.
type Tolerance struct {
	// The lower end.
	From ToleranceEnd `json:"from"`
	// The upper end.
	To ToleranceEnd `json:"to"`
	// Why there is no tolerance, in plain words: the case does not work, and both ends
	// are at the value that is set. Absent when there is one.
	None Text `json:"none,omitzero"`
}

// ToleranceEnd is one end of a tolerance.
type ToleranceEnd struct {
	// The last value that can be read off before something fails.
	Value float64 `json:"value"`
	// The last value of all before something fails.
	Bound float64 `json:"bound"`
	// What fails beyond it, in plain words, or the limit of the setting's range.
	EndedBy string `json:"ended_by"`
	// Name of the posture in which it fails; absent where the range ends.
	Posture string `json:"posture,omitempty"`
	// Change of the margin for each mm or degree that the setting moves from where
	// it is set toward this end; most often negative.
	RateMM float64 `json:"margin_change"`
}

// addSettings fills in the settings of m and how far each may be off.
func (m *Mount) addSettings(ctx context.Context, r *fit.Result) error {
	found, err := tolerance.Of(ctx, r)
	if err != nil {
		return err
	}
	told, err := tolerance.Told(ctx, r, found)
	if err != nil {
		return err
	}
	m.Settings = newSettings(r)
	for i, t := range found {
		s := &m.Settings[i]
		s.Tolerance = newTolerance(r, t)
		if r.Set.Chain.LastBall() >= 0 {
			s.ToldTolerance, s.Told.dial.Joint = new(newTolerance(r, told[i])), told[i].Joint
		}
	}
	return nil
}

func newTolerance(r *fit.Result, t tolerance.Tolerance) Tolerance {
	to := Tolerance{From: newEnd(r, t, t.Low), To: newEnd(r, t, t.High)}
	if t.Why != nil {
		to.None = worded(r, t.Why, reasonKinds[t.Why.Kind].says)
	}
	return to
}

// told returns the tolerance of s with its ends as told, in words: the lower first. Of a
// scale that falls it is turned around.
func (s *Setting) told() (t Tolerance, low, high Quantity) {
	t = s.Tolerance
	if s.ToldTolerance != nil {
		t = *s.ToldTolerance
	}
	if s.Told.dial.Scale.Falls {
		t.From, t.To = t.To, t.From
	}
	end := func(v float64) Quantity {
		d := s.Told.dial
		told := newTold(d, fromUnit(d.Joint, v))
		if v == inUnit(d.Joint, d.Low) || v == inUnit(d.Joint, d.High) {
			return told.Words() // as the limit is told
		}
		return told.near(&s.Told.Value)
	}
	return t, end(t.From.Value), end(t.To.Value)
}

func newEnd(r *fit.Result, t tolerance.Tolerance, e tolerance.End) ToleranceEnd {
	words := endWords(r, &e.Bound)
	if e.Ball {
		words = "limit of the ball"
	}
	return ToleranceEnd{
		Value: inUnit(t.Joint, e.Readable), Bound: inUnit(t.Joint, e.At), EndedBy: words,
		Posture: postureName(r.Job, e.Posture), RateMM: plain(t.RatePerReading(e)),
	}
}

// limits says what ends the tolerance of each setting, and how the margin changes
// toward each end.
func (r *Report) limits() Section {
	s := Section{Title: "What ends each tolerance", Note: Say("all other settings unchanged; with the margin change toward that end"), Full: true}
	if r.Mount == nil || !r.Mount.tolerances() {
		return s
	}
	for _, set := range r.Mount.Settings {
		t, from, to := set.told()
		low, high := set.limits()
		s.row(settingName(set.Told.Name), Say("range %s to %s%s", low, high, set.stops()))
		s.row("", Say("%s: %s%s", from, t.From.words(), set.rate(&t.From)))
		s.row("", Say("%s: %s%s", to, t.To.words(), set.rate(&t.To)))
		if strings.HasSuffix(set.Name, ".lean") {
			s.row(settingName(set.Name), Say("stem tipped %s in its socket, at most %s", Angle(set.Value), Angle(set.High)))
		}
	}
	return s
}

// limits returns between what a setting can be, in words: the lower first.
func (s *Setting) limits() (low, high Quantity) {
	d := s.Told.dial
	low, high = newTold(d, d.Low).Words(), newTold(d, d.High).Words()
	if d.Scale.Falls {
		return high, low
	}
	return low, high
}

// ToleranceWords returns what is written beside a drawn tolerance of r, in lines: name, value
// and limits of the setting, and each end with what ends it. Of a setting without a tolerance,
// low is empty and high says why.
func ToleranceWords(r *fit.Result, t tolerance.Tolerance, u units.Units) (setting, low, high []string) {
	d := dial{t.Joint, dialNamed(r, t.Joint.Name).sign}
	s := Setting{SettingValue: SettingValue{Told: newTold(d, t.Set)}, Tolerance: newTolerance(r, t)}
	to, from, until := s.told()
	least, most := s.limits()
	setting = []string{settingName(s.Told.Name), Say("set %s", s.Told.Words()).In(u), Say("limits %s to %s", least, most).In(u)}
	if t.Why != nil {
		return setting, nil, []string{"does not work as it is set:", endWords(r, &tolerance.Bound{Reason: *t.Why})}
	}
	end := func(value Quantity, e *ToleranceEnd) []string {
		if len(r.Job.Postures) == 1 {
			return []string{value.In(u), e.EndedBy}
		}
		return []string{value.In(u), e.words()}
	}
	return setting, end(from, &to.From), end(until, &to.To)
}

// stops says at which steps an indexed setting stops.
func (s *Setting) stops() Text {
	if !s.Indexed {
		return Text{}
	}
	return Say(", stops every %s", Reading{Value: s.Step, Step: s.Step, Turns: s.Unit == "deg"})
}

// rate says how the margin changes toward an end; between stops a setting cannot move.
func (s *Setting) rate(e *ToleranceEnd) Text {
	if s.Indexed || e.Value == s.Value || s.Told.Plate && e.Value == s.Told.Value {
		return Text{}
	}
	return Say(" (%s)", MarginChange{e.RateMM, s.Unit == "deg"})
}

// words says what ends a tolerance, and in which posture.
func (e *ToleranceEnd) words() string {
	if e.Posture == "" {
		return e.EndedBy
	}
	return e.EndedBy + " (" + e.Posture + ")"
}
