package refit

import (
	"fmt"
	"slices"
	"strings"

	"sightpost/mount"
	"sightpost/mount/fit"
)

// Action is what is done in one step of setting a mount, or of changing its settings.
type Action int

// The actions.
const (
	// TakeOff takes the device off the mount, or keeps it off; Hang hangs it on again.
	TakeOff Action = iota
	// Fit fits clamp and tubes, SetAll sets every setting from the clamp outward, and
	// TightenAll tightens all joints.
	Fit
	SetAll
	TightenAll
	// Adjust frees one setting, moves it from From to To, fastens it and reads it again;
	// nothing else is loose meanwhile.
	Adjust
	Hang
	// FineSet sets again, under the load, what sags with it.
	FineSet
	// Measure checks by tape, Swing swings the mount clear and back, Try tries it with the
	// person in the chair.
	Measure
	Swing
	Try
)

// Step is one step of work.
type Step struct {
	Action Action
	// Setting is its place in the order of the settings, -1 when the step is
	// about the device or the whole mount. Joint is its joint.
	Setting  int
	Joint    mount.Joint
	From, To float64 // mm or radians
	// Frees says whether a change frees its setting first: a ball, which one screw holds, is
	// freed once for all its settings.
	Frees    bool
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

// Setup returns the order of work that sets a mount up from nothing.
func Setup() []Step {
	return whole(TakeOff, Fit, SetAll, TightenAll, Hang, FineSet, TightenAll, Measure, Swing, Try)
}

// whole returns steps that are about the device or the whole mount.
func whole(actions ...Action) []Step {
	steps := make([]Step, len(actions))
	for i, a := range actions {
		steps[i] = Step{Action: a, Setting: -1}
	}
	return steps
}

// Steps returns how to change a mount from settings as found to those of set, and what
// to look out for, with the leading posture's vertical.
//
// The settings are changed from the clamp outward, because each one moves all
// that follows it and none before it: what has been read stays true. Only one is
// free at a time, so that the others keep hold of the load. The device is taken
// off while the clamp itself is changed; a ball is freed once for all its settings.
// Errors wrap [fit.ErrJob] or are those of [mount.Chain.Forward].
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
		if err := c.change(ch, !goesOn); err != nil {
			return nil, err
		}
	}
	if len(moved) > 0 {
		c.device(true)
		c.steps = append(c.steps, whole(Measure, Swing, Try)...)
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
