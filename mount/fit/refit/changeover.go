package refit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// changeover is a mount on its way from one set of settings to another.
type changeover struct {
	job   *fit.Job
	chain mount.Chain
	now   mount.Settings
	off   bool // the device is off
	steps []Step
	// loaded and bare are the mount with the device on and off.
	loaded, bare *fit.LoadedMount
	housing      space.Shape // in screen axes
}

// newChangeover prepares a chain of the job's kit.
func newChangeover(job *fit.Job, chain mount.Chain) (*changeover, error) {
	c := &changeover{job: job, chain: chain, housing: fit.Housing(job.Device)}
	var err error
	if c.loaded, err = fit.NewLoadedMount(job, chain, true); err != nil {
		return nil, err
	}
	if c.bare, err = fit.NewLoadedMount(job, chain, false); err != nil {
		return nil, err
	}
	return c, nil
}

// device puts the device on the mount or takes it off, if it is not so already.
func (c *changeover) device(on bool) {
	switch {
	case on && c.off:
		c.steps = append(c.steps, whole(Hang)...)
	case !on && !c.off:
		c.steps = append(c.steps, whole(TakeOff)...)
	}
	c.off = !on
}

// carrying returns the mount with what it carries now.
func (c *changeover) carrying() *fit.LoadedMount {
	if c.off {
		return c.bare
	}
	return c.loaded
}

// change adds the step of one change and makes it. The joint is freed before, unless another
// setting of the same ball has done so.
func (c *changeover) change(ch Change, frees bool) error {
	step := Step{Action: Adjust, Setting: ch.Setting, Joint: ch.Joint, From: ch.From, To: ch.To, Frees: frees}
	weight, err := c.weight(ch)
	if err != nil {
		return err
	}
	passed, err := c.passed(ch)
	if err != nil {
		return err
	}
	if frees {
		step.Cautions = weight
	}
	step.Cautions = append(step.Cautions, passed...)
	c.steps = append(c.steps, step)
	c.now[ch.Setting] = ch.To
	return nil
}

// slidesN and swingsNM are the force and moment that a freed setting is taken to hold by
// its own friction: judgment, no source.
const slidesN, swingsNM = 2.0, 0.1

// weight returns what the load does to a setting that is freed, in the leading posture. A
// ball that is freed for one of its settings gives way about every axis.
func (c *changeover) weight(ch Change) ([]Caution, error) {
	freed := ch.Setting
	if ball := ballOf(c.job, ch.Joint); ball != "" {
		freed = slices.IndexFunc(c.chain.Moving(), func(j mount.Joint) bool { return j.Stiffness.AnyAxis && ballOf(c.job, j) == ball })
	}
	drive, err := c.carrying().Drive(c.now, freed, c.job.Leading())
	if err != nil {
		return nil, err
	}
	size, high := math.Abs(drive), drive > 0
	switch {
	case ch.Joint.Motion == mount.Slide && size > slidesN:
		return []Caution{{Kind: Slides, ForceN: size, High: high}}, nil
	case ch.Joint.Motion == mount.Turn && size > swingsNM:
		return []Caution{{Kind: Swings, MomentNM: size, High: high}}, nil
	}
	return nil, nil
}

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
		pass := func(note *Caution, parts []space.Shape, fixed ...space.Shape) {
			least := space.NewSweep(path, parts, fixed, nil).Least(0, ch.To-ch.From)
			if least.Moving >= 0 && least.MM < note.GapMM {
				note.GapMM, note.Part = least.MM, names[least.Moving]
			}
		}
		pass(face, parts, space.Shape{Pose: frame.Translate(st.Eyes[0])}, space.Shape{Pose: frame.Translate(st.Eyes[1])})
		for _, t := range poses[i].Tubes {
			if t.Carrier >= joint {
				parts, names = append(parts, t.Shape), append(names, t.Part)
			}
		}
		for k := range c.job.KeepClear {
			zone := &c.job.KeepClear[k]
			carrierFromZone := st.Carrier.Inverse().Mul(zone.Pose(c.job.Scene, st.Posture))
			pass(&near[k], parts, zone.Shape.Moved(carrierFromZone))
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
