package report

import "testing"

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
		{Inch, "5 mmHg, 3 N m, 20 N/mm2 and 4 kg", "5 mmHg, 3 N m, 20 N/mm2 and 4 kg"},
	} {
		if got := row.units.Words(row.in); got != row.want {
			t.Errorf("%v: %q became %q, want %q", row.units, row.in, got, row.want)
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
