package casefile_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/plots/units"
)

// tolMM is what scaling by a unit may round away: far below a micrometer.
const tolMM = 1e-9

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		mm   float64
	}{
		{"1180", 1180},
		{"1180 mm", 1180},
		{"118 cm", 1180},
		{"118.0cm", 1180},
		{"1.18 m", 1180},
		{"46 in", 1168.4},
		{"46 1/2 in", 1181.1},
		{`46 1/2"`, 1181.1},
		{"1/4 in", 6.35},
		{"4 ft", 1219.2},
		{"3 ft 7 1/2 in", 1104.9},
		{`3ft 7 1/2"`, 1104.9},
		{"0 ft 6 in", 152.4},
		{"46,5 cm", 465},
		{"0,465 m", 465},
		{",5 m", 500},
		{"1180,25", 1180.25},
		{"46½ in", 1181.1},
		{"46 ½ in", 1181.1},
		{"¾\"", 19.05},
		{"46 1⁄2 in", 1181.1},
		{`3'`, 914.4},
		{`3'10"`, 1168.4},
		{`3' 10 1/2"`, 1181.1},
		{`3 ft 10½ in`, 1181.1},
		{`-3'10"`, -1168.4},
		{"-3 ft 7 1/2 in", -1104.9},
		{"-0 ft 6 in", -152.4},
		{"-30 mm", -30},
		{"−30 mm", -30},
		{"+30 mm", 30},
		{"-1 1/2 in", -38.1},
		{".5 m", 500},
		{"5. cm", 50},
		{"118\u00a0cm", 1180},
		{"  118 cm  ", 1180},
		{"10 m", 10000},
		{"0 mm", 0},
		{"0/3 in", 0},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := casefile.ParseLength(c.text, units.MM)
			if err != nil || math.Abs(got-c.mm) > tolMM {
				t.Errorf("ParseLength(%q) = %v, %v, want %v", c.text, got, err, c.mm)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	length := func(s string) error { _, err := casefile.ParseLength(s, units.MM); return err }
	angle := func(s string) error { _, err := casefile.ParseAngle(s); return err }
	turn := func(s string) error { _, err := casefile.ParseTurn(s); return err }
	mass := func(s string) error { _, err := casefile.ParseMass(s); return err }
	for _, c := range []struct {
		parse      func(string) error
		text, want string
	}{
		{length, "1.180,5 mm", `found "1.180,5 mm", expected a length such as 118 cm; write "1180.5 mm"`},
		{length, "1,180.5 mm", `found "1,180.5 mm", expected a length such as 118 cm; write "1180.5 mm"`},
		{length, "-1 180,5", `found "-1 180,5", expected a length such as 118 cm; write "-1180.5"`},
		{length, "1.180.500 mm", `found "1.180.500 mm", expected a length such as 118 cm; write "1180500 mm"`},
		{length, "1,180 mm", `found "1,180 mm", expected "1180 mm" or "1.180 mm"; a comma before three digits may mean either`},
		{length, "46 1/2½ in", `found "46 1/2½ in", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "2 cubits", `found "2 cubits", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "12 deg", `found "12 deg", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "46”", `found "46”", expected a length such as 118 cm; write in for inches, or a straight " mark`},
		{length, "", `found nothing, expected a length such as 118 cm`},
		{length, "NaN", `found "NaN", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "inf mm", `found "inf mm", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "1e308", `found "1e308", expected a length such as 118 cm; write the number out, without an exponent`},
		{length, "10.1 m", `found "10.1 m", expected a length of at most 10 m`},
		{length, "1/0 in", `found "1/0 in", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "3 ft 10", `found "3 ft 10", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "3 ft 10 cm", `found "3 ft 10 cm", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "3 ft -1 in", `found "3 ft -1 in", expected a length such as 118 cm; units: mm, cm, m, in, ", ft, '; write inches as 46 1/2 in or 3 ft 10 1/2 in`},
		{length, "32 ft 10 in", `found "32 ft 10 in", expected a length of at most 393 11/16 in`},
		{length, `394"`, `found ` + "`394\"`" + `, expected a length of at most 393 11/16 in`},
		{length, strings.Repeat("9", 70), `found "9999999999999999999999999999999999999999…", expected a length of at most 10000 mm`},
		{angle, "181 deg", `found "181 deg", expected an angle of at most 180 deg`},
		{angle, "4 rad", `found "4 rad", expected an angle of at most 3.141 rad`},
		{angle, "12 mm", `found "12 mm", expected an angle such as 12 deg; units: deg, °, rad`},
		{turn, "361 deg", `found "361 deg", expected an angle of at most 360 deg`},
		{mass, "501 kg", `found "501 kg", expected a mass of at most 500 kg`},
		{mass, "3 stone", `found "3 stone", expected a mass such as 1.6 kg; units: kg, g, lb, oz; write pounds as 4.2 lb or 4 lb 3 oz`},
		{mass, "4 lb 3", `found "4 lb 3", expected a mass such as 1.6 kg; units: kg, g, lb, oz; write pounds as 4.2 lb or 4 lb 3 oz`},
	} {
		t.Run(c.text, func(t *testing.T) {
			if err := c.parse(c.text); err == nil || err.Error() != c.want {
				t.Errorf("got  %v\nwant %s", err, c.want)
			}
		})
	}
}

func TestParseAngleAndMass(t *testing.T) {
	const tol = 1e-12 // rad, kg: rounding of one product
	for text, want := range map[string]frame.Angle{
		"12": 12 * frame.Degree, "12 deg": 12 * frame.Degree, "-12.5°": -12.5 * frame.Degree, "0.5 rad": 0.5,
		"180 deg": 180 * frame.Degree, "3.141592653589793 rad": math.Pi,
	} {
		if got, err := casefile.ParseAngle(text); err != nil || math.Abs(float64(got-want)) > tol {
			t.Errorf("ParseAngle(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	if got, err := casefile.ParseTurn("270 deg"); err != nil || math.Abs(float64(got-270*frame.Degree)) > tol {
		t.Errorf("ParseTurn(270 deg) = %v, %v", got, err)
	}
	for text, want := range map[string]float64{"1.6": 1.6, "350 g": 0.35, "2 lb": 0.90718474, "67 oz": 67 * 0.45359237 / 16, "4 lb 3 oz": 67 * 0.45359237 / 16, "4.2 lb": 4.2 * 0.45359237, "4lb 3½oz": 67.5 * 0.45359237 / 16, "1,6 kg": 1.6, "1 1/2 kg": 1.5} {
		if got, err := casefile.ParseMass(text); err != nil || math.Abs(got-want) > tol {
			t.Errorf("ParseMass(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
}

// TestWrittenQuantitiesComeBack: a value as it is written is read as the same one.
func TestWrittenQuantitiesComeBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 1000 {
		mm := rng.Float64()*2e4 - 1e4
		text := casefile.Value{Low: mm, High: mm, Unit: "mm"}.String()
		if got, err := casefile.ParseLength(text, units.MM); err != nil && len(text) <= 80 || err == nil && got != mm {
			t.Errorf("%s came back as %v, %v", text, got, err)
		}
		deg := float64(rng.IntN(36001)-18000) / 100
		text = casefile.Value{Low: deg, High: deg, Unit: "deg"}.String()
		if got, err := casefile.ParseAngle(text); err != nil || math.Abs(got.Degrees()-deg) > 1e-12 {
			t.Errorf("%s came back as %v, %v", text, got, err)
		}
		kg := float64(rng.IntN(200001)) / 1000
		text = casefile.Value{Low: kg, High: kg, Unit: "kg"}.String()
		if got, err := casefile.ParseMass(text); err != nil || got != kg {
			t.Errorf("%s came back as %v, %v", text, got, err)
		}
	}
}

// TestUnitsAgree: the same length in any unit is the same.
func TestUnitsAgree(t *testing.T) {
	for n := range 301 * 8 {
		whole, eighths := n/8, n%8
		mm := 25.4 * (float64(whole) + float64(eighths)/8)
		fraction := strings.TrimSpace(strconv.Itoa(whole) + " " + strconv.Itoa(eighths) + "/8 in")
		got, err := casefile.ParseLength(fraction, units.MM)
		if err != nil || math.Abs(got-mm) > tolMM {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", fraction, got, err, mm)
		}
	}
}

func FuzzQuantity(f *testing.F) {
	for _, s := range []string{
		"118 cm", "46 1/2 in", "-12.5°", "1e308", "118,5 cm", "0 to 120 mm", "46”", "+.5 rad", "9/0",
		"46½ in", `3'10"`, `3' 10 1/2"`, "1.180,5 mm", "1,180", "4 lb 3 oz", "1⁄16 in", "0,5 kg", "-½", "1 180,5",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		mm, err := casefile.ParseLength(s, units.MM)
		if err == nil && !(math.Abs(mm) <= 10000*(1+1e-9)) {
			t.Errorf("ParseLength(%q) = %v without an error", s, mm)
		}
		text := casefile.Value{Low: mm, High: mm, Unit: "mm"}.String()
		if again, errAgain := casefile.ParseLength(text, units.MM); err == nil && len(text) <= 80 && (errAgain != nil || again != mm) {
			t.Errorf("ParseLength(%q) = %v, which is written as %s and read as %v, %v", s, mm, text, again, errAgain)
		}
		a, err := casefile.ParseAngle(s)
		if err == nil && !(math.Abs(a.Degrees()) <= 180*(1+1e-9)) {
			t.Errorf("ParseAngle(%q) = %v without an error", s, a)
		}
		kg, err := casefile.ParseMass(s)
		if err == nil && !(math.Abs(kg) <= 500*(1+1e-9)) {
			t.Errorf("ParseMass(%q) = %v without an error", s, kg)
		}
	})
}

func TestUnitsOf(t *testing.T) {
	for text, want := range map[string]units.Units{
		"1180": units.MM, "1.18 m": units.MM, "118 cm": units.CM, "46 1/2 in": units.Inch, `3' 10 1/2"`: units.Inch, "4 ft": units.Inch,
	} {
		if got := casefile.UnitsOf(text); got != want {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}
