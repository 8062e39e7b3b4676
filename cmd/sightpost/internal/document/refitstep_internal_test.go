package document

import (
	"slices"
	"strings"
	"testing"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// TestStepWords says every action and every caution once.
func TestStepWords(t *testing.T) {
	post := mount.Joint{Name: "post.height", Motion: mount.Slide, Step: 1, Read: "tape"}
	step := func(a fit.Action, c ...fit.Caution) fit.Step {
		return fit.Step{Action: a, Joint: post, From: 400, To: 412, Cautions: c}
	}
	whole := func(a fit.Action) fit.Step { return fit.Step{Action: a, Setting: -1} }
	for _, row := range []struct {
		step   fit.Step
		action string
		want   string
	}{
		{whole(fit.TakeOff), "take_off", "take the device off the mount"},
		{whole(fit.PutBack), "put_back", "put the device back on the mount"},
		{whole(fit.Recheck), "recheck", "look at the tracker's own picture of the eyes in every posture"},
		{step(fit.Support, fit.Caution{Kind: fit.Slides, ForceN: 30}), "support", "take the load in the other hand|once free, post.height slides by itself toward lower values: the load pulls with 30 N"},
		{step(fit.Support, fit.Caution{Kind: fit.Swings, MomentNM: 1.25, High: true}), "support", "take the load in the other hand|once free, post.height turns by itself toward higher values: the load turns it with 1.2 Nm"},
		{step(fit.Loosen, fit.Caution{Kind: fit.Slides, ForceN: 30}), "loosen", "loosen post.height"},
		{step(fit.LiftOut), "lift_out", "lift post.height out of its stop"},
		{step(fit.Move), "move", "move post.height from 400 mm to 412 mm"},
		{step(fit.Move, fit.Caution{Kind: fit.Passes, Part: "arm", Space: "tray", GapMM: 12}), "move", "move post.height from 400 mm to 412 mm|on the way the arm comes as near as 12 mm to tray"},
		{step(fit.Move, fit.Caution{Kind: fit.Passes, Part: "arm", Space: "tray", GapMM: -2}), "move", "move post.height from 400 mm to 412 mm|on the way the arm would touch tray: guide it round"},
		{step(fit.Move, fit.Caution{Kind: fit.PassesFace, Part: "housing", GapMM: 150}), "move", "move post.height from 400 mm to 412 mm|on the way the housing comes as near as 150 mm to the eyes"},
		{step(fit.Tighten), "tighten", "tighten post.height"},
		{step(fit.ReadAgain), "read_again", "read post.height again: 412 mm (tape)"},
	} {
		t.Run(row.want, func(t *testing.T) {
			got := newStep(row.step)
			if words := strings.Join(slices.Concat([]string{got.Words}, got.Cautions), "|"); words != row.want || got.Action != row.action {
				t.Errorf("%s: %q, want %s: %q", got.Action, words, row.action, row.want)
			}
			if about := got.Setting != ""; about != (row.step.Setting >= 0) {
				t.Errorf("setting %q", got.Setting)
			}
		})
	}
}

func TestPercent(t *testing.T) {
	for share, want := range map[float64]string{
		0: "0.00 %", 1e-6: "0.01 %", 0.5: "50.00 %", 0.97314: "97.31 %", 0.999999: "99.99 %", 1: "100.00 %",
	} {
		if got := percent(share); got != want {
			t.Errorf("percent(%v) = %q, want %q", share, got, want)
		}
	}
}
