package document

import "sightpost/mount/fit"

// Tipping is how near the mount comes to tipping the chair: at the worst over the postures,
// the free range of its swing and the sides, at rest on level ground.
type Tipping struct {
	// The side over which it is nearest to tipping, the person's own.
	Side string `json:"side" jsonschema:"enum=forward,enum=backward,enum=left,enum=right"`
	// Name of the posture.
	Posture string `json:"posture"`
	// Name of the setting that swings, and its value; absent when nothing swings.
	Joint string   `json:"joint,omitempty"`
	At    *float64 `json:"at,omitempty"`
	// Moment of mount and device about the line of wheel contacts, negative inside it.
	OverturningNM float64 `json:"overturning_nm"`
	// Moment of chair and person against it.
	RestoringNM float64 `json:"restoring_nm"`
	// Share of the restoring moment that is taken up: the chair tips from 1 on.
	Share float64 `json:"share"`

	reading Text // of the setting that swings
}

// newTipping returns how near the mount of r comes to tipping the chair; nil when that is not
// known.
func newTipping(r *fit.Result) *Tipping {
	from := r.Tipping
	if from == nil || r.Set == nil {
		return nil
	}
	to := &Tipping{
		Side: [...]string{"forward", "backward", "left", "right"}[from.Side], Posture: postureName(r.Job, from.Posture),
		OverturningNM: plain(from.OverturningNM), RestoringNM: plain(from.RestoringNM), Share: plain(from.Share()),
	}
	if a := r.SwingClear; a != nil {
		d := dialsOf(r)[a.Joint]
		to.Joint, to.At = a.Name, new(inUnit(d.Joint, from.At))
		to.reading = Say(", %s %s", settingName(a.Name), d.nearest(from.At))
	}
	return to
}

// tipping says how far the chair is from tipping where it needs no warning.
func (r *Report) tipping() Section {
	s := Section{Title: "Tipping", Brief: true}
	if t := r.Tipping; t != nil && !t.warns() {
		s.line(t.words())
	}
	return s
}

func (t *Tipping) warns() bool { return t.Share > fit.MostTippingShare }

// words says how near to tipping the chair is.
func (t *Tipping) words() Text {
	side := t.Side
	if side == "left" || side == "right" {
		side = "to the person's " + side
	}
	where := Say("%s, %s%s", side, t.Posture, t.reading)
	switch {
	case t.Share >= 1:
		return Say("THE CHAIR TIPS (%s): on level ground mount and device turn it over with %s, chair and person hold it with %s.", where, Torque(t.OverturningNM), Torque(t.RestoringNM))
	case t.warns():
		return Say("The chair may tip (%s): on level ground mount and device take up %s of what holds it; a slope or a reach can take the rest.", where, Utilization(t.Share))
	case t.Share <= 0:
		return Say("Mount and device stay between the wheels.")
	}
	return Say("Swung out, mount and device take up %s of what holds the chair on level ground (%s).", Utilization(t.Share), where)
}
