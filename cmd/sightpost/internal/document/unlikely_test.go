package document_test

import (
	"io"
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
		{"doorway in inches", "  doorway: 815 mm", "  doorway: 32", "passage.doorway: found \"32\", expected a length within 300 mm to 5000 mm; did you mean 32 in (812.8 mm)?"},
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

// TestUnlikelyFirst: where entries do not go together, the unlikely one is said first.
func TestUnlikelyFirst(t *testing.T) {
	text, kit := casefile.Starter(units.MM)
	changed := strings.NewReplacer("{width: 260 mm,", "{width: 26,", "\n  housing:", "\n  used: {left: 0, right: 200, bottom: 0, top: 100}\n  housing:").Replace(string(text))
	_, err := casefile.Read("case.yaml", strings.NewReader(changed), func(string) (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(string(kit))), nil })
	if err == nil {
		t.Fatal("no error")
	}
	first, rest, _ := strings.Cut(err.Error(), "\n")
	if !strings.Contains(first, `screen.display.width: found "26 mm", expected usually 100 to 900 mm`) || !strings.Contains(first, "did you mean 26 cm (260 mm)") || !strings.Contains(rest, "screen.used.right") {
		t.Errorf("error\n%v", err)
	}
}
