package variation_test

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/variation"
	"sightpost/mount/space"
)

// BenchmarkGrowth measures time and memory of a solve against postures, settings and
// keep-clear zones, and of simulations against their number: see DEVELOPERS.md.
func BenchmarkGrowth(b *testing.B) {
	solve := func(what string, n int, job *fit.Job) {
		b.Run(fmt.Sprintf("%s=%d", what, n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				fittest.Solve(b, job)
			}
		})
	}
	for _, n := range []int{1, 2, 4, 8, 12} {
		job := fittest.Tilted()
		upright := job.Postures[0]
		job.Postures = nil
		for i := range n {
			p := upright
			p.Name, p.SeatTilt = fmt.Sprint("tilted ", i), frame.Angle(2*i)*frame.Degree
			job.Postures = append(job.Postures, p)
		}
		solve("postures", n, job)
	}
	for n := 6; n <= 12; n += 2 {
		job := fittest.Adult()
		parts := job.Mount.Kit.Parts
		joint := parts[4].(mount.Turns)
		switch n {
		case 6:
			clamp := parts[0].(mount.Clamp)
			clamp.Index = mount.Range{}
			parts[0], joint.Pan = clamp, mount.Range{}
			fallthrough
		case 8:
			joint.Roll = mount.Range{}
		case 10, 12:
			arm := parts[3].(mount.Tube)
			arm.Turn = fittest.Turn(-180, 180, 1)
			parts[3] = arm
			if n == 12 {
				elbow := parts[2].(mount.Elbow)
				elbow.Name = "wrist"
				parts = append(parts[:4:4], elbow, joint, parts[5])
				job.Mount.Kit.Parts = parts
			}
		}
		parts[len(parts)-2] = joint
		if chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0]); err != nil || len(chain.Moving()) != n {
			b.Fatalf("%d settings, want %d (%v)", len(chain.Moving()), n, err)
		}
		solve("settings", n, job)
	}
	for _, n := range []int{0, 10, 20, 40} {
		job := fittest.Adult()
		for i := range n {
			at := r3.Vec{X: -200 + 25*float64(i), Y: -350, Z: 700}
			shape, err := space.Capsule(at, r3.Add(at, r3.Vec{X: 20}), 20)
			if err != nil {
				b.Fatal(err)
			}
			job.KeepClear = append(job.KeepClear, fit.KeepClear{Name: fmt.Sprint("zone ", i), By: gaze.Seat, RequiredMM: 20, Shape: shape})
		}
		solve("zones", n, job)
	}
	r := fittest.Solve(b, fittest.Adult())
	budget := variation.DefaultBudget(r)
	for n := 1000; n <= 10_000_000; n *= 10 {
		b.Run(fmt.Sprintf("simulations=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := variation.Simulate(b.Context(), r, budget, variation.Options{Size: n}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
