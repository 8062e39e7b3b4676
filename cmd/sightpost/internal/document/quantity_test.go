package document_test

import (
	"encoding/json"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

func TestQuantities(t *testing.T) {
	set := 412.75
	reading := func(v, step float64) document.Reading { return document.Reading{Value: v, Step: step} }
	end := func(v float64) document.Reading { return document.Reading{Value: v, Step: 1, From: &set} }
	for _, row := range []struct {
		value      document.Quantity
		mm, cm, in string
	}{
		{document.Length(-0.3), "0 mm", "0.0 cm", "0 in"},
		{document.Length(411.6), "412 mm", "41.2 cm", "16 3/16 in"},
		{document.Length(-25.4 * 2.25), "−57 mm", "−5.7 cm", "−2 1/4 in"},
		{document.Lengths{254, 127}, "254 x 127 mm", "25.4 x 12.7 cm", "10 x 5 in"},
		{document.Far(10000), "10 m", "10 m", "33 ft"},
		{document.Area(0.64), "0.6 m²", "0.6 m²", "7 sq ft"},
		{document.Angle(14.3), "14.5°", "14.5°", "14.5°"},
		{document.Angle(-0.2), "0°", "0°", "0°"},
		{document.Mass(3.07), "3.07 kg", "3.07 kg", "6.77 lb"},
		{document.Mass(4.5359237), "4.54 kg", "4.54 kg", "10 lb"},
		{document.Torque(17.94), "17.9 N·m", "17.9 N·m", "159 lbf·in"},
		{document.Force(17.94), "18 N", "18 N", "4 lbf"},
		{document.Share(0.9999), "99%", "99%", "99%"},
		{document.Share(0.0001), "1%", "1%", "1%"},
		{document.Utilization(1.0001), "101%", "101%", "101%"},
		{reading(415, 5), "415 mm", "41.5 cm", "16 5/16 in"},
		{reading(412.75, 5), "412.75 mm", "41.275 cm", "16 1/4 in"},
		{reading(80.9625, 1.5875), "81 mm", "8.1 cm", "3 3/16 in"}, // of a scale in sixteenths
		{document.Reading{Value: 438.15, Step: 1.5875, From: &set}, "438 mm", "43.8 cm", "17 1/4 in"},
		{document.Reading{Value: -12.5, Step: 0.5, Turns: true}, "−12.5°", "−12.5°", "−12.5°"},
		{end(420), "420 mm", "42.0 cm", "16 1/2 in"}, // 16.535 in: toward the value set
		{end(405), "405 mm", "40.5 cm", "16 in"},     // 15.945 in
		{end(413), "413 mm", "41.3 cm", "16 1/4 in"}, // no sixteenth lies between
		{document.MarginChange{MM: -0.5}, "−0.50 mm per mm", "−0.50 cm per cm", "−0.50 in per in"},
		{document.MarginChange{MM: 2.54, Turns: true}, "+2.54 mm per °", "+0.254 cm per °", "+0.100 in per °"},
		{document.Way(-3, "", "left", "right"), "3 mm right", "0.3 cm right", "1/8 in right"},
		{document.Way(0.3, "on the midline", "left", "right"), "on the midline", "on the midline", "on the midline"},
		{document.Turn(-14.4, "upright", "back", "forward"), "14.5° forward", "14.5° forward", "14.5° forward"},
		{document.Turn(0.2, "upright", "back", "forward"), "upright", "upright", "upright"},
		{document.Margin(-12.3), "short by about 12 mm", "short by about 1.2 cm", "short by about 1/2 in"},
		{document.Margin(-0.3), "short by less than 1 mm", "short by less than 0.1 cm", "short by less than 1/16 in"},
		{document.Margin(12.3), "12 mm", "1.2 cm", "1/2 in"},
	} {
		for u, want := range map[units.Units]string{units.MM: row.mm, units.CM: row.cm, units.Inch: row.in} {
			if got := row.value.In(u); got != want {
				t.Errorf("%#v in %s: got %q, want %q", row.value, u, got, want)
			}
		}
	}
}

// TestSay says words with quantities, names that look like quantities, and texts in
// a text.
func TestSay(t *testing.T) {
	inner := document.Say("%s short", document.Length(25.4))
	text := document.Join("; 100 % ", document.Say("the %s is %s from %q", "25 mm post", document.Length(12.7), "3 mm %s"), document.Text{}, inner)
	const want = `the 25 mm post is 1/2 in from "3 mm %s"; 100 % 1 in short`
	if got := text.In(units.Inch); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	object, err := json.Marshal(inner)
	if err != nil || string(object) != `"25 mm short"` {
		t.Errorf("JSON: got %s, %v", object, err)
	}
	if !(document.Text{}).Empty() || !document.Quote("").Empty() || document.Quote("100%").In(units.MM) != "100%" {
		t.Error("a text of nothing says something, or a quoted one is not as written")
	}
}

// TestUnbroken: a number stays beside its fraction and its unit.
func TestUnbroken(t *testing.T) {
	const space = string(document.NoBreak)
	for _, words := range []string{"3 1/2 in", "30 x 48 in", "2 1/2 x 3 1/16 in", "7 lbf", "7 lbf·in", "36.3 ksi", "4.4 lb", "12 N·m"} {
		if got := document.Unbroken("of " + words); got != "of "+strings.ReplaceAll(words, " ", space) {
			t.Errorf("%q", got)
		}
	}
}
