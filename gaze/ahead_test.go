package gaze_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// facing returns carrierFromScreen of a screen that faces back along the chair's
// forward axis, upright, with its middle at a place.
func facing(at r3.Vec) frame.Pose {
	return frame.Pose{Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}), At: at}
}

// driver returns someone whose eyes are spacingMM apart at a height above the
// floor, in axes that are the chair's.
func driver(heightMM, spacingMM float64) *gaze.PostureInCarrier {
	head := frame.Translate(r3.Vec{Z: heightMM})
	return &gaze.PostureInCarrier{
		Carrier: frame.Identity(), Head: head,
		Eyes: [2]r3.Vec{{Y: spacingMM / 2, Z: heightMM}, {Y: -spacingMM / 2, Z: heightMM}},
	}
}

// cased returns a device with a housing of a size about the display area's middle.
func cased(width, height, depth float64) gaze.Device {
	return gaze.Device{Screen: gaze.Screen{HousingMM: r3.Vec{X: width, Y: height, Z: depth}}}
}

// TestSolidAngleOfTriangles: pieces of regular bodies about their middle.
func TestSolidAngleOfTriangles(t *testing.T) {
	const tolerance = 1e-15
	for _, row := range []struct {
		name    string
		a, b, c r3.Vec
		want    float64
	}{
		{"an octant", r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, math.Pi / 2},
		{"an octant, corners at any distance", r3.Vec{X: 1e-3}, r3.Vec{Y: 7}, r3.Vec{Z: 1e200}, math.Pi / 2},
		{"half a cube's face", r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 1, Y: -1, Z: 1}, r3.Vec{X: 1, Y: -1, Z: -1}, math.Pi / 3},
		{"a tetrahedron's face", r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 1, Y: -1, Z: -1}, r3.Vec{X: -1, Y: 1, Z: -1}, math.Pi},
		{"a plane through the eye", r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{X: 1, Y: 1}, 0},
		{"around the eye", r3.Vec{X: 1}, r3.Vec{X: -1, Y: 1}, r3.Vec{X: -1, Y: -1}, 2 * math.Pi},
		{"a corner at the eye", r3.Vec{}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := gaze.SolidAngle(row.a, row.b, row.c); !(math.Abs(got-row.want) <= tolerance) {
				t.Errorf("got %.17g sr, want %.17g sr", got, row.want)
			}
		})
	}
}

// TestSolidAngleOfRectangle: of a rectangle of half sides a and b at distance d on
// its axis there are two closed forms,
//
//	Ω = 4 asin(ab / √((a² + d²)(b² + d²))) = 4 atan(ab / (d √(a² + b² + d²)))
func TestSolidAngleOfRectangle(t *testing.T) {
	const tolerance = 1e-12 // relative: corners a millidegree apart lose four digits
	for _, row := range []struct{ a, b, d float64 }{{150, 115, 600}, {10, 400, 50}, {0.1, 0.2, 1000}, {300, 300, 300}} {
		device, st := cased(2*row.a, 2*row.b, 40), driver(1200, 60)
		got := device.Ahead(facing(r3.Vec{X: row.d, Z: 1200}), st).SolidSR
		a, b, d := row.a, row.b, row.d
		for _, want := range []float64{
			4 * math.Asin(a*b/math.Sqrt((a*a+d*d)*(b*b+d*d))),
			4 * math.Atan(a*b/(d*math.Sqrt(a*a+b*b+d*d))),
		} {
			if !(math.Abs(got-want) <= tolerance*want) {
				t.Errorf("%g by %g mm at %g mm: %.17g sr, want %.17g sr", 2*a, 2*b, d, got, want)
			}
		}
	}
}

// TestShareOfTheField: housings that cover known parts of it.
func TestShareOfTheField(t *testing.T) {
	const tolerance = 1e-12
	tan := func(degrees float64) float64 { return math.Tan(degrees * math.Pi / 180) }
	// The field is as large as the rectangle in which a plane at 1 cuts it: for each
	// quarter with the corner at (w, h), atan(wh / √(1 + w² + h²)).
	quarter := func(w, h float64) float64 { return math.Atan(w * h / math.Sqrt(1+w*w+h*h)) }
	field := 2 * (quarter(tan(35), tan(20)) + quarter(tan(35), tan(40)))
	for _, row := range []struct {
		name                     string
		left, right, top, bottom float64 // degrees from straight ahead
		want                     float64
	}{
		{"the whole field", 35, 35, 20, 40, 1},
		{"far more than the field", 80, 80, 60, 60, 1},
		{"its left half", 80, 0, 60, 60, 0.5},
		{"below the horizon", 60, 60, 0, 60, 2 * quarter(tan(35), tan(40)) / field},
		{"a part inside it", 10, 20, 5, 15, (quarter(tan(10), tan(5)) + quarter(tan(20), tan(5)) + quarter(tan(10), tan(15)) + quarter(tan(20), tan(15))) / field},
		{"above it", 30, 30, 50, -20, 0},
		{"beside it", 60, -35, 20, 40, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			const d = 500
			left, right, top, bottom := d*tan(row.left), -d*tan(row.right), d*tan(row.top), -d*tan(row.bottom)
			at := r3.Vec{X: d, Y: (left + right) / 2, Z: 1200 + (top+bottom)/2}
			got := cased(left-right, top-bottom, 0).Ahead(facing(at), driver(1200, 60))
			if !(math.Abs(got.Share-row.want) <= tolerance) {
				t.Errorf("share %.15g, want %.15g", got.Share, row.want)
			}
		})
	}
}

// TestShadowOfABoard: what an upright board hides, by similar triangles: from a
// height H, with its lower edge l above the floor and d ahead, from d H/(H - l) on,
// to where the line of sight over its upper edge meets the floor.
func TestShadowOfABoard(t *testing.T) {
	const toleranceMM = 1e-6
	for _, row := range []struct {
		name         string
		lower, upper float64
		near, far    float64
		endless      bool
	}{
		{"below eye level", 800, 1000, 600 * 1200 / 400.0, 600 * 1200 / 200.0, false},
		{"nearly as high as the eyes", 800, 1140, 1800, gaze.LookMM, true},
		{"above eye level", 800, 1300, 1800, gaze.LookMM, true},
		{"down to the floor", 0, 600, 600, 1200, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			device := cased(300, row.upper-row.lower, 0)
			a := device.Ahead(facing(r3.Vec{X: 600, Z: (row.upper + row.lower) / 2}), driver(1200, 0))
			s := a.Both
			side := 150 / 600.0 * row.far
			for _, c := range []struct {
				name      string
				got, want float64
			}{
				{"near", s.NearMM, row.near},
				{"far", s.FarMM, row.far},
				{"left", s.LeftMM, side},
				{"right", s.RightMM, -side},
				{"path", s.PathMM, row.far - row.near},
				{"area, in mm", s.AreaMM2 / 1e3, 0.25 * (row.far*row.far - row.near*row.near) / 1e3},
			} {
				if !(math.Abs(c.got-c.want) <= toleranceMM) {
					t.Errorf("%s: %.9g mm, want %.9g mm", c.name, c.got, c.want)
				}
			}
			if !s.Hides || s.Endless != row.endless {
				t.Errorf("hides %v, endless %v; want true, %v", s.Hides, s.Endless, row.endless)
			}
		})
	}
}

// blocked reports whether the straight line from a to b, in screen axes, meets the
// housing: the slabs between opposite faces, one by one.
func blocked(s gaze.Screen, a, b r3.Vec) bool {
	middle, half := s.Housing()
	from, dir := r3.Sub(a, middle), r3.Sub(b, a)
	enter, leave := 0.0, 1.0
	for _, axis := range [3][3]float64{{from.X, dir.X, half.X}, {from.Y, dir.Y, half.Y}, {from.Z, dir.Z, half.Z}} {
		if axis[1] == 0 {
			if math.Abs(axis[0]) > axis[2] {
				return false
			}
			continue
		}
		t0, t1 := (-axis[2]-axis[0])/axis[1], (axis[2]-axis[0])/axis[1]
		enter, leave = max(enter, min(t0, t1)), min(leave, max(t0, t1))
	}
	return enter <= leave
}

// within returns the distance (mm) by which p is inside a convex polygon on the
// floor, negative outside; -1e9 without a polygon.
func within(outline []r3.Vec, p r3.Vec) float64 {
	least := math.Inf(1)
	turn := 0.0
	for i, q := range outline {
		next := outline[(i+1)%len(outline)]
		turn += r3.Cross(q, next).Z
	}
	for i, q := range outline {
		edge := r3.Sub(outline[(i+1)%len(outline)], q)
		if r3.Norm(edge) < 1e-6 {
			continue
		}
		least = min(least, math.Copysign(1, turn)*r3.Cross(r3.Unit(edge), r3.Sub(p, q)).Z)
	}
	if len(outline) < 3 {
		return -1e9
	}
	return least
}

// drivers returns what the trial-th random driver looks past, the seat tilted in
// every other one.
func drivers(draw drawing) (gaze.Device, frame.Pose, gaze.PostureInCarrier) {
	device, scene := draw.device(), draw.scene()
	postures := draw.postures(scene, 2)
	st := postures[1]
	screen := draw.screen(&st, device.Tracker)
	screen.Rot = screen.Rot.Mul(frame.FromVector(r3.Scale(draw.between(0, 0.5), draw.unit())))
	return device, screen, st
}

// TestHiddenFloorByRays: at random points of the floor the line of sight meets the
// housing just where the shadow says so.
func TestHiddenFloorByRays(t *testing.T) {
	const (
		points = 1500
		edgeMM = 1e-3 // so near an edge either answer is right
	)
	draw := newDrawing(50)
	hidden := 0
	for trial := range 60 {
		device, screen, st := drivers(draw)
		a := device.Ahead(screen, &st)
		below := st.Carrier.Apply(st.Head.At).X
		for range points {
			p := r3.Vec{X: below + gaze.LookMM*math.Pow(draw.Float64(), 2), Y: draw.between(-1, 1)}
			p.Y *= 300 + 0.6*(p.X-below) // about where a screen throws its shadow
			local := screen.ApplyInverse(st.Carrier.ApplyInverse(p))
			var hides [3]bool
			for eye := range st.Eyes {
				hides[eye] = blocked(device.Screen, screen.ApplyInverse(st.Eyes[eye]), local)
			}
			hides[2] = hides[0] && hides[1]
			for k, s := range [3]gaze.Shadow{a.Floor[0], a.Floor[1], a.Both} {
				mm := within(s.Outline, p)
				if math.Abs(mm) > edgeMM && hides[k] != (mm > 0) {
					t.Fatalf("trial %d, shadow %d: hidden %v at %v, %g mm within the outline", trial, k, hides[k], p, mm)
				}
				if hides[k] {
					hidden++
					inside := p.X-below >= s.NearMM-edgeMM && p.X-below <= s.FarMM+edgeMM && p.Y <= s.LeftMM+edgeMM && p.Y >= s.RightMM-edgeMM
					if !inside {
						t.Fatalf("trial %d, shadow %d: hidden at %v, beyond %s", trial, k, p, brief(s))
					}
				}
			}
		}
	}
	if hidden < 5000 {
		t.Errorf("%d points were hidden: too few to tell", hidden)
	}
}

// brief returns what a failing test says of a shadow.
func brief(s gaze.Shadow) string {
	return fmt.Sprintf("[%v: %.6g to %.6g mm, %.6g to %.6g, endless %v, %.6g mm², path %.6g mm]",
		s.Hides, s.NearMM, s.FarMM, s.LeftMM, s.RightMM, s.Endless, s.AreaMM2, s.PathMM)
}

// TestAheadInAMirror: the left eye's shadow is the right eye's of the mirror image.
func TestAheadInAMirror(t *testing.T) {
	const tolerance = 1e-9 // relative
	near := func(a, b float64) bool { return math.Abs(a-b) <= tolerance*(1+math.Abs(a)) }
	same := func(a, b gaze.Shadow) bool {
		return a.Hides == b.Hides && a.Endless == b.Endless && near(a.NearMM, b.NearMM) && near(a.FarMM, b.FarMM) &&
			near(a.LeftMM, -b.RightMM) && near(a.RightMM, -b.LeftMM) && near(a.AreaMM2, b.AreaMM2) && near(a.PathMM, b.PathMM)
	}
	draw := newDrawing(51)
	for trial := range 100 {
		device, screen, st := drivers(draw)
		there := device.Ahead(screen, &st)
		mirror, image := mirrored(screen, st)
		here := device.Ahead(mirror, image)
		if !same(there.Floor[0], here.Floor[1]) || !same(there.Floor[1], here.Floor[0]) || !same(there.Both, here.Both) {
			t.Errorf("trial %d: shadows %s, %s, %s; in the mirror %s, %s, %s", trial, brief(there.Floor[0]), brief(there.Floor[1]),
				brief(there.Both), brief(here.Floor[1]), brief(here.Floor[0]), brief(here.Both))
		}
		if !near(there.SolidSR, here.SolidSR) || !near(there.Share, here.Share) {
			t.Errorf("trial %d: covers %g sr, %g; in the mirror %g sr, %g", trial, there.SolidSR, there.Share, here.SolidSR, here.Share)
		}
		for m, r := range there.Remedies {
			other := here.Remedies[[4]gaze.Move{gaze.Lowered, gaze.TiltedBack, gaze.SwungRight, gaze.SwungLeft}[m]]
			if !same(r.Both, other.Both) || !near(r.Share, other.Share) {
				t.Errorf("trial %d: move %d: %s, %g, in the mirror %s, %g", trial, r.Move, brief(r.Both), r.Share, brief(other.Both), other.Share)
			}
		}
	}
}

// TestMoreHousingHidesMore: a housing that contains another hides all that it hides;
// what both eyes do not see is part of what either does not; and a housing hides no
// more than a half of all directions, of the field no more than all.
func TestMoreHousingHidesMore(t *testing.T) {
	const tolerance = 1e-9 // relative
	draw := newDrawing(52)
	for trial := range 100 {
		device, screen, st := drivers(draw)
		small := device.Ahead(screen, &st)
		larger := device
		larger.Screen.HousingMM = r3.Add(device.Screen.HousingMM, r3.Vec{X: 20, Y: 10, Z: 0})
		large := larger.Ahead(screen, &st)
		for _, row := range []struct {
			name       string
			less, more float64
		}{
			{"left eye", small.Floor[0].AreaMM2, large.Floor[0].AreaMM2},
			{"right eye", small.Floor[1].AreaMM2, large.Floor[1].AreaMM2},
			{"both eyes", small.Both.AreaMM2, large.Both.AreaMM2},
			{"both and left", small.Both.AreaMM2, small.Floor[0].AreaMM2},
			{"both and right", small.Both.AreaMM2, small.Floor[1].AreaMM2},
			{"path", small.Both.PathMM, large.Both.PathMM},
			{"solid angle", small.SolidSR, large.SolidSR},
			{"share", small.Share, large.Share},
			{"all directions", large.SolidSR, 2 * math.Pi},
			{"the field", large.Share, 1},
		} {
			if row.less > row.more*(1+tolerance) {
				t.Errorf("trial %d: %s: %g, within %g", trial, row.name, row.less, row.more)
			}
		}
	}
}

// TestRemedies: a remedy is what the moved screen hides.
func TestRemedies(t *testing.T) {
	const tolerance = 1e-9 // relative
	near := func(a, b float64) bool { return math.Abs(a-b) <= tolerance*(1+math.Abs(a)) }
	device, st := cased(300, 230, 45), driver(1200, 60)
	screen := facing(r3.Vec{X: 600, Y: 40, Z: 1000})
	a := device.Ahead(screen, st)
	swung := func(degrees float64) frame.Pose {
		s, c := math.Sincos(degrees * math.Pi / 180)
		return frame.Pose{
			Rot: frame.FromAxes(r3.Vec{X: s, Y: -c}, r3.Vec{Z: 1}),
			At:  r3.Vec{X: 600*c - 40*s, Y: 600*s + 40*c, Z: 1000},
		}
	}
	s, c := math.Sincos(10 * math.Pi / 180)
	for m, moved := range map[gaze.Move]frame.Pose{
		gaze.Lowered:    facing(r3.Vec{X: 600, Y: 40, Z: 950}),
		gaze.TiltedBack: {Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{X: s, Z: c}), At: screen.At},
		gaze.SwungLeft:  swung(10),
		gaze.SwungRight: swung(-10),
	} {
		t.Run(fmt.Sprint("move ", int(m)), func(t *testing.T) {
			got, want := a.Remedies[m], device.Ahead(moved, st)
			if got.Move != m || !near(got.Share, want.Share) || !near(got.Both.AreaMM2, want.Both.AreaMM2) ||
				!near(got.Both.NearMM, want.Both.NearMM) || !near(got.Both.FarMM, want.Both.FarMM) || !near(got.Both.LeftMM, want.Both.LeftMM) {
				t.Errorf("got %g, %s, want %g, %s", got.Share, brief(got.Both), want.Share, brief(want.Both))
			}
		})
	}
	if low := a.Remedies[gaze.Lowered]; low.Both.FarMM >= a.Both.FarMM || low.Both.AreaMM2 >= a.Both.AreaMM2 {
		t.Errorf("lowered, it hides %s of the floor; as it is, %s", brief(low.Both), brief(a.Both))
	}
}

// TestAheadOfWhatCannotBe: no input gives a number that is none.
func TestAheadOfWhatCannotBe(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	before := r3.Vec{X: 600, Z: 1000}
	for _, row := range []struct {
		name   string
		device gaze.Device
		screen frame.Pose
		st     *gaze.PostureInCarrier
		hides  bool
		solid  float64 // -1: any
	}{
		{"as it should be", cased(300, 230, 45), facing(before), driver(1200, 60), true, -1},
		{"eyes on the floor", cased(300, 230, 45), facing(before), driver(0, 60), false, -1},
		{"eyes below the floor", cased(300, 230, 45), facing(before), driver(-100, 60), false, -1},
		{"eyes inside the housing", cased(300, 230, 45), facing(r3.Vec{X: -20, Z: 1200}), driver(1200, 60), true, 4 * math.Pi},
		{"behind the chair", cased(300, 230, 45), facing(r3.Vec{X: -600, Z: 1000}), driver(1200, 60), false, -1},
		{"no housing", cased(0, 0, 0), facing(before), driver(1200, 60), false, 0},
		{"a stick", cased(300, 0, 0), facing(before), driver(1200, 60), false, 0},
		{"a board, edge-on", cased(300, 230, 0), frame.Pose{Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{X: 1}), At: r3.Vec{X: 600, Z: 1200}}, driver(1200, 60), false, 0},
		{"place is no number", cased(300, 230, 45), facing(r3.Vec{X: nan}), driver(1200, 60), false, 0},
		{"place is infinite", cased(300, 230, 45), facing(r3.Vec{X: inf}), driver(1200, 60), false, 0},
		{"place is beyond measure", cased(300, 230, 45), facing(r3.Vec{X: 1e300}), driver(1200, 60), false, 0},
		{"eyes are no number", cased(300, 230, 45), facing(before), driver(nan, 60), false, 0},
		{"eyes are beyond measure", cased(300, 230, 45), facing(before), driver(1e300, 60), false, 0},
		{"housing is endless", cased(inf, 230, 45), facing(before), driver(1200, 60), false, 0},
		{"housing is no number", cased(300, nan, 45), facing(before), driver(1200, 60), false, 0},
		{"no pose", cased(300, 230, 45), frame.Pose{}, driver(1200, 60), false, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			a := row.device.Ahead(row.screen, row.st)
			allNumbers(t, "ahead", a)
			if a.Both.Hides != row.hides {
				t.Errorf("hides %s, want %v", brief(a.Both), row.hides)
			}
			if row.solid >= 0 && math.Abs(a.SolidSR-row.solid) > 1e-12 {
				t.Errorf("covers %g sr, want %g sr", a.SolidSR, row.solid)
			}
		})
	}
}

// An upright board 200 mm high and 600 mm ahead, its lower edge 800 mm above the
// floor, hides from eyes 1200 mm high what lies between 1.8 m and 3.6 m ahead.
func ExampleDevice_Ahead() {
	device := gaze.Device{Screen: gaze.Screen{HousingMM: r3.Vec{X: 300, Y: 200}}}
	screen := frame.Pose{Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}), At: r3.Vec{X: 600, Z: 900}}
	eye := r3.Vec{Z: 1200}
	a := device.Ahead(screen, &gaze.PostureInCarrier{Carrier: frame.Identity(), Eyes: [2]r3.Vec{eye, eye}})
	fmt.Printf("%.1f m to %.1f m\n", a.Both.NearMM/1000, a.Both.FarMM/1000)
	for move, name := range map[gaze.Move]string{gaze.Lowered: "lowered", gaze.TiltedBack: "tilted back"} {
		r := a.Remedies[move]
		fmt.Printf("%s: %.1f m to %.1f m\n", name, r.Both.NearMM/1000, r.Both.FarMM/1000)
	}
	// Unordered output:
	// 1.8 m to 3.6 m
	// lowered: 1.6 m to 2.9 m
	// tilted back: 1.8 m to 3.7 m
}
