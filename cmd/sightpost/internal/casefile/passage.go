package casefile

import (
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// Published widths of doors and floor, mm: those in inches, which are round, and not
// the rounded mm that are printed beside them.
const (
	mmPerInch = 25.4
	// 32 in, printed as 815 mm: 2010 ADA Standards for Accessible Design, section
	// 404.2.3.
	doorMM = 32 * mmPerInch
	// 30 by 48 in, printed as 760 by 1220 mm: the same, section 305.3.
	floorWidthMM, floorLengthMM = 30 * mmPerInch, 48 * mmPerInch
)

// What a wheelchair takes up, mm. Width and length are those of ADAAG (1991), Fig.
// A3 "Dimensions of Adult-Sized Wheelchairs": 660 mm wide, 1065 mm from the back to
// the front of the footrest, and 150 mm of toes beyond. How the length falls on both
// sides of the junction of seat and back support is a choice of this tool: behind it
// the radius of a 24 in wheel.
const (
	chairWidthMM  = 660
	chairBehindMM = 300
	chairAheadMM  = 1065 + 150 - chairBehindMM
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
	if s := f.Chair.Size; s != nil || f.rolls() {
		if s == nil {
			s = &chairSizeForm{}
		}
		p.WidthMM, p.BehindMM, p.AheadMM = mmOr(s.Width, chairWidthMM), mmOr(s.Behind, chairBehindMM), mmOr(s.Ahead, chairAheadMM)
		if s.Width == nil {
			r.assumed("chair.size.width", "width of the chair", FormatLength(chairWidthMM), source("adaag"))
		}
		if s.Behind == nil || s.Ahead == nil {
			r.assumed("chair.size", "how far the chair reaches behind and ahead of the junction of seat and back support",
				"behind "+FormatLength(p.BehindMM)+", ahead "+FormatLength(p.AheadMM), source("adaag")+"; how the length is parted is a choice of this tool")
		}
	}
	given := f.Passage
	if given == nil {
		given = &passageForm{}
	}
	if d := given.Doorway; d != nil {
		p.DoorMM = d.mm()
	} else if f.rolls() {
		p.DoorMM = doorMM
		r.assumed("passage.doorway", "clear width of the narrowest doorway", FormatLength(doorMM), source("door"))
	}
	if c := given.ClearFloor; c != nil {
		p.FloorWidthMM, p.FloorLengthMM = c.Width.mm(), c.Length.mm()
	} else if f.rolls() {
		p.FloorWidthMM, p.FloorLengthMM = floorWidthMM, floorLengthMM
		r.assumed("passage.clear_floor", "clear floor space", FormatLength(floorWidthMM)+" by "+FormatLength(floorLengthMM), source("floor"))
	}
	return p
}

func mmOr(l *length, otherwise float64) float64 {
	if l == nil {
		return otherwise
	}
	return l.mm()
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
