package casefile

import (
	"reflect"
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// rolls reports whether the mount moves with a chair: furniture does not pass
// doors.
func (f *caseForm) rolls() bool {
	by := f.Mount.CarriedBy.Word
	return f.Mount.Clamp != nil && (by == "seat" || by == "base")
}

// passage returns what chair and mount must pass, and notes what of it is assumed.
func (r *reader) passage(f *caseForm) fit.Passage {
	p := fit.Passage{Bed: f.Mount.CarriedBy.Word == "bed"}
	if f.rolls() && f.Chair.Size == nil {
		f.Chair.Size = &chairSizeForm{}
	}
	if f.rolls() && f.Passage == nil {
		f.Passage = &passageForm{}
	}
	if s := f.Chair.Size; s != nil {
		r.complete(reflect.ValueOf(s).Elem(), f.Chair.At.under("size"))
		p.WidthMM, p.BehindMM, p.AheadMM = s.Width.mm(), s.Behind.mm(), s.Ahead.mm()
	}
	if f.Passage == nil {
		return p
	}
	if f.rolls() {
		r.complete(reflect.ValueOf(f.Passage).Elem(), f.At.under("passage"))
	}
	p.DoorMM = mmOr0(f.Passage.Doorway)
	if c := f.Passage.ClearFloor; c != nil {
		p.FloorWidthMM, p.FloorLengthMM = c.Width.mm(), c.Length.mm()
	}
	return p
}

// aboutSense reports a joint that cannot swing the mount aside.
func (r *reader) aboutSense(c *Case, p *passageForm) {
	if p == nil || p.About == nil || c.Job.Passage.About != "" {
		return
	}
	chain, err := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[0])
	if err != nil {
		return // SetKit has found it sound
	}
	var turns []string
	slides := false
	for _, j := range chain.Moving() {
		if j.Motion == mount.Turn {
			turns = append(turns, j.Name)
		} else {
			slides = slides || j.Name == p.About.Text
		}
	}
	found := "the unknown joint "
	if slides {
		found = "the slide "
	}
	r.senseless(p.About.At, found+quoted(p.About.Text), "one that turns: "+strings.Join(turns, ", "))
	r.problems[len(r.problems)-1].Nearest = Nearest(p.About.Text, turns)
}

// passageSense reports a joint of a mount that is not there.
func (r *reader) passageSense(f *caseForm) {
	if p := f.Passage; p != nil && p.About != nil && p.About.valid && f.Mount.Kit == nil {
		r.senseless(p.About.At, "a joint to swing the mount about", "mount.kit, the mount that has it")
	}
}
