package document

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Sign is how a person says which way a setting is off 0: the words for a value above it and
// for one below, and from where they are seen. A value above 0 may need no word.
type Sign struct{ Plus, Minus, From string }

// Signs returns those of the settings of a chain with its carrier turned as it is in chair
// axes. Each depends on the settings nearer to the clamp alone.
func Signs(c mount.Chain, s mount.Settings, chairFromCarrier frame.Rotation) []Sign {
	frames, told := c.AppendFrames(nil, s), c.Told()
	signs := make([]Sign, len(told))
	for i, place := range c.MovingPlaces() {
		signs[i] = signOf(told[i], chairFromCarrier.Mul(frames[place].Rot), s[i])
	}
	return signs
}

// signOf returns the sign of setting v of a told joint whose moved frame is at a rotation.
func signOf(j mount.Joint, at frame.Rotation, v float64) Sign {
	var s Sign
	axis, falls := at.Apply(j.Axis), j.Scale.Falls
	switch _, what, _ := strings.Cut(j.Name, "."); what {
	case "height", "extension":
		return Sign{Minus: "below 0"}
	case "position":
		s.Plus, s.Minus = toward(axis), toward(r3.Scale(-1, axis))
	case "tilt":
		s.Plus, s.Minus = "back", "forward"
	case "rotation":
		s.Plus, s.Minus = "left", "right"
	case "roll":
		s.Plus, s.Minus = "right up", "right down"
		falls = falls != (j.Axis.X < 0 && !j.Stiffness.AnyAxis) // mirrored
	case "elevation":
		s.Plus, s.Minus = "up", "down"
		level := at.Mul(frame.About(j.Axis, frame.Angle(j.Scale.ZeroAt-v)))
		falls = falls != (r3.Cross(axis, level.X).Z < 0) // upside down
	default:
		return turnSign(j, axis, what)
	}
	if falls {
		s.Plus, s.Minus = s.Minus, s.Plus
	}
	return s
}

// upright is the height of a unit vector from where on it is more upright than not.
const upright = 0.7 // about cos 45°

// turnSign returns the sign of a turn about an axis: seen from above if that is more upright
// than not, else by the way in which its top goes, seen from the end of the part that is named.
func turnSign(j mount.Joint, axis r3.Vec, what string) Sign {
	s, left := Sign{"left", "right", "above"}, axis.Z > 0
	if math.Abs(axis.Z) <= upright {
		s.From = cmp.Or(map[string]string{"twist": "the outer end", "index": "the outer end"}[what], "the upper end") + " (top)"
		left = r3.Dot(j.Axis, r3.Vec{X: 1, Y: 1, Z: 1}) > 0
	}
	if left == j.Scale.Falls {
		s.Plus, s.Minus = s.Minus, s.Plus
	}
	return s
}

// toward returns the word for the way in which v points most.
func toward(v r3.Vec) string {
	words := [3][2]string{{"forward", "back"}, {"left", "right"}, {"up", "down"}}
	parts, most := [3]float64{v.X, v.Y, v.Z}, 0
	for k, p := range parts {
		if math.Abs(p) > math.Abs(parts[most]) {
			most = k
		}
	}
	if parts[most] < 0 {
		return words[most][1]
	}
	return words[most][0]
}

// Unworded returns text with a sign in the place of the word for it: "-23.5°" for
// "23.5° forward".
func (s Sign) Unworded(text string) string {
	text = strings.TrimSpace(text)
	if number, below := strings.CutSuffix(text, " "+s.Minus); below && s.Minus != "" {
		return "-" + strings.TrimSpace(number)
	}
	return strings.TrimSpace(strings.TrimSuffix(text, " "+s.Plus))
}

// of returns a value with the word for its sign, its size as shown says.
func (s Sign) of(value float64, shown func(size float64) Quantity) Signed {
	return Signed{value, "", s.Plus, s.Minus, shown}
}

// dial is how a setting is read: its joint, see [mount.Chain.Told], and its sign.
type dial struct {
	mount.Joint
	sign Sign
}

// dialsOf returns those of the settings of r, in the posture in which its mount is set.
func dialsOf(r *fit.Result) []dial {
	set := r.Set
	signs := Signs(set.Chain, set.Settings, carrierOf(r.Job, &r.Postures[leading(r.Job)]).Rot)
	dials := make([]dial, len(signs))
	for i, j := range set.Chain.Told() {
		dials[i] = dial{j, signs[i]}
	}
	return dials
}

// dialNamed returns that of a setting of r.
func dialNamed(r *fit.Result, name string) dial {
	dials := dialsOf(r)
	return dials[slices.IndexFunc(dials, func(d dial) bool { return d.Name == name })]
}

// shown returns setting v, in mm or radians, in the unit of [unitOf] as the scale shows it.
func (d dial) shown(v float64) float64 { return inUnit(d.Joint, d.Scale.Shown(v)) }

// printed returns the sign that is printed beside values: a clamp that slides one way alone
// has that way said once, with how it is measured.
func (d dial) printed() Sign {
	s := d.sign
	if isPosition(d.Joint) && min(d.shown(d.Low), d.shown(d.High)) >= 0 {
		s.Plus = ""
	}
	return s
}

// reading returns setting v in words, to the digits of the scale.
func (d dial) reading(v float64) Quantity {
	d.Indexed = false // the place of a stop, not its number
	return newTold(d, v).Words()
}

// nearest returns the reading nearest to v.
func (d dial) nearest(v float64) Quantity { return d.reading(math.Round(v/d.Step) * d.Step) }

// amount returns setting v in words as any length or angle, wherever the scale has its marks.
func (d dial) amount(v float64) Quantity {
	return d.printed().of(d.shown(v), func(size float64) Quantity { return amount(size, unitOf(d.Joint)) })
}

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
	return t.Ways().of(t.Value, func(size float64) Quantity { return entered(size, t.Unit) }).In(u)
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
