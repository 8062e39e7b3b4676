package refit

import (
	"math"
	"slices"

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

// change adds the step of one change and makes it. The joint is freed before and
// fastened after, unless another setting of the same ball has done or will do so.
func (c *changeover) change(ch Change, frees, fastens bool) error {
	step := Step{Action: Adjust, Setting: ch.Setting, Joint: ch.Joint, From: ch.From, To: ch.To, Frees: frees, Fastens: fastens}
	weight, err := c.weight(ch)
	if err != nil {
		return err
	}
	passed, err := c.passed(ch)
	if err != nil {
		return err
	}
	if frees {
		step.Hold, step.Cautions = len(weight) > 0, weight
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
