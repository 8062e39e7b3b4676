package fittest

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/tube"
)

// Sagging returns what says where the screen of a result is once the mount has sagged,
// carrierFromScreen at some settings in a posture, computed independently of package fit.
func Sagging(r *fit.Result) func(s mount.Settings, st *gaze.PostureInCarrier) frame.Pose {
	chain, screen := r.Set.Chain, r.Job.Device.Screen
	atScreen := func(m mount.Mass) bool { return m.Carrier == len(chain.Joints) }
	if !slices.ContainsFunc(chain.Masses, atScreen) {
		device := mount.Mass{Carrier: len(chain.Joints), AtMM: r3.Vec{Y: -screen.HousingBelowMM, Z: -screen.HousingMM.Z / 2}, KG: screen.MassKG}
		chain.Masses = append(slices.Clone(chain.Masses), device)
	}
	compiled, err := chain.Compile()
	model, wrong := tube.NewModel(chain)
	if err := errors.Join(err, wrong); err != nil {
		panic(err) // a result's chain is sound
	}
	return func(s mount.Settings, st *gaze.PostureInCarrier) frame.Pose {
		sag, err := model.Screen(s, st.Carrier.Rot.ApplyInverse(r3.Vec{Z: -9.80665}))
		if err != nil {
			panic(err)
		}
		p := compiled.Pose(s)
		return frame.Pose{Rot: frame.FromVector(sag.Turn).Mul(p.Rot), At: r3.Add(p.At, sag.ShiftMM)}
	}
}
