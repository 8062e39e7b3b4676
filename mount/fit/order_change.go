package fit

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// atClamp reports whether a joint belongs to a clamp of the job's kit.
func (j *Job) atClamp(joint mount.Joint) bool {
	for _, p := range j.Mount.Kit.Parts {
		if clamp, ok := p.(mount.Clamp); ok && strings.HasPrefix(joint.Name, clamp.Name+".") {
			return true
		}
	}
	return false
}

// ball returns the name of the ball that a joint belongs to, "" if to none.
func (j *Job) ball(joint mount.Joint) string {
	for _, p := range j.Mount.Kit.Parts {
		if ball, ok := p.(mount.Ball); ok && strings.HasPrefix(joint.Name, ball.Name+".") {
			return ball.Name
		}
	}
	return ""
}

// changeover is a mount on its way from one set of settings to another.
type changeover struct {
	*problem
	chain mount.Chain
	now   mount.Settings
	down  r3.Vec // unit, carrier axes
	off   bool   // the device is off
	steps []Step
	// loaded and bare are the mount with the device on and off.
	loaded, bare *sagging
}

// device puts the device on the mount or takes it off, if it is not so already.
func (c *changeover) device(on bool) {
	switch {
	case on && c.off:
		c.steps = append(c.steps, Step{Action: PutBack, Setting: -1})
	case !on && !c.off:
		c.steps = append(c.steps, Step{Action: TakeOff, Setting: -1})
	}
	c.off = !on
}

// change adds the steps of one change and makes it. The joint is freed before and
// fastened after, unless another setting of the same ball has done or will do so.
func (c *changeover) change(ch Change, freeing, fastening bool) error {
	weight, err := c.weight(ch)
	if err != nil {
		return err
	}
	way, err := c.onTheWay(ch)
	if err != nil {
		return err
	}
	step := func(a Action, from, to float64, cautions ...Caution) {
		c.steps = append(c.steps, Step{Action: a, Setting: ch.Setting, Joint: ch.Joint, From: from, To: to, Cautions: cautions})
	}
	free := Loosen
	if ch.Joint.Indexed {
		free = LiftOut
	}
	if len(weight) > 0 && freeing {
		step(Support, ch.From, ch.From, weight...)
	}
	if freeing {
		step(free, ch.From, ch.From, weight...)
	}
	step(Move, ch.From, ch.To, way...)
	if fastening {
		step(Tighten, ch.To, ch.To)
	}
	step(ReadAgain, ch.To, ch.To)
	c.now[ch.Setting] = ch.To
	return nil
}

// hung returns the mount with what hangs on it now.
func (c *changeover) hung() *sagging {
	if c.off {
		return c.bare
	}
	return c.loaded
}
