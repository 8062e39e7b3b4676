package document

import (
	"fmt"

	"sightpost/mount/fit"
)

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

// remedy says where the space would be out of the way, and what that asks of whom: a
// space may be a thing or a limb, which the case does not tell; "" when it is not
// known.
func (o *Obstacle) remedy() string {
	if o.Way == "" {
		return ""
	}
	return fmt.Sprintf("%.0f mm %s, %s would be out of the way: a thing can be moved; of a limb, ask whether it may rest there, and never force it",
		o.WayMM, o.Way, o.Space)
}

// inTheWay says what the spaces cost that hold the screen back.
func (p *printer) inTheWay(r *Report) {
	if len(r.Obstacles) == 0 {
		return
	}
	p.heading("IN THE WAY", "what could be had without one of the spaces to keep clear, all others kept")
	for i := range r.Obstacles {
		o := &r.Obstacles[i]
		words := fmt.Sprintf("%s: %s; the %s would come %s nearer than is wanted", o.Space, p.without(r, o), o.Part, p.units.length(o.ShortMM))
		if remedy := o.remedy(); remedy != "" {
			words += "; " + p.inWords(remedy)
		}
		p.wrapped("  ", words)
	}
}

// without says what there would be without a space.
func (p *printer) without(r *Report, o *Obstacle) string {
	room, now := p.units.fine(o.MarginMM), p.units.fine(r.MarginMM)
	switch {
	case o.Works && !r.Works:
		return "without it all would work, with " + room + " of room"
	case room == now:
		return "without it alone nothing would change"
	}
	return "without it there would be " + room + " of room, now " + now
}
