package casefile

import (
	"math"
	"reflect"
	"strings"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/variation"
)

// The forms of how far the truth may be from what was measured or set.

type uncertaintyForm struct {
	here
	Eyes         pointUncertaintyForm     `key:"eyes" doc:"of the place of the eyes."`
	Head         headUncertaintyForm      `key:"head" doc:"of the angles of the head."`
	SeatTilt     *angleUncertaintyForm    `key:"seat_tilt" doc:"of the seat's tilt."`
	BackAngle    *angleUncertaintyForm    `key:"back_angle" doc:"of the angle between seat and back support."`
	Slump        *lengthUncertaintyForm   `key:"slump" doc:"of how far trunk and head have slid down."`
	PupilSpacing *lengthUncertaintyForm   `key:"pupil_spacing" doc:"of the distance between the pupils."`
	Neck         neckUncertaintyForm      `key:"neck_to_eyes" doc:"of the way from the neck point to the eyes."`
	Clamp        pointUncertaintyForm     `key:"clamp" doc:"of the place of the clamp, or of the screen where there is no mount."`
	Settings     []settingUncertaintyForm `key:"settings" doc:"of settings, each by its name. Half a readable step either way for those left out."`
}

type lengthUncertaintyForm struct {
	here    `one:"normal uniform"`
	Normal  *length `key:"normal" is:"not negative" within:"0 200" doc:"standard deviation: two of three lie within it."`
	Uniform *length `key:"uniform" is:"not negative" within:"0 200" doc:"anywhere up to so far either way."`
}

type angleUncertaintyForm struct {
	here    `one:"normal uniform"`
	Normal  *angle `key:"normal" is:"not negative" within:"0 45" doc:"standard deviation: two of three lie within it."`
	Uniform *angle `key:"uniform" is:"not negative" within:"0 45" doc:"anywhere up to so far either way."`
}

type pointUncertaintyForm struct {
	here
	Forward *lengthUncertaintyForm `key:"forward" doc:"forward and backward."`
	Left    *lengthUncertaintyForm `key:"left" doc:"to the left and right."`
	Up      *lengthUncertaintyForm `key:"up" doc:"up and down."`
}

type headUncertaintyForm struct {
	here
	Flexion        *angleUncertaintyForm `key:"flexion" doc:"chin toward the chest and away from it."`
	Rotation       *angleUncertaintyForm `key:"rotation" doc:"face to the left and right."`
	LateralFlexion *angleUncertaintyForm `key:"lateral_flexion" doc:"head toward either shoulder."`
}

type neckUncertaintyForm struct {
	here
	Forward *lengthUncertaintyForm `key:"forward" doc:"eyes forward of the neck point."`
	Up      *lengthUncertaintyForm `key:"up" doc:"eyes above the neck point."`
}

type settingUncertaintyForm struct {
	here   `one:"length angle"`
	Name   text                   `key:"name" doc:"name of the setting, such as post.height."`
	Length *lengthUncertaintyForm `key:"length" doc:"of a setting in mm."`
	Angle  *angleUncertaintyForm  `key:"angle" doc:"of a setting in degrees."`
}

// given is a spread as a case gives it.
type given interface {
	// spread returns it, and whether it is given.
	spread() (s variation.Uncertainty, ok bool)
	// inWords returns a spread of the same kind as a case would give it.
	inWords(s variation.Uncertainty) Part
}

func (f *lengthUncertaintyForm) spread() (s variation.Uncertainty, ok bool) {
	switch {
	case f == nil:
		return s, false
	case f.Uniform != nil:
		return variation.Uncertainty{Kind: variation.Uniform, Size: f.Uniform.mm()}, true
	}
	return variation.Uncertainty{Size: f.Normal.mm()}, true
}

func (f *angleUncertaintyForm) spread() (s variation.Uncertainty, ok bool) {
	switch {
	case f == nil:
		return s, false
	case f.Uniform != nil:
		return variation.Uncertainty{Kind: variation.Uniform, Size: f.Uniform.of().Radians()}, true
	}
	return variation.Uncertainty{Size: f.Normal.of().Radians()}, true
}

func (*lengthUncertaintyForm) inWords(s variation.Uncertainty) Part {
	return Part{Name: s.Kind.String(), Value: Value{Low: s.Size, High: s.Size, Unit: "mm"}}
}

func (*angleUncertaintyForm) inWords(s variation.Uncertainty) Part {
	const digits = 1e6 // leaves out what radians add
	degrees := math.Round(frame.Angle(s.Size).Degrees()*digits) / digits
	return Part{Name: s.Kind.String(), Value: Value{Low: degrees, High: degrees, Unit: "deg"}}
}

// Uncertainty returns how far the truth may be from what was measured and from the
// settings of r, a result of the case, and the assumptions made for what the case
// leaves open: those of [variation.DefaultBudget]. Of settings only those count that the
// result's mount has, so that another kit may be tried.
func (c *Case) Uncertainty(r *fit.Result) (variation.Budget, []Assumption) {
	s := variation.DefaultBudget(r)
	open := measureUncertainties(reflect.ValueOf(c.form.Uncertainty), &s, "uncertainty")
	if r != nil && r.Set != nil && c.form.Uncertainty.ofSettings(r.Set.Chain.Moving(), s.Settings) {
		open = append(open, assumption("uncertainty.settings", "uncertainty of the settings", unsourced,
			Part{Value: Value{Word: "half a readable step either way"}}))
	}
	return s, open
}

// measureUncertainties puts the uncertainties of a form into a budget, where a measure has
// the name of its key (eyes.forward: "eyes forward"), and returns what is assumed for those
// that are left open.
func measureUncertainties(form reflect.Value, into *variation.Budget, path string) (open []Assumption) {
	for _, f := range shapeOf(form.Type()).fields {
		v, at := form.FieldByIndex(f.index), path+"."+f.key
		g, ok := v.Interface().(given)
		switch {
		case v.Kind() == reflect.Slice: // settings, which the mount has
		case !ok:
			open = append(open, measureUncertainties(v, into, at)...)
		default:
			name := plainKey(strings.ReplaceAll(strings.TrimPrefix(at, "uncertainty."), ".", " "))
			target := into.Named(strings.Replace(name, "neck to eyes", "neck", 1))
			if given, ok := g.spread(); ok {
				*target = given
				continue
			}
			open = append(open, assumption(at, "uncertainty of "+name, unsourced, g.inWords(*target)))
		}
	}
	return open
}

// ofSettings puts the spreads of settings in their places, and reports whether
// some are left open.
func (f *uncertaintyForm) ofSettings(moving []mount.Joint, into []variation.Uncertainty) (open bool) {
	for i, j := range moving {
		found := false
		for k := range f.Settings {
			e := &f.Settings[k]
			if e.Name.Text == j.Name && (e.Angle != nil) == (j.Motion == mount.Turn) {
				into[i], found = e.spread(), true
			}
		}
		open = open || !found
	}
	return open
}

// spread returns the one spread that a setting's form holds.
func (f *settingUncertaintyForm) spread() variation.Uncertainty {
	s, ok := f.Angle.spread()
	if !ok {
		s, _ = f.Length.spread()
	}
	return s
}

// uncertaintySense reports uncertainties that cannot be meant.
func (r *reader) uncertaintySense(f *caseForm) {
	if p := f.Uncertainty.PupilSpacing; p != nil && f.Person.PupilSpacing.valid {
		for _, size := range []*length{p.Normal, p.Uniform} {
			if size != nil && size.valid && size.mm() > f.Person.PupilSpacing.mm()/3 {
				r.senseless(size.At, quoted(size.text), "at most a third of the pupil spacing, "+f.Person.PupilSpacing.text)
			}
		}
	}
	seen := names{}
	for i := range f.Uncertainty.Settings {
		n := &f.Uncertainty.Settings[i].Name
		seen.name(r, n.Text, n.leaf)
		if n.valid && f.Mount.Kit == nil {
			r.senseless(n.At, "the uncertainty of a setting", "mount.kit, the mount that has it")
		}
	}
}

// settingUncertainties reports uncertainties of settings that the mount of c does not have, or
// has in the other unit.
func (r *reader) settingUncertainties(c *Case, f *uncertaintyForm) {
	chain, err := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[0])
	if err != nil {
		return // SetKit has found it sound
	}
	moving := chain.Moving()
	names := make([]string, 0, len(moving))
	turns := make(map[string]bool, len(moving))
	for _, j := range moving {
		names = append(names, j.Name)
		turns[j.Name] = j.Motion == mount.Turn
	}
	for i := range f.Settings {
		e := &f.Settings[i]
		turning, known := turns[e.Name.Text]
		switch {
		case !known:
			r.senselessNear(e.Name.At, "the unknown setting "+quoted(e.Name.Text), e.Name.Text, "one of ", names)
		case turning && e.Angle == nil:
			r.senseless(e.Name.At, quoted(e.Name.Text)+" with a length", "an angle: this setting is in degrees")
		case !turning && e.Angle != nil:
			r.senseless(e.Name.At, quoted(e.Name.Text)+" with an angle", "a length: this setting is in mm")
		}
	}
}
