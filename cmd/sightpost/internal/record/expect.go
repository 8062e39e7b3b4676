package record

import (
	"context"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// again is how many repetitions of a change are looked at: beyond, the next
// assessment will know better.
const again = 12

// alone returns the result of the older screen and mount with the newer person.
func alone(ctx context.Context, before, after Assessment) (*document.PersonEffect, error) {
	job, now := before.Case.Job, &after.Case.Job
	job.Scene.Person, job.Scene.Measured, job.Postures = now.Scene.Person, now.Scene.Measured, now.Postures
	r, err := fit.Check(ctx, &job, before.Result.Set.Mounting, before.Result.Set.Settings)
	if err != nil {
		return nil, fmt.Errorf("record: the person of %s with the screen of %s: %w", after.Record.Name, before.Record.Name, err)
	}
	return &document.PersonEffect{
		BeforeMM: micrometer(before.Result.MarginMM()), AfterMM: micrometer(r.MarginMM()),
		Limiting: limiting(r),
	}, nil
}

// limiting says which posture has the least margin, and why.
func limiting(r *fit.Result) string {
	f := &r.Postures[r.LimitingPosture]
	return f.Posture.Name + ", " + f.Limiting().String()
}

// expect carries the change of the person on, step by step; nil where the screen does not
// track already, because a margin below zero is right in its sign only. A step that leads
// beyond what can be, such as a neck bent too far, ends the count: that is no
// error, as it will not come to pass.
func expect(ctx context.Context, before, after Assessment) (*document.Next, error) {
	if after.Result.MarginMM() < 0 {
		return nil, nil //nolint:nilnil // there is nothing to carry on
	}
	from, to := &before.Case.Job, &after.Case.Job
	next := &document.Next{Changes: differ(from, to)}
	if !next.Changes {
		return next, nil
	}
	day, days := after.Record.Day, before.Record.Day.DaysUntil(after.Record.Day)
	wanted := to.Preferences.MarginMM
	job := to
	for step := 1; step <= again; step++ {
		job = carriedOn(job, from, to)
		if !possible(job) {
			return next, nil
		}
		r, err := fit.Check(ctx, job, after.Result.Set.Mounting, after.Result.Set.Settings)
		if err != nil {
			return next, ctx.Err() // likewise: no such person can sit there
		}
		if step == 1 {
			margin := micrometer(r.MarginMM())
			next.MarginMM, next.Limiting, next.Day = &margin, limiting(r), day.pace(days)
		}
		if after.Result.MarginMM() < wanted {
			return next, nil
		}
		if r.MarginMM() < wanted {
			next.Gone = day.pace(days * step)
			return next, nil
		}
		next.Holds = step
	}
	next.Longer = true
	return next, nil
}

// pace returns the day a number of days after d, or "" when they tell no pace.
func (d Day) pace(days int) string {
	if days <= 0 {
		return ""
	}
	return string(d.After(days))
}

// sitting returns the numbers that say how the person in a job sits, moves and looks, by
// what they belong to: the person, or a posture of a name.
func sitting(j *fit.Job) map[string]reflect.Value {
	p := &j.Scene.Person
	all := map[string]any{"measured": &j.Scene.Measured, gazeRange: &p.GazeRange, movement: &p.MovementMM, "rest gaze": p.RestGaze}
	for i := range j.Postures {
		p := &j.Postures[i]
		all[fmt.Sprint("posture ", p.Name, p.HeadPlumb)] = p // head angles of two kinds do not compare
	}
	return numbersIn(all)
}

// What cannot be less than nothing.
const gazeRange, movement = "gaze range", "movement"

// numbersIn returns the numbers in what is reached from a value, by the way to them.
func numbersIn(of any) map[string]reflect.Value {
	all := map[string]reflect.Value{}
	var walk func(at string, v reflect.Value)
	walk = func(at string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			all[at] = v
		case reflect.Pointer, reflect.Interface:
			walk(at, v.Elem())
		case reflect.Map:
			for key, inner := range v.Seq2() {
				walk(key.String(), inner)
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(fmt.Sprint(at, " ", i), v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(fmt.Sprint(at, ".", i), v.Field(i))
			}
		default: // holds no number, as what is nil
		}
	}
	walk("", reflect.ValueOf(of))
	return all
}

// differ reports whether the persons of two jobs sit, move or look differently.
func differ(a, b *fit.Job) bool {
	return !maps.EqualFunc(sitting(a), sitting(b), func(x, y reflect.Value) bool { return math.Abs(x.Float()-y.Float()) <= sameAs })
}

// carriedOn returns job with every measure of how its person sits changed by as much as
// it did from one job to another. What only one of the two has stays as it is.
func carriedOn(job, from, to *fit.Job) *fit.Job {
	c := *job
	if g := c.Scene.Person.RestGaze; g != nil {
		own := *g
		c.Scene.Person.RestGaze = &own
	}
	c.Postures = slices.Clone(c.Postures)
	for i := range c.Postures {
		if eyes := c.Postures[i].EyesMM; eyes != nil {
			own := *eyes
			c.Postures[i].EyesMM = &own
		}
	}
	was, is := sitting(from), sitting(to)
	for key, now := range sitting(&c) {
		if !was[key].IsValid() || !is[key].IsValid() {
			continue
		}
		v := now.Float() + is[key].Float() - was[key].Float()
		if strings.HasPrefix(key, gazeRange) || strings.HasPrefix(key, movement) {
			v = max(v, 0)
		}
		now.SetFloat(v)
	}
	return &c
}

// possible reports whether the angles of a job's person are those that a case file is
// held to.
func possible(j *fit.Job) bool {
	within := func(seat, back frame.Angle, h gaze.Head) bool {
		const most, least, flat = 90 * frame.Degree, 45 * frame.Degree, 180 * frame.Degree
		return max(seat, -seat, h.Flexion, -h.Flexion, h.Rotation, -h.Rotation, h.LateralFlexion, -h.LateralFlexion) <= most && least <= back && back <= flat
	}
	m := &j.Scene.Measured
	return within(m.SeatTilt, m.BackAngle, m.Head) && !slices.ContainsFunc(j.Postures, func(p gaze.Posture) bool {
		return !within(p.SeatTilt, p.BackAngle, p.Head)
	})
}
