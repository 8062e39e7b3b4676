package document_test

import (
	"io"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// TestUnlikely: what is allowed but unlikely is said with its usual range and with what was
// rather meant, either as a warning or at the head of a refusal; the starter has none of it.
func TestUnlikely(t *testing.T) {
	text, kit := casefile.Starter(units.MM)
	open := func(string) (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(kit))), nil }
	for _, row := range []struct{ name, from, to, want string }{
		{"nothing", "", "", ""},
		{"display in cm", "{width: 260 mm,", "{width: 26,", "screen.display.width: 26 mm is unlikely, usually 100 mm to 900 mm (choice of this tool, no source). Did you mean 26 cm (260 mm) or 26 in (660 mm)?"},
		{"display larger than its housing", "{width: 260 mm,", "{width: 460 mm,", "screen.display.width: 460 mm is larger than screen.housing.width"},
		{"eyes off the midline", "    left: 0 mm  ", "    left: 500 mm  ", "measured.eyes.left: 500 mm is unlikely, usually −300 mm to 300 mm"},
		{"eyes behind the back support", "    forward: 150 mm  ", "    forward: -300 mm  ", "measured.eyes: the eyes are "},
		{"pivot in inches", "    up: 430 mm", "    up: 17", "chair.tilt_pivot.up: 17 mm is unlikely, usually 100 mm to 1000 mm (choice of this tool, no source). Did you mean 17 cm (170 mm) or 17 in (432 mm)?"},
		{"hinge above the eyes", "    up: 500 mm", "    up: 1250 mm", "chair.back_hinge.up: 1250 mm is above the eyes (measured.eyes.up: 1180 mm)"},
		{"seat above the eyes", "  # seat_height: 500 mm ", "  seat_height: 1190 mm ", "chair.seat_height: 1190 mm is above the eyes"},
		{"radians", "  seat_tilt: 0 deg", "  seat_tilt: 0.26", "measured.seat_tilt: 0.26 deg is unlikely, usually 0 or at least 1° (choice of this tool, no source). Did you mean 0.26 rad (15°)?"},
		{"radians out of bounds", "  back_angle: 100 deg", "  back_angle: 1.75", "measured.back_angle: found \"1.75\", expected an angle within 45 deg to 180 deg; did you mean 1.75 rad (100.3 deg)?"},
		{"no radian", "    left: 30 deg", "    left: 1 deg", "person.gaze_range.left: 1 deg is unlikely, usually 0 or at least 2° (up to the mean and two standard deviations: Lee et al., Eye 33(7), 2019, 1145-1151)."},
		{"no ounce", "  mass: 1.6 kg", "  mass: 40 kg", "screen.mass: 40 kg is unlikely, usually 0.2 kg to 15 kg (choice of this tool, no source)."},
		{"grams", "  mass: 1.6 kg", "  mass: 1600", "screen.mass: found \"1600\", expected a mass within 0 kg to 50 kg; did you mean 1600 g (1.6 kg)?"},
		{"millimeters for inches", "    up: 1180 mm", "    up: 1181 in", "measured.eyes.up: found \"1181 in\", expected a length within 11 13/16 in to 98 3/8 in; did you mean 1181 mm (46 1/2 in)?"},
		{"distances out of order", "  best: 600 mm", "  best: 60", "tracker.best: found \"60\", expected more than near, 500 mm; did you mean 60 cm (600 mm)?"},
		{"doorway in inches", "  doorway: 815 mm", "  doorway: 32", "passage.doorway: found \"32\", expected a length within 300 mm to 5000 mm; did you mean 32 in (813 mm)?"},
		{"accuracy", "  accuracy: ", "  accuracy: 20 deg # ", "tracker.accuracy: 20 deg is unlikely, usually 0° to 5°"},
		{"grid", "gap: 10 mm", "gap: 90 mm", "all of screen.display.width (260 mm): the grid does not fit."},
		{"pupils", "pupil_spacing: 60 mm ", "pupil_spacing: 82 mm ", "person.pupil_spacing: 82 mm is unlikely, usually 40 mm to 80 mm (nearly everyone aged five or more: N. A. Dodgson"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if !strings.Contains(string(text), row.from) {
				t.Fatalf("the starter has no %q", row.from)
			}
			c, err := casefile.Read("case.yaml", strings.NewReader(strings.Replace(string(text), row.from, row.to, 1)), open)
			var said []string
			if err != nil {
				said = append(said, err.Error())
			} else {
				for _, u := range c.Unlikely {
					said = append(said, u.Key+": "+document.Unlikely(&u).In(units.MM))
				}
			}
			if all := strings.Join(said, "\n"); row.want == "" && all != "" || !strings.Contains(all, row.want) {
				t.Errorf("said\n%s\nwant\n%s", all, row.want)
			}
		})
	}
}

// TestMeantInTheUnitsTold: a number is told again only in another unit than it was meant in.
func TestMeantInTheUnitsTold(t *testing.T) {
	table := casefile.Fields()
	for entry, want := range map[string]map[units.Units]string{
		"chair.tilt_pivot.up=17": {units.MM: "17 cm (170 mm) or 17 in (432 mm)?", units.CM: "17 cm or 17 in (43.2 cm)?", units.Inch: "17 cm (6 11/16 in) or 17 in?"},
		"screen.mass=20 kg":      {units.MM: "20 lb (9.07 kg)?", units.Inch: "20 lb?"},
	} {
		path, text, _ := strings.Cut(entry, "=")
		for u, meant := range want {
			if said := document.Unlikely(table.At(path).Unlikely(text)).In(u); !strings.HasSuffix(said, "Did you mean "+meant) {
				t.Errorf("%s in %s: %s, want %s", entry, u, said, meant)
			}
		}
	}
}

// TestUnlikelyFirst: where entries do not go together, the unlikely ones are said first, each
// in its own unit; what follows from them is not said again.
func TestUnlikelyFirst(t *testing.T) {
	const used = "\n  used: {left: 0, right: 8 in, bottom: 0, top: 4 in}\n  housing:"
	for _, row := range []struct {
		name    string
		replace []string
		want    string // how the first lines begin, without their places
	}{
		{
			"one",
			[]string{"{width: 260 mm,", "{width: 10 1/4,", "\n  housing:", used},
			`screen.display.width: found "10 1/4 mm", usually 100 mm to 900 mm (choice of this tool, no source); did you mean 10 1/4 in (260 mm)?
screen.used.right: found "8 in", expected at most the width`,
		},
		{
			"two",
			[]string{"{width: 260 mm,", "{width: 1.25 in,", "\n  housing:", used, "    left: 30 deg", "    left: 0.02 rad"},
			`person.gaze_range.left: found "0.02 rad", usually 0 or at least 0.03 rad (up to the mean and two standard deviations: Lee et al., Eye 33(7), 2019, 1145-1151)
screen.display.width: found "1.25 in", usually 3 15/16 in to 35 7/16 in (choice of this tool, no source)
screen.used.right: found "8 in"`,
		},
		{
			"the later of two",
			[]string{"  near: 500 mm", "  near: 5 ft", "  best: 600 mm", "  best: 60"},
			`tracker.near: found "5 ft", usually 0.49 ft to 2.95 ft (choice of this tool, no source)
tracker.best: found "60", expected more than near, 5 ft; did you mean 60 cm (600 mm)?`,
		},
	} {
		text, kit := casefile.Starter(units.MM)
		changed := strings.NewReplacer(row.replace...).Replace(string(text))
		_, err := casefile.Read("case.yaml", strings.NewReader(changed), func(string) (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(kit))), nil })
		if err == nil {
			t.Fatalf("%s: no error", row.name)
		}
		said := regexp.MustCompile(`(?m)^case.yaml:\d+:\d+: `).ReplaceAllString(err.Error(), "")
		if !strings.HasPrefix(said, row.want) {
			t.Errorf("%s: said\n%s\nwant\n%s", row.name, said, row.want)
		}
	}
}
