package document_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/testdata/trials"
)

func TestMain(m *testing.M) { trials.Main(m) }

// sample returns an invented case: a person who is tilted back for part of the day,
// and a mount of two tubes clamped to the seat.
func sample() *casefile.Case {
	job := fit.Job{
		Scene: gaze.Scene{
			Person: gaze.Person{
				PupilSpacingMM: 60, NeckToEyesMM: r3.Vec{X: 95, Z: 75},
				GazeRange:  gaze.GazeRange{Left: 30 * frame.Degree, Right: 30 * frame.Degree, Up: 20 * frame.Degree, Down: 30 * frame.Degree},
				MovementMM: r3.Vec{X: 30, Y: 40, Z: 20},
			},
			Chair:          gaze.Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
			Measured:       gaze.Sitting{BackAngle: 100 * frame.Degree, EyesMM: r3.Vec{X: 150, Z: 1180}, Head: gaze.Head{Flexion: 5 * frame.Degree}},
			RestDistanceMM: 600,
		},
		Device: gaze.Device{
			Screen: gaze.Screen{WidthMM: 260, HeightMM: 165, HousingMM: r3.Vec{X: 300, Y: 230, Z: 45}, HousingBelowMM: 15, MassKG: 1.6},
			Tracker: gaze.Tracker{
				NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * frame.Degree, UpDown: 30 * frame.Degree,
				BelowMM: 110, InFrontMM: 10, AimedUp: 15 * frame.Degree, GazeLimit: 36 * frame.Degree,
			},
		},
		Preferences: fit.Preferences{
			Rates: gaze.Rates{GazePerDegree: 1, FacingPerDegree: 1, RollPerDegree: 1, DistancePerMM: 0.1},
			Ranges: gaze.Ranges{
				Low:  gaze.Aim{Left: -60 * frame.Degree, Down: -60 * frame.Degree, DistanceMM: 150, FacingUp: -40 * frame.Degree, FacingRight: -40 * frame.Degree, Roll: -30 * frame.Degree},
				High: gaze.Aim{Left: 60 * frame.Degree, Down: 75 * frame.Degree, DistanceMM: 1500, FacingUp: 40 * frame.Degree, FacingRight: 40 * frame.Degree, Roll: 30 * frame.Degree},
			},
			FaceMM: 300,
		},
		KeepClear: []fit.KeepClear{{Name: "knees", Shape: space.Shape{Pose: frame.Translate(r3.Vec{X: 450, Z: 550}), HalfMM: r3.Vec{X: 50, Y: 180, Z: 60}}, RequiredMM: 30}},
		Mount:     &fit.MountJob{Kit: sampleKit(), Mountings: []mount.Mounting{{ClampMM: r3.Vec{X: 341, Y: 260, Z: 325}}}},
	}
	job.Device.Screen.Used = job.Device.Screen.Display()
	upright := job.Scene.Measured.AsMeasured("upright")
	upright.MustWork = true
	rested := upright
	rested.Name, rested.MustWork, rested.SeatTilt = "rested", false, 25*frame.Degree
	job.Postures = []gaze.Posture{upright, rested}
	return &casefile.Case{
		Label: "sample-1", Job: job, KitName: "kits/two-tubes.yaml", Note: "an invented case", KitNote: "an invented kit",
		Assumptions: []casefile.Assumption{{Key: "person.rest_gaze", What: "resting gaze", Value: "15 deg down", Source: "handbooks, without data", Values: []casefile.Part{{Value: casefile.Value{Word: "15 deg down"}}}}},
		Warnings:    []string{"the movement of the head was not measured"},
	}
}

// sampleKit is an invented mount: a straight post, an elbow, a straight arm, and a
// plate joint of three hinges.
func sampleKit() mount.Kit {
	turn := func(low, high float64) mount.Range {
		degree := frame.Degree.Radians()
		return mount.Range{Low: low * degree, High: high * degree, Step: degree}
	}
	slide := func(low, high float64) mount.Range {
		return mount.Range{Low: low, High: high, Step: 5, Preferred: (low + high) / 2}
	}
	index := turn(-90, 180)
	index.Step, index.Indexed = math.Pi/2, true
	alloy := mount.Material{Name: "EN AW-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}
	tube := mount.Section{OutsideMM: 25.4, WallMM: 2.5, Material: alloy}
	return mount.Kit{Name: "two tubes, invented", RatedKG: 3, Parts: []mount.Part{
		mount.Clamp{Name: "clamp", Index: index},
		mount.Tube{Name: "post", Section: tube, Slide: slide(250, 760), Turn: turn(-180, 180)},
		mount.Elbow{Name: "elbow", Pan: turn(-170, 170), Elevation: turn(-60, 60), ElevationToEndMM: r3.Vec{X: 40}},
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: slide(120, 500)},
		mount.Turns{Name: "joint", Pan: turn(-95, 95), Tilt: turn(-80, 80), Roll: turn(-45, 45)},
		mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{Y: 160, Z: 60}},
	}}
}

// solved returns the report on c.
func solved(t *testing.T, c *casefile.Case) *document.Report {
	t.Helper()
	r, err := fit.Solve(t.Context(), &c.Job)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := document.New(t.Context(), document.Solve, c, r)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}
