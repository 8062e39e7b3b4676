package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// onTheWay returns what comes too near while a setting is moved, in any posture in
// which the mount stands as it is set. What moves stays on the way as it has sagged
// before; the mount as it is set in the end is judged as such.
func (c *changeover) onTheWay(ch Change) ([]Caution, error) {
	frames, err := c.chain.Frames(c.now)
	if err != nil {
		return nil, err
	}
	hung := c.hung()
	sags, err := hung.at(c.now)
	if err != nil {
		return nil, err
	}
	tubes, err := hung.tubes(c.now)
	if err != nil {
		return nil, err
	}
	k := movingPlaces(c.chain)[ch.Setting]
	way := map[*KeepClear]Caution{}
	face := Caution{Kind: PassesFace, GapMM: math.Inf(1)}
	for _, posture := range c.stands {
		m := movement{path: pathOf(ch.Joint, frames[k]), by: ch.To - ch.From}
		if !c.off {
			m.add("housing", c.housing.Moved(sags[posture].Mul(frames[len(frames)-1])))
			if err := m.passFace(&face, c.stances[posture].Eyes); err != nil {
				return nil, err
			}
		}
		for _, t := range tubes[posture] {
			if t.carrier >= k {
				m.add(t.part, t.shape)
			}
		}
		if err := c.passKeeps(way, &m, posture); err != nil {
			return nil, err
		}
	}
	return c.tooNear(way, face), nil
}

// passKeeps takes in what a movement passes in one posture.
func (c *changeover) passKeeps(way map[*KeepClear]Caution, m *movement, posture int) error {
	for i := range c.keeps {
		p := &c.keeps[i]
		if p.posture != posture {
			continue
		}
		so, ok := way[p.keep]
		if !ok {
			so = Caution{Kind: Passes, Space: p.keep.Name, GapMM: math.Inf(1)}
		}
		if err := m.pass(&so, p.shape); err != nil {
			return err
		}
		way[p.keep] = so
	}
	return nil
}

// movement is parts of a mount that move together, in carrier axes.
type movement struct {
	path  space.Path
	by    float64 // how far they move
	parts []space.Shape
	names []string
}

func (m *movement) add(name string, part space.Shape) {
	m.parts, m.names = append(m.parts, part), append(m.names, name)
}

// pass takes in how near the parts come to what stands still.
func (m *movement) pass(so *Caution, still space.Shape) error {
	sweep, err := space.NewSweep(m.path, m.parts, []space.Shape{still}, nil)
	if err != nil {
		return fmt.Errorf("%w: on the way: %w", ErrJob, err)
	}
	least, err := sweep.Least(0, m.by)
	if err != nil {
		return fmt.Errorf("%w: on the way: %w", ErrJob, err)
	}
	if least.Moving >= 0 && least.MM < so.GapMM {
		so.GapMM, so.Part = least.MM, m.names[least.Moving]
	}
	return nil
}

// passFace takes in how near the parts come to the eyes.
func (m *movement) passFace(so *Caution, eyes [2]r3.Vec) error {
	for _, eye := range eyes {
		if err := m.pass(so, space.Shape{Pose: frame.Translate(eye)}); err != nil {
			return err
		}
	}
	return nil
}

// tooNear returns the cautions whose gap is less than is to be kept.
func (c *changeover) tooNear(way map[*KeepClear]Caution, face Caution) []Caution {
	var out []Caution
	for i := range c.job.KeepClear {
		keep := &c.job.KeepClear[i]
		if passed, ok := way[keep]; ok && passed.GapMM < keep.RequiredMM-roundingMM {
			out = append(out, passed)
		}
	}
	if face.GapMM < c.job.Preferences.FaceMM-roundingMM {
		out = append(out, face)
	}
	return out
}
