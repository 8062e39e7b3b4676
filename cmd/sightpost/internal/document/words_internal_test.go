package document

import (
	"slices"
	"testing"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
)

func TestWords(t *testing.T) {
	for _, row := range []struct {
		units    Units
		in, want string
	}{
		{MM, "4.2 mm short", "4.2 mm short"},
		{CM, "posture \"upright\" lacks 4.2 mm where 30 mm is wanted", "posture \"upright\" lacks 0.42 cm where 3.0 cm is wanted"},
		{Inch, "62 mm further", "2 7/16 in further"},
		{Inch, "from 25.4 to 50.8 mm, or -12.7 mm", "from 1.00 to 2.00 in, or -0.50 in"},
		{Inch, "targets of 50.8 x 25.4 mm", "targets of 2.00 x 1.00 in"},
		{CM, "left at 380/260/480 mm", "left at 38.0/26.0/48.0 cm"},
		{Inch, "left at 380/260/480 mm", "left at 14.96/10.24/18.90 in"},
		{Inch, "take up 762 by 1219 mm", "take up 30 by 48 in"},
		{Inch, "5 mmHg, 3 N m, 20 N/mm2 and 4 kg", "5 mmHg, 3 N m, 20 N/mm2 and 4 kg"},
	} {
		if got := row.units.Words(row.in, nil); got != row.want {
			t.Errorf("%v: %q became %q, want %q", row.units, row.in, got, row.want)
		}
	}
}

// TestWordsKeepNames: what somebody called a thing is not a length to be told in other
// units, wherever in the sentence it stands and even if it is nothing but a length.
func TestWordsKeepNames(t *testing.T) {
	names := Names{"splint 30 mm thick", "10 mm", "25.4 mm to 50.8 mm"}
	for _, row := range []struct{ in, want string }{
		{"post reaches 36 mm into splint 30 mm thick", "post reaches 1 7/16 in into splint 30 mm thick"},
		{"splint 30 mm thick: splint 30 mm thick 5 mm lower", "splint 30 mm thick: splint 30 mm thick 3/16 in lower"},
		{"posture \"10 mm\" lacks 4.2 mm", "posture \"10 mm\" lacks 0.17 in"},
		{"housing comes within 254 mm of 25.4 mm to 50.8 mm", "housing comes within 10 in of 25.4 mm to 50.8 mm"},
		{"a splint of 30 mm thick", "a splint of 1 3/16 in thick"},
	} {
		if got := Inch.Words(row.in, names); got != row.want {
			t.Errorf("%q became %q, want %q", row.in, got, row.want)
		}
	}
}

func TestValue(t *testing.T) {
	for _, row := range []struct {
		u        Units
		in, want string
	}{
		{MM, "normal 1 mm", "normal 1 mm"},
		{CM, "forward 80.5 mm, up 75 mm", "forward 8.05 cm, up 7.50 cm"},
		{Inch, "150 to 1500 mm", "5.91 to 59.06 in"},
		{Inch, "gaze 1, roll -30 to 30 deg", "gaze 1, roll -30 to 30 deg"},
	} {
		if got := row.u.Value(row.in); got != row.want {
			t.Errorf("%v: %q became %q, want %q", row.u, row.in, got, row.want)
		}
	}
}

// TestNamesOf: only names with something like a length in them need keeping.
func TestNamesOf(t *testing.T) {
	job := &fit.Job{
		Postures:  []gaze.Posture{{Name: "upright"}, {Name: "slid 40 mm"}},
		KeepClear: []fit.KeepClear{{Name: "splint 30 mm thick"}, {Name: "tray"}},
		Mount:     &fit.MountJob{Kit: mount.Kit{Name: "tubes of 25 mm", Parts: []mount.Part{mount.Plate{Name: "plate"}}}},
	}
	if got, want := NamesOf(job), (Names{"slid 40 mm", "splint 30 mm thick", "tubes of 25 mm"}); !slices.Equal(got, want) {
		t.Errorf("names %q, want %q", got, want)
	}
}

func TestArea(t *testing.T) {
	for _, row := range []struct {
		u    Units
		want string
	}{{MM, "22.3 m2"}, {CM, "22.3 m2"}, {Inch, "240 sq ft"}} { // 22.3 / 0.09290304
		if got := row.u.area(22.3); got != row.want {
			t.Errorf("%v: %q, want %q", row.u, got, row.want)
		}
	}
}

func TestEnd(t *testing.T) {
	s := &Setting{Unit: "mm", Step: 1, Value: 412}
	for _, row := range []struct {
		name      string
		v         float64
		mm, other string
	}{
		{"lower end rounds up", 400, "400 mm", "15 3/4 in"}, // 15.748
		{"upper end rounds down", 425, "425 mm", "16 11/16 in"},
		{"no sixteenth between", 412.5, "412.5 mm", "412.5 mm"}, // 16.220 to 16.240
		{"at the setting", 412, "412 mm", "16 1/4 in"},
	} {
		if got := MM.end(s, row.v); got != row.mm {
			t.Errorf("%s: %q, want %q", row.name, got, row.mm)
		}
		if got := Inch.end(s, row.v); got != row.other {
			t.Errorf("%s: %q, want %q", row.name, got, row.other)
		}
	}
}
