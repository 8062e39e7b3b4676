package document

import (
	"slices"
	"testing"

	"sightpost/mount"
	"sightpost/mount/fit/refit"
	"sightpost/plots/units"
)

// TestStepWords says every action and every caution once.
func TestStepWords(t *testing.T) {
	post := mount.Joint{Name: "post.height", Motion: mount.Slide, Step: 1, Read: "tape"}
	step := func(a refit.Action, c ...refit.Caution) refit.Step {
		return refit.Step{Action: a, Joint: post, From: 400, To: 412, Cautions: c}
	}
	whole := func(a refit.Action) refit.Step { return refit.Step{Action: a, Setting: -1} }
	for _, row := range []struct {
		step   refit.Step
		action string
		want   string
	}{
		{whole(refit.TakeOff), "take_off", "Take the device off the mount."},
		{whole(refit.PutBack), "put_back", "Put the device back on the mount."},
		{whole(refit.Recheck), "recheck", "Check in every posture that the tracker sees the eyes."},
		{step(refit.Support, refit.Caution{Kind: refit.Slides, ForceN: 30}), "support", "Support the device with the other hand.|Once loose, it slides toward lower values: the load pulls with 30 N."},
		{step(refit.Support, refit.Caution{Kind: refit.Swings, MomentNM: 1.25, High: true}), "support", "Support the device with the other hand.|Once loose, it turns toward higher values: the load turns it with 1.2 N·m."},
		{step(refit.Loosen, refit.Caution{Kind: refit.Slides, ForceN: 30}), "loosen", "Loosen the post height."},
		{step(refit.LiftOut), "lift_out", "Lift the post height out of its stop."},
		{step(refit.Move), "move", "Move the post height from 15 3/4 in to 16 1/4 in."},
		{step(refit.Move, refit.Caution{Kind: refit.Passes, Part: "arm", Zone: "tray", GapMM: 12}), "move", "Move the post height from 15 3/4 in to 16 1/4 in.|On the way the arm comes within 1/2 in of the tray."},
		{step(refit.Move, refit.Caution{Kind: refit.Passes, Part: "arm", Zone: "tray", GapMM: -2}), "move", "Move the post height from 15 3/4 in to 16 1/4 in.|On the way the arm would touch the tray: guide it around."},
		{step(refit.Move, refit.Caution{Kind: refit.PassesFace, Part: "housing", GapMM: 150}), "move", "Move the post height from 15 3/4 in to 16 1/4 in.|On the way the housing comes within 5 7/8 in of the eyes."},
		{step(refit.Tighten), "tighten", "Tighten the post height."},
		{step(refit.ReadAgain), "read_again", "Read the post height again: 16 1/4 in (tape)."},
	} {
		t.Run(row.want, func(t *testing.T) {
			got := newStep(row.step, Say("tape"))
			if words := Join("|", slices.Concat([]Text{got.Words}, got.Cautions)...).In(units.Inch); words != row.want || got.Action != row.action {
				t.Errorf("%s: %q, want %s: %q", got.Action, words, row.action, row.want)
			}
			if about := got.Setting != ""; about != (row.step.Setting >= 0) {
				t.Errorf("setting %q", got.Setting)
			}
		})
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
