package refit

import (
	"fmt"
	"slices"
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// Action is what is done in one step of changing a mount's settings.
type Action int

// The actions. A setting that is changed is freed, moved, fastened and read
// again, one after the other; nothing else is loose meanwhile.
const (
	// TakeOff takes the device off the mount, PutBack puts it on again.
	TakeOff Action = iota
	// Support takes the load in the other hand before anything is freed.
	Support
	// Loosen frees a setting that is clamped, LiftOut one that sits in a stop.
	Loosen
	LiftOut
	// Move moves the setting from From to To.
	Move
	// Tighten fastens it again, or lets it into its stop.
	Tighten
	// ReadAgain reads the setting after it was fastened.
	ReadAgain
	PutBack
	// Recheck looks at the tracker's own picture of the eyes in every posture.
	Recheck
)

// Step is one step of changing a mount's settings.
type Step struct {
	Action Action
	// Setting is its place in the order of the settings, -1 when the step is
	// about the device or the whole mount. Joint is its joint.
	Setting  int
	Joint    mount.Joint
	From, To float64 // mm or radians; the same but for Move
	Cautions []Caution
}

// CautionKind is a kind of caution.
type CautionKind int

// The kinds of caution.
const (
	// Slides: freed, the setting slides under the load by itself.
	Slides CautionKind = iota
	// Swings: freed, it turns under the load by itself.
	Swings
	// Passes: on the way something comes nearer to a keep-clear zone than required.
	Passes
	// PassesFace: on the way the housing comes nearer to the eyes than required.
	PassesFace
)

// Caution is something to look out for in a step.
type Caution struct {
	Kind CautionKind
	// ForceN is the part of the load's weight along a setting that slides.
	ForceN float64
	// MomentNM is the moment of the load's weight about a setting that swings,
	// in newton meters.
	MomentNM float64
	// High says that the load drives the setting toward higher values.
	High bool
	// Zone names the keep-clear zone that is passed, Part what passes it, and GapMM is
	// the least clearance on the way, negative when they would touch.
	Zone, Part string
	GapMM      float64
}

// Steps returns how to change a mount from settings as found to those of set, and what
// to look out for, with the leading posture's vertical.
//
// The settings are changed from the clamp outward, because each one moves all
// that follows it and none before it: what has been read stays true. Only one is
// free at a time, so that the others keep hold of the load. The device is taken
// off while the clamp itself is changed; a ball, which one screw holds, is freed
// once for all its settings. Errors wrap [fit.ErrJob] or are those of
// [mount.Chain.Forward].
func Steps(job *fit.Job, set *fit.Set, from mount.Settings) ([]Step, error) {
	if job.Mount == nil || set == nil {
		return nil, fmt.Errorf("%w: it has no mount whose settings could be changed", fit.ErrJob)
	}
	c, err := newChangeover(job, set.Chain)
	if err != nil {
		return nil, err
	}
	for _, s := range []mount.Settings{from, set.Settings} {
		if _, err := set.Chain.Forward(s); err != nil {
			return nil, err
		}
	}
	c.now = slices.Clone(from)
	moved, _ := changes(set.Chain.Moving(), from, set.Settings)
	for i, ch := range moved {
		_, atClamp := partOf(job, ch.Joint).(mount.Clamp)
		c.device(!atClamp)
		ball := ballOf(job, ch.Joint)
		goesOn := i > 0 && ball != "" && ball == ballOf(job, moved[i-1].Joint)
		more := i+1 < len(moved) && ball != "" && ball == ballOf(job, moved[i+1].Joint)
		if err := c.change(ch, !goesOn, !more); err != nil {
			return nil, err
		}
	}
	if len(moved) > 0 {
		c.device(true)
		c.steps = append(c.steps, Step{Action: Recheck, Setting: -1})
	}
	return c.steps, nil
}

// partOf returns the part of the job's kit that a joint belongs to; nil if to none.
func partOf(job *fit.Job, joint mount.Joint) mount.Part {
	for _, p := range job.Mount.Kit.Parts {
		if strings.HasPrefix(joint.Name, p.PartName()+".") {
			return p
		}
	}
	return nil
}

// ballOf returns the name of the ball that a joint belongs to, "" if to none.
func ballOf(job *fit.Job, joint mount.Joint) string {
	if ball, ok := partOf(job, joint).(mount.Ball); ok {
		return ball.Name
	}
	return ""
}
