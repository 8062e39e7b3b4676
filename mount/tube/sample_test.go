package tube_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// deg is one degree in radians, for ranges.
const deg = math.Pi / 180

// standardGravity is the standard acceleration of free fall, m/s².
const standardGravity = 9.80665

// alloy6061 is aluminum 6061-T6 as data sheets have it; they are not one isotropic
// body: E/(2G) - 1 is 0.325.
func alloy6061() mount.Material {
	return mount.Material{Name: "aluminum-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}
}

// weightless returns m without a weight to speak of, so that a load stands alone.
func weightless(m mount.Material) mount.Material {
	m.DensityKGM3 = 1e-12
	return m
}

// cantilever returns a tube built in at the origin, along z with its first bend
// toward x, with the screen at its far end.
func cantilever(s mount.Section, l mount.Centerline) mount.Chain {
	end := l.End()
	level := frame.Translate(r3.Vec{Z: end.At.Z})
	return mount.Chain{
		Joints: []mount.Joint{{Name: "held", Origin: frame.Identity()}},
		Spans:  []mount.Span{{Part: "tube", Slide: -1, FromTube: level, Shape: l, Section: s}},
		Tip:    end,
	}
}

// loaded returns c with a mass at the middle of the screen.
func loaded(c mount.Chain, kg float64) mount.Chain {
	c.Masses = append(c.Masses, mount.Mass{Part: "load", Carrier: len(c.Joints), KG: kg})
	return c
}

// pulled returns the sag of c's screen under a force (N) at its middle, with no
// gravity to speak of but what makes the force.
func pulled(tb testing.TB, c mount.Chain, force r3.Vec) tube.Load {
	tb.Helper()
	const kg = 1.0
	return loadOf(tb, loaded(c, kg), nil, r3.Scale(1/kg, force))
}

func loadOf(tb testing.TB, c mount.Chain, s mount.Settings, gravity r3.Vec) tube.Load {
	tb.Helper()
	m, err := tube.NewModel(c)
	if err != nil {
		tb.Fatal(err)
	}
	var l tube.Load
	if err := m.At(&l, s, gravity); err != nil {
		tb.Fatal(err)
	}
	return l
}

// near reports whether got is within a part of want.
func near(got, want, part float64) bool { return math.Abs(got-want) <= part*math.Abs(want) }

// turning returns a range of turns by degrees that prefers 0.
func turning(low, high float64) mount.Range {
	return mount.Range{Low: low * deg, High: high * deg, Step: deg}
}

// offsetPost is an invented kit: a post with two bends, an elbow, an arm and a plate
// joint, with grips and ratings.
func offsetPost() mount.Kit {
	section := mount.Section{OutsideMM: 25, WallMM: 2, Material: alloy6061()}
	bend := 60 * frame.Degree
	swing, pan, rise := turning(-60, 60), turning(-170, 170), turning(-40, 60)
	swing.Stiffness = mount.JointStiffness{SlipLoad: 25, Compliance: 0.02 * deg}
	pan.Stiffness = mount.JointStiffness{SlipLoad: 25, Compliance: 0.02 * deg}
	rise.Stiffness = mount.JointStiffness{SlipLoad: 20, Compliance: 0.03 * deg}
	tilt := turning(-60, 60)
	tilt.Stiffness = mount.JointStiffness{SlipLoad: 6}
	return mount.Kit{
		Name: "offset post, invented", RatedKG: 3,
		Parts: []mount.Part{
			mount.Clamp{Name: "clamp", OffsetMM: r3.Vec{Y: 30}, RatedKG: 6},
			mount.Tube{
				Name: "post", Runs: mount.Up, Section: section, TotalMM: 912, Turn: swing, RatedKG: 5,
				Shape: mount.Centerline{BendRadiusMM: 100, EndMM: 90, Bends: []mount.Bend{
					{StraightMM: 381, Angle: bend}, {StraightMM: 231, Turn: math.Pi, Angle: bend},
				}},
				Slide: mount.Range{Low: 410, High: 720, Step: 1, Preferred: 560, Stiffness: mount.JointStiffness{SlipLoad: 400}},
			},
			mount.Elbow{
				Name: "elbow", Pan: pan, Elevation: rise, MassKG: 0.35, RatedKG: 4,
				PanToElevationMM: r3.Vec{Z: 30}, ElevationToEndMM: r3.Vec{X: 35},
			},
			mount.Tube{
				Name: "arm", Runs: mount.Ahead, Section: section, TotalMM: 400, Turn: turning(-90, 90),
				Slide: mount.Range{Low: 80, High: 370, Step: 1, Preferred: 240},
			},
			mount.Turns{Name: "joint", Pan: turning(-100, 100), Tilt: tilt, Roll: turning(-90, 90), MassKG: 0.25},
			mount.Plate{Name: "plate", OffsetMM: r3.Vec{Z: 40}, MassKG: 2.2, PlateKG: 0.2, CenterMM: r3.Vec{Y: 5, Z: -20}, RatedKG: 2.5},
		},
	}
}

// railBall is an invented kit that ends in a ball.
func railBall() mount.Kit {
	steel := mount.Material{Name: "steel-S235", YoungMPa: 210e3, ShearMPa: 81e3, DensityKGM3: 7850, YieldMPa: 235}
	return mount.Kit{
		Name: "post with ball, invented",
		Parts: []mount.Part{
			mount.Clamp{Name: "clamp"},
			mount.Tube{
				Name: "post", Runs: mount.Up, Section: mount.Section{OutsideMM: 28, WallMM: 2, Material: steel}, TotalMM: 900,
				Slide: mount.Range{Low: 150, High: 850, Step: 5, Preferred: 600}, Turn: turning(-180, 180),
			},
			mount.Tube{
				Name: "arm", Runs: mount.Ahead, Section: mount.Section{OutsideMM: 25, WallMM: 2, Material: steel}, TotalMM: 700,
				Shape: mount.Centerline{BendRadiusMM: 70, EndMM: 120, Bends: []mount.Bend{{StraightMM: 100, Turn: 90 * frame.Degree, Angle: 40 * frame.Degree}}},
				Slide: mount.Range{Low: 250, High: 660, Step: 1, Preferred: 450},
			},
			mount.Ball{Name: "ball", Cone: 70 * frame.Degree, StemMM: 45, MassKG: 0.2, Stiffness: mount.JointStiffness{SlipLoad: 8, Compliance: 0.05 * deg}},
			mount.Plate{Name: "plate", OffsetMM: r3.Vec{Z: 8}, MassKG: 1.5},
		},
	}
}

// mustChain returns the kit on an invented place.
func mustChain(tb testing.TB, k mount.Kit, side mount.Side) mount.Chain {
	tb.Helper()
	at := mount.Mounting{ClampMM: r3.Vec{X: 380, Y: 260, Z: 480}, Axes: mount.Axes{Tilt: 5 * frame.Degree}, Side: side}
	if side == mount.OnRight {
		at.ClampMM.Y = -at.ClampMM.Y
	}
	c, err := k.Chain(at)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}
