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
	joint := c.chain.MovingPlaces()[ch.Setting]
	at := frames[joint]
	path := space.Path{Through: at.At, Along: r3.Unit(at.Rot.Apply(ch.Joint.Axis)), Slides: ch.Joint.Motion == mount.Slide}
	var near []Caution // for each zone, and for the face
	for _, zone := range c.job.KeepClear {
		near = append(near, Caution{Kind: Passes, Zone: zone.Name, GapMM: math.Inf(1)})
	}
	near = append(near, Caution{Kind: PassesFace, GapMM: math.Inf(1)})
	face := &near[len(near)-1]
	for i, posture := range c.job.Postures {
		st := c.job.Scene.InCarrier(posture)
		var parts []space.Shape
		var names []string
		if !c.off {
			parts, names = append(parts, c.housing.Moved(poses[i].Motion.Mul(frames[len(frames)-1]))), append(names, "housing")
		}
		pass := func(note *Caution, parts, fixed []space.Shape) error {
			sweep, err := space.NewSweep(path, parts, fixed, nil)
			if err != nil {
				return fmt.Errorf("%w: on the way: %w", fit.ErrJob, err)
			}
			least, err := sweep.Least(0, ch.To-ch.From)
			if err != nil {
				return fmt.Errorf("%w: on the way: %w", fit.ErrJob, err)
			}
			if least.Moving >= 0 && least.MM < note.GapMM {
				note.GapMM, note.Part = least.MM, names[least.Moving]
			}
			return nil
		}
		eyes := []space.Shape{{Pose: frame.Translate(st.Eyes[0])}, {Pose: frame.Translate(st.Eyes[1])}}
		if err := pass(face, parts, eyes); err != nil {
			return nil, err
		}
		for _, t := range poses[i].Tubes {
			if t.Carrier >= joint {
				parts, names = append(parts, t.Shape), append(names, t.Part)
			}
		}
		for k := range c.job.KeepClear {
			zone := &c.job.KeepClear[k]
			carrierFromZone := st.Carrier.Inverse().Mul(zone.Pose(c.job.Scene, st.Posture))
			if err := pass(&near[k], parts, []space.Shape{zone.Shape.Moved(carrierFromZone)}); err != nil {
				return nil, err
			}
		}
	}
	var out []Caution
	for k, caution := range near {
		required := c.job.Preferences.FaceMM
		if k < len(c.job.KeepClear) {
			required = c.job.KeepClear[k].RequiredMM
		}
		if caution.GapMM < required-fit.RoundingMM {
			out = append(out, caution)
		}
	}
	return out, nil
}
