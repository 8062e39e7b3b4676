package refit_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/refit"
	"sightpost/mount/space"
)

// at returns a job's mount checked at its preferred settings, with some changed.
func at(t *testing.T, job *fit.Job, changes map[string]float64) (from mount.Settings, set *fit.Set) {
	t.Helper()
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
	if err != nil {
		t.Fatal(err)
	}
	from = chain.Preferred()
	to := chain.Preferred()
	for i, j := range chain.Moving() {
		if v, ok := changes[j.Name]; ok {
			to[i] = v
		}
	}
	r, err := fit.Check(t.Context(), job, 0, to)
	if err != nil {
		t.Fatal(err)
	}
	return from, r.Set
}

// steps returns the steps of a change from the preferred settings.
func steps(t *testing.T, job *fit.Job, changes map[string]float64) []refit.Step {
	t.Helper()
	from, set := at(t, job, changes)
	list, err := refit.Steps(job, set, from)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestStepsGoOutwardOneAtATime(t *testing.T) {
	job := fittest.Adult()
	list := steps(t, job, map[string]float64{
		"joint.tilt": 20 * fittest.Degree, "clamp.index": 90 * fittest.Degree, "post.height": 500, "elbow.pan": 30 * fittest.Degree,
	})
	type did struct {
		action refit.Action
		joint  string
	}
	var got []did
	for _, s := range list {
		got = append(got, did{s.Action, s.Joint.Name})
		if alone := s.Action == refit.Adjust; s.Frees != alone {
			t.Errorf("%s: frees %v, want %v", s.Joint.Name, s.Frees, alone)
		}
	}
	want := []did{
		{refit.TakeOff, ""},
		{refit.Adjust, "clamp.index"},
		{refit.Hang, ""},
		{refit.Adjust, "post.height"},
		{refit.Adjust, "elbow.pan"},
		{refit.Adjust, "joint.tilt"},
		{refit.Measure, ""},
		{refit.Swing, ""},
		{refit.Try, ""},
	}
	if len(got) != len(want) {
		t.Fatalf("got %v\nwant %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("step %d: got %v, want %v", i, got[i], want[i])
		}
	}
}

// TestSetupGoesFromNothingToTheTrial: the device is off while the mount is set, what sags
// is set again once it hangs, and all is tight before it is tried.
func TestSetupGoesFromNothingToTheTrial(t *testing.T) {
	want := []refit.Action{
		refit.TakeOff, refit.Fit, refit.SetAll, refit.TightenAll, refit.Hang, refit.FineSet,
		refit.TightenAll, refit.Measure, refit.Swing, refit.Try,
	}
	var got []refit.Action
	for _, s := range refit.Setup() {
		if got = append(got, s.Action); s.Setting >= 0 {
			t.Errorf("%v is about one setting", s.Action)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestStepsOfNoChange(t *testing.T) {
	if list := steps(t, fittest.Adult(), nil); len(list) != 0 {
		t.Errorf("steps %v, want none", list)
	}
}

func TestStepsNeedAMount(t *testing.T) {
	job := fittest.Adult()
	from, set := at(t, job, nil)
	if _, err := refit.Steps(job, nil, from); !errors.Is(err, fit.ErrJob) {
		t.Errorf("without a set: error %v, want %v", err, fit.ErrJob)
	}
	if _, err := refit.Steps(job, set, from[1:]); !errors.Is(err, mount.ErrCount) {
		t.Errorf("with too few settings: error %v, want %v", err, mount.ErrCount)
	}
	job.Mount = nil
	if _, err := refit.Steps(job, set, from); !errors.Is(err, fit.ErrJob) {
		t.Errorf("without a mount: error %v, want %v", err, fit.ErrJob)
	}
}

// weightless returns the adult's job with a mount whose only mass is a device of
// 2 kg in the middle of its display area.
func weightless() *fit.Job {
	job := fittest.Adult()
	for i, p := range job.Mount.Kit.Parts {
		if tube, ok := p.(mount.Tube); ok {
			tube.Section.Material.DensityKGM3 = 1e-6
			job.Mount.Kit.Parts[i] = tube
		}
	}
	job.Device.Screen.MassKG = 2
	job.Device.Screen.HousingMM.Z = 0.001
	return job
}

func TestStepsWeighTheLoad(t *testing.T) {
	const (
		weightN   = 2 * 9.80665
		tolerance = 1e-4 // N or N m: the housing has some thickness
	)
	for _, tt := range []struct {
		name   string
		tilt   frame.Angle
		change map[string]float64
		want   refit.Caution
	}{
		{"a post upright carries the weight along itself", 0, map[string]float64{"post.height": 500}, refit.Caution{Kind: refit.Slides, ForceN: weightN}},
		{
			"tilted with the seat, less of it", 30 * frame.Degree,
			map[string]float64{"post.height": 500},
			refit.Caution{Kind: refit.Slides, ForceN: weightN * math.Cos(math.Pi/6)},
		},
		{
			"an arm ahead slides back when the seat tilts back", 30 * frame.Degree,
			map[string]float64{"arm.extension": 300},
			refit.Caution{Kind: refit.Slides, ForceN: weightN * math.Sin(math.Pi/6)},
		},
		// the plate's 60 mm lie ahead of the tilt axis
		{"a tilting plate tips", 0, map[string]float64{"joint.tilt": 10 * fittest.Degree}, refit.Caution{Kind: refit.Swings, MomentNM: weightN * 0.06}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := weightless()
			job.Postures[0].SeatTilt = tt.tilt
			list := steps(t, job, tt.change)
			got := list[0].Cautions
			if len(got) != 1 {
				t.Fatalf("cautions %v, want one", got)
			}
			c, w := got[0], tt.want
			if c.Kind != w.Kind || math.Abs(c.ForceN-w.ForceN) > tolerance || math.Abs(c.MomentNM-w.MomentNM) > tolerance || c.High {
				t.Errorf("got %+v, want %+v", c, w)
			}
		})
	}
}

// TestStepsHoldABall: whichever of its settings is changed, a ball that is freed lets the
// plate down, whose middle is 60 mm ahead of it.
func TestStepsHoldABall(t *testing.T) {
	for _, setting := range []string{"ball.lean_toward", "ball.lean", "ball.spin"} {
		job := weightless()
		job.Mount.Kit.Parts[4] = mount.Ball{Name: "ball", Cone: 40 * frame.Degree}
		first := steps(t, job, map[string]float64{setting: 5 * fittest.Degree})[0]
		const want, tolerance = 2 * 9.80665 * 0.06, 1e-4 // N·m: the housing has some thickness
		if len(first.Cautions) != 1 || math.Abs(first.Cautions[0].MomentNM-want) > tolerance {
			t.Errorf("%s: %+v, want %.3f N·m", setting, first.Cautions, want)
		}
	}
}

// TestStepsWeighTubes weighs a straight steel tube of 1 m: π (25 - 2) 2 mm² of
// 7850 kg/m³ are 1.1344 kg.
func TestStepsWeighTubes(t *testing.T) {
	job := weightless()
	job.Device.Screen.MassKG = 0
	steel := mount.Section{OutsideMM: 25, WallMM: 2, Material: mount.Material{Name: "steel", YoungMPa: 210e3, ShearMPa: 81e3, DensityKGM3: 7850}}
	post := job.Mount.Kit.Parts[1].(mount.Tube)
	post.Section, post.Shape, post.TotalMM = steel, mount.Centerline{}, 1000
	job.Mount.Kit.Parts[1] = post
	const want, tolerance = 1.1344 * 9.80665, 1e-3 // N, to the digits of the mass above
	got := steps(t, job, map[string]float64{"post.height": 500})[0].Cautions[0].ForceN
	if math.Abs(got-want) > tolerance {
		t.Errorf("%.4f N, want %.4f N", got, want)
	}
}

func TestStepsFreeABallOnce(t *testing.T) {
	job := fittest.Adult()
	job.Mount.Kit.Parts[4] = mount.Ball{Name: "ball", Cone: 40 * frame.Degree}
	list := steps(t, job, map[string]float64{"ball.lean": 20 * fittest.Degree, "ball.lean_toward": 30 * fittest.Degree, "ball.spin": 5 * fittest.Degree})
	frees, moves := 0, 0
	for _, s := range list {
		if s.Frees {
			frees++
		}
		if s.Action == refit.Adjust {
			moves++
		}
	}
	if frees != 1 || moves != 3 || !list[0].Frees {
		t.Errorf("freed %d times in %d moves; want one freeing and three moves", frees, moves)
	}
}

// postAndArm is a job with a post 400 mm ahead and 300 mm to the left, and an arm
// without bends that turns against it.
func postAndArm() *fit.Job {
	alloy := mount.Material{Name: "EN AW-6061-T6", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 276}
	tube := mount.Section{OutsideMM: 24, WallMM: 2, Material: alloy}
	kit := mount.Kit{Name: "post and arm", Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{Name: "post", Section: tube, Slide: fittest.Slide(300, 600)},
		mount.Elbow{Name: "elbow", Pan: fittest.Turn(-170, 170, 1)},
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: fittest.Slide(200, 500)},
		mount.Turns{Name: "joint", Pan: fittest.Turn(-180, 180, 1), Tilt: fittest.Turn(-80, 80, 1)},
		mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{Z: 60}},
	}}
	job := fittest.Adult()
	job.Mount = &fit.MountJob{Kit: kit, Mountings: []mount.Mounting{{ClampMM: r3.Vec{X: 400, Y: 300, Z: 480}}}}
	return job
}

// TestStepsMissNothingSmall: a knob that the arm alone can touch is passed wherever it
// stands on the arm's way.
func TestStepsMissNothingSmall(t *testing.T) {
	const from, to = -60.0, 60.0 // degrees
	for deg := from + 10; deg <= to-10; deg += 3 {
		job := postAndArm()
		job.Preferences.FaceMM = 0
		sin, cos := math.Sincos(deg * fittest.Degree)
		at := r3.Vec{X: 400 + 200*cos, Y: 300 + 200*sin, Z: 980}
		knob, err := space.Capsule(at, at, 2)
		if err != nil {
			t.Fatal(err)
		}
		job.KeepClear = []fit.KeepClear{{Name: "knob", Shape: knob}}
		settings := func(panDegrees float64) mount.Settings {
			return mount.Settings{500, panDegrees * fittest.Degree, 400, 0, 0}
		}
		r, err := fit.Check(t.Context(), job, 0, settings(to))
		if err != nil {
			t.Fatal(err)
		}
		list, err := refit.Steps(job, r.Set, settings(from))
		if err != nil {
			t.Fatal(err)
		}
		move := list[slices.IndexFunc(list, func(s refit.Step) bool { return s.Action == refit.Adjust })]
		if len(move.Cautions) != 1 || move.Cautions[0].Zone != "knob" || move.Cautions[0].Part != "arm" || move.Cautions[0].GapMM > -10 {
			t.Errorf("knob at %v°: cautions %+v, want the arm through it", deg, move.Cautions)
		}
	}
}

// TestStepsSayWhatIsPassed swings the elbow across a space.
func TestStepsSayWhatIsPassed(t *testing.T) {
	job := fittest.Adult()
	from, _ := at(t, job, nil)
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
	if err != nil {
		t.Fatal(err)
	}
	half := append(mount.Settings(nil), from...)
	for i, j := range chain.Moving() {
		if j.Name == "elbow.pan" {
			half[i] = 45 * fittest.Degree
		}
	}
	onTheWay, err := chain.Forward(half)
	if err != nil {
		t.Fatal(err)
	}
	ball, err := space.Box(frame.Translate(onTheWay.At), r3.Vec{X: 20, Y: 20, Z: 20})
	if err != nil {
		t.Fatal(err)
	}
	job.KeepClear = []fit.KeepClear{{Name: "switch", By: gaze.Seat, Shape: ball}}
	job.Preferences.FaceMM = 0
	list := steps(t, job, map[string]float64{"elbow.pan": 90 * fittest.Degree})
	passed := 0
	for _, s := range list {
		for _, c := range s.Cautions {
			if c.Kind == refit.Passes && c.Zone == "switch" && c.GapMM < 0 && s.Action == refit.Adjust {
				passed++
			}
		}
	}
	if passed != 1 {
		t.Errorf("%d cautions in %v, want one", passed, list)
	}
}
