package gaze_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/testdata/trials"
)

// hair is how far short of an edge a condition is still asked to hold and how
// far beyond it to fail, as a part of the way: well above rounding.
const hair = 1e-3

// TestRoomIsTheLargestBall: without movement, each margin is the radius of the
// largest ball about the eye in which the condition holds, judged by projected
// angles and depths alone.
func TestRoomIsTheLargestBall(t *testing.T) {
	draw := newDrawing(1)
	directions := spread(1500)
	positive := 0
	for trial := range 40 {
		device, scene := draw.device(), draw.scene()
		scene.Person.MovementMM, scene.Person.Eyes = r3.Vec{}, gaze.Both
		st := scene.InCarrier(draw.posture(scene))
		screen := draw.screen(&st, device.Tracker)
		judge := gaze.NewJudge(device, scene.Person)
		def := define(device, scene.Person, screen, &st)
		for _, margin := range judge.Margins(nil, screen, &st) {
			eye := st.Eyes[margin.Condition.Eye]
			if (margin.MM > 0) != (def.slack(margin.Condition, eye) > 0) {
				t.Fatalf("trial %d: %v: margin %.3f mm has the wrong sign", trial, margin.Condition, margin.MM)
			}
			if margin.MM <= 0 {
				continue
			}
			positive++
			if beyond := r3.Sub(eye, r3.Scale(margin.MM*(1+hair), margin.Inward)); def.slack(margin.Condition, beyond) > 0 {
				t.Fatalf("trial %d: %v: holds beyond its margin of %.3f mm", trial, margin.Condition, margin.MM)
			}
			if margin.MM > 600 {
				continue // a ball that reaches round the back of head or tracker, where an azimuth jumps
			}
			for _, dir := range directions {
				if def.slack(margin.Condition, r3.Add(eye, r3.Scale(margin.MM*(1-hair), dir))) <= 0 {
					t.Fatalf("trial %d: %v: fails within its margin of %.3f mm, toward %v", trial, margin.Condition, margin.MM, dir)
				}
			}
		}
	}
	if positive < 1000 {
		t.Errorf("only %d margins were positive: too few to tell", positive)
	}
}

// TestMarginByMarching compares the margin with the shortest way out of the
// region that marching finds in thousands of directions.
func TestMarginByMarching(t *testing.T) {
	draw := newDrawing(2)
	// The nearest of n directions is some 2/sqrt(n) from the way straight out, and a
	// flat edge is then reached later by half its square: 2 parts in 1000.
	const n = 1200
	directions := spread(n)
	count, inside := trials.Of(10, 24), 0
	for trial := range count {
		device, scene := draw.device(), draw.scene()
		scene.Person.MovementMM = r3.Vec{}
		postures := draw.postures(scene, 1)
		target, err := gaze.Place(request(device, scene, postures))
		if err != nil {
			t.Fatal(err)
		}
		st := postures[0].Moved(r3.Scale(draw.between(0, 90), draw.unit()))
		judge := gaze.NewJudge(device, scene.Person)
		got, _ := judge.Margin(target.Pose, &st)
		want := define(device, scene.Person, target.Pose, &st).marginByMarching(&st, directions)
		if want < 0 {
			if got > 0 {
				t.Errorf("trial %d: margin %.3f mm where the conditions fail", trial, got)
			}
			continue
		}
		inside++
		if want < got*(1-1e-9)-1e-6 || want > got*1.003+1e-6 {
			if scene.Person.Eyes == gaze.Either && want > got {
				continue // the other eye may take over on the way out: the margin is a lower bound
			}
			t.Errorf("trial %d (eyes %d): margin %.4f mm, marching finds %.4f mm", trial, scene.Person.Eyes, got, want)
		}
	}
	if inside < count/2 {
		t.Errorf("only %d trials were inside: too few to tell", inside)
	}
}

// TestMarginKeepsMovementAndBall: a positive margin means that the conditions
// hold with the head anywhere in the ellipsoid of movement and then anywhere in
// a ball of the margin about that.
func TestMarginKeepsMovementAndBall(t *testing.T) {
	draw := newDrawing(3)
	for trial := range trials.Of(10, 40) {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 1+trial%2)
		target, err := gaze.Place(request(device, scene, postures))
		if err != nil {
			t.Fatal(err)
		}
		if target.MarginMM <= 0 {
			continue
		}
		for i := range postures {
			st := &postures[i]
			def := define(device, scene.Person, target.Pose, st)
			m := scene.Person.MovementMM
			for range 1500 {
				u := draw.unit()
				onEllipsoid := st.Seat.Apply(r3.Vec{X: m.X * u.X, Y: m.Y * u.Y, Z: m.Z * u.Z})
				v := r3.Add(onEllipsoid, r3.Scale(target.MarginMM*(1-hair), draw.unit()))
				if !def.holds(st, v) {
					t.Fatalf("trial %d, posture %d: margin %.3f mm, but the head moved by %v loses a condition", trial, i, target.MarginMM, v)
				}
			}
		}
	}
}

// TestMarginIsUsedUp: the point of ellipsoid and ball that lies furthest against
// the limiting condition breaks it as soon as the margin is exceeded. With
// several semi-axes the point is looked for among many, not by a formula.
func TestMarginIsUsedUp(t *testing.T) {
	draw := newDrawing(4)
	directions := spread(20000)
	for trial := range 20 {
		device, scene := draw.device(), draw.scene()
		scene.Person.Eyes = gaze.Both
		postures := draw.postures(scene, 1)
		target, err := gaze.Place(request(device, scene, postures))
		if err != nil {
			t.Fatal(err)
		}
		if target.MarginMM <= 0 {
			continue
		}
		judge := gaze.NewJudge(device, scene.Person)
		margins := judge.Margins(nil, target.Pose, &postures[0])
		margin := margins[gaze.Least(margins)]
		st, m := &postures[0], scene.Person.MovementMM
		furthest, most := r3.Vec{}, 0.0
		for _, u := range directions {
			v := st.Seat.Apply(r3.Vec{X: m.X * u.X, Y: m.Y * u.Y, Z: m.Z * u.Z})
			if reach := -r3.Dot(v, margin.Inward); reach > most {
				furthest, most = v, reach
			}
		}
		// The best of the directions falls short of the furthest point by some 1e-4
		// of a semi-axis, which 0.5 mm covers. From the arc of the gaze limit, which
		// bends away, the ellipsoid keeps more than the margin says: it is left out.
		v := r3.Sub(furthest, r3.Scale(target.MarginMM+0.5, margin.Inward))
		eye := r3.Add(st.Eyes[margin.Condition.Eye], v)
		def := define(device, scene.Person, target.Pose, st)
		if slack := def.slack(margin.Condition, eye); slack > 0 && margin.Condition.Kind != gaze.GazeLimit {
			t.Errorf("trial %d: %v: margin %.3f mm exceeded by 0.5 mm, and it still holds by %g", trial, margin.Condition, target.MarginMM, slack)
		}
	}
}

// TestMirror: a mirrored person before a mirrored screen has the same margins,
// left and right exchanged.
func TestMirror(t *testing.T) {
	const toleranceMM = 1e-9 // the same arithmetic with signs changed, at some meters
	draw := newDrawing(5)
	for trial := range 60 {
		device, scene := draw.device(), draw.scene()
		posture := draw.posture(scene)
		st := scene.InCarrier(posture)
		screen := draw.screen(&st, device.Tracker)
		judge := gaze.NewJudge(device, scene.Person)

		mirrored := mirrorScene(scene)
		other := mirrored.InCarrier(mirrorPosture(posture))
		used := &device.Screen.Used
		used.LeftMM, used.RightMM = -used.RightMM, -used.LeftMM
		otherJudge := gaze.NewJudge(device, mirrored.Person)

		if scene.Person.Eyes == gaze.Either {
			// Both eyes have the same margin up and down in the head, and which of them
			// stands for the two is then a matter of rounding: only the margin is one.
			got, _ := otherJudge.Margin(mirrorScreen(screen), &other)
			if w, _ := judge.Margin(screen, &st); math.Abs(got-w) > toleranceMM {
				t.Fatalf("trial %d: margin %.9f mm mirrored, %.9f mm as it was", trial, got, w)
			}
			continue
		}
		want := map[gaze.Condition]float64{}
		for _, r := range judge.Margins(nil, screen, &st) {
			want[mirrorCondition(r.Condition)] = r.MM
		}
		margins := otherJudge.Margins(nil, mirrorScreen(screen), &other)
		if len(margins) != len(want) {
			t.Fatalf("trial %d: %d margins, mirrored %d", trial, len(want), len(margins))
		}
		for _, r := range margins {
			if w, ok := want[r.Condition]; !ok || math.Abs(r.MM-w) > toleranceMM {
				t.Fatalf("trial %d: %v: %.9f mm mirrored, %.9f mm as it was", trial, r.Condition, r.MM, w)
			}
		}
	}
}

func mirrorHead(h gaze.Head) gaze.Head {
	return gaze.Head{Rotation: -h.Rotation, Flexion: h.Flexion, LateralFlexion: -h.LateralFlexion}
}

func mirrorPosture(p gaze.Posture) gaze.Posture {
	p.Head = mirrorHead(p.Head)
	return p
}

func mirrorScene(s gaze.Scene) gaze.Scene {
	s.Person.NeckToEyesMM.Y *= -1
	s.Measured.EyesMM.Y *= -1
	s.Measured.Head = mirrorHead(s.Measured.Head)
	s.Person.GazeRange.Left, s.Person.GazeRange.Right = s.Person.GazeRange.Right, s.Person.GazeRange.Left
	switch s.Person.Eyes {
	case gaze.LeftOnly:
		s.Person.Eyes = gaze.RightOnly
	case gaze.RightOnly:
		s.Person.Eyes = gaze.LeftOnly
	default: // both or either, on both sides alike
	}
	if s.Person.RestGaze != nil {
		rest := *s.Person.RestGaze
		rest.Left *= -1
		s.Person.RestGaze = &rest
	}
	return s
}

func mirrorVec(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }

// mirrorScreen mirrors the chair's left and right; the screen's own right then
// points the other way.
func mirrorScreen(p frame.Pose) frame.Pose {
	return frame.Pose{
		Rot: frame.Rotation{X: r3.Scale(-1, mirrorVec(p.Rot.X)), Y: mirrorVec(p.Rot.Y), Z: mirrorVec(p.Rot.Z)},
		At:  mirrorVec(p.At),
	}
}

func mirrorCondition(c gaze.Condition) gaze.Condition {
	kinds := map[gaze.ConditionKind]gaze.ConditionKind{
		gaze.PastLeft: gaze.PastRight, gaze.PastRight: gaze.PastLeft,
		gaze.BeyondLeft: gaze.BeyondRight, gaze.BeyondRight: gaze.BeyondLeft,
	}
	corners := map[gaze.Corner]gaze.Corner{
		gaze.TopLeft: gaze.TopRight, gaze.TopRight: gaze.TopLeft,
		gaze.BottomLeft: gaze.BottomRight, gaze.BottomRight: gaze.BottomLeft,
	}
	c.Eye = gaze.RightEye - c.Eye
	if k, ok := kinds[c.Kind]; ok {
		c.Kind = k
	}
	if k, ok := corners[c.Corner]; ok {
		c.Corner = k
	}
	return c
}

// easing is a change that makes it easier for the tracker or the person.
type easing struct {
	name string
	ease func(*gaze.Device, *gaze.Person)
}

func easings() []easing {
	return []easing{
		{"wider gaze limit", func(d *gaze.Device, _ *gaze.Person) { d.Tracker.GazeLimit += 3 * frame.Degree }},
		{"nearer near plane", func(d *gaze.Device, _ *gaze.Person) { d.Tracker.NearMM -= 40 }},
		{"farther far plane", func(d *gaze.Device, _ *gaze.Person) { d.Tracker.FarMM += 40 }},
		{"wider view", func(d *gaze.Device, _ *gaze.Person) {
			d.Tracker.Across += 5 * frame.Degree
			d.Tracker.UpDown += 5 * frame.Degree
		}},
		{"smaller part used", func(d *gaze.Device, _ *gaze.Person) {
			d.Screen.Used.LeftMM /= 2
			d.Screen.Used.TopMM /= 2
		}},
		{"eyes reach further", func(_ *gaze.Device, p *gaze.Person) {
			p.GazeRange.Left += 4 * frame.Degree
			p.GazeRange.Down += 4 * frame.Degree
		}},
		{"moves less", func(_ *gaze.Device, p *gaze.Person) { p.MovementMM = r3.Scale(0.7, p.MovementMM) }},
		{"either eye is enough", func(_ *gaze.Device, p *gaze.Person) { p.Eyes = gaze.Either }},
	}
}

// TestMarginIsTheLeast: the margin that is found without slopes is the least of those with
// them, with the same condition.
func TestMarginIsTheLeast(t *testing.T) {
	const rounding = 1e-12 // mm: products may be fused in one and not in the other
	draw := newDrawing(12)
	for trial := range 2000 {
		device, scene := draw.device(), draw.scene()
		scene.Person.Eyes = gaze.EyesUsed(trial % 4)
		st := scene.InCarrier(draw.posture(scene))
		screen := draw.screen(&st, device.Tracker)
		judge := gaze.NewJudge(device, scene.Person)
		all := judge.Margins(nil, screen, &st)
		want := all[gaze.Least(all)]
		if mm, c := judge.Margin(screen, &st); math.Abs(mm-want.MM) > rounding || c != want.Condition {
			t.Fatalf("trial %d: %v mm, %v; the least is %v mm, %v", trial, mm, c, want.MM, want.Condition)
		}
	}
}

// TestMonotone: asking less never lowers a margin that is positive, and more
// movement never raises it.
func TestMonotone(t *testing.T) {
	for i, row := range easings() {
		t.Run(row.name, func(t *testing.T) {
			draw, raised := newDrawing(uint64(100+i)), 0
			for trial := range trials.Of(20, 40) {
				device, scene := draw.device(), draw.scene()
				scene.Person.Eyes = gaze.Both
				postures := draw.postures(scene, 1)
				target, err := gaze.Place(request(device, scene, postures))
				if err != nil {
					t.Fatal(err)
				}
				// Off the target one condition alone limits.
				off := r3.Scale(draw.between(0, 60), draw.unit())
				margin := func() float64 {
					st := scene.InCarrier(scene.Measured.AsMeasured("measured")).Moved(off)
					judge := gaze.NewJudge(device, scene.Person)
					mm, _ := judge.Margin(target.Pose, &st)
					return mm
				}
				before := margin()
				if before <= 0 {
					continue
				}
				row.ease(&device, &scene.Person)
				eased := margin()
				if eased < before-1e-9 {
					t.Fatalf("trial %d: margin fell from %.6f to %.6f mm", trial, before, eased)
				}
				if eased > before+0.01 {
					raised++
				}
			}
			if raised == 0 {
				t.Error("it never mattered")
			}
		})
	}
}

// TestRoomAlong compares the change that a margin foretells with the change that
// comes about when the screen is moved a little.
func TestRoomAlong(t *testing.T) {
	const (
		small       = 1e-4 // mm, and over 600 mm radians
		toleranceMM = 1e-7 // the square of small times curvatures of less than 10 per mm
	)
	draw := newDrawing(6)
	for trial := range 40 {
		device, scene := draw.device(), draw.scene()
		st := scene.InCarrier(draw.posture(scene))
		screen := draw.screen(&st, device.Tracker)
		judge := gaze.NewJudge(device, scene.Person)
		shift, turn := r3.Scale(small, draw.unit()), r3.Scale(small/600, draw.unit())
		moved := frame.Pose{Rot: frame.FromVector(turn).Mul(screen.Rot), At: r3.Add(screen.At, shift)}
		before, after := judge.Margins(nil, screen, &st), judge.Margins(nil, moved, &st)
		for i := range before {
			got, want := before[i].Along(shift, turn), after[i].MM-before[i].MM
			if math.Abs(got-want) > toleranceMM {
				t.Fatalf("trial %d: %v: foretold %g mm, became %g mm", trial, before[i].Condition, got, want)
			}
		}
	}
}

// TestTiesGoToTheFirst: before a screen in the midline of someone who is alike on both
// sides, the limiting condition is always named of the left eye and of the first of two
// postures that are alike, whichever way the last digits fall.
func TestTiesGoToTheFirst(t *testing.T) {
	const nudge = 1e-12 // mm and radians: rounding
	draw := newDrawing(31)
	flipped := false
	for trial := range 40 {
		device, scene := inventedDevice(), inventedScene()
		scene.Person.Eyes = gaze.Both
		st := scene.InCarrier(scene.Measured.AsMeasured("upright"))
		down, tilt := draw.degrees(-5, 25).Radians(), draw.degrees(-5, 25).Radians()
		way := r3.Scale(draw.between(560, 720), r3.Vec{X: math.Cos(down), Z: -math.Sin(down)})
		screen := frame.Pose{
			Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{X: math.Sin(tilt), Z: math.Cos(tilt)}),
			At:  r3.Add(r3.Scale(0.5, r3.Add(st.Eyes[0], st.Eyes[1])), way),
		}
		judge := gaze.NewJudge(device, scene.Person)
		for range 8 {
			near := screen
			near.At = r3.Add(near.At, r3.Scale(nudge, draw.unit()))
			near = near.Mul(frame.RotateAround(r3.Vec{}, frame.Angle(nudge*draw.NormFloat64()), draw.unit()))
			margins := judge.Margins(nil, near, &st)
			if c := margins[gaze.Least(margins)].Condition; c.Eye != gaze.LeftEye {
				t.Errorf("trial %d: %v is named, want that of the left eye", trial, c)
			}
			if _, _, posture := judge.Worst(near, []gaze.PostureInCarrier{st, st}); posture != 0 {
				t.Errorf("trial %d: posture %d is named, want the first", trial, posture)
			}
			strict := slices.MinFunc(margins, func(a, b gaze.ConditionMargin) int { return cmp.Compare(a.MM, b.MM) })
			flipped = flipped || strict.Condition.Eye == gaze.RightEye
		}
	}
	if !flipped {
		t.Error("rounding never favors the right eye: the test tries too little")
	}
}
