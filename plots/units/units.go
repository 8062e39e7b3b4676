// Package units tells lengths to people in the unit that they measure in:
// millimeters, centimeters, or inches as a tape shows them, in sixteenths. Inside
// the program every length is in mm; this is the one place where that ends.
package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Units are the units in which lengths are told. The zero value is mm. Angles are
// always in degrees, and JSON is always in mm.
type Units int

// The choices of [Units].
const (
	MM Units = iota
	CM
	Inch
)

// names are the choices as [Named] takes them.
var names = [...]string{MM: "mm", CM: "cm", Inch: "in"}

// Named returns the units called name: "mm", "cm" or "in".
func Named(name string) (Units, error) {
	for u, n := range names {
		if n == name {
			return Units(u), nil
		}
	}
	return MM, fmt.Errorf("unknown units %q: choose mm, cm or in", name)
}

// String returns the short name of the unit: "mm", "cm" or "in".
func (u Units) String() string { return names[u] }

const mmPerInch = 25.4

// Of returns a length in mm as a number of the unit.
func (u Units) Of(mm float64) float64 { return mm / u.MM() }

// MM returns one of the unit in mm.
func (u Units) MM() float64 { return [...]float64{MM: 1, CM: 10, Inch: mmPerInch}[u] }

// Length returns a length as a tape shows it, with its unit: whole mm, tenths of a
// cm, or sixteenths of an inch.
func (u Units) Length(mm float64) string { return u.Number(mm) + " " + u.String() }

// Number is [Units.Length] without the unit.
func (u Units) Number(mm float64) string {
	switch u {
	case CM:
		return Fixed(mm/10, 1)
	case Inch:
		return Sixteenths(mm / mmPerInch)
	case MM:
	}
	return Fixed(mm, 0)
}

// Kind is a kind of quantity that is told in one unit beside mm and cm and in another beside
// inches.
type Kind struct {
	metric, inch unit
	one          float64 // of the unit beside inches, in the other
}

// unit is a unit and to how many decimals it is told.
type unit struct {
	name     string
	decimals int
}

// The kinds. Inside the program they are in kg, N, N·m and MPa.
var (
	Masses   = Kind{unit{"kg", 2}, unit{"lb", 2}, KGPerPound}
	Forces   = Kind{unit{"N", 0}, unit{"lbf", 0}, NPerPound}
	Torques  = Kind{unit{"N·m", 1}, unit{"lbf·in", 0}, NPerPound * mmPerInch / 1000}
	Stresses = Kind{unit{"MPa", 0}, unit{"ksi", 1}, 1000 * NPerPound / (mmPerInch * mmPerInch)}
)

func (k Kind) beside(u Units) (beside unit, one float64) {
	if u == Inch {
		return k.inch, k.one
	}
	return k.metric, 1
}

// Unit returns the unit beside u.
func (k Kind) Unit(u Units) string {
	beside, _ := k.beside(u)
	return beside.name
}

// Of returns a quantity as a number of the unit beside u.
func (k Kind) Of(u Units, v float64) float64 {
	_, one := k.beside(u)
	return v / one
}

// Told returns a quantity with its unit, without zeros at the end of its decimals.
func (k Kind) Told(u Units, v float64) string {
	beside, one := k.beside(u)
	return UpTo(v/one, beside.decimals) + " " + beside.name
}

// A pound in kg (the international agreement of 1959) and a pound-force in N (with standard
// gravity, 9.80665 m/s²), both exactly.
const (
	KGPerPound = 0.45359237
	NPerPound  = KGPerPound * 9.80665
)

// Fine returns a length finer than a tape shows it, with its unit: with the given number
// of decimals of a mm, and one more of a cm or an inch.
func (u Units) Fine(mm float64, decimals int) string {
	if u != MM {
		decimals++
	}
	return Fixed(u.Of(mm), decimals) + " " + u.String()
}

// Fixed returns v with the given number of decimals, and never "-0".
func Fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// UpTo returns v with as many decimals as it needs, at most those given, and never "-0".
func UpTo(v float64, decimals int) string {
	parts := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*parts)/parts+0, 'f', -1, 64)
}

// Sixteenths returns inches as a tape shows them: "46 1/2".
func Sixteenths(inches float64) string {
	n := int64(math.Round(math.Abs(inches) * 16))
	whole, part, of := n/16, n%16, int64(16)
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	var s string
	switch {
	case part == 0:
		s = strconv.FormatInt(whole, 10)
	case whole == 0:
		s = fmt.Sprintf("%d/%d", part, of)
	default:
		s = fmt.Sprintf("%d %d/%d", whole, part, of)
	}
	if inches < 0 && n > 0 {
		return "-" + s
	}
	return s
}
