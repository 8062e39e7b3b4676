package plots

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// held is the mount of a scene under its load, in chair axes.
type held struct {
	chain  mount.Chain
	joints []frame.Pose // chairFromMoved of each
	tubes  []tubeLine
	bars   [][2]r3.Vec // from joint to joint where there is no tube
}

// tubeLine is a tube's middle line in chair axes (mm), and the place on it of what holds
// the tube.
type tubeLine struct {
	part   string
	line   []r3.Vec
	radius float64
	held   int
}

// held returns the mount of the result under its load; nil where there is none, or none
// that can be drawn.
func (s *scene) held() *held {
	set := s.r.Set
	if set == nil {
		return nil
	}
	h, err := newHeld(set.Chain, set.Settings, s.shown.InCarrier.Carrier, s.shown.Mount)
	if err != nil {
		s.fail(err)
		return nil
	}
	h.join(s.shown.Screen, s.job.Device.Screen)
	return h
}

// newHeld returns a mount at its settings on a carrier, bent as loaded says if that is
// not nil.
func newHeld(chain mount.Chain, settings mount.Settings, chairFromCarrier frame.Pose, loaded *fit.LoadedPose) (*held, error) {
	links, linkErr := chain.Links(settings)
	frames, err := chain.Frames(settings)
	if err = errors.Join(linkErr, err); err != nil {
		return nil, fmt.Errorf("plots: mount: %w", err)
	}
	if loaded != nil {
		if len(loaded.Joints) != len(chain.Joints) || len(loaded.Lines) != len(links) {
			return nil, fmt.Errorf("%w: the mount under its load has other parts than its chain", ErrFigure)
		}
		frames = loaded.Joints
	}
	h := &held{chain: chain}
	for _, f := range frames {
		h.joints = append(h.joints, chairFromCarrier.Mul(f))
	}
	for k, l := range links {
		if loaded != nil {
			l.LineMM = loaded.Lines[k]
		}
		if len(l.LineMM) <= l.Held {
			return nil, fmt.Errorf("%w: %s has no middle line", ErrFigure, spoken(l.Part))
		}
		t := tubeLine{part: l.Part, radius: l.RadiusMM, held: l.Held}
		for _, p := range l.LineMM {
			t.line = append(t.line, chairFromCarrier.Apply(p))
		}
		h.tubes = append(h.tubes, t)
	}
	return h, nil
}

// join joins tubes and joints by straight bars, from each to the next outward and at last
// to the back of the housing; a chain knows where they begin and end, not their form.
func (h *held) join(at frame.Pose, screen gaze.Screen) {
	var last *r3.Vec
	reach := func(at r3.Vec) {
		if last != nil && *last != at {
			h.bars = append(h.bars, [2]r3.Vec{*last, at})
		}
		last = &at
	}
	for i, j := range h.chain.Joints {
		tube := false
		for k, span := range h.chain.Spans {
			tube = tube || span.Part == j.Part()
			if span.Carrier == i {
				t := h.tubes[k]
				reach(t.line[t.held])
				last = &t.line[len(t.line)-1]
			}
		}
		if !tube && j.Motion == mount.Turn {
			reach(h.joints[i].At)
		}
	}
	reach(at.Apply(r3.Vec{Y: -screen.HousingBelowMM, Z: -screen.HousingMM.Z}))
}

const tubeWords = "mount, tubes to scale (rings: joints)"

// barMM is half the thickness of the bars that join tubes and joints, whose form
// is not known.
const barMM = 7

// straight is a straight part of a tube: the middles of its round ends, and its radius (mm).
type straight struct {
	from, to r3.Vec
	radius   float64
}

// straights returns the straight parts of a tube, whose round ends end where the tube does.
func (t *tubeLine) straights() []straight {
	var all []straight
	for i := 1; i < len(t.line); i++ {
		part := straight{t.line[i-1], t.line[i], t.radius}
		along := r3.Sub(part.to, part.from)
		short := r3.Scale(min(t.radius/r3.Norm(along), 0.5), along)
		if i == 1 {
			part.from = r3.Add(part.from, short)
		}
		if i == len(t.line)-1 {
			part.to = r3.Sub(part.to, short)
		}
		all = append(all, part)
	}
	return all
}

// hold adds tubes and bars of the mount, explained by words.
func (s *scene) hold(h *held, l look, words string) {
	if h == nil {
		return
	}
	s.explain(l, words)
	s.hung = h
	for _, b := range h.bars {
		s.solid(slab(b[0], b[1], 0, barMM), l, ofMount)
	}
	for _, t := range h.tubes {
		for _, part := range t.straights() {
			s.solid(slab(part.from, part.to, 0, part.radius), l, ofMount)
		}
	}
}

// jointSign is the sign of a joint in chair axes, with the name of its part where
// it is the first sign of that part.
type jointSign struct {
	at   r3.Vec
	sign mark
	part string
}

// signs returns the signs of the clamp and of the joints that turn, labeled with
// the parts that are no tubes: the places where a technician measures.
func (h *held) signs() []jointSign {
	tube := make(map[string]bool)
	for _, span := range h.chain.Spans {
		tube[span.Part] = true
	}
	named := maps.Clone(tube) // parts that need no label, or have one
	var all []jointSign
	add := func(i int, sign mark, part string) {
		j := jointSign{at: h.joints[i].At, sign: sign}
		if !named[part] {
			j.part, named[part] = spoken(part), true
		}
		all = append(all, j)
	}
	for i, j := range h.chain.Joints {
		part := j.Part()
		if i == clampEnd(h.chain.Joints) {
			delete(named, part)
			add(i, clampMark, part)
		}
		if j.Motion == mount.Turn && !tube[part] { // a tube turns all along itself
			add(i, ring, part)
		}
	}
	return all
}

// clampEnd returns the place of the joint at which the clamp's middle sits when it
// has been moved along and turned: the last of the first part before its offset.
func clampEnd(joints []mount.Joint) int {
	clamp := joints[0].Part()
	end := slices.IndexFunc(joints, func(j mount.Joint) bool { return j.Part() != clamp || j.Name == clamp+".offset" })
	if end < 0 {
		end = len(joints)
	}
	return max(0, end-1)
}
