package fit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/space"
	"sightpost/testdata/trials"
)

// armKit is a post and an arm, without bends, that turn against each other at an
// elbow.
func armKit() mount.Kit {
	alloy := mount.Material{Name: "EN AW-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}
	tube := mount.Section{OutsideMM: 24, WallMM: 2, Material: alloy}
	return mount.Kit{Name: "post and arm", Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{Name: "post", Section: tube, Slide: slide(300, 600)},
		mount.Elbow{Name: "elbow", Pan: turn(-170, 170, 1)},
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: slide(200, 500)},
		mount.Turns{Name: "joint", Pan: turn(-180, 180, 1), Tilt: turn(-80, 80, 1)},
		mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{Z: 60}},
	}}
}

// armSettings are height, pan of the elbow, reach, pan and tilt of the plate.
func armSettings(panDegrees float64) mount.Settings {
	return mount.Settings{500, panDegrees * degree, 400, 0, 0}
}

// armJob is a job with the arm kit, its post 400 mm ahead and 300 mm to the left.
func armJob() *fit.Job {
	job := adult()
	job.Mount = &fit.MountJob{Kit: armKit(), Mountings: []mount.Mounting{{ClampMM: r3.Vec{X: 400, Y: 300, Z: 480}}}}
	return job
}

func ball(t *testing.T, at r3.Vec, radius float64) space.Shape {
	t.Helper()
	s, err := space.Capsule(at, at, radius)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asideOf returns how the mount of a job, set as given, swings aside.
func asideOf(t *testing.T, job *fit.Job, s mount.Settings) (*fit.SwingClear, *fit.Result) {
	t.Helper()
	r, err := fit.Check(t.Context(), job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	a, err := fit.SwingClearOf(r)
	if err != nil {
		t.Fatal(err)
	}
	return a, r
}

// TestAsideByHand: an arm of radius 12 at the height of a ball of radius 40 whose
// middle is 150 mm from the post touches it asin(52/150) before it points there.
func TestAsideByHand(t *testing.T) {
	const head = 30.0 // degrees to the left of ahead, as the arm points in use
	for _, tt := range []struct {
		name      string
		at        frame.Angle // of the ball, left of ahead
		high, low float64     // degrees
	}{
		{"nothing in the way", 0, 170, -170},
		{"on the left", 120 * frame.Degree, 120 - math.Asin(52./150)*180/math.Pi, -170},
		{"on the right", -100 * frame.Degree, 170, -100 + math.Asin(52./150)*180/math.Pi},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := armJob()
			if tt.at != 0 {
				sin, cos := math.Sincos(tt.at.Radians())
				job.KeepClear = []fit.KeepClear{{Name: "knob", Shape: ball(t, r3.Vec{X: 400 + 150*cos, Y: 300 + 150*sin, Z: 980}, 40), RequiredMM: 5}}
			}
			a, r := asideOf(t, job, armSettings(head))
			if a == nil || a.Name != "elbow.pan" || r.Set.Chain.Moving()[a.Joint].Name != a.Name || a.InUse != head*degree {
				t.Fatalf("aside is %+v, want about the elbow", a)
			}
			const near = 0.01 // degrees: space.FineMM at 150 mm, and the same again
			for _, end := range []struct {
				got  fit.SwingEnd
				want float64
			}{{a.Low, tt.low}, {a.High, tt.high}} {
				free := math.Abs(end.want) == 170
				if !(math.Abs(end.got.At/degree-end.want) < near) || end.got.Limit != free || (end.got.Zone == "knob") == free || (end.got.Part == "arm") == free {
					t.Errorf("end is %+v at %.4f°, want %.4f°", end.got, end.got.At/degree, end.want)
				}
			}
			if a.TransferHalfWidthMM != fit.TransferHalfWidthMM || len(a.Problems) > 0 {
				t.Errorf("the way out is free for %.1f mm, problems %v, want all of it", a.TransferHalfWidthMM, a.Problems)
			}
		})
	}
}

// swung is a mount that is set and swings aside.
type swung struct {
	job *fit.Job
	set *fit.Set
	a   *fit.SwingClear
}

// placed is the housing and the tubes beyond the swinging joint, with that at a setting, as
// the settings themselves have them.
func (w swung) placed(t *testing.T, at float64) (housing space.Shape, tubes []space.Shape) {
	t.Helper()
	s := slices.Clone(w.set.Settings)
	s[w.a.Joint] = at
	screen, err := w.set.Chain.Forward(s)
	if err != nil {
		t.Fatal(err)
	}
	middle, half := w.job.Device.Screen.Housing()
	housing = space.Shape{Pose: frame.Translate(middle), HalfMM: half}.Moved(screen)
	links, err := w.set.Chain.Links(s)
	if err != nil {
		t.Fatal(err)
	}
	joint := slices.IndexFunc(w.set.Chain.Joints, func(j mount.Joint) bool { return j.Name == w.a.Name })
	for k, l := range links {
		if w.set.Chain.Spans[k].Carrier < joint {
			continue
		}
		for i := 1; i < len(l.LineMM); i++ {
			c, err := space.Capsule(l.LineMM[i-1], l.LineMM[i], l.RadiusMM)
			if err != nil {
				t.Fatal(err)
			}
			tubes = append(tubes, c)
		}
	}
	return housing, tubes
}

// nearestKeep returns the least gap of the housing and tubes to the spaces to keep
// clear, which the seat carries.
func (w swung) nearestKeep(t *testing.T, at float64) float64 {
	t.Helper()
	housing, tubes := w.placed(t, at)
	least := math.Inf(1)
	for _, part := range append(tubes, housing) {
		for _, keep := range w.job.KeepClear {
			least = min(least, space.Between(part, keep.Shape).MM)
		}
	}
	return least
}

// keepsClear reports whether that gap is at least mm.
func (w swung) keepsClear(t *testing.T, at, mm float64) bool {
	t.Helper()
	housing, tubes := w.placed(t, at)
	for _, part := range append(tubes, housing) {
		for _, keep := range w.job.KeepClear {
			if !space.Clear(part, keep.Shape, mm) {
				return false
			}
		}
	}
	return true
}

// TestAsideAgainstLookingClosely sets an invented mount at random among invented
// things and looks, at every setting a quarter of a degree apart, at the mount as
// its own settings place it: nothing is touched within the free range, and at its
// ends something is, unless the joint ends there or a part of the mount stops it.
func TestAsideAgainstLookingClosely(t *testing.T) {
	const step = 0.25 * degree
	rng := rand.New(rand.NewPCG(4, 1))
	stopped, least := 0, 0
	for trial := range 12 {
		job := adult()
		kit := offsetKit()
		about := []string{"post.swing", "elbow.pan"}[trial%2]
		job.Passage.About, job.Mount.Kit = about, kit
		for k := range 4 {
			at := r3.Vec{X: -200 + 900*rng.Float64(), Y: -200 + 1000*rng.Float64(), Z: 900 + 400*rng.Float64()}
			job.KeepClear = append(job.KeepClear, fit.KeepClear{Name: fmt.Sprint("thing ", k), Shape: ball(t, at, 30+30*rng.Float64())})
		}
		chain, err := kit.Chain(job.Mount.Mountings[0])
		if err != nil {
			t.Fatal(err)
		}
		var s mount.Settings
		for _, j := range chain.Moving() {
			s = append(s, j.Round(j.Low+(j.High-j.Low)*rng.Float64()))
		}
		a, r := asideOf(t, job, s)
		if a == nil || a.Name != about {
			t.Fatalf("trial %d: aside is %+v", trial, a)
		}
		w := swung{job, r.Set, a}
		for v := a.Low.At; v <= a.High.At && a.Low.At != a.High.At; v += step {
			if !w.keepsClear(t, v, 0) {
				t.Fatalf("trial %d: touches a thing at %.2f°, free from %.2f° to %.2f°", trial, v/degree, a.Low.At/degree, a.High.At/degree)
			}
		}
		for _, end := range []fit.SwingEnd{a.Low, a.High} {
			if end.Limit || !strings.HasPrefix(end.Zone, "thing") {
				continue
			}
			stopped++
			if g := w.nearestKeep(t, end.At); g > space.FineMM {
				t.Errorf("trial %d: stopped at %.2f° by %s, %g mm away", trial, end.At/degree, end.Zone, g)
			}
		}
		if !strings.HasPrefix(a.Way.Zone, "thing") {
			continue
		}
		least++
		low, high := min(a.InUse, a.Parked), max(a.InUse, a.Parked)
		found := w.nearestKeep(t, a.Way.At)
		if math.Abs(found-a.Way.MM) > sameMM {
			t.Errorf("trial %d: the gap on the way is %g mm, said to be %g", trial, found, a.Way.MM)
		}
		for v := low; v <= high; v += step {
			if !w.keepsClear(t, v, a.Way.MM-space.LeastMM) {
				t.Fatalf("trial %d: the least gap on the way is said to be %g mm, it is less at %.2f°", trial, a.Way.MM, v/degree)
			}
		}
	}
	if stopped < 4 || least < 4 {
		t.Errorf("%d ends at things and %d gaps to them: both should be common", stopped, least)
	}
}

// TestAsideLeavesTheWayOut: what is said to be free holds nothing that swings, but for
// what turns on the spot.
func TestAsideLeavesTheWayOut(t *testing.T) {
	for _, about := range []string{"", "elbow.pan"} {
		job := adult()
		job.Passage.About = about
		r := solve(t, job)
		a, err := fit.SwingClearOf(r)
		if err != nil || a == nil {
			t.Fatal(a, err)
		}
		if !(a.TransferHalfWidthMM > 190) {
			t.Errorf("about %s the way out is free for %.0f mm only", a.Name, a.TransferHalfWidthMM)
		}
		free, err := space.Box(frame.Translate(r3.Vec{X: 610, Z: 1000}), r3.Vec{X: 1220, Y: 2 * a.TransferHalfWidthMM, Z: 1700})
		if err != nil {
			t.Fatal(err)
		}
		housing, tubes := swung{job, r.Set, a}.placed(t, a.Parked)
		if g := space.Between(housing, free); g.MM < -sameMM {
			t.Errorf("about %s at %.0f° the housing is %.1f mm within the way out", a.Name, a.Parked/degree, -g.MM)
		}
		for _, tube := range tubes {
			g := space.Between(tube, free)
			from := r3.Norm(r3.Vec{X: tube.Pose.At.X - 380, Y: tube.Pose.At.Y - 260})
			if about == "" && from > 60+tube.HalfMM.X && g.MM < -sameMM {
				t.Errorf("at %.0f° a tube %.0f mm from the post is %.1f mm within the way out", a.Parked/degree, from, -g.MM)
			}
		}
	}
}

// TestAsideMirrored: a mount on the right is aside as its mirror image on the left.
func TestAsideMirrored(t *testing.T) {
	left, right := adult(), adult()
	for _, job := range []*fit.Job{left, right} {
		job.Passage = fit.Passage{WidthMM: 640, BehindMM: 280, AheadMM: 900, DoorMM: 815}
	}
	left.KeepClear = []fit.KeepClear{{Name: "tray", Shape: ball(t, r3.Vec{X: 700, Y: 500, Z: 1000}, 60)}}
	right.KeepClear = []fit.KeepClear{{Name: "tray", Shape: ball(t, r3.Vec{X: 700, Y: -500, Z: 1000}, 60)}}
	right.Mount.Mountings[0].Side = mount.OnRight
	right.Mount.Mountings[0].ClampMM.Y *= -1
	want, err := fit.SwingClearOf(solve(t, left))
	if err != nil {
		t.Fatal(err)
	}
	got, err := fit.SwingClearOf(solve(t, right))
	if err != nil {
		t.Fatal(err)
	}
	if want.Low.Limit && want.High.Limit {
		t.Error("the tray is not in the way: the test tries too little")
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-4 } // of a place found to FineMM
	swap := func(e fit.Extent) fit.Extent {
		e.LeftMM, e.RightMM = e.RightMM, e.LeftMM
		return e
	}
	if got.Name != want.Name || !near(got.Parked, want.Parked) || !near(got.Low.At, want.Low.At) || !near(got.High.At, want.High.At) ||
		!near(got.TransferHalfWidthMM, want.TransferHalfWidthMM) || !near(got.Way.MM, want.Way.MM) {
		t.Errorf("on the right %+v\non the left  %+v", got, want)
	}
	for _, pair := range [2][2]fit.Extent{{swap(got.Used), want.Used}, {swap(got.ParkedExtent), want.ParkedExtent}} {
		if !near(pair[0].LeftMM, pair[1].LeftMM) || !near(pair[0].RightMM, pair[1].RightMM) ||
			!near(pair[0].AheadMM, pair[1].AheadMM) || !near(pair[0].BehindMM, pair[1].BehindMM) {
			t.Errorf("room on the right, mirrored, %+v, on the left %+v", pair[0], pair[1])
		}
	}
	if !slices.Equal(got.Problems, want.Problems) {
		t.Errorf("problems on the right %v, on the left %v", got.Problems, want.Problems)
	}
}

// TestAsideExtent: by hand, of an arm that points ahead in use and holds a screen
// that faces right.
func TestAsideExtent(t *testing.T) {
	job := armJob()
	a, _ := asideOf(t, job, armSettings(0))
	// The plate joint is 400 mm ahead of the post. The housing, 300 mm wide, faces right
	// 60 mm to the right of it. Post and arm are 24 mm thick.
	want := fit.Extent{BehindMM: -388, AheadMM: 400 + 400 + 150, LeftMM: 312, RightMM: -240}
	if d := a.Used; math.Abs(d.BehindMM-want.BehindMM)+math.Abs(d.AheadMM-want.AheadMM)+math.Abs(d.LeftMM-want.LeftMM)+math.Abs(d.RightMM-want.RightMM) > sameMM {
		t.Errorf("without a chair the room in use is %+v, want %+v", d, want)
	}
	job.Passage = fit.Passage{WidthMM: 660, BehindMM: 300, AheadMM: 900}
	a, _ = asideOf(t, job, armSettings(0))
	want = fit.Extent{BehindMM: 300, AheadMM: want.AheadMM, LeftMM: 330, RightMM: 330}
	if a.Used != want {
		t.Errorf("with a chair the room in use is %+v, want %+v", a.Used, want)
	}
	if w, l := a.Used.WidthMM(), a.Used.LengthMM(); w != 660 || l != want.AheadMM+300 {
		t.Errorf("width %g, length %g", w, l)
	}
}

// TestSwingIsFreeInEveryPosture swings random loaded mounts among zones that the seat and
// the base carry: within the free range nothing that swings is in a zone or in the floor in
// any posture that must work, and at an end that a zone makes it is reached in the posture
// that is named.
func TestSwingIsFreeInEveryPosture(t *testing.T) {
	const steps = 60
	swung, others, overlaps := 0, 0, 0
	for trial := range trials.Of(40, 800) {
		c := fittest.NewClinic(81, uint64(trial))
		job := c.Job()
		for k := range 3 {
			at := c.Vec(r3.Vec{X: -300, Y: -500, Z: 600}, r3.Vec{X: 900, Y: 500, Z: 1300})
			job.KeepClear = append(job.KeepClear, fit.KeepClear{Name: fmt.Sprint("thing ", k), By: gaze.Carrier(c.IntN(2)), Shape: ball(t, at, c.In(20, 90))})
		}
		s := mount.Settings{}
		chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range chain.Moving() {
			s = append(s, j.Round(c.In(j.Low, j.High)))
		}
		r, err := fit.Check(t.Context(), job, 0, s)
		if err != nil || r.SwingClear == nil || r.SwingClear.Low.At == r.SwingClear.High.At {
			continue
		}
		swung++
		a, lead := r.SwingClear, job.Leading()
		for k := range steps + 1 {
			at := a.Low.At + (a.High.At-a.Low.At)*float64(k)/steps
			for i := range r.Postures {
				mm := swungGap(t, r, i, at)
				if r.Postures[i].Posture.MustWork && mm < -sameMM {
					t.Errorf("trial %d: %s at %v is %v mm in a zone in posture %d; free from %+v to %+v", trial, a.Name, at, -mm, i, a.Low, a.High)
				}
			}
		}
		for _, end := range [2]fit.SwingEnd{a.Low, a.High} {
			if end.Limit || !strings.HasPrefix(end.Zone, "thing") {
				continue
			}
			if mm := swungGap(t, r, end.Posture, end.At); mm > space.FineMM {
				t.Errorf("trial %d: at the end %+v a zone is %v mm away", trial, end, mm)
			}
			if end.Posture == lead {
				continue
			}
			others++
			// a little further it is in the zone there, though not in the leading posture
			further := end.At + math.Copysign(2*degree, end.At-a.InUse)
			if swungGap(t, r, end.Posture, further) < 0 && swungGap(t, r, lead, further) > 0 {
				overlaps++
			}
		}
	}
	t.Logf("%d mounts swung; %d ends by another posture, %d of them free in the leading one", swung, others, overlaps)
	if swung < 20 || overlaps == 0 {
		t.Error("too few to show anything")
	}
}

// swungGap returns the least gap of what swings to the keep-clear zones in a posture, and
// of the housing to the floor, with the swinging joint at a setting: the loaded mount of the
// result turned about the axis that the joint has without load.
func swungGap(t *testing.T, r *fit.Result, posture int, at float64) float64 {
	t.Helper()
	a, f := r.SwingClear, &r.Postures[posture]
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	k := slices.IndexFunc(r.Set.Chain.Joints, func(j mount.Joint) bool { return j.Name == a.Name })
	turn := frame.RotateAround(frames[k].At, frame.Angle(at-a.InUse), frames[k].Rot.Apply(r.Set.Chain.Joints[k].Axis))
	middle, half := r.Job.Device.Screen.Housing()
	housing := space.Shape{Pose: turn.Mul(f.Held).Mul(frame.Translate(middle)), HalfMM: half}
	parts := []space.Shape{housing}
	for i, line := range f.Mount.Lines {
		span := r.Set.Chain.Spans[i]
		for n := 1; span.Carrier >= k && n < len(line); n++ {
			tube, err := space.Capsule(turn.Apply(line[n-1]), turn.Apply(line[n]), span.Section.OutsideMM/2)
			if err != nil {
				t.Fatal(err)
			}
			parts = append(parts, tube)
		}
	}
	carrier := f.InCarrier.Carrier
	least := -housing.Moved(carrier).Farthest(r3.Vec{Z: -1})
	for _, keep := range r.Job.KeepClear {
		zone := keep.Shape.Moved(carrier.Inverse().Mul(keep.Pose(r.Job.Scene, f.Posture)))
		for _, part := range parts {
			least = min(least, space.Between(part, zone).MM)
		}
	}
	return least
}
