package fittest

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/tube"
)

// Sagging says where the screen of a result is once the mount has sagged, computed
// independently of package fit.
type Sagging struct {
	compiled *mount.Compiled
	model    *tube.Model
}

// NewSagging prepares the mount of a result.
func NewSagging(r *fit.Result) *Sagging {
	job := r.Job
	chain := r.Set.Chain
	if !slices.ContainsFunc(chain.Masses, func(m mount.Mass) bool { return m.Carrier == len(chain.Joints) }) {
		s := job.Device.Screen
		device := mount.Mass{Carrier: len(chain.Joints), AtMM: r3.Vec{Y: -s.HousingBelowMM, Z: -s.HousingMM.Z / 2}, KG: s.MassKG}
		chain.Masses = append(slices.Clone(chain.Masses), device)
	}
	compiled, err := chain.Compile()
	if err != nil {
		panic(err) // a result's chain is sound
	}
	model, err := tube.NewModel(chain)
	if err != nil {
		panic(err)
	}
	return &Sagging{compiled, model}
}

// Held returns carrierFromScreen at settings s in a stance.
func (m *Sagging) Held(s mount.Settings, st *gaze.PostureInCarrier) frame.Pose {
	down := st.Carrier.Rot.ApplyInverse(r3.Vec{Z: -9.80665})
	sag, err := m.model.Screen(s, down)
	if err != nil {
		panic(err)
	}
	p := m.compiled.Pose(s)
	p.Rot = frame.FromVector(sag.Turn).Mul(p.Rot)
	p.At = r3.Add(p.At, sag.ShiftMM)
	return p
}
