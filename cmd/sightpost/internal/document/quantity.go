package document

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"sightpost/plots/units"
)

const mmPerInch = 25.4

// Length is a length in mm, shown as a tape shows it: to a mm, a tenth of a cm or a
// sixteenth of an inch.
type Length float64

// In returns the length with its unit.
func (l Length) In(u units.Units) string { return minus(u.Length(float64(l))) }

func (l Length) number(u units.Units) string { return minus(u.Number(float64(l))) }

// Fine is a length in mm, shown to a hundredth of a mm.
type Fine float64

// In returns the length with its unit.
func (f Fine) In(u units.Units) string { return minus(u.Fine(float64(f), 2)) }

// Lengths are several lengths in mm with one unit: "300 x 230 mm".
type Lengths []float64

// In returns the lengths with their unit.
func (l Lengths) In(u units.Units) string {
	numbers := each(l, func(mm float64) string { return Length(mm).number(u) })
	return strings.Join(numbers, " x ") + " " + u.String()
}

// Far is a length beyond what a tape measures, in mm: shown in m or feet.
type Far float64

// In returns the length with its unit.
func (l Far) In(u units.Units) string {
	const mmPerFoot, mmPerMeter = 304.8, 1000
	if u == units.Inch {
		return fixed(float64(l)/mmPerFoot, 0) + " ft"
	}
	const exact = 10 * mmPerMeter // below this to 0.1 m
	if l < exact {
		return fixed(float64(l)/mmPerMeter, 1) + " m"
	}
	return fixed(float64(l)/mmPerMeter, 0) + " m"
}

// Area is an area of floor in m², shown in m² or square feet.
type Area float64

// In returns the area with its unit.
func (a Area) In(u units.Units) string {
	const squareFeet = 1 / (0.3048 * 0.3048)
	if u == units.Inch {
		return fixed(float64(a)*squareFeet, 0) + " sq ft"
	}
	return fixed(float64(a), 1) + " m²"
}

// Angle is an angle in degrees, shown to half a degree.
type Angle float64

// In returns the angle; its unit does not depend on u.
func (a Angle) In(units.Units) string {
	half := math.Round(2*float64(a)) / 2
	if half == math.Trunc(half) {
		return fixed(half, 0) + "°"
	}
	return fixed(half, 1) + "°"
}

// degrees returns radians as an angle.
func degrees(radians float64) Angle { return Angle(radians * 180 / math.Pi) }

// Mass is a mass in kg, shown to 10 g, or beside inches to a hundredth of a pound.
type Mass float64

// In returns the mass with its unit.
func (m Mass) In(u units.Units) string { return minus(units.Masses.Told(u, float64(m))) }

// Torque is a torque in N·m.
type Torque float64

// In returns the torque with its unit.
func (t Torque) In(u units.Units) string { return units.Torques.Told(u, float64(t)) }

// Force is a force in N.
type Force float64

// In returns the force with its unit.
func (f Force) In(u units.Units) string { return units.Forces.Told(u, float64(f)) }

// Stress is a stress in MPa.
type Stress float64

// In returns the stress with its unit.
func (s Stress) In(u units.Units) string { return units.Stresses.Told(u, float64(s)) }

// Share is a share from 0 to 1, shown in whole percent; only all of it is shown as
// 100%, and only nothing as 0%.
type Share float64

// In returns the share in percent.
func (s Share) In(units.Units) string { return percent(float64(s), 0) }

// Percent is a share from 0 to 1, shown to a hundredth of a percent; only all of it is
// shown as all, and only nothing as nothing.
type Percent float64

// In returns the share in percent.
func (s Percent) In(units.Units) string { return percent(float64(s), 2) }

func percent(share float64, decimals int) string {
	all := math.Pow10(2 + decimals)
	n := math.Round(share * all)
	if share < 1 {
		n = min(n, all-1)
	}
	if share > 0 {
		n = max(n, 1)
	}
	return fixed(100*n/all, decimals) + "%"
}

// Utilization is the share of the allowable that is taken up, shown in percent and
// rounded up, so that nothing that fails is shown as 100%.
type Utilization float64

// In returns the utilization in percent.
func (s Utilization) In(units.Units) string { return fixed(math.Ceil(100*float64(s)-1e-6), 0) + "%" }

// Reading is a value of a setting as its scale, a tape or an inclinometer shows it, to
// the digits of its step.
type Reading struct {
	Value float64 // mm, or degrees if Turns
	Step  float64
	Turns bool
	// From is where the value is an end of a tolerance around it: the value is then
	// rounded toward it, so that it does not lie outside the tolerance.
	From *float64
}

// In returns the value with its unit: up to three decimals between whole mm or degrees, but whole
// mm of a scale in inches, which no tape in mm shows.
func (r Reading) In(u units.Units) string {
	const rounding = 1e-6
	full := func(v float64) string { return minus(units.UpTo(v, 3)) }
	switch {
	case r.Turns:
		return full(r.Value) + "°"
	case u == units.Inch:
		return Length(r.to(mmPerInch / 16)).In(u)
	case math.Abs(Rounded(r.Value, 1)-r.Value) < rounding, math.Abs(Rounded(r.Step, 10)-r.Step) > rounding:
		return Length(r.to(1)).In(u)
	}
	return full(u.Of(r.Value)) + " " + u.String()
}

// to returns the value to a part of its unit, rounded toward From.
func (r Reading) to(part float64) float64 {
	const rounding = 1e-9
	if r.From == nil {
		return r.Value
	}
	from := math.Round(*r.From / part)
	if r.Value > *r.From {
		return part * max(math.Floor(r.Value/part+rounding), from)
	}
	return part * min(math.Ceil(r.Value/part-rounding), from)
}

// MarginChange is the change of a margin in mm for each mm or degree of a setting.
type MarginChange struct {
	MM    float64
	Turns bool
}

// In returns the change with its sign and unit.
func (c MarginChange) In(u units.Units) string {
	per, decimals := c.MM, 2
	switch unit := u.String(); {
	case !c.Turns: // the same number in every unit
		return withSign(per, decimals) + " " + unit + " per " + unit
	case u == units.CM:
		per, decimals = per/10, 3
	case u == units.Inch:
		per, decimals = per/mmPerInch, 3
	}
	return withSign(per, decimals) + " " + u.String() + " per °"
}

// Signed is a quantity with a word for its sign: "3 mm to the person's right", "14° back".
// Where it shows as 0 it is None, if that is a word, or goes without one.
type Signed struct {
	Value             float64
	None, Plus, Minus string
	of                func(size float64) Quantity
}

// Way returns a length in mm with the word for its sign.
func Way(mm float64, none, plus, minus string) Signed {
	return Signed{mm, none, plus, minus, func(size float64) Quantity { return Length(size) }}
}

// Turn returns an angle in degrees with the word for its sign.
func Turn(deg float64, none, plus, minus string) Signed {
	return Signed{deg, none, plus, minus, func(size float64) Quantity { return Angle(size) }}
}

// In returns the quantity with its unit and the word for its sign; a sign without a word
// stays one.
func (s Signed) In(u units.Units) string {
	size, word := s.of(math.Abs(s.Value)).In(u), s.Plus
	if s.Value < 0 {
		word = s.Minus
	}
	switch {
	case !s.shows(u):
		return cmp.Or(s.None, size)
	case word != "":
		return size + " " + word
	case s.Value < 0:
		return minus("-" + size)
	}
	return size
}

// shows reports whether s shows as anything but 0.
func (s Signed) shows(u units.Units) bool { return s.of(math.Abs(s.Value)).In(u) != s.of(0).In(u) }

// said says s in a format, or nothing where it shows as 0 in some unit.
func (s Signed) said(format string) Text {
	if !s.shows(units.MM) || !s.shows(units.Inch) {
		return Text{}
	}
	return Say(format, s)
}

// Margin is a head-movement margin in mm. Below zero only its sign is exact.
type Margin float64

// In returns the margin with its unit, or about how much is missing.
func (m Margin) In(u units.Units) string {
	shown := Length(math.Abs(float64(m))).In(u)
	switch {
	case m >= 0:
		return shown
	case shown != Length(0).In(u):
		return "short by about " + shown
	case u == units.Inch:
		return "short by less than " + Length(mmPerInch/16).In(u)
	default:
		return "short by less than " + Length(1).In(u)
	}
}

// Rounded returns v to so many parts of its unit, and never a negative zero.
func Rounded(v, parts float64) float64 { return math.Round(v*parts)/parts + 0 }

// fixed returns v with the given number of decimals, and never "-0".
func fixed(v float64, decimals int) string { return minus(units.Fixed(v, decimals)) }

// minus returns a number with a minus sign that is as wide as a plus: a hyphen is
// easily missed.
func minus(number string) string { return strings.Replace(number, "-", "−", 1) }

// withSign returns v with its sign, unless it shows as zero.
func withSign(v float64, decimals int) string {
	s := fixed(v, decimals)
	if v > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// thousands returns a count with commas: "100,000".
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
