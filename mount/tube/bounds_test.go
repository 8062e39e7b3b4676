package tube_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/tube"
)

// A tube that hangs or stands plumb with its load on its axis is only pulled or pressed:
// by all the weight beyond a section over its area, most where it is held.
func TestPlumbTube(t *testing.T) {
	const length, kg = 1000.0, 0.1
	section := mount.Section{OutsideMM: 25, WallMM: 2, Material: alloy6061()}
	p := tube.PropertiesOf(section)
	want := (p.KGPerMM*length + kg) * standardGravity / p.AreaMM2
	c := loaded(cantilever(section, mount.Centerline{EndMM: length}), kg)
	for name, gravity := range map[string]r3.Vec{"hangs": {Z: standardGravity}, "stands": {Z: -standardGravity}} {
		w := loadOf(t, c, nil, gravity).Tubes[0]
		if !near(w.MPa, want, rounding) || w.AtMM != 0 || w.MomentNM != 0 {
			t.Errorf("%s: %+v, want %v N/mm² where it is held", name, w, want)
		}
	}
}

// A joint that gives turns the screen by so much for each N·m; a turn that is no small
// one any more is refused.
func TestTurnBeyondReason(t *testing.T) {
	const lever, kg = 200.0, 2.0
	model := func(gives frame.Angle) *tube.Model {
		t.Helper()
		c := mount.Chain{
			Joints: []mount.Joint{{
				Name: "hinge", Motion: mount.Turn, Origin: frame.Identity(), Axis: r3.Vec{Y: 1},
				Low: -1, High: 1, Step: 0.01, Stiffness: mount.JointStiffness{Compliance: gives.Radians()},
			}},
			Tip:    frame.Translate(r3.Vec{X: lever}),
			Masses: []mount.Mass{{Part: "load", Carrier: 1, KG: kg}},
		}
		m, err := tube.NewModel(c)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	const moment = kg * standardGravity * lever / 1000 // N m
	for _, want := range []frame.Angle{tube.SmallTurn, tube.MostTurn - frame.Degree, tube.MostTurn + frame.Degree} {
		m := model(want / moment)
		sag, err := m.Screen(mount.Settings{0}, r3.Vec{Z: -standardGravity})
		if refused := err != nil; refused != (want > tube.MostTurn) {
			t.Fatalf("a turn by %v°: error %v", want.Degrees(), err)
		}
		if err != nil {
			var l tube.Load
			if m.At(&l, mount.Settings{0}, r3.Vec{Z: -standardGravity}) == nil {
				t.Error("At takes what Screen refuses")
			}
		} else if got := r3.Norm(sag.Turn); !near(got, want.Radians(), rounding) {
			t.Errorf("turns by %v, want %v", got, want.Radians())
		}
	}
}

// Sections too thin to be meant are refused, rather than give stresses beyond all numbers.
func TestThinSections(t *testing.T) {
	for _, s := range []mount.Section{
		{OutsideMM: 1e-60, WallMM: 5e-61}, {OutsideMM: 0.0254, WallMM: 0.0025}, {OutsideMM: 25, WallMM: 1e-200}, {OutsideMM: math.NaN(), WallMM: 1},
	} {
		s.Material = alloy6061()
		if _, err := tube.NewModel(cantilever(s, mount.Centerline{EndMM: 100})); err == nil {
			t.Errorf("a section of %g by %g mm is taken", s.OutsideMM, s.WallMM)
		}
	}
}
