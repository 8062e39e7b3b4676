package document

import (
	"slices"
	"strings"
	"testing"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/refit"
	"sightpost/plots/units"
)

// TestStepWords says every action and every caution once.
func TestStepWords(t *testing.T) {
	post := mount.Joint{Name: "post.height", Motion: mount.Slide, Step: 1}
	adjust := func(c ...refit.Caution) refit.Step {
		return refit.Step{Action: refit.Adjust, Joint: post, From: 400, To: 412, Frees: true, Cautions: c}
	}
	inStops := adjust()
	inStops.Joint.Indexed = true
	off := refit.Step{Action: refit.TakeOff, Setting: -1}
	const moved = "post height 15 3/4 in → 16 1/4 in: one person holds the device, one loosens, moves and tightens; let go, read (tape), repeat until it is right."
	r := &Report{
		result: &fit.Result{Job: &fit.Job{}}, SwingClear: &SwingClear{From: SwingEnd{Limit: true}},
		Mount: &Mount{Settings: []Setting{{Read: Say("tape")}, {Final: &Final{}}, {SettingValue: SettingValue{Told: Told{Plate: true}}}}},
	}
	for _, row := range []struct {
		steps  []refit.Step
		action string
		want   string // of the last step
	}{
		{[]refit.Step{adjust(refit.Caution{Kind: refit.Slides, ForceN: 30})}, "adjust", moved + "|Once loose, it slides down: the load pulls with 7 lbf."},
		{[]refit.Step{adjust(refit.Caution{Kind: refit.Swings, MomentNM: 1.25, High: true})}, "adjust", moved + "|Once loose, it turns up: the load turns it with 11 lbf·in."},
		{[]refit.Step{adjust(refit.Caution{Kind: refit.Passes, Part: "arm", Zone: "tray", GapMM: 12})}, "adjust", moved + "|On the way the arm comes within 1/2 in of the tray."},
		{[]refit.Step{adjust(refit.Caution{Kind: refit.Passes, Part: "arm", Zone: "tray", GapMM: -2})}, "adjust", moved + "|On the way the arm would touch the tray: guide it around."},
		{[]refit.Step{adjust(refit.Caution{Kind: refit.PassesFace, Part: "housing", GapMM: 150})}, "adjust", moved + "|On the way the housing comes within 5 7/8 in of the eyes."},
		{[]refit.Step{off, adjust()}, "adjust", strings.Replace(moved, "device", "mount", 1)},
		{[]refit.Step{inStops}, "adjust", "post height stop 401 → stop 413: one person holds the device, one lifts it out of its stop, moves it and lets it into the other; let go, read (tape), repeat until it is right."},
	} {
		t.Run(row.want, func(t *testing.T) {
			steps := r.newSteps(row.steps)
			got := steps[len(steps)-1]
			if words := Join("|", slices.Concat([]Text{got.Words}, got.Cautions)...).In(units.Inch); words != row.want || got.Action != row.action || got.Setting != "post.height" {
				t.Errorf("%s: %q, want %s: %q", got.Action, words, row.action, row.want)
			}
		})
	}
}

// TestBallStepWords turns a plate once by a ball of which two turns change.
func TestBallStepWords(t *testing.T) {
	chain := mount.Chain{Joints: []mount.Joint{
		{Name: "ball.lean_toward", Motion: mount.Turn, Step: 0.01},
		{Name: "ball.lean", Motion: mount.Turn, Step: 0.01, Stiffness: mount.JointStiffness{AnyAxis: true}},
		{Name: "ball.spin", Motion: mount.Turn, Step: 0.01},
	}}
	r := &Report{result: &fit.Result{Job: &fit.Job{}}, Mount: &Mount{}}
	for i, j := range chain.Told() {
		r.Mount.Settings = append(r.Mount.Settings, Setting{SettingValue: SettingValue{Told: newTold(dial{j, signOf(j, frame.NoTurn(), 0)}, float64(i-1)/10)}})
	}
	got := r.newSteps([]refit.Step{
		{Action: refit.Adjust, Setting: 1, Joint: chain.Joints[1], Frees: true, Cautions: []refit.Caution{{Kind: refit.Swings, MomentNM: 2}}},
		{Action: refit.Adjust, Setting: 2, Joint: chain.Joints[2], Cautions: []refit.Caution{{Kind: refit.PassesFace, GapMM: 150}}},
	})
	if len(got) != 1 {
		t.Fatalf("%d steps, want 1", len(got))
	}
	const want = "ball: one person holds the device, one loosens, turns the plate to tilt 5.5° forward, rotation 0°, roll 5.5° right up and tightens; let go, read all three, repeat until they are right." +
		"|Once loose, it turns on the ball: the load turns it with 2 N·m.|On the way the housing comes within 150 mm of the eyes."
	if words := Join("|", slices.Concat([]Text{got[0].Words}, got[0].Cautions)...).In(units.MM); words != want {
		t.Errorf("%q, want %q", words, want)
	}
}

// TestSetupWords says every step of a whole setup, and leaves out what a mount does not have.
func TestSetupWords(t *testing.T) {
	r := &Report{
		result: &fit.Result{Job: &fit.Job{}}, SwingClear: &SwingClear{From: SwingEnd{Limit: true}},
		Mount: &Mount{Settings: []Setting{{}, {Final: &Final{}}, {SettingValue: SettingValue{Told: Told{Plate: true}}}}},
	}
	want := []string{
		"take_off: Device off", "fit: Fit the clamp", "set: Set settings 1 to 3 in this order", "tighten: Tighten every joint", "hang: Hang the device: one person holds it",
		"fine_set: Fine-set 2 and 3, one at a time: one person holds the device, one loosens, sets and tightens; let go, read", "tighten: Tighten", "measure: Check by tape, every line",
		"swing: Swing the mount", "try: Try it with the person, in every posture: both eyes tracked",
	}
	for _, left := range []string{"", "swing", "fine_set"} {
		if left == "swing" {
			r.SwingClear = nil
			want = slices.Delete(want, 8, 9)
		}
		if left == "fine_set" {
			r.Mount.Settings = r.Mount.Settings[:1]
			want = slices.Delete(want, 5, 6)
			want[2] = "set: Set setting 1 in this order"
		}
		steps := r.newSteps(refit.Setup())
		if rough := strings.Contains(steps[2].Words.In(units.MM), " Set 2 and 3 roughly: "); rough == (left == "fine_set") {
			t.Errorf("without %q: %q", left, steps[2].Words.In(units.MM))
		}
		if len(steps) != len(want) {
			t.Fatalf("without %q: %d steps, want %d", left, len(steps), len(want))
		}
		for i, s := range steps {
			if got := s.Action + ": " + s.Words.In(units.MM); !strings.HasPrefix(got, want[i]) {
				t.Errorf("without %q: step %d: %q, want %q", left, i+1, got, want[i])
			}
		}
	}
}

func TestPercent(t *testing.T) {
	for share, want := range map[Percent]string{
		0: "0.00%", 1e-6: "0.01%", 0.5: "50.00%", 0.97314: "97.31%", 0.999999: "99.99%", 1: "100.00%",
	} {
		if got := share.In(units.MM); got != want {
			t.Errorf("%v: %q, want %q", float64(share), got, want)
		}
	}
}
