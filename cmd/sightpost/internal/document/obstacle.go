package document

import "sightpost/mount/fit"

// Obstacle is a space to keep clear that holds the screen back: with the mount set
// as if nothing were to be kept clear, something would come too near to it.
type Obstacle struct {
	// Name of the space.
	Space string `json:"space"`
	// What would come too near: "housing" or a part of the mount.
	Part string `json:"part"`
	// Name of the posture in which it would come nearest.
	Posture string `json:"posture"`
	// By how much it would come nearer than is to be kept.
	ShortMM float64 `json:"short_mm"`
	// Least margin to be had without this space, all others kept clear.
	MarginMM float64 `json:"margin_without_mm"`
	// True when everything would work without it.
	Works bool `json:"works_without"`
	// The shortest way to take the space out of the way of the mount as that would
	// then be set, in plain words; absent when none of up to half a metre does, or
	// when the space moves with the body.
	Way string `json:"out_of_the_way,omitempty"`
	// How far that is; absent when there is no way.
	WayMM float64 `json:"out_of_the_way_mm,omitempty"`
}

func newObstacles(job *fit.Job, r *fit.Result) []Obstacle {
	to := make([]Obstacle, 0, len(r.InTheWay))
	for _, o := range r.InTheWay {
		obstacle := Obstacle{
			Space: o.KeepClear.Name, Part: o.Part, Posture: job.Postures[o.Posture].Name,
			ShortMM: plain(o.ShortMM), MarginMM: plain(o.MarginMM), Works: o.Works,
		}
		if o.Out != fit.NoWay {
			obstacle.Way, obstacle.WayMM = o.Out.String(), o.OutMM
		}
		to = append(to, obstacle)
	}
	return to
}
