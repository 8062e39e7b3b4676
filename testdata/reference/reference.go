// Package reference reads the values that general-purpose libraries of another language
// made from the definitions, for the tests that compare with them. The command make,
// beside this file, makes the values afresh.
package reference

import (
	"bytes"
	"embed"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

//go:embed values/*.json published/*.csv
var values embed.FS

// Published reads the numbers of a published table by the words that its rows begin with.
func Published(tb testing.TB, table string) map[string][]float64 {
	tb.Helper()
	raw, err := values.ReadFile("published/" + table + ".csv")
	if err != nil {
		tb.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(raw))
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		tb.Fatalf("%d lines of %s, %v", len(lines), table, err)
	}
	all := map[string][]float64{}
	for _, line := range lines[1:] {
		words := 0
		for words < len(line) && !startsNumber(line[words]) {
			words++
		}
		key := strings.Join(line[:words], " ")
		for _, cell := range line[words:] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				tb.Fatalf("%s of %s: %v", key, table, err)
			}
			all[key] = append(all[key], v)
		}
	}
	return all
}

func startsNumber(cell string) bool { return strings.IndexAny(cell, "0123456789") == 0 }

// Read reads the cases of one subject.
func Read[T any](tb testing.TB, subject string) []T {
	tb.Helper()
	raw, err := values.ReadFile("values/" + subject + ".json")
	if err != nil {
		tb.Fatal(err)
	}
	var file struct{ Cases []T }
	if err := json.Unmarshal(raw, &file); err != nil {
		tb.Fatal(err)
	}
	if len(file.Cases) == 0 {
		tb.Fatalf("no cases of %s", subject)
	}
	return file.Cases
}

// Triple is a vector, or the rotation, flexion and lateral flexion of a head in degrees.
type Triple [3]float64

// Vec returns the vector.
func (v Triple) Vec() r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

// Head returns the angles of the head.
func (v Triple) Head() gaze.Head {
	return gaze.Head{Rotation: degrees(v[0]), Flexion: degrees(v[1]), LateralFlexion: degrees(v[2])}
}

func degrees(v float64) frame.Angle { return frame.Angle(v) * frame.Degree }

// Rows are the rows of a rotation matrix or of the upper part of a pose.
type Rows [][]float64

// Rotation returns the rotation.
func (m Rows) Rotation() frame.Rotation {
	column := func(k int) r3.Vec { return r3.Vec{X: m[0][k], Y: m[1][k], Z: m[2][k]} }
	return frame.Rotation{X: column(0), Y: column(1), Z: column(2)}
}

// Pose returns the pose.
func (m Rows) Pose() frame.Pose {
	return frame.Pose{Rot: m.Rotation(), At: r3.Vec{X: m[0][3], Y: m[1][3], Z: m[2][3]}}
}

// Scene is how the reference scripts write a scene.
type Scene struct {
	Person struct {
		PupilSpacing float64 `json:"pupil_spacing"`
		NeckToEyes   Triple  `json:"neck_to_eyes"`
		Eyes         string
		Rest         struct{ Down, Left float64 }
		GazeRange    struct{ Left, Right, Up, Down float64 } `json:"gaze_range"`
		Movement     Triple
	}
	Chair struct {
		TiltPivot Triple `json:"tilt_pivot"`
		BackHinge Triple `json:"back_hinge"`
	}
	Measured struct {
		SeatTilt  float64 `json:"seat_tilt"`
		BackAngle float64 `json:"back_angle"`
		Eyes      Triple
		Head      Triple
	}
	Carrier string
	Device  struct {
		Width, Height   float64
		Used            [4]float64
		Housing         Triple
		HousingBelow    float64 `json:"housing_below"`
		Near, Best, Far float64
		Across          float64
		UpDown          float64 `json:"up_down"`
		Below           float64
		InFront         float64 `json:"in_front"`
		AimedUp         float64 `json:"aimed_up"`
		GazeLimit       float64 `json:"gaze_limit"`
	}
}

// Posture is how they write a posture.
type Posture struct {
	SeatTilt  float64 `json:"seat_tilt"`
	BackAngle float64 `json:"back_angle"`
	Slump     float64
	Head      Triple
}

// ToPosture returns the posture.
func (p Posture) ToPosture() gaze.Posture {
	return gaze.Posture{SeatTilt: degrees(p.SeatTilt), BackAngle: degrees(p.BackAngle), SlumpMM: p.Slump, Head: p.Head.Head()}
}

// ToScene returns the scene.
func (r *Scene) ToScene() gaze.Scene {
	p, m := &r.Person, &r.Measured
	s := gaze.Scene{
		Person: gaze.Person{
			PupilSpacingMM: p.PupilSpacing, NeckToEyesMM: p.NeckToEyes.Vec(),
			RestGaze:   &gaze.GazeDirection{Down: degrees(p.Rest.Down), Left: degrees(p.Rest.Left)},
			GazeRange:  gaze.GazeRange{Left: degrees(p.GazeRange.Left), Right: degrees(p.GazeRange.Right), Up: degrees(p.GazeRange.Up), Down: degrees(p.GazeRange.Down)},
			MovementMM: p.Movement.Vec(),
			Eyes:       map[string]gaze.EyesUsed{"both": gaze.Both, "left": gaze.LeftOnly, "right": gaze.RightOnly, "either": gaze.Either}[p.Eyes],
		},
		Chair: gaze.Chair{TiltPivotMM: r.Chair.TiltPivot.Vec(), BackHingeMM: r.Chair.BackHinge.Vec()},
		Measured: gaze.Sitting{
			SeatTilt: degrees(m.SeatTilt), BackAngle: degrees(m.BackAngle), EyesMM: m.Eyes.Vec(), Head: m.Head.Head(),
		},
	}
	if r.Carrier == "base" {
		s.Carrier = gaze.Base
	}
	return s
}

// ToDevice returns the device.
func (r *Scene) ToDevice() gaze.Device {
	d := &r.Device
	return gaze.Device{
		Screen: gaze.Screen{
			WidthMM: d.Width, HeightMM: d.Height, HousingMM: d.Housing.Vec(), HousingBelowMM: d.HousingBelow,
			Used: gaze.Rect{LeftMM: d.Used[0], RightMM: d.Used[1], BottomMM: d.Used[2], TopMM: d.Used[3]},
		},
		Tracker: gaze.Tracker{
			NearMM: d.Near, BestMM: d.Best, FarMM: d.Far, Across: degrees(d.Across), UpDown: degrees(d.UpDown),
			BelowMM: d.Below, InFrontMM: d.InFront, AimedUp: degrees(d.AimedUp), GazeLimit: degrees(d.GazeLimit),
		},
	}
}
