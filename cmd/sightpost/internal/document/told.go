package document

import (
	"math"
	"strconv"
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Told is a setting as a person sets and reads it: on the part's own scale, by its stop or,
// of a ball, by tilt, rotation and roll of the plate in the posture in which the mount is
// set, with the device on it.
type Told struct {
	// Part, dot, what moves or is read.
	Name string `json:"name"`
	// Unit of the value; of stops the lowest is 1.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg,enum=stop"`
	// What it shows.
	Value float64 `json:"value"`
	// Finest step that can be read off.
	Step float64 `json:"step"`
	// True for tilt, rotation and roll of a plate on a ball.
	Plate bool `json:"plate,omitempty"`

	joint mount.Joint
}

// newTold returns setting v of a joint of [mount.Chain.Told].
func newTold(j mount.Joint, v float64) Told {
	t := Told{
		Name: j.Name, Unit: unitOf(j), Value: inUnit(j, j.Scale.Shown(v)), Step: inUnit(j, j.Step), Plate: j.Stiffness.AnyAxis, joint: j,
	}
	if j.Counted() {
		t.Unit, t.Value, t.Step = "stop", float64(j.Stop(v)), 1
	}
	return t
}

// toldIn returns the settings of r as they are told in a posture.
func toldIn(r *fit.Result, posture int) []Told {
	if r.Set == nil {
		return []Told{}
	}
	joints := r.Set.Chain.Told()
	all := make([]Told, len(joints))
	plate := mount.AttitudeOf(r.Postures[posture].Screen.Rot).Angles()
	for i, v := range r.Set.Settings {
		if joints[i].Stiffness.AnyAxis {
			v = plate[i-r.Set.Chain.LastBall()]
		}
		all[i] = newTold(joints[i], v)
	}
	return all
}

// SettingsTold returns the settings of r as a person sets and reads them, clamp outward.
func SettingsTold(r *fit.Result) []Told { return toldIn(r, leading(r.Job)) }

// words returns the setting in words: "412 mm", "stop 3", "23.5° forward".
func (t Told) words() Quantity {
	switch {
	case t.Plate:
		_, what, _ := strings.Cut(t.Name, ".")
		turn := plateTurns[what]
		turn.Value = t.Value
		return turn
	case t.Unit == "stop":
		return stopNumber(math.Round(t.Value))
	}
	return Reading{Value: t.Value, Step: t.Step, Turns: t.Unit == "deg"}
}

// of returns another value of the same setting, mm or radians, in words.
func (t *Told) of(v float64) Quantity {
	other := newTold(t.joint, v)
	return other.words()
}

// end returns v, an end of the tolerance of t, in words.
func (t *Told) end(v float64) Quantity {
	q := t.of(v)
	if r, ok := q.(Reading); ok {
		r.From = &t.Value
		return r
	}
	return q
}

// Exact returns the value in full, as a file of settings has it.
func (t *Told) Exact() string { return cell(t.Value) + " " + t.Unit }

// Number returns the value without its unit, to three decimals.
func (t *Told) Number() string {
	const shown = 1e3
	return cell(math.Round(t.Value*shown) / shown)
}

// Difference returns the value as one end of a difference: what is filed of it is as fine as
// a thousandth.
func (t *Told) Difference() Difference {
	const filed = 1e3
	what, unit, v := settingName(t.Name), t.Unit, math.Round(t.Value*filed)/filed
	switch {
	case t.Plate:
		_, way, _ := strings.Cut(t.Name, ".")
		what += ", " + plateTurns[way].Plus
		v = math.Round(2*v) / 2 // what an inclinometer shows
	case unit == "stop":
		what, unit = what+", stop", ""
	}
	return Difference{Key: t.Name, What: what, Unit: unit, After: &v}
}

// SettingRange says between what the i-th setting of a chain can be, as it is told, and its
// unit.
func SettingRange(c mount.Chain, i int) (words, unit string) {
	j := c.Told()[i]
	low, high := newTold(j, j.Low), newTold(j, j.High)
	if low.Value > high.Value {
		low, high = high, low
	}
	if !j.Stiffness.AnyAxis {
		return Say("%s to %s", low.words(), high.words()).In(units.MM), low.Unit
	}
	_, what, _ := strings.Cut(j.Name, ".")
	tip := c.Moving()[c.LastBall()+1]
	return "+ is " + plateTurns[what].Plus + "; stem tips at most " + tip.Format(tip.High) + " in its socket", low.Unit
}

// stopNumber is the place of a stop among those of a setting, the lowest being 1.
type stopNumber int

// In returns the stop in words; u plays no part.
func (n stopNumber) In(units.Units) string { return "stop " + strconv.Itoa(int(n)) }

// plateTurns are the words for the signs of tilt, rotation and roll of a plate.
var plateTurns = map[string]Turn{
	"tilt":     {None: "0°", Plus: "back", Minus: "forward"},
	"rotation": {None: "0°", Plus: "left", Minus: "right"},
	"roll":     {None: "0°", Plus: "right end up", Minus: "right end down"},
}

// Unworded returns the text for a value of a told joint with a sign in the place of the
// words for it: "-23.5°" for "23.5° forward".
func Unworded(j mount.Joint, text string) string {
	_, what, _ := strings.Cut(j.Name, ".")
	turn, ok := plateTurns[what]
	if !ok || !j.Stiffness.AnyAxis {
		return text
	}
	if number, minus := strings.CutSuffix(text, turn.Minus); minus {
		return "-" + strings.TrimSpace(number)
	}
	return strings.TrimSpace(strings.TrimSuffix(text, turn.Plus))
}

// ToldChange is a change of a setting as a person makes it, the value being the one after.
type ToldChange struct {
	Told
	// What it showed before.
	From float64 `json:"from"`
}

// before returns the setting before the change in words.
func (c *ToldChange) before() Quantity {
	was := c.Told
	was.Value = c.From
	return was.words()
}

// toldChanges returns the changes of the settings that move as a person makes them: of a
// ball all three angles of its plate.
func toldChanges(was, is []Told, moves func(int) bool) []ToldChange {
	changes, ball := []ToldChange{}, false
	for i := range is {
		ball = ball || is[i].Plate && moves(i)
	}
	for i := range is {
		if moves(i) || ball && is[i].Plate {
			changes = append(changes, ToldChange{Told: is[i], From: was[i].Value})
		}
	}
	return changes
}
