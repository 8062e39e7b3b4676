package refit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// passed returns what comes too near while a setting is moved, in any posture. What
// moves stays bent on the way as it was before; the mount as it is set in the end is
// judged as such.
func (c *changeover) passed(ch Change) ([]Caution, error) {
	frames, err := c.chain.Frames(c.now)
	if err != nil {
		return nil, err
	}
	poses, err := c.carrying().Poses(c.now)
	if err != nil {
		return nil, err
	}
	joint := c.joints[ch.Setting]
	at := frames[joint]
	path := space.Path{Through: at.At, Along: r3.Unit(at.Rot.Apply(ch.Joint.Axis)), Slides: ch.Joint.Motion == mount.Slide}
	zones := make([]Caution, len(c.job.KeepClear))
	for k := range zones {
		zones[k] = Caution{Kind: Passes, Zone: c.job.KeepClear[k].Name, GapMM: math.Inf(1)}
	}
	face := Caution{Kind: PassesFace, GapMM: math.Inf(1)}
	for i := range c.postures {
		st := &c.postures[i]
		m := movement{path: path, by: ch.To - ch.From}
		if !c.off {
			m.add("housing", c.housing.Moved(poses[i].Motion.Mul(frames[len(frames)-1])))
			for _, eye := range st.Eyes {
				if err := m.pass(&face, space.Shape{Pose: frame.Translate(eye)}); err != nil {
					return nil, err
				}
			}
		}
		for _, t := range poses[i].Tubes {
			if t.Carrier >= joint {
				m.add(t.Part, t.Shape)
			}
		}
		for k := range zones {
			zone := &c.job.KeepClear[k]
			carrierFromZone := st.Carrier.Inverse().Mul(zone.Pose(c.job.Scene, st.Posture))
			if err := m.pass(&zones[k], zone.Shape.Moved(carrierFromZone)); err != nil {
				return nil, err
			}
		}
	}
	return c.tooNear(zones, face), nil
}

// tooNear returns the cautions whose gap is less than required.
func (c *changeover) tooNear(zones []Caution, face Caution) []Caution {
	var out []Caution
	for k, zone := range zones {
		if zone.GapMM < c.job.KeepClear[k].RequiredMM-fit.RoundingMM {
			out = append(out, zone)
		}
	}
	if face.GapMM < c.job.Preferences.FaceMM-fit.RoundingMM {
		out = append(out, face)
	}
	return out
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

// pass notes in c how near the parts come to what does not move.
func (m *movement) pass(c *Caution, fixed space.Shape) error {
	sweep, err := space.NewSweep(m.path, m.parts, []space.Shape{fixed}, nil)
	if err != nil {
		return fmt.Errorf("%w: on the way: %w", fit.ErrJob, err)
	}
	least, err := sweep.Least(0, m.by)
	if err != nil {
		return fmt.Errorf("%w: on the way: %w", fit.ErrJob, err)
	}
	if least.Moving >= 0 && least.MM < c.GapMM {
		c.GapMM, c.Part = least.MM, m.names[least.Moving]
	}
	return nil
}
