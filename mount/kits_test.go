package mount_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// The kits here are invented.

// deg is one degree in radians, for ranges.
const deg = math.Pi / 180

// turning returns a range of turns by degrees that prefers 0.
func turning(low, high float64) mount.Range {
	return mount.Range{Low: low * deg, High: high * deg, Step: deg}
}

// twoTubes is a straight post, an elbow, an arm and a plate joint of three hinges
// whose axes meet in a point.
func twoTubes() mount.Kit {
	section := mount.Section{OutsideMM: 25, WallMM: 2}
	return mount.Kit{
		Name: "two tubes", RatedKG: 5,
		Parts: []mount.Part{
			mount.Clamp{Name: "clamp"},
			mount.Tube{
				Name: "post", Runs: mount.Up, Section: section, TotalMM: 750,
				Slide: mount.Range{Low: 300, High: 700, Step: 1, Preferred: 450}, Turn: turning(-180, 180),
			},
			mount.Elbow{Name: "elbow", Pan: turning(-170, 170), Elevation: turning(-60, 60), MassKG: 0.4},
			mount.Tube{
				Name: "arm", Runs: mount.Ahead, Section: section, TotalMM: 400,
				Slide: mount.Range{Low: 100, High: 380, Step: 1, Preferred: 250},
			},
			mount.Turns{Name: "joint", Pan: turning(-90, 90), Tilt: turning(-60, 60), Roll: turning(-45, 45), MassKG: 0.3},
			mount.Plate{Name: "plate", OffsetMM: r3.Vec{Y: 20, Z: 50}, MassKG: 1.6},
		},
	}
}

// everything is a kit with every kind of part and setting: an indexed clamp, an
// S-bent post, offsets, two elbows and arms, a bracket and a ball.
func everything() mount.Kit {
	return mount.Kit{
		Name: "everything",
		Parts: []mount.Part{
			mount.Clamp{
				Name: "clamp", IndexAbout: mount.Ahead, OffsetMM: r3.Vec{X: 10, Y: 40, Z: 5},
				Index: mount.Range{Low: -30 * deg, High: 30 * deg, Step: 15 * deg, Indexed: true},
			},
			mount.Tube{
				Name: "post", Runs: mount.Up, Section: mount.Section{OutsideMM: 25, WallMM: 2},
				Shape: mount.Centerline{BendRadiusMM: 80, EndMM: 60, Bends: []mount.Bend{
					{StraightMM: 400, Turn: 30 * frame.Degree, Angle: 50 * frame.Degree},
					{StraightMM: 50, Turn: 180 * frame.Degree, Angle: 50 * frame.Degree},
				}},
				Slide: mount.Range{Low: 300, High: 600, Step: 1, Preferred: 450}, Turn: turning(-90, 90),
			},
			mount.Elbow{
				Name: "elbow", Pan: turning(-170, 170), Elevation: turning(-60, 60),
				PanToElevationMM: r3.Vec{X: 20, Z: 30}, ElevationToEndMM: r3.Vec{X: 15, Y: -12},
			},
			mount.Tube{
				Name: "arm", Runs: mount.Ahead, Section: mount.Section{OutsideMM: 22, WallMM: 1.5},
				Shape: mount.Centerline{BendRadiusMM: 60, EndMM: 40, Bends: []mount.Bend{
					{StraightMM: 150, Turn: 90 * frame.Degree, Angle: 35 * frame.Degree},
				}},
				Slide: mount.Range{Low: 150, High: 260, Step: 1, Preferred: 200}, Turn: turning(-45, 45),
			},
			mount.Bracket{Name: "bracket", OffsetMM: r3.Vec{X: 12, Z: -8}, Axes: mount.Axes{Tilt: 10 * frame.Degree}},
			mount.Elbow{Name: "elbow2", Pan: turning(-120, 120)},
			mount.Tube{Name: "arm2", Runs: mount.Ahead, Shape: mount.Centerline{EndMM: 90}},
			mount.Ball{Name: "joint", Cone: 35 * frame.Degree, StemMM: 25, MassKG: 0.2},
			mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{X: 5, Y: 20, Z: 30}, MassKG: 1.2},
		},
	}
}

// placed is a mounting with every number in use.
func placed() mount.Mounting {
	return mount.Mounting{
		ClampMM:    r3.Vec{X: 380, Y: 260, Z: 480},
		Axes:       mount.Axes{Rotation: 12 * frame.Degree, Tilt: 8 * frame.Degree, Roll: -5 * frame.Degree},
		SlideLowMM: -40, SlideHighMM: 120, SlideAlong: r3.Vec{X: 2, Y: 0.2, Z: -0.1},
	}
}

// mirrored is the mounting as in the mirror: the same place on the other side.
func mirrored(m mount.Mounting) mount.Mounting {
	m.ClampMM.Y = -m.ClampMM.Y
	m.SlideAlong.Y = -m.SlideAlong.Y
	m.Axes.Rotation = -m.Axes.Rotation
	m.Axes.Roll = -m.Axes.Roll
	m.Side = mount.OnRight - m.Side
	return m
}
