package record

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// cell is one measure within a job: a length or mass, or an angle.
type cell struct {
	key, what string
	unit      string       // "mm", "kg" or "deg"
	plain     *float64     // mm or kg
	angle     *frame.Angle // the other is nil
	floor     bool         // it stops at zero
	low, high frame.Angle  // beyond which an angle of the body cannot be; both zero if anything can
}

// value returns what the measure is, in its unit.
func (c cell) value() float64 {
	if c.angle != nil {
		return c.angle.Degrees()
	}
	return *c.plain
}

// carryOn changes a measure by as much as it did from one job to another, and
// reports whether it can be that.
func (c cell) carryOn(from, to cell) bool {
	lowest := math.Inf(-1)
	if c.floor {
		lowest = 0
	}
	if c.angle == nil {
		*c.plain = max(*c.plain+*to.plain-*from.plain, lowest)
		return true
	}
	*c.angle = max(*c.angle+*to.angle-*from.angle, frame.Angle(lowest))
	return c.low == c.high || c.low <= *c.angle && *c.angle <= c.high
}

func lengthAt(key, what string, mm *float64) cell {
	return cell{key: key, what: what, unit: "mm", plain: mm}
}

func angleAt(key, what string, a *frame.Angle) cell {
	return cell{key: key, what: what, unit: "deg", angle: a}
}

// pointAt returns the cells of a point in chair axes.
func pointAt(key, what string, v *r3.Vec) []cell {
	return []cell{
		lengthAt(key+".forward", what+", forward", &v.X),
		lengthAt(key+".left", what+", to the left", &v.Y),
		lengthAt(key+".up", what+", above the floor", &v.Z),
	}
}

func headAt(key, what string, h *gaze.Head) []cell {
	return within(-90*frame.Degree, 90*frame.Degree,
		angleAt(key+".flexion", what+", chin down", &h.Flexion),
		angleAt(key+".rotation", what+", turned to the left", &h.Rotation),
		angleAt(key+".lateral_flexion", what+", leaned to the left", &h.LateralFlexion),
	)
}

// seatAt returns the cells of a seat and its back support. The bounds here and of
// heads are those that a case file is held to.
func seatAt(key, before, after string, tilt, back *frame.Angle) []cell {
	return append(
		within(-90*frame.Degree, 90*frame.Degree, angleAt(key+".seat_tilt", before+"seat tilt"+after, tilt)),
		within(45*frame.Degree, 180*frame.Degree, angleAt(key+".back_angle", before+"back angle"+after, back))...)
}

// within bounds cells that are angles.
func within(low, high frame.Angle, cells ...cell) []cell {
	for i := range cells {
		cells[i].low, cells[i].high = low, high
	}
	return cells
}

// floored marks cells that cannot be negative.
func floored(cells ...cell) []cell {
	for i := range cells {
		cells[i].floor = true
	}
	return cells
}

// sittingCells returns what was measured of how the person sits, moves and looks.
// The keys are those of a case file.
func sittingCells(j *fit.Job) []cell {
	m, p := &j.Scene.Measured, &j.Scene.Person
	cells := seatAt("measured", "", " as measured", &m.SeatTilt, &m.BackAngle)
	cells = append(cells, pointAt("measured.eyes", "eyes", &m.EyesMM)...)
	cells = append(cells, headAt("measured.head", "head", &m.Head)...)
	cells = append(cells, floored(
		angleAt("person.gaze_range.left", "eyes reach to the left", &p.GazeRange.Left),
		angleAt("person.gaze_range.right", "eyes reach to the right", &p.GazeRange.Right),
		angleAt("person.gaze_range.up", "eyes reach up", &p.GazeRange.Up),
		angleAt("person.gaze_range.down", "eyes reach down", &p.GazeRange.Down),
		lengthAt("person.movement.forward", "head moves forward and back by", &p.MovementMM.X),
		lengthAt("person.movement.left", "head moves to the sides by", &p.MovementMM.Y),
		lengthAt("person.movement.up", "head moves up and down by", &p.MovementMM.Z),
	)...)
	if g := p.RestGaze; g != nil {
		cells = append(cells,
			angleAt("person.rest_gaze.down", "eyes rest looking down by", &g.Down),
			angleAt("person.rest_gaze.left", "eyes rest looking left by", &g.Left))
	}
	for i := range j.Postures {
		cells = append(cells, postureCells(&j.Postures[i])...)
	}
	return cells
}

// postureCells returns the measures of a posture. Its name is part of the keys, so
// that postures are told apart by name, in whatever order they stand.
func postureCells(p *gaze.Posture) []cell {
	key, what := "postures."+p.Name, "posture "+p.Name+": "
	cells := seatAt(key, what, "", &p.SeatTilt, &p.BackAngle)
	cells = append(cells, lengthAt(key+".slump", what+"slump", &p.SlumpMM))
	if p.EyesMM != nil {
		cells = append(cells, pointAt(key+".eyes", what+"eyes", p.EyesMM)...)
	}
	return append(cells, headAt(key+".head", what+"head", &p.Head)...)
}

// clone returns a job whose person and postures can be changed without touching
// those of j.
func clone(j *fit.Job) *fit.Job {
	c := *j
	if g := j.Scene.Person.RestGaze; g != nil {
		own := *g
		c.Scene.Person.RestGaze = &own
	}
	c.Postures = append([]gaze.Posture{}, j.Postures...)
	for i := range c.Postures {
		if eyes := c.Postures[i].EyesMM; eyes != nil {
			own := *eyes
			c.Postures[i].EyesMM = &own
		}
	}
	return &c
}
