package fit_test

import (
	"math"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// margins judges screens before the postures of a job that must work.
type margins struct {
	judge   gaze.Judge
	stances []gaze.Stance
}

func newMargins(job *fit.Job) *margins {
	m := &margins{judge: gaze.NewJudge(job.Device, job.Scene.Person)}
	for _, p := range job.Postures {
		if p.MustWork {
			m.stances = append(m.stances, job.Scene.Stance(p))
		}
	}
	return m
}

// least returns the least margin with the screen at a pose in carrier axes.
func (m *margins) least(screen frame.Pose) float64 {
	least := math.Inf(1)
	for i := range m.stances {
		mm, _ := m.judge.Margin(screen, &m.stances[i])
		least = min(least, mm)
	}
	return least
}
