package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

const (
	// gravity is the standard acceleration of free fall (m/s²): 3rd General
	// Conference on Weights and Measures, 1901.
	gravity = 9.80665
	// slidesN and swingsNM are the force and moment that a freed setting is taken to
	// hold by its own friction: judgement, no source.
	slidesN, swingsNM = 2.0, 0.1
)

// weight returns what the load does to a setting that is freed, see [tube.Model.Drive].
func (c *changeover) weight(ch Change) ([]Caution, error) {
	hung := c.hung()
	if _, _, err := hung.under(c.now, r3.Scale(gravity, c.down)); err != nil {
		return nil, err
	}
	drive := hung.model.Drive(movingPlaces(c.chain)[ch.Setting])
	size, high := math.Abs(drive), drive > 0
	switch {
	case ch.Joint.Motion == mount.Slide && size > slidesN:
		return []Caution{{Kind: Slides, ForceN: size, High: high}}, nil
	case ch.Joint.Motion == mount.Turn && size > swingsNM:
		return []Caution{{Kind: Swings, MomentNM: size, High: high}}, nil
	}
	return nil, nil
}
