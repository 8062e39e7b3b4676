package fit_test

import (
	"context"
	"errors"
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
	"sightpost/mount/space"
)

const (
	// sameMM is for one number computed in two ways: doubles on lengths of 1e3 mm.
	sameMM = 1e-6
	// rounding of 5 mm and 1° steps on a 400 mm arm may move the screen so far.
	roundedMM = 10
)

// TestReachesFromEitherSide is a fact of the trade (common practice, no source):
// a mount of these dimensions brings a screen to a usual place before a seated
// adult from either side of the chair.
func TestReachesFromEitherSide(t *testing.T) {
	for _, side := range []mount.Side{mount.OnLeft, mount.OnRight} {
		job := adult()
		at := &job.Mount.Mountings[0]
		at.Side = side
		if side == mount.OnRight {
			at.ClampMM.Y = -at.ClampMM.Y
		}
		r := solve(t, job)
		if !r.Works || !r.Set.Reached || r.Set.OffMM > roundedMM {
			t.Errorf("side %v: works %v (%v), reached %v, off by %.1f mm", side, r.Works, r.Reasons, r.Set.Reached, r.Set.OffMM)
		}
	}
}

func TestMirroredCaseGivesMirroredSettings(t *testing.T) {
	job := adult()
	job.Scene.Person.RestGaze = &gaze.GazeDirection{Down: 12 * frame.Degree, Left: 7 * frame.Degree}
	job.Scene.Measured.Head.Rotation = 10 * frame.Degree
	job.Scene.Measured.Head.LateralFlexion = 6 * frame.Degree
	job.Scene.Measured.EyesMM.Y = 25
	job.Postures[0].Head = job.Scene.Measured.Head
	mirror := adult()
	mirror.Scene.Person.RestGaze = &gaze.GazeDirection{Down: 12 * frame.Degree, Left: -7 * frame.Degree}
	mirror.Scene.Measured.Head.Rotation = -10 * frame.Degree
	mirror.Scene.Measured.Head.LateralFlexion = -6 * frame.Degree
	mirror.Scene.Measured.EyesMM.Y = -25
	mirror.Postures[0].Head = mirror.Scene.Measured.Head
	mirror.Mount.Mountings[0].Side = mount.OnRight
	mirror.Mount.Mountings[0].ClampMM.Y *= -1
	got, want := solve(t, mirror), solve(t, job)
	for i, j := range want.Set.Chain.Moving() {
		if math.Abs(got.Set.Settings[i]-want.Set.Settings[i]) > sameMM {
			t.Errorf("%s: %s on the right, %s on the left", j.Name, j.Format(got.Set.Settings[i]), j.Format(want.Set.Settings[i]))
		}
	}
	if math.Abs(got.MarginMM()-want.MarginMM()) > sameMM {
		t.Errorf("margin %.9f on the right, %.9f on the left", got.MarginMM(), want.MarginMM())
	}
}

func TestSettingsPutBackGiveTheSameMargin(t *testing.T) {
	job := adult()
	r := solve(t, job)
	back, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	if back.MarginMM() != r.MarginMM() || back.Works != r.Works {
		t.Errorf("Check: margin %v, works %v; Solve: %v, %v", back.MarginMM(), back.Works, r.MarginMM(), r.Works)
	}
}

// TestHeadMayMoveByTheMargin moves the head by the printed margin in many
// directions, and one mm more in the worst.
func TestHeadMayMoveByTheMargin(t *testing.T) {
	job := adult()
	r := solve(t, job)
	f := &r.Postures[0]
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	rng := rand.New(rand.NewPCG(7, 1))
	for range 5000 {
		dir := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
		st := f.InCarrier.Moved(r3.Scale(f.MarginMM-sameMM, dir))
		if mm, c := judge.Margin(f.Held, &st); mm < 0 {
			t.Fatalf("moved by the margin along %v: %v by %g mm", dir, c, -mm)
		}
	}
	st := f.InCarrier.Moved(r3.Scale(-(f.MarginMM + 1), f.Margins[f.Least].Inward))
	if mm, _ := judge.Margin(f.Held, &st); mm >= 0 {
		t.Errorf("moved one mm beyond the margin in the worst direction it still tracks, by %g mm", mm)
	}
}

// shortPost returns the adult's job with a post that cannot be raised enough and
// an elbow that does not rise.
func shortPost() *fit.Job {
	job := adult()
	post := job.Mount.Kit.Parts[1].(mount.Tube)
	post.Slide = slide(340, 350)
	job.Mount.Kit.Parts[1] = post
	elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
	elbow.Elevation = mount.Range{}
	job.Mount.Kit.Parts[2] = elbow
	return job
}

func TestOutOfReachSaysWhatHoldsItBack(t *testing.T) {
	job := shortPost()
	r := advised(t, solve(t, job))
	if r.Set.Reached {
		t.Fatal("a post that is too short reached the target")
	}
	if len(r.Set.BindingLimits) == 0 || r.Set.BindingLimits[0].Joint.Name != "post.height" || !r.Set.BindingLimits[0].High {
		t.Fatalf("held by %+v, want the upper limit of post.height", r.Set.BindingLimits)
	}
	// a post longer by what is said to be missing reaches, one a little shorter does not
	for _, c := range []struct {
		extra   float64
		reaches bool
	}{{1, true}, {-2, false}} {
		longer := shortPost()
		post := longer.Mount.Kit.Parts[1].(mount.Tube)
		post.Slide.High += r.Set.BindingLimits[0].Need + c.extra
		longer.Mount.Kit.Parts[1] = post
		if got := solve(t, longer).Set.Reached; got != c.reaches {
			t.Errorf("post longer by the missing %.1f mm %+.0f mm: reached %v", r.Set.BindingLimits[0].Need, c.extra, got)
		}
	}
}

func TestKeepClearIsRespected(t *testing.T) {
	free := solve(t, adult())
	links, err := free.Set.Chain.Links(free.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	arm := links[len(links)-1]
	middle := r3.Scale(0.5, r3.Add(arm.LineMM[0], arm.LineMM[len(arm.LineMM)-1]))
	ball, err := space.Capsule(middle, middle, 20)
	if err != nil {
		t.Fatal(err)
	}
	job := adult()
	job.KeepClear = []fit.KeepClear{{Name: "joystick", Shape: ball, RequiredMM: 15}}
	r := solve(t, job)
	if !r.Works || len(r.Clearances) != 1 || r.Clearances[0].MM < 15 {
		t.Errorf("with a space to keep clear where the arm was: works %v (%v), gaps %+v", r.Works, r.Reasons, r.Clearances)
	}
}

// TestPostStaysAboveTheFloor: a long post set low in a low clamp hangs through the
// floor, which is said; left to itself, the search sets it so that it does not.
func TestPostStaysAboveTheFloor(t *testing.T) {
	job := adult()
	job.Mount.Mountings[0].ClampMM.Z = 300
	r := solve(t, job)
	if !r.Works {
		t.Errorf("with a low clamp: %v", r.Reasons)
	}
	if r.Ground.MM > 140 || r.Ground.Part != "post" {
		t.Fatalf("%+v: too high to show anything", r.Ground)
	}
	job.Passage.GroundMM = 150
	job.Postures[0].SeatTilt = 10 * frame.Degree // the clamp rises
	if higher := solve(t, job); !higher.Works || higher.Ground.Posture != fit.Level || higher.Ground.MM >= job.Passage.GroundMM {
		t.Errorf("with %v mm required where the seat is tilted: %+v, %v", job.Passage.GroundMM, higher.Ground, higher.Reasons)
	}
	job.Postures[0].SeatTilt = 0
	if higher := solve(t, job); !higher.Works || higher.Ground.Posture != 0 || higher.Ground.TooClose(job.Passage.GroundMM) {
		t.Errorf("with %v mm required: %+v, %v", job.Passage.GroundMM, higher.Ground, higher.Reasons)
	}
	low := slices.Clone(r.Set.Settings)
	low[1] = 340 // of a tube of 850 mm, clamped 300 mm above the floor
	back, err := fit.Check(t.Context(), job, 0, low)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(back.Reasons, func(why fit.Reason) bool { return why.Kind == fit.NearFloor && why.Is < 0 }) {
		t.Errorf("a post through the floor: %v", back.Reasons)
	}
}

// TestLongPostIsRaised: a post so long that its lower settings reach the floor, on
// an elbow that hardly rises, still has a place that works.
func TestLongPostIsRaised(t *testing.T) {
	job := adult()
	post := job.Mount.Kit.Parts[1].(mount.Tube)
	post.TotalMM, post.Slide = 1300, slide(400, 1100)
	job.Mount.Kit.Parts[1] = post
	elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
	elbow.Elevation = turn(-20, 20, 1)
	job.Mount.Kit.Parts[2] = elbow
	if r := solve(t, job); !r.Works {
		t.Errorf("works %v: %v", r.Works, r.Reasons)
	}
}

// TestNothingToSet: a mount that cannot be set at all is an answer, not a fault.
func TestNothingToSet(t *testing.T) {
	job := adult()
	job.Mount.Kit.Parts = []mount.Part{mount.Clamp{Name: "clamp"}, mount.Plate{Name: "plate"}}
	r := solve(t, job)
	if r.Works || r.Set.Reached || len(r.Set.Settings) != 0 || r.Ground != nil {
		t.Errorf("works %v, reached %v, settings %v, ground %v", r.Works, r.Set.Reached, r.Set.Settings, r.Ground)
	}
}

// TestBaseCarriedMountCannotServeTwoPostures: a screen that stays behind when the
// seat tilts by 30° loses the eyes in one of the two postures; carried by the
// seat it serves both.
func TestBaseCarriedMountCannotServeTwoPostures(t *testing.T) {
	for _, c := range []struct {
		carrier gaze.Carrier
		works   bool
	}{{gaze.Seat, true}, {gaze.Base, false}} {
		job := adult()
		job.Scene.Carrier = c.carrier
		tilted := job.Postures[0]
		tilted.Name, tilted.SeatTilt = "tilted", 30*frame.Degree
		job.Postures = append(job.Postures, tilted)
		if r := solve(t, job); r.Works != c.works {
			t.Errorf("carrier %v: works %v (%v), want %v", c.carrier, r.Works, r.Reasons, c.works)
		}
	}
}

func TestJobsThatCannotBeWorkedOn(t *testing.T) {
	nowhere := adult()
	nowhere.Mount.Mountings = nil
	optional := adult()
	optional.Postures[0].MustWork = false
	huge := adult()
	huge.Scene.Measured.EyesMM.X = math.Inf(1)
	for name, job := range map[string]*fit.Job{
		"no clamp": nowhere, "no posture must work": optional, "endless": huge,
	} {
		if _, err := fit.Solve(t.Context(), job); !errors.Is(err, fit.ErrJob) {
			t.Errorf("%s: got error %v, want one that wraps ErrJob", name, err)
		}
	}
	var limit *mount.LimitError
	r := solve(t, adult())
	r.Set.Settings[1] = 1e4
	if _, err := fit.Check(t.Context(), adult(), 0, r.Set.Settings); !errors.As(err, &limit) {
		t.Errorf("a setting outside its limits: got %v", err)
	}
}

// TestNumbersThatCannotBeMeant: what no comparison would stop is refused by name.
func TestNumbersThatCannotBeMeant(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	settings := solve(t, adult()).Set.Settings
	for _, tt := range []struct {
		name   string
		change func(*fit.Job)
	}{
		{"safety_factor", func(j *fit.Job) { j.Demand.SafetyFactor = 0.5 }},
		{"shock_factor", func(j *fit.Job) { j.Demand.ShockFactor = nan }},
		{"the clearance to \"knee\"", func(j *fit.Job) { j.KeepClear[0].RequiredMM = nan }},
		{"the clearance to \"knee\"", func(j *fit.Job) { j.KeepClear[0].RequiredMM = -1 }},
		{"\"knee\"", func(j *fit.Job) { j.KeepClear[0].Shape = space.Shape{} }},
		{"\"knee\"", func(j *fit.Job) { j.KeepClear[0].Shape.RoundMM = inf }},
		{"\"knee\"", func(j *fit.Job) { j.KeepClear[0].With = 7 }},
		{"margin", func(j *fit.Job) { j.Preferences.MarginMM = nan }},
		{"margin", func(j *fit.Job) { j.Preferences.MarginMM = -1 }},
		{"from the eyes", func(j *fit.Job) { j.Preferences.FaceMM = inf }},
		{"cost of the screen's roll", func(j *fit.Job) { j.Preferences.Rates.RollPerDegree = nan }},
		{"preferred range of the screen's distance", func(j *fit.Job) { j.Preferences.Ranges.Low.DistanceMM = 1501 }},
		{"preferred range of the screen's roll", func(j *fit.Job) { j.Preferences.Ranges.High.Roll = frame.Angle(nan) }},
		{"width of the chair", func(j *fit.Job) { j.Passage.WidthMM = nan }},
		{"reach behind", func(j *fit.Job) { j.Passage.BehindMM = inf }},
		{"reach ahead", func(j *fit.Job) { j.Passage.AheadMM = -inf }},
		{"doorway", func(j *fit.Job) { j.Passage.DoorMM = nan }},
		{"width of the floor", func(j *fit.Job) { j.Passage.FloorWidthMM = -1 }},
		{"length of the floor", func(j *fit.Job) { j.Passage.FloorLengthMM = nan }},
		{"between targets", func(j *fit.Job) { j.Grid = &gaze.Grid{Rows: 2, Columns: 2, GapMM: nan} }},
	} {
		job := kneeInTheWay()
		tt.change(job)
		_, err := fit.Check(t.Context(), job, 0, settings)
		if !errors.Is(err, fit.ErrJob) || !strings.Contains(err.Error(), tt.name) {
			t.Errorf("%s: Check says %v", tt.name, err)
		}
		if _, err := fit.Solve(t.Context(), job); !errors.Is(err, fit.ErrJob) {
			t.Errorf("%s: Solve says %v", tt.name, err)
		}
	}
}

func ExampleSolve() {
	job := adult() // an invented person with an invented mount
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, j := range r.Set.Chain.Moving() {
		fmt.Println(j.Name, j.Format(r.Set.Settings[i]))
	}
	fmt.Printf("the head may move by %.0f mm: %s\n", r.MarginMM(), r.Postures[r.LimitingPosture].Limiting())
	// Output:
	// clamp.index stop 2
	// post.height 405 mm
	// post.swing -22°
	// elbow.pan -32°
	// elbow.elevation 0°
	// arm.extension 140 mm
	// joint.pan -36°
	// joint.tilt 15°
	// joint.roll 0°
	// the head may move by 97 mm: right eye too far
}

func BenchmarkSolve(b *testing.B) {
	for name, job := range map[string]*fit.Job{"reached": adult(), "short": shortPost()} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := fit.Solve(b.Context(), job); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestMirroredSidesGoToTheFirst: of two places of the clamp that are mirror images before
// someone who is alike on both sides, the first is taken.
func TestMirroredSidesGoToTheFirst(t *testing.T) {
	left := adult().Mount.Mountings[0]
	right := left
	right.Side, right.ClampMM.Y = mount.OnRight, -left.ClampMM.Y
	for _, mountings := range [][]mount.Mounting{{left, right}, {right, left}} {
		for k := range 6 {
			job := adult()
			job.Scene.Measured.EyesMM.Z += 12.3 * float64(k) // which side rounding favors changes
			job.Mount.Mountings = mountings
			if r := solve(t, job); r.Set.Mounting != 0 {
				t.Errorf("eyes %v mm up, clamps at %v: the second is taken", job.Scene.Measured.EyesMM.Z, mountings)
			}
		}
	}
}
