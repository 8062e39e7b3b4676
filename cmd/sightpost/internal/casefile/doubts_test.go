package casefile_test

import (
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// TestDoubts: what two cases of one chair and mount cannot both be right about, and no more.
func TestDoubts(t *testing.T) {
	caseText, kitText := casefile.Starter(units.MM)
	const onSeat, onBase = "carried_by: seat                 # seat, base", "carried_by: base                 # seat, base"
	read := func(words ...string) *casefile.Case {
		t.Helper()
		r := strings.NewReplacer(words...)
		c, err := casefile.Read("case", strings.NewReader(r.Replace(string(caseText))), func(string) (io.ReadCloser, error) {
			return io.NopCloser(strings.NewReader(r.Replace(string(kitText)))), nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, row := range []struct {
		name          string
		before, after []string
		want          string
	}{
		{name: "nothing"},
		{name: "the person", after: []string{"up: 1180 mm", "up: 1150 mm", "pupil_spacing: 60 mm", "pupil_spacing: 61 mm"}},
		{name: "a clamp measured as well as a tape does", after: []string{"      up: 480 mm", "      up: 486 mm"}},
		{name: "a clamp that has slipped", after: []string{"      up: 480 mm", "      up: 440 mm"}, want: "mount.clamp moved 40"},
		{
			name: "a clamp on the base, the seat tilted", before: []string{onSeat, onBase},
			after: []string{onSeat, onBase, "seat_tilt: 0 deg", "seat_tilt: 10 deg", "up: 1180 mm", "up: 1170 mm"},
			want:  "measured.head as at 0; keep_clear[left knee] as at 0; keep_clear[joystick] as at 0",
		},
		{
			name: "the seat tilted", after: []string{"seat_tilt: 0 deg", "seat_tilt: 10 deg", "up: 1180 mm", "up: 1170 mm"},
			want: "measured.head as at 0; mount.clamp as at 0; keep_clear[left knee] as at 0; keep_clear[joystick] as at 0",
		},
		{
			name: "axis, data sheet and tube", after: []string{"up: 430 mm", "up: 460 mm", "far: 750 mm", "far: 800 mm", "across: 40 deg", "across: 42 deg", "        wall: 2.5 mm", "        wall: 3 mm"},
			want: "chair.tilt_pivot up 430 460; tracker far 750 800, across 40 42; mount.kit parts[post].post.tube.wall 2.5 3",
		},
	} {
		var got []string
		for _, d := range casefile.Doubts(read(row.before...), read(row.after...)) {
			switch {
			case d.Carried != nil:
				got = append(got, fmt.Sprintf("%s as at %g", d.Key, d.Carried.SeatTilt.Low))
			case d.MovedMM > 0:
				got = append(got, fmt.Sprintf("%s moved %.4g", d.Key, d.MovedMM))
			default:
				var all []string
				for _, c := range d.Changes {
					all = append(all, fmt.Sprintf("%s %g %g", c.Name, c.Was.Low, c.Is.Low))
				}
				got = append(got, d.Key+" "+strings.Join(all, ", "))
			}
		}
		if all := strings.Join(got, "; "); all != row.want {
			t.Errorf("%s: %q, want %q", row.name, all, row.want)
		}
	}
}

// TestPostureCarried: eyes and head that were measured in a posture move with the seat where
// only that posture is tilted further. (50, 1100) is turned back by 10° about (120, 430) by
// hand: 120 − 70 cos 10° − 670 sin 10°, 430 − 70 sin 10° + 670 cos 10°.
func TestPostureCarried(t *testing.T) {
	const rested, measured = "    seat_tilt: 25 deg\n", "    eyes: {forward: 50 mm, left: 0 mm, up: 1100 mm}\n    head: {flexion: -12 deg, rotation: 0 deg, lateral_flexion: 0 deg}\n"
	before := starter(t, rested, rested+measured)
	text, _ := casefile.Starter(units.MM)
	after, err := before.ReadNext("case", strings.NewReader(strings.Replace(string(text), rested, "    seat_tilt: 35 deg\n"+measured, 1)), starterKit)
	if err != nil {
		t.Fatal(err)
	}
	p := after.Job.Postures[1]
	if math.Abs(p.EyesMM.X+65.2808) > 1e-3 || math.Abs(p.EyesMM.Z-1077.6658) > 1e-3 || math.Abs(p.Head.Flexion.Degrees()+22) > 1e-6 || !p.HeadPlumb {
		t.Errorf("eyes at %.4f, head %+v; want them moved along", *p.EyesMM, p.Head)
	}
	if n := len(after.Carried); n != 2 || after.Carried[0].Key != "postures[rested].eyes" || after.Carried[1].Path != "postures[2].head" {
		t.Errorf("carried along: %+v", after.Carried)
	}
}
