package tolerance_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
)

// onBase is the adult before a mount on the base, upright and tilted by 20°: the
// screen stays where it is.
func onBase() *fit.Job {
	job := tilted()
	job.Scene.Carrier = gaze.Base
	aside := job.Postures[0]
	aside.Name, aside.MustWork, aside.Head.Rotation = "aside", false, 20*frame.Degree
	job.Postures = append(job.Postures, aside)
	return job
}

func ExampleSeparateSetups() {
	s, err := tolerance.SeparateSetups(context.Background(), onBase()) // invented
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range s.Alone {
		fmt.Printf("%s: margin %.0f mm alone, %.0f mm together; %d settings to change\n",
			s.Together.Postures[a.Posture].Posture.Name, a.MarginMM, a.TogetherMM, len(a.Moved))
	}
	// Output:
	// upright: margin 97 mm alone, -46 mm together; 8 settings to change
	// rested: margin 95 mm alone, -46 mm together; 8 settings to change
}

// TestSeparateSetups: a posture alone fares no worse than together but for
// rounding, and each setup is that of a job of its own.
func TestSeparateSetups(t *testing.T) {
	job := onBase()
	s, err := tolerance.SeparateSetups(t.Context(), job)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Alone) != 2 || s.Alone[0].Posture != 0 || s.Alone[1].Posture != 1 {
		t.Fatalf("setups for %d postures, want those two that must work", len(s.Alone))
	}
	for _, a := range s.Alone {
		is := *job
		is.Postures = []gaze.Posture{job.Postures[a.Posture]}
		if want := solve(t, &is).MarginMM(); a.MarginMM != want || a.Result.MarginMM() != want {
			t.Errorf("posture %d alone: %v mm, want %v", a.Posture, a.MarginMM, want)
		}
		if a.TogetherMM != s.Together.Postures[a.Posture].MarginMM || a.MarginMM < a.TogetherMM-roundedMM {
			t.Errorf("posture %d: %v mm alone, %v together", a.Posture, a.MarginMM, a.TogetherMM)
		}
		if len(a.Moved) == 0 || a.Elsewhere {
			t.Errorf("posture %d: nothing is moved for a tilt of 20° before a mount on the base", a.Posture)
		}
		for _, m := range a.Moved {
			if m.Alone == m.Together || m.Joint.Round(m.Alone) != m.Alone {
				t.Errorf("%s from %v to %v", m.Joint.Name, m.Together, m.Alone)
			}
		}
	}
	if !job.Postures[1].MustWork {
		t.Error("the job was changed")
	}
}

func TestSeparateSetupsOfNothing(t *testing.T) {
	job := adult()
	job.Postures[0].MustWork = false
	if _, err := tolerance.SeparateSetups(t.Context(), job); !errors.Is(err, fit.ErrJob) {
		t.Errorf("got %v, want ErrJob", err)
	}
	job.Postures[0].MustWork = true
	job.Mount = nil
	s, err := tolerance.SeparateSetups(t.Context(), job)
	if err != nil || len(s.Alone) != 1 || s.Alone[0].Moved != nil || s.Alone[0].MarginMM != s.Together.MarginMM() {
		t.Errorf("one posture and no mount: %+v, %v", s, err)
	}
}
