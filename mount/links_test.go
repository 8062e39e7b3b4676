package mount_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
)

// A straight post of 750 mm clamped 450 mm below its end sticks out 300 mm below.
func TestLinksOfStraightTubes(t *testing.T) {
	c, err := twoTubes().Chain(mount.Mounting{ClampMM: r3.Vec{X: 380, Y: 260, Z: 480}})
	if err != nil {
		t.Fatal(err)
	}
	links, err := c.Links(c.Preferred())
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		part string
		line []r3.Vec
	}{
		{"post", []r3.Vec{{X: 380, Y: 260, Z: 180}, {X: 380, Y: 260, Z: 480}, {X: 380, Y: 260, Z: 930}}},
		{"arm", []r3.Vec{{X: 230, Y: 260, Z: 930}, {X: 380, Y: 260, Z: 930}, {X: 630, Y: 260, Z: 930}}},
	}
	if len(links) != len(want) {
		t.Fatalf("%d links, want %d", len(links), len(want))
	}
	for i, w := range want {
		got := links[i]
		if got.Part != w.part || got.Held != 1 || got.RadiusMM != 12.5 {
			t.Errorf("link %d: %q, held at point %d, radius %v", i, got.Part, got.Held, got.RadiusMM)
		}
		same := func(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) <= exactMM }
		if !slices.EqualFunc(got.LineMM, w.line, same) {
			t.Errorf("%s: line %v, want %v", w.part, got.LineMM, w.line)
		}
	}
}

// At any settings a tube starts where the part before holds it, ends where the next
// part sits, and a sliding tube keeps its shape.
func TestLinksJoinTheFrames(t *testing.T) {
	c, err := everything().Chain(placed())
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) int {
		return slices.IndexFunc(c.Joints, func(j mount.Joint) bool { return j.Name == name })
	}
	ends := []struct{ part, before, after string }{
		{"post", "clamp.offset", "post.end"},
		{"arm", "elbow.elevation_to_end", "arm.end"},
		{"arm2", "elbow2.pan", "arm2.length"},
	}
	rng := rand.New(rand.NewPCG(6, 1))
	for range 100 {
		s := randomSettings(rng, c)
		frames, err := c.Frames(s)
		if err != nil {
			t.Fatal(err)
		}
		links, err := c.Links(s)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range ends {
			l := links[i]
			start, end := frames[at(e.before)].At, frames[at(e.after)].At
			if l.Part != e.part {
				t.Fatalf("link %d is %q, want %q", i, l.Part, e.part)
			}
			if d := r3.Norm(r3.Sub(l.LineMM[l.Held], start)); d > exactMM {
				t.Fatalf("%s starts %v mm from where it is held", e.part, d)
			}
			if d := r3.Norm(r3.Sub(l.LineMM[len(l.LineMM)-1], end)); d > exactMM {
				t.Fatalf("%s ends %v mm from the next part", e.part, d)
			}
			if d := r3.Norm(r3.Sub(l.Start.Mul(l.Curve.End()).At, end)); d > exactMM {
				t.Fatalf("the curve of %s ends %v mm from the next part", e.part, d)
			}
		}
	}
}

// The height is the level of the far end above the clamp, bends or not.
func TestHeightOfBentPost(t *testing.T) {
	post := everything().Parts[1].(mount.Tube)
	kit := mount.Kit{Parts: []mount.Part{mount.Clamp{Name: "clamp"}, post, mount.Plate{Name: "plate"}}}
	c, err := kit.Chain(mount.Mounting{})
	if err != nil {
		t.Fatal(err)
	}
	p := mustForward(t, c, mount.Settings{450, 0})
	sin, cos := math.Sincos(50 * deg)
	aside := 2*80*(1-cos) + 50*sin // closed form of the S, at 30° to the left of ahead
	want := r3.Vec{X: aside * math.Cos(30*deg), Y: aside * math.Sin(30*deg), Z: 450}
	if d := r3.Norm(r3.Sub(p.At, want)); d > exactMM {
		t.Errorf("far end at %v, want %v", p.At, want)
	}
}
