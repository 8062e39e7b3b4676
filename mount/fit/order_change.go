package fit

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
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
	*bench
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

// positions is at how many places of a move what is to be kept clear is looked at.
const positions = 9

// onTheWay returns what comes too near while a setting is moved, the mount sagging at
// every place as it would if it were fast there.
func (c *changeover) onTheWay(ch Change) ([]Caution, error) {
	way := map[*Keep]Caution{}
	face := Caution{Kind: PassesFace, Part: "casing", GapMM: math.Inf(1)}
	mount := c.loaded
	if c.off {
		mount = c.bare
	}
	s := slices.Clone(c.now)
	for k := range positions {
		s[ch.Setting] = ch.From + (ch.To-ch.From)*float64(k)/(positions-1)
		sags, err := mount.at(s)
		if err != nil {
			return nil, err
		}
		tubes, err := mount.tubes(s)
		if err != nil {
			return nil, err
		}
		own, screen := c.sagged(sags), mount.compiled.Pose(s)
		if !c.off && c.job.Wish.FaceMM > 0 {
			mm, _, _ := gaze.NewFaceDistance(c.job.Device, own.request.Stances, 0).Room(screen)
			face.GapMM = min(face.GapMM, mm)
		}
		for i := range own.keeps {
			p := &own.keeps[i]
			passed := nearer(way[p.keep], p, tubes[p.posture])
			if !c.off {
				if mm := own.casingGap(screen, p); mm < passed.GapMM {
					passed.GapMM, passed.Part = mm, "casing"
				}
			}
			way[p.keep] = passed
		}
	}
	return c.tooNear(way, face), nil
}

// nearer returns the caution for the nearest of parts to a space, or the one so
// far if that was nearer.
func nearer(so Caution, p *placed, parts []tubeShape) Caution {
	if so.Space == "" {
		so = Caution{Kind: Passes, Space: p.keep.Name, GapMM: math.Inf(1)}
	}
	if gap, i := nearest(parts, &p.shape, so.GapMM); i >= 0 {
		so.GapMM, so.Part = gap.MM, parts[i].part
	}
	return so
}

// tooNear returns the cautions whose gap is less than is to be kept.
func (c *changeover) tooNear(way map[*Keep]Caution, face Caution) []Caution {
	var out []Caution
	for i := range c.job.Keep {
		keep := &c.job.Keep[i]
		if passed, ok := way[keep]; ok && passed.GapMM < keep.GapMM-roundingMM {
			out = append(out, passed)
		}
	}
	if face.GapMM < c.job.Wish.FaceMM-roundingMM {
		out = append(out, face)
	}
	return out
}
