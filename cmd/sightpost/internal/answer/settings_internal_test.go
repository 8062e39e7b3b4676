package answer

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

func TestReadSettings(t *testing.T) {
	want := []Entry{{Name: "post.height", Value: "412 mm"}, {Name: "joint.tilt", Value: "-12.5 deg"}}
	for _, row := range []struct{ name, text string }{
		{"CSV", "setting,unit,value\npost.height,mm,412\njoint.tilt,deg,-12.5\n"},
		{"CSV, columns elsewhere", "setting,read,value,unit\npost.height,\"tape, upright\",412,mm\njoint.tilt,,-12.5,deg\n"},
		{"CSV of a spreadsheet", "\ufeffsetting;unit;value\r\npost.height;mm;412\r\njoint.tilt;deg;-12.5\r\n"},
		{"CSV, unit with the value", "setting,unit,value\npost.height,,412 mm\njoint.tilt,,-12.5 deg\n"},
		{"YAML", "# as found\npost.height: 412 mm\njoint.tilt: -12.5 deg\n"},
		{"YAML within braces", "{post.height: 412 mm, joint.tilt: -12.5 deg}\n"},
		{"YAML with a mark", "\ufeffpost.height: 412 mm\njoint.tilt: -12.5 deg\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ReadSettings(strings.NewReader(row.text))
			if err != nil || !slices.Equal(got, want) {
				t.Errorf("ReadSettings(%q) = %v, %v, want %v", row.text, got, err, want)
			}
		})
	}
}

func TestReadSettingsRefuses(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"nothing", " \n", "is empty"},
		{"no value", "setting,unit\npost.height,mm\n", "lacks a column"},
		{"ragged", "setting,unit,value\npost.height,mm\n", "wrong number of fields"},
		{"prose", "about half its height", "neither CSV"},
		{"a list", "- 1\n- 2\n", "neither CSV"},
		{"twice", "post.height: 1 mm\npost.height: 2 mm\n", "post.height: it is set twice"},
		{"a group", "post: {height: 1 mm}\n", "post: expected one value"},
		{"nothing set", "post.height:\n", "post.height: expected one value"},
		{"an alias", "a: &x 1 mm\nb: *x\n", "neither CSV"},
		{"beyond the bounds of the parser", strings.Repeat("[", 5000), "neither CSV"},
		{"many", strings.Repeat("a: 1\n", 20_000), "neither CSV"},
		{"huge", strings.Repeat("a", maxSettingsBytes+1), "too large"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := ReadSettings(strings.NewReader(row.text))
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("got %v, want an error with %q", err, row.want)
			}
		})
	}
}

// post slides in steps of 5 mm to a limit that is no step; index has stops.
func post() mount.Joint {
	return mount.Joint{Name: "post.height", Motion: mount.Slide, Low: 100, High: 333.3, Step: 5}
}

func index() mount.Joint {
	return mount.Joint{Name: "clamp.index", Motion: mount.Turn, High: math.Pi, Step: math.Pi / 4, Indexed: true}
}

// holes has a hole at every mm.
func holes() mount.Joint {
	return mount.Joint{Name: "post.height", Motion: mount.Slide, High: 20, Step: 1, Indexed: true}
}

// ruled bears a scale that shows 0 in its middle and counts down.
func ruled() mount.Joint {
	return mount.Joint{Name: "arm.twist", Motion: mount.Turn, High: math.Pi, Step: math.Pi / 180, Scale: mount.Scale{Given: true, ZeroAt: math.Pi / 2, Falls: true}}
}

// round goes all the way round and has a stop at every quarter.
func round() mount.Joint {
	return mount.Joint{Name: "arm.twist", Motion: mount.Turn, High: 2 * math.Pi, Step: math.Pi / 2, Indexed: true}
}

// writtenTolerance is what turning degrees into radians may leave, in mm or rad.
const writtenTolerance = 1e-12

func TestSettingOf(t *testing.T) {
	for _, row := range []struct {
		joint mount.Joint
		text  string
		want  float64
	}{
		{post(), "212", 212},
		{post(), "212.4mm", 212.4}, // need not be readable: someone set it between the marks
		{post(), "333.3000004 mm", 333.3},
		{index(), "45 deg", math.Pi / 4},
		{index(), "135.0000001", 3 * math.Pi / 4},
		{round(), "270 deg", 3 * math.Pi / 2},
		{round(), "360", 2 * math.Pi},
		{index(), "stop 3", math.Pi / 2},
		{index(), "5 stop", math.Pi},
		{index(), "2", math.Pi / 4},
		{ruled(), "0", math.Pi / 2},
		{ruled(), "90°", 0},
		{ruled(), "-90 deg", math.Pi},
		{ruled(), "90° left", 0},
		{ruled(), "90 right", math.Pi},
	} {
		got, err := settingOf(row.joint, document.Sign{Plus: "left", Minus: "right"}, Entry{Value: row.text})
		if err != nil || !(math.Abs(got-row.want) <= writtenTolerance) {
			t.Errorf("settingOf(%s, %q) = %v, %v, want %v", row.joint.Name, row.text, got, err, row.want)
		}
	}
	for _, row := range []struct {
		joint      mount.Joint
		text, want string
	}{
		{post(), "333.4 mm", "post.height: 333.4 mm is outside 100 mm to 333 mm"},
		{post(), "900 mm left", "post.height: 900 mm left is outside 100 mm to 333 mm"},
		{post(), "90 in right", "post.height: 90 in right is outside 3 15/16 in to 13 1/8 in"},
		{post(), "20 deg", "post.height: "},
		{ruled(), "3/4 rihgt", `arm.twist: found "3/4 rihgt", expected an angle such as 12 deg; units: deg, °, rad; ways: left, right`},
		{index(), "190", "clamp.index: 190 is outside stop 1 (0°) to stop 5 (180°)"},
		{round(), "361", "arm.twist: "},
		{index(), "50 deg", "clamp.index: 50 deg is not a stop; the nearest are stop 2 (45°) and stop 3 (90°)"},
		{index(), "", "clamp.index: "},
		{index(), "stop 6", "clamp.index: there is no stop 6; it has stops 1 to 5"},
		{index(), "stop 0", "clamp.index: there is no stop 0"},
		{index(), "stop two", "clamp.index: expected a stop such as stop 3"},
		{holes(), "5", "post.height: 5 could be stop 5 or 5 mm"},
		{ruled(), "91", "arm.twist: 91 is outside -90° to 90°"},
		{ruled(), "stop 1", "arm.twist: "},
		{ruled(), "20° up", "arm.twist: "},
	} {
		if _, err := settingOf(row.joint, document.Sign{Plus: "left", Minus: "right"}, Entry{Value: row.text}); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("settingOf(%s, %q): got %v, want an error with %q", row.joint.Name, row.text, err, row.want)
		}
	}
}

// TestSettingInUnits: a length without a unit is in those chosen, and so are the limits that
// are told; what has a unit, an angle or a stop keeps its meaning.
func TestSettingInUnits(t *testing.T) {
	const inch = 25.4 // mm, exactly
	for _, row := range []struct {
		joint mount.Joint
		text  string
		want  float64
		wrong string
	}{
		{post(), "12", 12 * inch, ""},
		{post(), "12 1/2", 12.5 * inch, ""},
		{post(), "212mm", 212, ""},
		{post(), "21 cm", 210, ""},
		{index(), "45", math.Pi / 4, ""},
		{index(), "2", math.Pi / 4, ""},
		{holes(), "stop 5", holes().Stops()[4], ""},
		{post(), "14", 0, "post.height: 14 is outside 3 15/16 in to 13 1/8 in"},
		{post(), "400 mm", 0, "post.height: 400 mm is outside 100 mm to 333 mm"},
		{round(), "361", 0, "arm.twist: "},
	} {
		got, err := settingOf(row.joint, document.Sign{}, Entry{Value: row.text, Units: units.Inch})
		switch {
		case row.wrong == "" && (err != nil || !(math.Abs(got-row.want) <= writtenTolerance*inch)):
			t.Errorf("settingOf(%s, %q) = %v, %v, want %v", row.joint.Name, row.text, got, err, row.want)
		case row.wrong != "" && (err == nil || !strings.Contains(err.Error(), row.wrong)):
			t.Errorf("settingOf(%s, %q): got %v, want an error with %q", row.joint.Name, row.text, err, row.wrong)
		}
	}
}

// TestPrintedSettingsAreAccepted types back what is printed of the settings of every shipped
// kit: values, ends of tolerances, limits and stops, in text in every unit, in tables, in JSON
// and in errors. The limits are also moved to where no scale shows them,
// and scales of the parts' own put on.
func TestPrintedSettingsAreAccepted(t *testing.T) {
	files, err := filepath.Glob("../../../../testdata/kits/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	rng := rand.New(rand.NewPCG(10, 3))
	beyond := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		kit, err := casefile.ReadKit(file, bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		chain, err := kit.Chain(mount.Mounting{})
		if err != nil {
			t.Fatal(err)
		}
		for _, shipped := range chain.Moving() {
			for trial := range 40 {
				j := shipped
				if trial > 0 {
					width := j.High - j.Low
					j.Low, j.High = j.Low+width*0.1*rng.Float64(), j.High-width*0.1*rng.Float64()
					if j.Indexed {
						j.Step = width / float64(1+rng.IntN(12))
					}
					if trial%2 == 0 {
						j.Scale = mount.Scale{Given: true, ZeroAt: j.Round(j.Low + width*rng.Float64()), Falls: rng.IntN(2) == 0}
					}
				}
				at := j.Low + (j.High-j.Low)*rng.Float64()
				below, above := j.Neighbors(at)
				values := []float64{j.Round(at), j.Round(j.Low), j.Round(j.High), below, above}
				if !j.Indexed {
					values = append(values, j.Low, j.High)
				}
				for _, v := range values {
					for _, text := range printedAs(j, v, values[0]) {
						got, err := settingOf(j, document.Sign{}, Entry{Value: text})
						if err != nil {
							t.Errorf("%s: %s of %v to %v is refused: %v", file, text, j.Low, j.High, err)
						} else if got < j.Low || got > j.High {
							t.Errorf("%s: %s becomes %v, outside %v to %v", file, text, got, j.Low, j.High)
						}
						if j.Counted() && !j.Same(got, v) {
							t.Errorf("%s: %s of %v becomes %v", file, text, v, got)
						}
						if raw, err := quantity(j, text, units.MM); err == nil && j.Clamp(j.Scale.Setting(raw)) != j.Scale.Setting(raw) {
							beyond++
						}
					}
				}
			}
		}
	}
	if beyond == 0 {
		t.Error("nothing is printed beyond a limit: the test tries too little")
	}
}

// printedAs returns a value of a joint in every way in which it is printed, from being where
// the setting is of whose tolerance it is an end.
func printedAs(j mount.Joint, v, from float64) []string {
	own := func(v float64) float64 { return v }
	unit := " mm"
	if j.Motion == mount.Turn {
		own, unit = func(v float64) float64 { return frame.Angle(v).Degrees() }, " deg"
	}
	shown := func(v float64) float64 { return own(j.Scale.Shown(v)) }
	start := shown(from)
	reading := document.Reading{Value: shown(v), Step: own(j.Step), Turns: j.Motion == mount.Turn}
	end := reading
	end.From = &start
	fine := j
	fine.Step /= own(j.Step) * 10
	fine.Indexed = false
	out := []string{
		j.Format(v), fine.Format(v), strconv.FormatFloat(shown(v), 'g', -1, 64) + unit, strconv.FormatFloat(shown(v), 'f', 9, 64) + unit,
	}
	for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
		out = append(out, reading.In(u), end.In(u))
		if j.Motion == mount.Slide {
			out = append(out, u.Length(shown(v)))
		}
	}
	return out
}

// FuzzSettings checks that any file of settings gives an error or settings that a
// chain accepts.
func FuzzSettings(f *testing.F) {
	f.Add("setting,unit,value\npost.height,mm,212\nclamp.index,deg,45\n")
	f.Add("setting;unit;value\npost.height;mm;1e9\n")
	f.Add("post.height: 212 mm\nclamp.index: 90 deg\n")
	f.Add("post.height: [1, 2]\n")
	f.Add("post.height: NaN\nclamp.index: .inf\n")
	chain := mount.Chain{Tip: frame.Identity()}
	for _, j := range []mount.Joint{post(), index()} {
		j.Origin = frame.Identity()
		j.Axis.Z = 1
		chain.Joints = append(chain.Joints, j)
	}
	f.Fuzz(func(t *testing.T, text string) {
		entries, err := ReadSettings(strings.NewReader(text))
		if err != nil {
			return
		}
		s, err := settingsOf(&fit.Job{Postures: make([]gaze.Posture, 1)}, chain, AsFound{Settings: entries})
		if err != nil {
			return
		}
		if _, err := chain.Forward(s); err != nil {
			t.Errorf("settings %v are not accepted: %v", s, err)
		}
	})
}
