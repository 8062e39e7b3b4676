package document

import (
	"math"

	"sightpost/gaze/frame"
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

	// Which way a positive value is; absent of heights, extensions and stops.
	Plus string `json:"plus,omitempty"`

	dial dial
}

// newTold returns setting v of a dial.
func newTold(d dial, v float64) Told {
	t := Told{Name: d.Name, Unit: unitOf(d.Joint), Value: d.shown(v), Step: inUnit(d.Joint, d.Step), Plate: d.Stiffness.AnyAxis, Plus: d.sign.Plus, dial: d}
	if d.Counted() {
		t.Unit, t.Value, t.Step, t.Plus = "stop", float64(d.Stop(v)), 1, ""
	}
	return t
}

// toldIn returns the settings of r as they are told in a posture.
func toldIn(r *fit.Result, posture int) []Told {
	if r.Set == nil {
		return []Told{}
	}
	dials := dialsOf(r)
	all := make([]Told, len(dials))
	plate := mount.AttitudeOf(r.Postures[posture].Screen.Rot).Angles()
	for i, v := range r.Set.Settings {
		if dials[i].Stiffness.AnyAxis {
			v = plate[i-r.Set.Chain.LastBall()]
		}
		all[i] = newTold(dials[i], v)
	}
	return all
}

// SettingsTold returns the settings of r as a person sets and reads them, clamp outward.
func SettingsTold(r *fit.Result) []Told { return toldIn(r, leading(r.Job)) }

// Words returns the setting in words: "412 mm", "stop 3", "23.5° forward".
func (t Told) Words() Quantity { return t.near(nil) }

// near returns the setting in words; from is where it is set, if the value is an end of its
// tolerance.
func (t Told) near(from *float64) Quantity {
	if t.Unit == "stop" {
		return Say("stop %d", int(math.Round(t.Value)))
	}
	return t.dial.printed().of(t.Value, func(size float64) Quantity {
		if t.Plate {
			return Angle(size)
		}
		r := Reading{Value: size, Step: t.Step, Turns: t.Unit == "deg"}
		if from != nil {
			r.From = new(math.Copysign(1, t.Value) * *from)
		}
		return r
	})
}

// Exact returns the value in full, as a file of settings has it.
func (t *Told) Exact() string { return cell(t.Value) + " " + t.Unit }

// filed is to which part of a unit what is computed is filed, shown and compared.
const filed = 1e3

// Typed returns the value as it is typed, to three decimals or a sixteenth of an inch:
// "35° right".
func (t *Told) Typed(u units.Units) string {
	if t.Unit == "stop" {
		return t.Words().In(u)
	}
	return t.Ways().of(t.Value, func(size float64) Quantity {
		switch {
		case t.Unit == "deg":
			return Quote(cell(Rounded(size, filed)) + "°")
		case u == units.Inch:
			return Length(size)
		}
		return Quote(cell(Rounded(u.Of(size), filed)) + " " + u.String())
	}).In(u)
}

// Ways returns the words for a value above 0 and for one below.
func (t *Told) Ways() Sign { return t.dial.printed() }

// Difference returns the value as one end of a difference: what is filed of it is as fine as
// a thousandth.
func (t *Told) Difference() Difference {
	what, unit, v := settingName(t.Name), t.Unit, Rounded(t.Value, filed)
	switch {
	case t.Plate:
		v = math.Round(2*v) / 2 // what an inclinometer shows
	case unit == "stop":
		return Difference{Key: t.Name, What: what + ", stop", After: &v}
	}
	return Difference{Key: t.Name, What: what, Unit: unit, After: &v, Signs: [2]Sign{1: t.dial.printed()}}
}

// SettingRange returns the least and the greatest value of the i-th setting of a chain as it
// is told, at settings of the others, and how they are told.
func SettingRange(c mount.Chain, at mount.Settings, i int) (words Text, low, high Told) {
	d := dial{c.Told()[i], Signs(c, at, frame.NoTurn())[i]}
	low, high = newTold(d, d.Low), newTold(d, d.High)
	if low.Value > high.Value {
		low, high = high, low
	}
	if low.Plate {
		tip := c.Moving()[c.LastBall()+1]
		return Say("%s or %s; stem tips at most %s in its socket", low.dial.sign.Plus, low.dial.sign.Minus, Quote(tip.Format(tip.High))), low, high
	}
	return Say("%s to %s", low.Words(), high.Words()), low, high
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
	return was.Words()
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
