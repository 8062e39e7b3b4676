package mount_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// urdfFile is what a reader of the format needs of a chain.
type urdfFile struct {
	Links []struct {
		Name string `xml:"name,attr"`
	} `xml:"link"`
	Joints []struct {
		Name   string `xml:"name,attr"`
		Type   string `xml:"type,attr"`
		Parent struct {
			Link string `xml:"link,attr"`
		} `xml:"parent"`
		Child struct {
			Link string `xml:"link,attr"`
		} `xml:"child"`
		Origin struct {
			XYZ string `xml:"xyz,attr"`
			RPY string `xml:"rpy,attr"`
		} `xml:"origin"`
		Axis struct {
			XYZ string `xml:"xyz,attr"`
		} `xml:"axis"`
	} `xml:"joint"`
}

func vector(t *testing.T, s string) r3.Vec {
	t.Helper()
	var v r3.Vec
	if _, err := fmt.Sscan(s, &v.X, &v.Y, &v.Z); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return v
}

// compose returns the pose of the link "screen" by the format's own rules, in
// meters and radians, and in mm at the end.
func compose(t *testing.T, u urdfFile, s mount.Settings) frame.Pose {
	t.Helper()
	at, link, i := frame.Identity(), "carrier", 0
	for _, j := range u.Joints {
		if j.Parent.Link != link {
			t.Fatalf("joint %q hangs on %q, want %q", j.Name, j.Parent.Link, link)
		}
		link = j.Child.Link
		rpy := vector(t, j.Origin.RPY)
		origin := frame.Rotate(frame.Angle(rpy.Z), r3.Vec{Z: 1}).
			Mul(frame.Rotate(frame.Angle(rpy.Y), r3.Vec{Y: 1})).
			Mul(frame.Rotate(frame.Angle(rpy.X), r3.Vec{X: 1}))
		origin.At = vector(t, j.Origin.XYZ)
		at = at.Mul(origin)
		switch j.Type {
		case "revolute":
			at = at.Mul(frame.Rotate(frame.Angle(s[i]), vector(t, j.Axis.XYZ)))
			i++
		case "prismatic":
			at = at.Mul(frame.Translate(r3.Scale(s[i]/1000, vector(t, j.Axis.XYZ))))
			i++
		case "fixed":
		default:
			t.Fatalf("joint %q is of type %q", j.Name, j.Type)
		}
	}
	if link != "screen" || i != len(s) {
		t.Fatalf("the chain ends at %q after %d settings, want the screen after %d", link, i, len(s))
	}
	at.At = r3.Scale(1000, at.At)
	return at
}

func TestURDFGivesTheSamePose(t *testing.T) {
	kit, err := everything().Chain(mirrored(placed()))
	if err != nil {
		t.Fatal(err)
	}
	// The worst case of roll, pitch and yaw: a pitch of 90°, and next to it.
	upright := storedChain(t, "bent")
	for i, pitch := range []frame.Angle{90 * frame.Degree, -90 * frame.Degree, (90 - 1e-8) * frame.Degree} {
		turned := frame.Rotate(0.7, r3.Vec{Z: 1}).Mul(frame.Rotate(pitch, r3.Vec{Y: 1})).Mul(frame.Rotate(-1.1, r3.Vec{X: 1}))
		upright.Joints[i].Origin.Rot = turned.Rot
	}
	rng := rand.New(rand.NewPCG(9, 1))
	chains := []mount.Chain{kit, upright}
	for range 100 {
		chains = append(chains, randomChain(rng))
	}
	for _, c := range chains {
		var out bytes.Buffer
		if err := c.WriteURDF(&out, "a mount"); err != nil {
			t.Fatal(err)
		}
		var u urdfFile
		if err := xml.Unmarshal(out.Bytes(), &u); err != nil {
			t.Fatal(err)
		}
		if len(u.Links) != len(c.Joints)+2 || len(u.Joints) != len(c.Joints)+1 {
			t.Fatalf("%d links and %d joints for %d joints", len(u.Links), len(u.Joints), len(c.Joints))
		}
		s := randomSettings(rng, c)
		wantSamePose(t, "URDF", compose(t, u, s), mustForward(t, c, s))
	}
}

func TestURDFNames(t *testing.T) {
	c := planar(300, 220)
	c.Joints[0].Name, c.Joints[1].Name, c.Joints[2].Name = "höhe <1>", "h_he__1_", "screen"
	var out strings.Builder
	if err := c.WriteURDF(&out, ""); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<robot name="mount">`, `<link name="h_he__1_">`, `<link name="h_he__1__">`, `<link name="screen_">`} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %s in\n%s", want, out.String())
		}
	}
	if err := (mount.Chain{}).WriteURDF(&out, "x"); err == nil {
		t.Error("zero chain: no error")
	}
	if err := c.WriteURDF(fullDisk{}, "x"); !errors.Is(err, errFull) {
		t.Errorf("error %v, want the writer's", err)
	}
}

var errFull = errors.New("disk full")

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }
