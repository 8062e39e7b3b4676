package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// spaceGuard guards the gaps to the spaces to keep clear, and the floor, in all postures
// in which the mount stands.
//
// It looks roughly first, at the mount without its sag, which moves no point of it
// farther than drift.mostMM. Only where that does not tell does it look at the mount as
// it sags.
type spaceGuard struct{ *wandering }

const (
	// roughlyMM is how much must be left at a rough look to go on from that.
	roughlyMM = 1
	// finelyMM is what counts as nothing left of a gap: a tenth of roundingMM.
	finelyMM = 0.001
)

// look implements [guard].
func (g spaceGuard) look(v, ahead float64) (slack, error) {
	g.at[g.setting] = v
	s := sighting{wandering: g.wandering, ahead: ahead, tubes: g.piping.at(g.at)}
	s.housing = g.housing.Moved(g.compiled.Pose(g.at))
	l := unlimited()
	for k := range g.keeps {
		near, err := s.near(s.roughly(&g.keeps[k]), func() slack { return s.finely(&g.keeps[k]) })
		if err != nil {
			return l, err
		}
		l.lessen(near)
	}
	for _, i := range g.stands {
		near, err := s.near(s.floorRoughly(i), func() slack { return s.floorFinely(i) })
		if err != nil {
			return l, err
		}
		l.lessen(near)
	}
	return l, nil
}

// sighting is one look of a [spaceGuard].
type sighting struct {
	*wandering
	ahead   float64
	housing space.Shape // without sag, as the tubes
	tubes   []tubeShape

	// in every posture as it sags, once somebody has looked finely
	standing []*LoadedPose
	loaded   [][]tubeShape
	sags     []frame.Pose
}

// near returns the rough slack if that tells, otherwise the fine one.
func (s *sighting) near(rough slack, fine func() slack) (slack, error) {
	if rough.left >= roughlyMM || rough.left > 0 && rough.safe >= math.Abs(s.ahead) {
		return rough, nil
	}
	if err := s.load(); err != nil {
		return slack{}, err
	}
	l := fine()
	if l.left >= 0 && l.left < finelyMM {
		l.left = 0
	}
	return l, nil
}

// load brings the mount to where it sags.
func (s *sighting) load() error {
	if s.loaded != nil {
		return nil
	}
	var err error
	if s.standing, err = s.sagging.stands(s.at); err != nil {
		return err
	}
	if s.sags, err = s.sagging.at(s.at); err != nil {
		return err
	}
	s.loaded, err = s.sagging.shapes(s.standing)
	return err
}

// fall returns how fast what a joint carries may come nearer to something that is seen
// along the unit direction toward (mm for each unit), without sag.
func (s *sighting) fall(carrier int, toward r3.Vec) float64 {
	switch {
	case carrier < s.place:
		return 0
	case s.line.Slides:
		return max(-math.Copysign(1, s.ahead)*r3.Dot(toward, s.line.Along), 0)
	default:
		return r3.Norm(r3.Cross(toward, s.line.Along)) * s.reachMM[carrier]
	}
}

// roughly returns the slack to a space without sag, less the most that sag can take.
func (s *sighting) roughly(p *placed) slack {
	l, wanted := unlimited(), p.keep.RequiredMM-roundingMM+s.drift.mostMM
	look := func(carrier int, shape space.Shape) {
		most := math.Abs(s.ahead)
		if !s.line.Slides {
			most *= s.reachMM[carrier]
		}
		if carrier < s.place {
			most = 0
		}
		if space.Clear(shape, p.shape, wanted+max(most, roughlyMM)) {
			return
		}
		gap := space.Between(shape, p.shape)
		left := gap.MM - wanted
		l.lessen(slack{left: left, safe: over(left, s.fall(carrier, gap.Toward))})
	}
	for i := range s.tubes {
		look(s.tubes[i].carrier, s.tubes[i].shape)
	}
	look(len(s.reachMM)-1, s.housing)
	return l
}

// finely returns the slack to a space as the mount sags.
func (s *sighting) finely(p *placed) slack {
	l, wanted := unlimited(), p.keep.RequiredMM-roundingMM
	look := func(carrier int, part string, shape space.Shape) {
		gap := space.Between(shape, p.shape)
		left := gap.MM - wanted
		l.lessen(slack{
			left, over(left, s.fall(carrier, gap.Toward)+s.drift.pointMM),
			Bound{End: EndGap, Part: part, Space: p.keep.Name, Posture: p.posture},
		})
	}
	for i := range s.loaded[p.posture] {
		t := &s.loaded[p.posture][i]
		look(t.carrier, t.part, t.shape)
	}
	look(len(s.reachMM)-1, "housing", s.housing.Moved(s.sags[p.posture]))
	return l
}

// floorRoughly returns the slack to the floor in a posture without sag, less the most
// that sag can take.
func (s *sighting) floorRoughly(posture int) slack {
	l := unlimited()
	carrier := &s.stances[posture].Carrier
	up := carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	for i := range s.tubes {
		t := &s.tubes[i]
		fall := s.fall(t.carrier, up)
		for _, end := range t.ends() {
			left := carrier.Apply(end).Z + roundingMM - s.drift.mostMM
			l.lessen(slack{left: left, safe: over(left, fall)})
		}
	}
	return l
}

// floorFinely returns the slack to the floor in a posture as the mount sags.
func (s *sighting) floorFinely(posture int) slack {
	l := unlimited()
	carrier := &s.stances[posture].Carrier
	up := carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	for t, line := range s.standing[posture].Lines {
		span := &s.sagging.chain.Spans[t]
		fall := s.fall(span.Carrier, up)
		for k, at := range line {
			left, sinks := carrier.Apply(at).Z+roundingMM, fall+s.drift.pointMM
			if k == 0 {
				sinks = fall + s.drift.nearMM[t]
				if span.Slide == s.setting && span.TotalMM == 0 {
					sinks = s.drift.nearMM[t] // it stays where it is held
				}
			}
			l.lessen(slack{left, over(left, sinks), Bound{End: EndFloor, Part: span.Part, Posture: posture}})
		}
	}
	return l
}
