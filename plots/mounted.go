package plots

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// held is the mount of a scene under its load, in chair axes.
type held struct {
	joints []r3.Vec
	tubes  []tubeLine
	bars   [][2]r3.Vec // from joint to joint where there is no tube
}

// tubeLine is a tube's middle line in chair axes (mm), and the place on it of what holds
// the tube.
type tubeLine struct {
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
	links, linkErr := set.Chain.Links(set.Settings)
	frames, err := set.Chain.Frames(set.Settings)
	if err = errors.Join(linkErr, err); err != nil {
		s.fail(fmt.Errorf("plots: mount: %w", err))
		return nil
	}
	m := s.shown.Mount
	if m != nil {
		if len(m.Joints) != len(set.Chain.Joints) || len(m.Lines) != len(links) {
			s.fail(fmt.Errorf("%w: the mount under its load has other parts than its chain", ErrFigure))
			return nil
		}
		frames = m.Joints
	}
	carrier := s.shown.InCarrier.Carrier
	h := &held{}
	for _, f := range frames {
		h.joints = append(h.joints, carrier.Apply(f.At))
	}
	for k, l := range links {
		if m != nil {
			l.LineMM = m.Lines[k]
		}
		if len(l.LineMM) <= l.Held {
			s.fail(fmt.Errorf("%w: %s has no middle line", ErrFigure, spoken(l.Part)))
			return nil
		}
		t := tubeLine{radius: l.RadiusMM, held: l.Held}
		for _, p := range l.LineMM {
			t.line = append(t.line, carrier.Apply(p))
		}
		h.tubes = append(h.tubes, t)
	}
	s.bars(h)
	return h
}

// bars joins tubes and joints by straight bars, from each to the next outward and at last
// to the back of the housing; a chain knows where they begin and end, not their form.
func (s *scene) bars(h *held) {
	chain := s.r.Set.Chain
	var last *r3.Vec
	reach := func(at r3.Vec) {
		if last != nil && *last != at {
			h.bars = append(h.bars, [2]r3.Vec{*last, at})
		}
		last = &at
	}
	for i, j := range chain.Joints {
		tube := false
		for k, span := range chain.Spans {
			tube = tube || span.Part == j.Part()
			if span.Carrier == i {
				t := h.tubes[k]
				reach(t.line[t.held])
				last = &t.line[len(t.line)-1]
			}
		}
		if !tube && j.Motion == mount.Turn {
			reach(h.joints[i])
		}
	}
	d := s.job.Device.Screen
	reach(s.shown.Screen.Apply(r3.Vec{Y: -d.HousingBelowMM, Z: -d.HousingMM.Z}))
}

// mount draws tubes at their diameter, the clamp and the joints that turn.
func (s *scene) mount() {
	h := s.held()
	if h == nil {
		return
	}
	for _, b := range h.bars {
		s.line(stroke(lookTube.fill, 2.5), s.flatAll(b[0], b[1])...)
	}
	for _, t := range h.tubes {
		for _, outline := range s.tube(t.line, t.radius) {
			s.outline(outline, lookTube)
		}
	}
	s.explain(lookTube, tubeWords)
	for _, j := range s.joints(h) {
		s.sign(s.flat(j.at), j.sign)
		if j.part != "" {
			s.locate(j.part, j.at)
		}
	}
}

const tubeWords = "mount, tubes to scale (rings: joints)"

// jointSign is the sign of a joint in chair axes, with the name of its part where
// it is the first sign of that part.
type jointSign struct {
	at   r3.Vec
	sign mark
	part string
}

// joints returns the signs of the clamp and of the joints that turn, labeled with
// the parts that are no tubes: the places where a technician measures.
func (s *scene) joints(h *held) []jointSign {
	chain := s.r.Set.Chain
	tube := make(map[string]bool)
	for _, span := range chain.Spans {
		tube[span.Part] = true
	}
	named := maps.Clone(tube) // parts that need no label, or have one
	var all []jointSign
	add := func(i int, sign mark, part string) {
		j := jointSign{at: h.joints[i], sign: sign}
		if !named[part] {
			j.part, named[part] = spoken(part), true
		}
		all = append(all, j)
	}
	for i, j := range chain.Joints {
		part := j.Part()
		if i == clampEnd(chain.Joints) {
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
