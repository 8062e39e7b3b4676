package plots

import (
	"errors"
	"fmt"
	"maps"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// held is the mount of a scene as it stands under its load, in chair axes.
type held struct {
	links  []mount.Link // without load
	frames []frame.Pose // carrier axes
	tubes  []tubeLine
	bars   [][2]r3.Vec // from joint to joint where there is no tube
}

// tubeLine is a tube's middle line in chair axes (mm).
type tubeLine struct {
	line   []r3.Vec
	radius float64
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
	if m := s.shown.Mount; m != nil {
		if len(m.Joints) != len(set.Chain.Joints) || len(m.Lines) != len(links) {
			s.fail(fmt.Errorf("%w: the mount under its load has other parts than its chain", ErrFigure))
			return nil
		}
		frames = m.Joints
	}
	h := &held{links: links, frames: frames}
	for k, l := range links {
		points := l.LineMM
		if m := s.shown.Mount; m != nil {
			points = m.Lines[k]
		}
		if len(points) <= l.Held {
			s.fail(fmt.Errorf("%w: %s has no middle line", ErrFigure, spoken(l.Part)))
			return nil
		}
		line := make([]r3.Vec, len(points))
		for i, p := range points {
			line[i] = s.shown.InCarrier.Carrier.Apply(p)
		}
		h.tubes = append(h.tubes, tubeLine{line, l.RadiusMM})
	}
	h.bars = s.bars(h)
	return h
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
	s.explain(lookTube, "mount, tubes to scale (rings: joints)")
	for _, j := range s.joints(h) {
		s.sign(s.flat(j.at), j.sign)
		if j.part != "" {
			s.locate(j.part, j.at)
		}
	}
}

// bars returns what joins tubes and joints as straight bars, from each to the
// next outward and at last to the back of the housing; a chain knows where they
// begin and end, not their form.
func (s *scene) bars(h *held) [][2]r3.Vec {
	chain := s.r.Set.Chain
	var bars [][2]r3.Vec
	var last *r3.Vec
	reach := func(at r3.Vec) {
		if last != nil && *last != at {
			bars = append(bars, [2]r3.Vec{*last, at})
		}
		last = &at
	}
	for i, j := range chain.Joints {
		tube := false
		for k, span := range chain.Spans {
			part, _, _ := strings.Cut(j.Name, ".")
			tube = tube || span.Part == part
			if span.Carrier == i {
				line := h.tubes[k].line
				reach(line[h.links[k].Held])
				last = &line[len(line)-1]
			}
		}
		if !tube && j.Motion == mount.Turn {
			reach(s.shown.InCarrier.Carrier.Apply(h.frames[i].At))
		}
	}
	d := s.job.Device.Screen
	reach(s.shown.Screen.Apply(r3.Vec{Y: -d.HousingBelowMM, Z: -d.HousingMM.Z}))
	return bars
}

// jointSign is the sign of a joint in chair axes, with the name of its part where
// it is the first sign of that part.
type jointSign struct {
	at   r3.Vec
	sign mark
	part string
}

// joints returns the signs of the clamp and of the joints that turn, labelled with
// the parts that are no tubes: the places where a technician measures.
func (s *scene) joints(h *held) []jointSign {
	named := make(map[string]bool) // parts that need no label, or have one
	for _, l := range h.links {
		named[l.Part] = true
	}
	var all []jointSign
	add := func(at r3.Vec, sign mark, part string) {
		j := jointSign{at: at, sign: sign}
		if !named[part] {
			j.part, named[part] = spoken(part), true
		}
		all = append(all, j)
	}
	tube := maps.Clone(named)
	joints := s.r.Set.Chain.Joints
	for i, j := range joints {
		at := s.shown.InCarrier.Carrier.Apply(h.frames[i].At)
		part, _, _ := strings.Cut(j.Name, ".")
		if i == clampEnd(joints) {
			delete(named, part)
			add(at, clampMark, part)
		}
		if j.Motion == mount.Turn && !tube[part] { // a tube turns all along itself
			add(at, ring, part)
		}
	}
	return all
}

// clampEnd returns the place of the joint at which the clamp's middle sits when it
// has been moved along and turned: the last of the first part before its offset.
func clampEnd(joints []mount.Joint) int {
	last := 0
	for i, j := range joints {
		first, _, _ := strings.Cut(joints[0].Name, ".")
		if part, what, _ := strings.Cut(j.Name, "."); part != first || what == "offset" {
			break
		}
		last = i
	}
	return last
}
