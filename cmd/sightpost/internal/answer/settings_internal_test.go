package answer

import (
	"math"
	"slices"
	"strings"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

func TestReadSettings(t *testing.T) {
	want := []Entry{{"post.height", "412 mm"}, {"joint.tilt", "-12.5 deg"}}
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
		{post(), "212.4mm", 212.4}, // need not be readable: somebody set it between the marks
		{post(), "333.3000004 mm", 333.3},
		{index(), "45 deg", math.Pi / 4},
		{index(), "135.0000001", 3 * math.Pi / 4},
		{round(), "270 deg", 3 * math.Pi / 2},
		{round(), "360", 2 * math.Pi},
	} {
		got, err := settingOf(row.joint, row.text)
		if err != nil || !(math.Abs(got-row.want) <= writtenTolerance) {
			t.Errorf("settingOf(%s, %q) = %v, %v, want %v", row.joint.Name, row.text, got, err, row.want)
		}
	}
	for _, row := range []struct {
		joint      mount.Joint
		text, want string
	}{
		{post(), "333.4 mm", `"post.height": 333.4 mm is outside 100.0 mm to 333.3 mm`},
		{post(), "20 deg", "post.height: "},
		{index(), "190", `"clamp.index": 190`},
		{round(), "361", "arm.twist: "},
		{index(), "50 deg", "clamp.index: 50° is not a stop; the nearest are 45° and 90°"},
		{index(), "", "clamp.index: "},
	} {
		if _, err := settingOf(row.joint, row.text); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("settingOf(%s, %q): got %v, want an error with %q", row.joint.Name, row.text, err, row.want)
		}
	}
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
		s, err := settingsOf(chain, entries)
		if err != nil {
			return
		}
		if _, err := chain.Forward(s); err != nil {
			t.Errorf("settings %v are not accepted: %v", s, err)
		}
	})
}
