package mount_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/testdata/reference"
)

// urdfDirVariable names a folder, if it is set, into which the chains of the
// reference are exported for another reader of the format to compare:
// testdata/reference/check-urdf does.
const urdfDirVariable = "SIGHTPOST_URDF_DIR"

// referenceChain is a chain with its poses at some settings as Orocos KDL has
// them. Lengths are in mm, turns in degrees.
type referenceChain struct {
	Joints []struct {
		Name, Motion string
		Origin       referenceOrigin
		Axis         [3]float64 // of any length
		Low, High    float64
	}
	Tip   referenceOrigin
	Posed []struct {
		Settings []float64
		Pose     [3][4]float64 // by row
	}
}

// referenceOrigin is x, y, z, then roll, pitch, yaw about fixed axes.
type referenceOrigin [6]float64

func (o referenceOrigin) pose() frame.Pose {
	turn := func(degrees float64, axis r3.Vec) frame.Pose {
		return frame.Rotate(frame.Angle(degrees)*frame.Degree, axis)
	}
	p := turn(o[5], r3.Vec{Z: 1}).Mul(turn(o[4], r3.Vec{Y: 1})).Mul(turn(o[3], r3.Vec{X: 1}))
	p.At = r3.Vec{X: o[0], Y: o[1], Z: o[2]}
	return p
}

// chain returns the chain as the package has it.
func (r referenceChain) chain(t *testing.T) mount.Chain {
	t.Helper()
	c := mount.Chain{Tip: r.Tip.pose()}
	for _, ref := range r.Joints {
		j := mount.Joint{Name: ref.Name, Origin: ref.Origin.pose()}
		axis := r3.Unit(r3.Vec{X: ref.Axis[0], Y: ref.Axis[1], Z: ref.Axis[2]})
		switch ref.Motion {
		case "slide":
			j = ranged(j, mount.Slide, axis, ref.Low, ref.High)
		case "turn":
			j = ranged(j, mount.Turn, axis, ref.Low*deg, ref.High*deg)
		case "fixed":
		default:
			t.Fatalf("joint %q has the motion %q", ref.Name, ref.Motion)
		}
		c.Joints = append(c.Joints, j)
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

// settings returns told settings, in mm and degrees, as c takes them.
func settings(c mount.Chain, told []float64) mount.Settings {
	s := append(mount.Settings{}, told...)
	for i, j := range c.Moving() {
		if j.Motion == mount.Turn {
			s[i] *= deg
		}
	}
	return s
}

func TestForwardAgainstReference(t *testing.T) {
	for i, ref := range reference.Read[referenceChain](t, "chains") {
		c := ref.chain(t)
		for _, posed := range ref.Posed {
			m := posed.Pose
			column := func(k int) r3.Vec { return r3.Vec{X: m[0][k], Y: m[1][k], Z: m[2][k]} }
			want := frame.Pose{Rot: frame.Rotation{X: column(0), Y: column(1), Z: column(2)}, At: column(3)}
			wantSamePose(t, fmt.Sprintf("chain %d", i+1), mustForward(t, c, settings(c, posed.Settings)), want)
		}
	}
}

// toldSetting, toldPose and told are settings and poses in the form in which the
// product prints them.
type toldSetting struct {
	Name  string  `json:"name"`
	Unit  string  `json:"unit"`
	Value float64 `json:"value"`
}

type toldPose struct {
	At [3]float64 `json:"at_mm"`
	X  [3]float64 `json:"x"`
	Y  [3]float64 `json:"y"`
	Z  [3]float64 `json:"z"`
}

type told struct {
	Settings []toldSetting `json:"settings"`
	Pose     toldPose      `json:"carrier_from_screen"`
}

func tell(c mount.Chain, values []float64, p frame.Pose) told {
	triple := func(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	at := told{Pose: toldPose{At: triple(p.At), X: triple(p.Rot.X), Y: triple(p.Rot.Y), Z: triple(p.Rot.Z)}}
	for i, j := range c.Moving() {
		unit := map[mount.Motion]string{mount.Slide: "mm", mount.Turn: "deg"}[j.Motion]
		at.Settings = append(at.Settings, toldSetting{Name: j.Name, Unit: unit, Value: values[i]})
	}
	return at
}

func TestURDFOfReferenceChains(t *testing.T) {
	dir := os.Getenv(urdfDirVariable)
	for i, ref := range reference.Read[referenceChain](t, "chains") {
		name := fmt.Sprintf("chain-%03d", i+1)
		c := ref.chain(t)
		var text bytes.Buffer
		if err := c.WriteURDF(&text, name); err != nil {
			t.Fatal(err)
		}
		var read urdfFile
		if err := xml.Unmarshal(text.Bytes(), &read); err != nil {
			t.Fatal(err)
		}
		var all struct {
			Posed []told `json:"posed"`
		}
		for _, posed := range ref.Posed {
			s := settings(c, posed.Settings)
			pose := mustForward(t, c, s)
			wantSamePose(t, name, compose(t, read, s), pose)
			all.Posed = append(all.Posed, tell(c, posed.Settings, pose))
		}
		if dir == "" {
			continue
		}
		poses, err := json.Marshal(all)
		if err != nil {
			t.Fatal(err)
		}
		writeFile(t, filepath.Join(dir, name+".urdf"), text.Bytes())
		writeFile(t, filepath.Join(dir, name+".json"), poses)
	}
}

func writeFile(t *testing.T, name string, content []byte) {
	t.Helper()
	if err := os.WriteFile(name, content, 0o644); err != nil {
		t.Fatal(err)
	}
}
