package draft_test

import (
	"errors"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/testdata/trials"
)

// bench is written in every way that a case may be.
const bench = `# as measured
sightpost: 1
label: bench-07                    # a code

measured:
  eyes: {up: 1180 mm, forward: 150 mm}   # tape
  # the seat
  seat_tilt: 0 deg
postures:
  - name: upright    # leads
    must_work: yes
  - {name: rested, seat_tilt: 25 deg}
note: |
  one

  two
person:
  eyes_used:
`

func TestMain(m *testing.M) { trials.Main(m) }

// open takes a text apart.
func open(t *testing.T, text string) draft.Draft {
	t.Helper()
	form := casefile.Fields()
	d, err := draft.Read("case.yaml", text, &form)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestSet(t *testing.T) {
	for _, row := range []struct{ name, path, value, from, to string }{
		{"a word before a comment", "label", "bench-08", "label: bench-07 ", "label: bench-08 "},
		{"within braces", "measured.eyes.up", "46 1/2 in", "{up: 1180 mm,", "{up: 46 1/2 in,"},
		{"into braces", "measured.eyes.left", "-3 mm", "forward: 150 mm}", "forward: 150 mm, left: -3 mm}"},
		{"in the order of the form", "measured.back_angle", "100 deg", "seat_tilt: 0 deg\n", "seat_tilt: 0 deg\n  back_angle: 100 deg\n"},
		{"a group on the way", "person.neck_to_eyes.up", "75 mm", "person:\n", "person:\n  neck_to_eyes:\n    up: 75 mm\n"},
		{"in a list", "postures[1].slump", "4 cm", "must_work: yes\n", "must_work: yes\n    slump: 4 cm\n"},
		{"in braces in a list", "postures[2].seat_tilt", "30", "seat_tilt: 25 deg}", "seat_tilt: 30}"},
		{"a further entry of a list", "postures[3].name", "slid down", "25 deg}\n", "25 deg}\n  - name: slid down\n"},
		{"where nothing was", "person.eyes_used", "left", "eyes_used:\n", "eyes_used: left\n"},
		{"a list that was not there", "keep_clear[1].name", "tray", "note: |", "keep_clear:\n  - name: tray\nnote: |"},
		{"what needs quotes", "label", "#7: x", "label: bench-07", `label: "#7: x"`},
		{"text that YAML takes for a truth", "label", "no", "label: bench-07", `label: "no"`},
		{"a truth", "postures[1].must_work", "no", "must_work: yes", "must_work: no"},
		{"what is no number", "measured.seat_tilt", "1,5 deg", "seat_tilt: 0 deg", "seat_tilt: 1,5 deg"},
		{"what is none within braces", "measured.eyes.up", "118,5 cm", "up: 1180 mm", `up: "118,5 cm"`},
		{"a block by a block", "note", "three\nfour", "note: |\n  one\n\n  two\n", "note: |\n  three\n  four\n"},
		{"a block by a word", "note", "three", "note: |\n  one\n\n  two\n", "note: three\n"},
		{"a word by a block", "label", "a\nb", "label: bench-07                    # a code\n", "label: |\n  a\n  b                    # a code\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, err := open(t, bench).Set(row.path, row.value)
			if err != nil {
				t.Fatal(err)
			}
			want := strings.Replace(bench, row.from, row.to, 1)
			if row.name == "a list that was not there" {
				want = d.Text() // its place follows from the form, tested by what it says
			}
			if row.name == "a word by a block" {
				want = d.Text() // a comment cannot follow a block
			}
			if got := d.Text(); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			if got, ok := d.Word(row.path); !ok || got != row.value {
				t.Errorf("reads back as %q, %t", got, ok)
			}
		})
	}
}

func TestRemove(t *testing.T) {
	for _, row := range []struct{ name, path, from, to string }{
		{"a line", "label", "label: bench-07                    # a code\n", ""},
		{"the first of braces", "measured.eyes.up", "{up: 1180 mm, ", "{"},
		{"the last of braces", "measured.eyes.forward", ", forward: 150 mm}", "}"},
		{"a group", "measured", "measured:\n  eyes: {up: 1180 mm, forward: 150 mm}   # tape\n  # the seat\n  seat_tilt: 0 deg\n", ""},
		{"behind a dash", "postures[1].name", "name: upright    # leads\n    must_work", "must_work"},
		{"the first of a list", "postures[1]", "  - name: upright    # leads\n    must_work: yes\n", ""},
		{"the last of a list", "postures[2]", "  - {name: rested, seat_tilt: 25 deg}\n", ""},
		{"a block", "note", "note: |\n  one\n\n  two\n", ""},
		{"the only entry of a group", "person.eyes_used", "person:\n  eyes_used:\n", ""},
		{"nothing", "absent", "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			d, err := open(t, bench).Remove(row.path)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := d.Text(), strings.Replace(bench, row.from, row.to, 1); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// TestFolded: plain text of several lines is one word, and what comes after it stays.
func TestFolded(t *testing.T) {
	const text = "sightpost: 1\nnote: one two\n  three\n\n  four # last\nlabel: x\nmeasured: {seat_tilt: 0,\n  back_angle:\n    100\n    deg}\n"
	d := open(t, text)
	if got, ok := d.Word("note"); !ok || got != "one two three\nfour" {
		t.Errorf("the note is %q, %t", got, ok)
	}
	if got, ok := d.Word("measured.back_angle"); !ok || got != "100 deg" {
		t.Errorf("the angle is %q, %t", got, ok)
	}
	if next, err := d.Set("note", "five"); err != nil || !strings.Contains(next.Text(), "note: five # last\n") {
		t.Errorf("%v:\n%s", err, next.Text())
	}
	if next, err := d.Remove("note"); err != nil || !strings.Contains(next.Text(), "sightpost: 1\nlabel: x\n") {
		t.Errorf("%v:\n%s", err, next.Text())
	}
}

// TestWindows: a file with the line ends of Windows keeps them.
func TestWindows(t *testing.T) {
	text := strings.ReplaceAll(bench, "\n", "\r\n")
	d, err := open(t, text).Set("measured.seat_tilt", "5 deg")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := d.Text(), strings.Replace(text, "0 deg\r\n", "5 deg\r\n", 1); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestFromEmpty writes a case from nothing.
func TestFromEmpty(t *testing.T) {
	d := open(t, draft.Empty)
	for _, e := range [][2]string{
		{"postures[1].name", "upright"},
		{"measured.eyes.up", "1180 mm"},
		{"label", "x"},
		{"measured.seat_tilt", "0"},
		{"postures[2].name", "rested"},
		{"postures[2].head.flexion", "5"},
		{"chair.tray", "yes"},
		{"chair.tray.top", "700 mm"},
	} {
		var err error
		if d, err = d.Set(e[0], e[1]); err != nil {
			t.Fatal(err)
		}
	}
	const want = `sightpost: 1
label: x
measured:
  seat_tilt: 0
  eyes:
    up: 1180 mm
chair:
  tray: {top: 700 mm}
postures:
  - name: upright
  - name: rested
    head:
      flexion: 5
`
	if got := d.Text(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, path := range []string{"postures[5].name", "label.x.y[3]", ""} {
		if got, err := d.Set(path, "1"); err == nil && path != "label.x.y[3]" || err != nil && !errors.Is(err, draft.ErrEntry) {
			t.Errorf("Set(%q): %v\n%s", path, err, got.Text())
		}
	}
}
