package fit

import (
	"math"

	"sightpost/mount"
)

// strengthGuard guards that all can bear the load.
type strengthGuard struct{ *wandering }

// look implements [guard].
func (g strengthGuard) look(v, ahead float64) (slack, error) {
	if g.drift.bearsOn(g.joint, v, ahead) {
		return unlimited(), nil
	}
	g.at[g.setting] = v
	load, err := g.load(g.sagging, g.at)
	if err != nil {
		return slack{}, err
	}
	l := unlimited()
	for _, f := range load.all() {
		left := bearsAll - load.used(f, g.job.Demand)
		l.lessen(slack{left, over(left, g.drift.usedRate), load.bound(f)})
	}
	return l, nil
}

// bearsOn reports whether the places looked at tell that all bears the load from v as
// far as ahead.
func (d *drift) bearsOn(j mount.Joint, v, ahead float64) bool {
	if d.step == 0 {
		return false
	}
	low, high := min(v, v+ahead), max(v, v+ahead)
	from := max(int(math.Floor((low-j.Low)/d.step)), 0)
	to := min(int(math.Ceil((high-j.Low)/d.step)), len(d.used)-1)
	for i := from; i <= to; i++ {
		if d.used[i]+d.usedRate*d.step/2 > bearsAll {
			return false
		}
	}
	return true
}

// bound names a failure.
func (l *Load) bound(f failure) Bound {
	switch f.kind {
	case yields:
		return Bound{End: EndTube, Part: l.Tubes[f.at].Part, Posture: l.Tubes[f.at].Posture}
	case slips:
		return Bound{End: EndJoint, Part: l.Joints[f.at].Name, Posture: l.Joints[f.at].Posture}
	case overloaded:
		return Bound{End: EndPart, Part: l.Parts[f.at].Part, Posture: l.Posture}
	default:
		return Bound{End: EndSoft, Posture: l.TurnPosture}
	}
}
