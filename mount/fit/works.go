package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// Works reports whether the mount works at settings s. It agrees with [Check], but for
// ratings, which no setting changes, and takes a tenth of its time.
func (m *SetMount) Works(s mount.Settings) (bool, error) {
	if mm, _, err := m.Margin(s); err != nil || !(m.Spare(mm) >= 0) {
		return false, err
	}
	return m.bears(s)
}

// bears reports whether all but the margin and the ratings is met at settings s: strength,
// clearances, sight and preferences.
func (m *SetMount) bears(s mount.Settings) (bool, error) {
	b, unloaded := m.problem, m.sagging.unloaded
	screen, tubes := m.sagging.compiled.Pose(s), unloaded.at(s)
	var was r3.Vec
	for _, i := range slices.Backward(b.asSet) { // of the last that must work the model has the load from Margin
		if g := m.sagging.gravity[i]; g != was {
			was = g
			if err := m.sagging.model.At(&m.here, s, g); err != nil {
				return false, fmt.Errorf("%w: %w", ErrJob, err)
			}
			m.sags(tubes)
		}
		sag := m.here.Screen.Pose(screen.At)
		held := sag.Mul(screen)
		if i == b.must[0] {
			aim := gaze.AimAt(held, &b.postures[i], b.job.Preferences.Upright)
			if len(b.job.Preferences.outOfRange(&aim, i)) > 0 {
				return false, nil
			}
		}
		if b.job.Postures[i].MustWork {
			gap := sightGap{MM: farMM}
			if b.sightFrom(against(b.postures[i], sag).Eyes, unloaded, &gap); gap.crosses() {
				return false, nil
			}
			if b.job.Preferences.FaceMM > 0 && !(m.faces[i].Margin(held).MM >= -RoundingMM) {
				return false, nil
			}
		}
		if m.overloaded(i) {
			return false, nil
		}
		if !m.farFromAll(i, tubes, held) {
			if apart, err := m.clearOfAll(i, s, held); !apart {
				return false, err
			}
		}
	}
	return true, nil
}

// clearOfAll reports whether the mount is clear of the floor and of all keep-clear zones in
// the posture of the model's last load.
func (m *SetMount) clearOfAll(posture int, s mount.Settings, held frame.Pose) (bool, error) {
	links := m.sagging.chain.LinksAt(s, m.sagging.unloaded.frames)
	tubes, err := m.sagging.pieces(m.bent[:0], m.sagging.bentLines(links))
	if err != nil {
		return false, err
	}
	m.bent = tubes
	low := Ground{MM: math.Inf(1)}
	if low.lower(posture, m.problem.postures[posture].Carrier, tubes); low.TooClose(m.problem.job.Passage.GroundMM) {
		return false, nil
	}
	housing := m.problem.housing.Moved(held)
	for k := range m.problem.keeps {
		p := &m.problem.keeps[k]
		if p.posture != posture {
			continue
		}
		least := p.keep.RequiredMM - RoundingMM
		if _, i := nearest(tubes, &p.shape, least); i >= 0 || !space.Clear(housing, p.shape, least) {
			return false, nil
		}
	}
	return true, nil
}

// overloaded reports whether anything fails under the last load of the model.
func (m *SetMount) overloaded(posture int) bool {
	l := &m.load
	l.Tubes, l.Joints, l.Turn = l.Tubes[:0], l.Joints[:0], 0
	l.worsen(&m.here, m.sagging.chain.Joints, posture)
	m.borne = l.bearing(m.borne[:0], m.problem.job.Demand)
	for _, one := range m.borne {
		if one.used > bearsAll {
			return true
		}
	}
	return false
}

// A point of a tube is assumed to move under load by at most bendsMore times as far as the
// ends of the tube do, and bendsMM more. That is not derived: TestWorksAgreesWithCheck
// compares the verdicts over the whole range of settings.
const (
	bendsMore = 1.5
	bendsMM   = 1
)

// farFromAll reports whether the mount, with its tubes as they are without load, is farther
// from the floor and from all keep-clear zones in a posture than its sag can make up for. If
// not, it may still be clear of them: clearOfAll judges exactly, and takes longer.
func (m *SetMount) farFromAll(posture int, tubes []TubePiece, held frame.Pose) bool {
	b := m.problem
	carrier, housing := &b.postures[posture].Carrier, b.housing.Moved(held)
	for i := range tubes {
		for _, end := range tubes[i].ends() {
			if carrier.Apply(end).Z < b.job.Passage.GroundMM+m.sagMM[i] {
				return false
			}
		}
	}
	for k := range b.keeps {
		p := &b.keeps[k]
		if p.posture != posture {
			continue
		}
		if !space.Clear(housing, p.shape, p.keep.RequiredMM) {
			return false
		}
		for i := range tubes {
			t, mm := &tubes[i].Shape, p.keep.RequiredMM+m.sagMM[i]
			if !space.FarApart(&p.shape, t, mm) && !space.Clear(*t, p.shape, mm) {
				return false
			}
		}
	}
	return true
}

// sags fills in how far a point of each piece of a tube moves at most under the load that
// the model has: see bendsMore. Of the ends of a tube one is moved by the joint that
// carries it, the other by the next joint out.
func (m *SetMount) sags(tubes []TubePiece) {
	model, still := m.sagging.model, m.sagging.unloaded.frames
	m.sagMM = m.sagMM[:0]
	for i := range tubes {
		next := tubes[i].Carrier + 1
		most2 := r3.Norm2(model.Shift(next, still[next].At))
		for _, end := range tubes[i].ends() {
			most2 = max(most2, r3.Norm2(model.Shift(next-1, end)))
		}
		m.sagMM = append(m.sagMM, bendsMM+bendsMore*math.Sqrt(most2))
	}
}
