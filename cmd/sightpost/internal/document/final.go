package document

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Final is what an inclinometer reads once all is set and the device hangs, in the
// posture in which the mount is set. It differs from the setting wherever something
// below the joint is tilted.
type Final struct {
	// Angle off the level or the vertical, without its sign.
	Deg float64 `json:"deg"`
	// Which way it is off.
	Way string `json:"way" jsonschema:"enum=level,enum=up,enum=down,enum=upright,enum=back,enum=forward,enum=right end up,enum=right end down"`
	// What the inclinometer is held on.
	On string `json:"on"`
}

// words says what an inclinometer reads, and on what.
func (f *Final) words() string {
	reading := Angle(f.Deg).In(units.MM) + " " + f.Way
	if reading[0] == '0' {
		reading = "level"
		if f.Way == "back" || f.Way == "forward" || f.Way == "upright" {
			reading = "upright"
		}
	}
	return "inclinometer on " + f.On + "; loaded: " + reading
}

// newReading returns the reading of an angle, with the words for none and for
// either sign.
func newReading(deg float64, on string, ways [3]string) *Final {
	const shown = 0.05 // what an inclinometer shows
	switch {
	case deg >= shown:
		return &Final{Deg: deg, Way: ways[1], On: on}
	case deg <= -shown:
		return &Final{Deg: -deg, Way: ways[2], On: on}
	}
	return &Final{Way: ways[0], On: on}
}

// readSettings returns the settings of r with how to read them.
func readSettings(job *fit.Job, r *fit.Result) ([]Setting, error) {
	frames, err := Frames(job, r)
	if err != nil {
		return nil, err
	}
	settings := newSettings(r.Set)
	stand := newStand(job.Device.Screen, r.Postures[leading(job)].Screen)
	h := newHowTo(job, r, frames)
	for i, k := range h.moving {
		s := &settings[i]
		s.Final = final(partOf(h.kit, s.Name), s.Name, stand, frames[k].Rot.X)
		s.Read = h.read(i, s)
		_, s.ball = partOf(h.kit, s.Name).(mount.Ball)
	}
	return settings, nil
}

// final returns what an inclinometer reads for a setting of part; along is the way
// in which what the joint holds points, in chair axes.
func final(part mount.Part, setting string, stand ScreenAttitude, along r3.Vec) *Final {
	_, what, _ := strings.Cut(setting, ".")
	switch p := part.(type) {
	case mount.Elbow:
		if what == "elevation" && p.Elevation.Read == "" {
			return newReading(Elevation(along), "the arm", [3]string{"level", "up", "down"})
		}
	case mount.Turns:
		switch {
		case what == "tilt" && p.Tilt.Read == "":
			return newReading(stand.TiltDeg, "the glass", [3]string{"upright", "back", "forward"})
		case what == "roll" && p.Roll.Read == "":
			return newReading(stand.RollDeg, "the lower edge", [3]string{"level", "right end up", "right end down"})
		}
	}
	return nil
}

// partOf returns the part of a kit to which a setting belongs; nil if there is
// none.
func partOf(kit mount.Kit, setting string) mount.Part {
	name, _, _ := strings.Cut(setting, ".")
	for _, p := range kit.Parts {
		if p.PartName() == name {
			return p
		}
	}
	return nil
}

// carrierOf returns chairFromCarrier in a posture. It is the carrier's own, which
// does not move with the screen's sag.
func carrierOf(job *fit.Job, f *fit.PostureResult) frame.Pose {
	return job.Scene.InCarrier(f.Posture).Carrier
}

// Elevation returns how far a direction points above the horizontal, in degrees.
func Elevation(v r3.Vec) float64 {
	return plain(frame.Angle(math.Atan2(v.Z, math.Hypot(v.X, v.Y))).Degrees())
}
