package fit_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
)

// inFront reports whether a result has a tube before the device.
func inFront(r *fit.Result) bool {
	return slices.ContainsFunc(r.Reasons, func(why fit.Reason) bool { return why.Kind == fit.InFront })
}

// facingBack returns the adult's job with a plate that faces back along the arm, which ends
// so far below the middle of the display and behind it, clamped at a height.
func facingBack(belowMM, behindMM, clampMM float64) *fit.Job {
	job := adult()
	last := len(job.Mount.Kit.Parts) - 1
	plate := job.Mount.Kit.Parts[last].(mount.Plate)
	plate.Faces, plate.OffsetMM = mount.FacesBack, r3.Vec{Y: belowMM, Z: behindMM}
	job.Mount.Kit.Parts[last] = plate
	job.Mount.Mountings[0].ClampMM.Z = clampMM
	return job
}

// TestArmThroughTheDevice: an arm that ends behind the middle of a screen that faces back
// along it comes through its front. A way past that is taken where there is one, and refused
// where there is none. Nothing is said of a plate that nobody has measured.
func TestArmThroughTheDevice(t *testing.T) {
	straight := func(job *fit.Job) *fit.Job { // the screen cannot turn away from the arm
		joint := job.Mount.Kit.Parts[4].(mount.Turns)
		joint.Pan, joint.Tilt = turn(-10, 10, 1), turn(-30, 30, 1)
		job.Mount.Kit.Parts[4] = joint
		return job
	}
	for _, row := range []struct {
		name  string
		job   *fit.Job
		works bool
	}{
		{"behind the middle, another way past it", facingBack(0, 60, 590), true},
		{"behind the middle", straight(facingBack(0, 60, 590)), false},
		{"below the housing", straight(facingBack(160, 60, 430)), true},
		{"not measured", straight(facingBack(0, 0, 590)), true},
	} {
		for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
			at := &row.job.Mount.Mountings[0]
			if side == mount.OnRight {
				at.Side, at.ClampMM.Y = side, -at.ClampMM.Y
			}
			r := solve(t, row.job)
			if r.Works != row.works || inFront(r) == row.works {
				t.Errorf("%s, %s: works %t, %+v", row.name, side, r.Works, r.Reasons)
			}
		}
	}
}

// TestTubeHidesTheScreen: a post that stands between eyes and screen is told, of a tracker
// that needs one eye only where it stands before that.
func TestTubeHidesTheScreen(t *testing.T) {
	for _, row := range []struct {
		name   string
		leftMM float64 // of the midline
		eyes   gaze.EyesUsed
		hides  bool
	}{
		{"in the midline", 0, gaze.Both, true},
		{"before the edge of the housing", 90, gaze.Both, true},
		{"before what the left eye sees of it", 105, gaze.LeftOnly, true},
		{"beside what the right eye sees of it", 105, gaze.RightOnly, false},
		{"beside the housing", 260, gaze.Both, false},
	} {
		job := adult()
		job.Scene.Person.Eyes = row.eyes
		job.Mount.Mountings[0].ClampMM = r3.Vec{X: 470, Y: row.leftMM, Z: 500}
		job.Mount.Kit.Parts = []mount.Part{
			mount.Clamp{Name: "clamp"},
			mount.Tube{Name: "post", Section: fittest.OffsetKit().Parts[1].(mount.Tube).Section, Shape: mount.Centerline{EndMM: 800}},
			mount.Bracket{Name: "bracket", OffsetMM: r3.Vec{X: 330, Y: -row.leftMM, Z: -200}},
			mount.Plate{Name: "plate", Faces: mount.FacesBack, OffsetMM: r3.Vec{Z: 60}},
		}
		if r := checked(t, job, mount.Settings{}); inFront(r) != row.hides {
			t.Errorf("%s: hides %t, %+v", row.name, !row.hides, r.Reasons)
		}
	}
}

// checkSight reports a tube before the device that is not told, or one that is told and not
// there.
func checkSight(t *testing.T, trial int, r *fit.Result) {
	t.Helper()
	deepest, slackMM := deepestInFront(r)
	if told := inFront(r); told && deepest < -slackMM || !told && deepest > slackMM {
		t.Errorf("trial %d: a tube before the device is told: %t; it is %v mm deep in front of it, known to %v (%+v)",
			trial, told, deepest, slackMM, r.Reasons)
	}
}

// deepestInFront returns how deep in front of the device a tube is, by points on the middle lines
// of the loaded tubes, and how well that is known: the tool compares tubes and device without
// load, and they differ by no more than the load moves the device.
func deepestInFront(r *fit.Result) (deepest, slackMM float64) {
	const everyMM = 1
	deepest = math.Inf(-1)
	for i := range r.Postures {
		f := &r.Postures[i]
		if !f.Posture.MustWork {
			continue
		}
		slackMM = max(slackMM, everyMM+r3.Norm(r3.Sub(f.Held.At, r.Screen.At)))
		for k, line := range f.Mount.Lines {
			radius := r.Set.Chain.Spans[k].Section.OutsideMM / 2
			for i := 1; i < len(line); i++ {
				n := max(1, math.Ceil(r3.Norm(r3.Sub(line[i], line[i-1]))/everyMM))
				for share := 0.0; share <= n; share++ {
					p := r3.Add(line[i-1], r3.Scale(share/n, r3.Sub(line[i], line[i-1])))
					deepest = max(deepest, radius+depthInFront(r, f, f.Held.ApplyInverse(p)))
				}
			}
		}
	}
	return deepest, slackMM
}

// depthInFront returns how deep a point, in screen axes, is in the space between the front of
// the device and the eyes that are needed: the least distance to a side of that, negative outside.
func depthInFront(r *fit.Result, f *fit.PostureResult, p r3.Vec) float64 {
	screen, deepest := r.Job.Device.Screen, math.Inf(-1)
	x, y, below := screen.HousingMM.X/2, screen.HousingMM.Y/2, screen.HousingBelowMM
	corners := [4]r3.Vec{{X: -x, Y: -y - below}, {X: x, Y: -y - below}, {X: x, Y: y - below}, {X: -x, Y: y - below}}
	for _, eye := range r.Job.Scene.Person.Eyes.Needed() {
		at := f.Held.ApplyInverse(f.InCarrier.Eyes[eye])
		if at.Z <= 100 {
			continue // sees nothing of the front
		}
		depth := p.Z
		for i, corner := range corners {
			inward := r3.Unit(r3.Cross(r3.Sub(at, corner), r3.Sub(corners[(i+1)%4], corner)))
			depth = min(depth, r3.Dot(inward, r3.Sub(p, corner)))
		}
		deepest = max(deepest, depth)
	}
	return deepest
}

// TestTubeInTheHousing: a post that would stand within the housing is told, one before it is said
// to be in front, and of one behind its back or beside it nothing is said.
func TestTubeInTheHousing(t *testing.T) {
	for _, row := range []struct {
		name          string
		ahead, leftMM float64 // of the post, from the plate's joint, 80 mm behind the front
		inside, front bool
	}{
		{"in the housing", -55, 0, true, false},
		{"before it", -200, 0, false, true},
		{"behind its back", 0, 0, false, false},
		{"beside it", -55, 260, false, false},
	} {
		job := adult()
		job.Mount.Mountings[0].ClampMM = r3.Vec{X: 620, Y: row.leftMM, Z: 500}
		job.Mount.Kit.Parts = []mount.Part{
			mount.Clamp{Name: "clamp"},
			mount.Tube{Name: "post", Section: fittest.OffsetKit().Parts[1].(mount.Tube).Section, Shape: mount.Centerline{EndMM: 800}},
			mount.Bracket{Name: "bracket", OffsetMM: r3.Vec{X: -row.ahead, Y: -row.leftMM, Z: -200}},
			mount.Plate{Name: "plate", Faces: mount.FacesBack, OffsetMM: r3.Vec{Z: 80}},
		}
		r := checked(t, job, mount.Settings{})
		if (r.Inside == "post") != row.inside || (r.InsideMM > 0) != row.inside || inFront(r) != row.front {
			t.Errorf("%s: %q is %v mm inside, in front %t", row.name, r.Inside, r.InsideMM, inFront(r))
		}
	}
}

// TestLimitsOfTubesHaveTheirGradient compares the gradient of the limits that a search of
// settings has with central differences.
func TestLimitsOfTubesHaveTheirGradient(t *testing.T) {
	compared := 0
	for trial := range 40 {
		clinic := fittest.NewClinic(19, uint64(trial))
		job := clinic.Job()
		chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
		if err != nil {
			t.Fatal(err)
		}
		var at mount.Settings
		for _, j := range chain.Moving() {
			at = append(at, j.Round(clinic.In(j.Low, j.High)))
		}
		p, err := fit.NewSettingProblem(checked(t, job, at))
		if err != nil {
			t.Fatal(err)
		}
		search := p.Minimax()
		rows := search.Terms + search.Limits + len(search.Rates)
		f, before, after, grad := make([]float64, rows), make([]float64, rows), make([]float64, rows), make([]float64, rows*len(at))
		search.Functions(at, f, grad)
		for k, j := range chain.Moving() {
			const h = 1e-5
			step := h
			if j.Motion == mount.Turn {
				step = h / 100
			}
			s := slices.Clone(at)
			s[k] = at[k] - step
			search.Functions(s, before, nil)
			s[k] = at[k] + step
			search.Functions(s, after, nil)
			for i := search.Terms; i < search.Terms+search.Limits; i++ {
				left, right, got := (f[i]-before[i])/step, (after[i]-f[i])/step, grad[i*len(at)+k]
				const same = 1e-2 // of mm a mm, or a radian of hundreds of mm
				if math.Abs(left-right) > same*(1+math.Abs(left)) {
					continue // a kink
				}
				compared++
				if want := (left + right) / 2; math.Abs(got-want) > same*(1+math.Abs(want)) {
					t.Errorf("trial %d: limit %d of %d changes with %s by %v, want %v", trial, i-search.Terms, search.Limits, j.Name, got, want)
				}
			}
		}
	}
	if compared < 400 {
		t.Errorf("%d compared: too few to show anything", compared)
	}
}

// TestKeptOutOfTheHousing: of random jobs in which the settings with the best score have a tube in
// the housing, others that work keep it out. Without a search for these all four fail.
func TestKeptOutOfTheHousing(t *testing.T) {
	for _, trial := range []uint64{24, 64, 107, 218} {
		if r := solve(t, fittest.NewClinic(4242, trial).Job()); !r.Works || r.Inside != "" {
			t.Errorf("trial %d: works %t, the %s is %.1f mm inside", trial, r.Works, r.Inside, r.InsideMM)
		}
	}
}

// TestSpareInFront: settings that would have a tube at the very edge of the space in front of the
// device are left for others with as much margin, or a little less, that keep it 5 mm away.
func TestSpareInFront(t *testing.T) {
	r := solve(t, fittest.NewClinic(4242, 256).Job())
	if deepest, slackMM := deepestInFront(r); !r.Works || deepest > slackMM-5 {
		t.Errorf("works %t, a tube is %.1f mm deep, known to %.1f", r.Works, deepest, slackMM)
	}
}
