// Package fittest has invented jobs for the tests of mount/fit and of the packages
// above it.
package fittest

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// Degree in radians.
const Degree = float64(frame.Degree)

// Turn returns a range of turns in degrees.
func Turn(low, high, step float64) mount.Range {
	return mount.Range{Low: low * Degree, High: high * Degree, Step: step * Degree}
}

// Slide returns a range of lengths in mm, best left in its middle.
func Slide(low, high float64) mount.Range {
	return mount.Range{Low: low, High: high, Step: 5, Preferred: (low + high) / 2}
}

// awkward returns r with the effort of a setting that one rather leaves alone.
func awkward(r mount.Range) mount.Range {
	r.Effort = 5
	return r
}

// OffsetKit is a two-tube mount built from a few plain dimensions: a post 65 cm
// high whose bend sets its end 30 cm aside, a 40 cm arm, a rating of 3 kg and a
// clamp that is indexed in four positions (common practice, no source).
func OffsetKit() mount.Kit {
	alloy := mount.Material{Name: "EN AW-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}
	tube := mount.Section{OutsideMM: 25.4, WallMM: 2.5, Material: alloy}
	const lean = 50 * frame.Degree
	straight := (300 - 2*80*(1-math.Cos(lean.Radians()))) / math.Sin(lean.Radians())
	return mount.Kit{Name: "offset two-tube", RatedKG: 3, Parts: []mount.Part{
		mount.Clamp{
			Name:  "clamp",
			Index: mount.Range{Low: -90 * Degree, High: 180 * Degree, Step: 90 * Degree, Indexed: true},
		},
		mount.Tube{
			Name: "post", Section: tube, TotalMM: 850,
			Shape: mount.Centerline{BendRadiusMM: 80, Bends: []mount.Bend{
				{Angle: lean}, {StraightMM: straight, Turn: 180 * frame.Degree, Angle: lean},
			}},
			Slide: Slide(340, 650), Turn: Turn(-180, 180, 1),
		},
		mount.Elbow{Name: "elbow", Pan: Turn(-170, 170, 1), Elevation: awkward(Turn(-60, 60, 1)), ElevationToEndMM: r3.Vec{X: 40}},
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: Slide(120, 400)},
		mount.Turns{Name: "joint", Pan: Turn(-95, 95, 1), Tilt: Turn(-80, 80, 1), Roll: awkward(Turn(-45, 45, 1))},
		mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{Y: 160, Z: 60}},
	}}
}

// Rates and Ranges are those that a case file takes where it gives none.
var (
	Rates  = gaze.Rates{GazePerDegree: 1, FacingPerDegree: 1, RollPerDegree: 1, DistancePerMM: 0.1}
	Ranges = gaze.Ranges{
		Low:  gaze.Aim{Left: -60 * frame.Degree, Down: -60 * frame.Degree, DistanceMM: 150, FacingUp: -40 * frame.Degree, FacingRight: -40 * frame.Degree, Roll: -30 * frame.Degree},
		High: gaze.Aim{Left: 60 * frame.Degree, Down: 75 * frame.Degree, DistanceMM: 1500, FacingUp: 40 * frame.Degree, FacingRight: 40 * frame.Degree, Roll: 30 * frame.Degree},
	}
)

// Adult is an invented person, seated upright in an invented chair, with the
// offset kit on its left.
func Adult() *fit.Job {
	job := &fit.Job{
		Scene: gaze.Scene{
			Person: gaze.Person{
				PupilSpacingMM: 63, NeckToEyesMM: r3.Vec{X: 80.5, Z: 75},
				GazeRange:  gaze.GazeRange{Left: 30 * frame.Degree, Right: 30 * frame.Degree, Up: 20 * frame.Degree, Down: 30 * frame.Degree},
				MovementMM: r3.Vec{X: 30, Y: 40, Z: 20},
			},
			Chair: gaze.Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
			Measured: gaze.Sitting{
				BackAngle: 100 * frame.Degree, EyesMM: r3.Vec{X: 150, Z: 1180}, Head: gaze.Head{Flexion: 5 * frame.Degree},
			},
			RestDistanceMM: 600,
		},
		Device: gaze.Device{
			Screen: gaze.Screen{WidthMM: 260, HeightMM: 165, HousingMM: r3.Vec{X: 300, Y: 230, Z: 45}, MassKG: 1.6},
			Tracker: gaze.Tracker{
				NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * frame.Degree, UpDown: 30 * frame.Degree,
				BelowMM: 110, InFrontMM: 10, AimedUp: 15 * frame.Degree, GazeLimit: 36 * frame.Degree,
			},
		},
		Preferences: fit.Preferences{Rates: Rates, Ranges: Ranges, FaceMM: 300},
		Mount: &fit.MountJob{
			Kit:       OffsetKit(),
			Mountings: []mount.Mounting{{ClampMM: r3.Vec{X: 380, Y: 260, Z: 430}}},
		},
	}
	job.Device.Screen.Used = job.Device.Screen.Display()
	upright := job.Scene.Measured.AsMeasured("upright")
	upright.MustWork = true
	job.Postures = []gaze.Posture{upright}
	return job
}

// Stiff returns the job with tubes that sag by nothing to speak of.
func Stiff(job *fit.Job) *fit.Job {
	for i, p := range job.Mount.Kit.Parts {
		if tube, ok := p.(mount.Tube); ok {
			tube.Section.Material.YoungMPa *= 1000
			tube.Section.Material.ShearMPa *= 1000
			tube.Section.Material.DensityKGM3 = 1e-3
			job.Mount.Kit.Parts[i] = tube
		}
	}
	job.Device.Screen.MassKG = 1e-6
	return job
}

// Tilted is the adult with a second posture, tilted by 20°, that must work too,
// before a mount on the seat.
func Tilted() *fit.Job {
	job := Adult()
	job.Scene.Carrier = 0
	rested := job.Postures[0]
	rested.Name, rested.SeatTilt, rested.BackAngle = "rested", 20*frame.Degree, 108*frame.Degree
	job.Postures = append(job.Postures, rested)
	return job
}

// Gripped returns the adult's job with a heavy device and joints that are known to
// hold so much (N m), and to give.
func Gripped(kg, holds float64) *fit.Job {
	job := Adult()
	job.Device.Screen.MassKG = kg
	grip := mount.JointStiffness{SlipLoad: holds, Compliance: 0.05 * Degree}
	parts := job.Mount.Kit.Parts
	post := parts[1].(mount.Tube)
	post.Turn.Stiffness = grip
	elbow := parts[2].(mount.Elbow)
	elbow.Pan.Stiffness, elbow.Elevation.Stiffness = grip, grip
	joint := parts[4].(mount.Turns)
	joint.Tilt.Stiffness, joint.Roll.Stiffness = grip, grip
	parts[1], parts[2], parts[4] = post, elbow, joint
	return job
}

// KneeInTheWay returns the adult's job with a space where the device would best be.
func KneeInTheWay() *fit.Job {
	knee, err := space.Capsule(r3.Vec{X: 620, Y: -40, Z: 900}, r3.Vec{X: 760, Y: -40, Z: 930}, 80)
	if err != nil {
		panic(err) // it is a capsule
	}
	job := Adult()
	job.KeepClear = []fit.KeepClear{{
		Name: "knee", By: gaze.Seat, RequiredMM: 30,
		Shape: knee,
	}}
	return job
}

// Solve solves a job that can be solved.
func Solve(tb testing.TB, job *fit.Job) *fit.Result {
	tb.Helper()
	r, err := fit.Solve(tb.Context(), job)
	if err != nil {
		tb.Fatalf("Solve: %v", err)
	}
	return r
}
