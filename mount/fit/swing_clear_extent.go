package fit

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// Extent is the room on the floor that chair and mount take up together, seen from
// above, along the chair's axes (mm): how far they reach from the junction of seat
// and back support, negative where they do not reach it.
type Extent struct{ BehindMM, AheadMM, LeftMM, RightMM float64 }

// WidthMM returns the width of the extent.
func (e Extent) WidthMM() float64 { return e.LeftMM + e.RightMM }

// LengthMM returns the length of the extent.
func (e Extent) LengthMM() float64 { return e.AheadMM + e.BehindMM }

// side is a direction in which an extent is measured, as seen by shapes that are
// carried: how far one reaches is fromMM and how far it reaches along.
type side struct {
	along  r3.Vec
	fromMM float64
}

// reachMM returns how far a shape reaches to the side.
func (d side) reachMM(s space.Shape) float64 { return d.fromMM + s.Farthest(d.along) }

// The places of the sides in a view.
const (
	toBehind = iota
	toAhead
	toLeft
	toRight
)

// view returns the four sides as seen by shapes in carrier axes that pose carries.
func (s *swing) view(pose frame.Pose) [4]side {
	chairFromPart := s.lead().Carrier.Mul(pose)
	var v [4]side
	for i, along := range [4]r3.Vec{toBehind: {X: -1}, toAhead: {X: 1}, toLeft: {Y: 1}, toRight: {Y: -1}} {
		v[i] = side{along: chairFromPart.Rot.ApplyInverse(along), fromMM: r3.Dot(along, chairFromPart.At)}
	}
	return v
}

// withParts returns e grown to hold shapes that pose carries in carrier axes.
func (s *swing) withParts(e Extent, parts []space.Shape, pose frame.Pose) Extent {
	view := s.view(pose)
	for _, part := range parts {
		e.BehindMM, e.AheadMM = max(e.BehindMM, view[toBehind].reachMM(part)), max(e.AheadMM, view[toAhead].reachMM(part))
		e.LeftMM, e.RightMM = max(e.LeftMM, view[toLeft].reachMM(part)), max(e.RightMM, view[toRight].reachMM(part))
	}
	return e
}

// stillExtent returns the extent of the chair, if there is one, and of the tubes
// that stay.
func (s *swing) stillExtent() Extent {
	p := s.job.Passage
	e := Extent{BehindMM: p.BehindMM, AheadMM: p.AheadMM, LeftMM: p.WidthMM / 2, RightMM: p.WidthMM / 2}
	if e == (Extent{}) {
		none := math.Inf(-1)
		e = Extent{BehindMM: none, AheadMM: none, LeftMM: none, RightMM: none}
	}
	tubes := s.parts.fixed[len(s.parts.keeps) : len(s.parts.fixed)-1]
	return s.withParts(e, tubes, frame.Identity())
}

// extent returns the extent of chair and mount with the joint at a setting.
func (s *swing) extent(at float64) Extent {
	return s.withParts(s.stillExtent(), s.parts.moving, s.path.Pose(at-s.inUse))
}

// problems returns in plain words what the mount aside does not do.
func (s *swing) problems(a *SwingClear) []string {
	var out []string
	out = append(out, s.passageProblems(a)...)
	if stuck := a.Low.At == a.High.At && !a.Low.Limit; stuck || a.TransferHalfWidthMM < a.TransferHalfWidthRequiredMM-roundingMM {
		out = append(out, s.wayOutProblem(a, stuck))
	}
	return out
}

// wayOutProblem says what keeps the mount where it is, or in the way out.
func (s *swing) wayOutProblem(a *SwingClear, stuck bool) string {
	how := "swung about " + a.Name
	if s.path.Slides {
		how = "moved along " + a.Name
	}
	if stuck {
		return fmt.Sprintf("the mount cannot be %s as it is set: its %s touches %s", how, a.Low.Part, a.Low.Space)
	}
	if a.TransferHalfWidthMM <= 0 {
		return fmt.Sprintf("%s the mount stays in the way out of the chair%s", how, touched(s.joint, a))
	}
	return fmt.Sprintf("%s to %s the mount leaves the way out of the chair free for %.0f mm from the midline, where %.0f mm is wanted%s",
		how, s.joint.Format(a.Parked), a.TransferHalfWidthMM, a.TransferHalfWidthRequiredMM, touched(s.joint, a))
}

// touched says where a joint is stopped by contact.
func touched(j mount.Joint, a *SwingClear) string {
	var said strings.Builder
	for _, end := range [2]SwingEnd{a.Low, a.High} {
		if !end.Limit {
			fmt.Fprintf(&said, "; at %s its %s touches %s", j.Format(end.At), end.Part, end.Space)
		}
	}
	return said.String()
}

// floor says how large the clear floor space is, as far as that is known.
func (p Passage) floor() string {
	switch {
	case p.FloorLengthMM <= 0:
		return fmt.Sprintf("that is %.0f mm wide", p.FloorWidthMM)
	case p.FloorWidthMM <= 0:
		return fmt.Sprintf("that is %.0f mm long", p.FloorLengthMM)
	}
	return fmt.Sprintf("of %.0f by %.0f mm", p.FloorWidthMM, p.FloorLengthMM)
}

// passageProblems says what chair and mount do not fit through or onto. The person
// rides with the mount in use; that it is wider swung aside, where nobody rides, is
// told with the extents and is a problem only where neither fits.
func (s *swing) passageProblems(a *SwingClear) []string {
	p := s.job.Passage
	narrow := func(how string, is Extent) string {
		if p.Passes(is) {
			return ""
		}
		return fmt.Sprintf("with the mount %s, chair and mount are %.0f mm wide, %.0f mm more than the clear width of the doorway, %.0f mm",
			how, is.WidthMM(), is.WidthMM()-p.DoorMM, p.DoorMM)
	}
	large := func(how string, is Extent) string {
		if p.Fits(is) {
			return ""
		}
		return fmt.Sprintf("with the mount %s, chair and mount take up %.0f by %.0f mm, more than the clear floor space %s",
			how, is.WidthMM(), is.LengthMM(), p.floor())
	}
	var out []string
	for _, problem := range []func(string, Extent) string{narrow, large} {
		if inUse := problem("in use", a.Used); inUse != "" {
			out = append(out, inUse)
			if aside := problem("swung aside", a.ParkedExtent); aside != "" {
				out = append(out, aside)
			}
		}
	}
	return out
}
