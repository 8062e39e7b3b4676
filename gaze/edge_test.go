package gaze_test

import (
	"encoding/binary"
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// noNumber returns the way to the first number in v that is none, "" if all are
// numbers.
func noNumber(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		if !isNumber(v.Float()) {
			return " "
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if at := noNumber(v.Field(i)); at != "" {
				return "." + v.Type().Field(i).Name + at
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if at := noNumber(v.Index(i)); at != "" {
				return "[]" + at
			}
		}
	default: // names and places in lists
	}
	return ""
}

// allNumbers fails the test when v holds a number that is none.
func allNumbers(t *testing.T, what string, v any) {
	t.Helper()
	if at := noNumber(reflect.ValueOf(v)); at != "" {
		t.Errorf("%s: %s is no number: %+v", what, at, v)
	}
}

// TestScreenAtTheEyes: a middle at the eyes, straight above them, or a face a
// quarter turn up has directions without a rate, and numbers all the same.
func TestScreenAtTheEyes(t *testing.T) {
	scene, device := inventedScene(), inventedDevice()
	postures := []gaze.PostureInCarrier{scene.InCarrier(scene.Measured.AsMeasured("measured"))}
	head := postures[0].Head
	before := frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1})
	for _, row := range []struct {
		name string
		pose frame.Pose
	}{
		{"at the eyes", frame.Pose{Rot: before, At: head.At}},
		{"straight above", frame.Pose{Rot: before, At: r3.Add(head.At, r3.Vec{Z: 600})}},
		{"straight below", frame.Pose{Rot: before, At: r3.Add(head.At, r3.Vec{Z: -600})}},
		{"facing the ceiling", frame.Pose{Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{X: 1}), At: r3.Add(head.At, r3.Vec{X: 600})}},
	} {
		t.Run(row.name, func(t *testing.T) {
			scorer := gaze.NewScorer(request(device, scene, postures))
			allNumbers(t, "slopes", scorer.At(row.pose))
			score, _, broken := scorer.Score(row.pose)
			allNumbers(t, "score", []float64{score, broken})
			allNumbers(t, "aim", gaze.AimAt(row.pose, &postures[0], gaze.WithHead))
		})
	}
}

// TestNobody: without a posture there is no margin, and nothing else goes wrong.
func TestNobody(t *testing.T) {
	scorer := gaze.NewScorer(gaze.Request{})
	score, _, broken := scorer.Score(frame.Translate(r3.Vec{X: 600}))
	allNumbers(t, "score", []float64{score, broken})
	allNumbers(t, "slopes", scorer.At(frame.Translate(r3.Vec{X: 600})))
	if scorer.Terms() != 0 || score != 0 {
		t.Errorf("%d margins and a score of %g, want none and 0", scorer.Terms(), score)
	}
	judge := gaze.NewJudge(inventedDevice(), inventedScene().Person)
	if mm, c, posture := judge.Worst(frame.Identity(), nil); mm != 0 || c != (gaze.Condition{}) || posture != -1 {
		t.Errorf("Worst of nobody is %g mm, %v, posture %d; want 0, none, -1", mm, c, posture)
	}
	if mm := gaze.NewFaceDistance(inventedDevice(), nil, 300).Margin(frame.Identity()).MM; mm != 100000-300 {
		t.Errorf("the margin before no face is %g mm, want 100 m less the distance", mm)
	}
}

// TestGazeLimitWithoutMeaning: a limit outside its range is the nearest inside it.
func TestGazeLimitWithoutMeaning(t *testing.T) {
	scene := inventedScene()
	st := scene.InCarrier(scene.Measured.AsMeasured("measured"))
	screen := newDrawing(31).screen(&st, inventedDevice().Tracker)
	margin := func(limit frame.Angle) float64 {
		d := inventedDevice()
		d.Tracker.GazeLimit = limit
		judge := gaze.NewJudge(d, scene.Person)
		allNumbers(t, "margins", judge.Margins(nil, screen, &st))
		mm, _ := judge.Margin(screen, &st)
		return mm
	}
	for _, low := range []frame.Angle{0, -1, frame.Angle(math.NaN())} {
		if got, want := margin(low), margin(0.001*frame.Degree); got != want {
			t.Errorf("a limit of %g gives %g mm, want the %g mm of a thousandth of a degree", low, got, want)
		}
	}
	if got, want := margin(2), margin(90*frame.Degree); got != want {
		t.Errorf("a limit of 2 rad gives %g mm, want the %g mm of 90°", got, want)
	}
}

// TestSightlinesOfNoNumber: what is documented to be no number is.
func TestSightlinesOfNoNumber(t *testing.T) {
	nan := math.NaN()
	for _, v := range []float64{
		gaze.PreferredGaze(nan, 0).Radians(), gaze.PreferredGaze(600, frame.Angle(nan)).Radians(),
	} {
		if !math.IsNaN(v) {
			t.Errorf("got %g, want no number", v)
		}
	}
}

// FuzzLook hands any numbers at all to what is said of looking at a screen and past
// it: every number that comes back is one.
func FuzzLook(f *testing.F) {
	seed := func(v ...float64) {
		var raw []byte
		for _, x := range v {
			raw = binary.LittleEndian.AppendUint64(raw, math.Float64bits(x))
		}
		f.Add(raw)
	}
	seed()
	// Eyes, then a screen 600 mm ahead and 200 mm below.
	seed(0, 30, 1200, 0, -30, 1200, 600, 0, 1000, 0, -1.5, 0, 0.01, 0.005, -130, 130, -80, 80, 300, 230, 45, 15, 0, 0.2, 4)
	seed(math.Inf(1), 1, math.NaN(), 3, 1e308, 1e-308, -1e300)
	f.Fuzz(func(t *testing.T, raw []byte) {
		in := numbers(raw)
		st := gaze.PostureInCarrier{Carrier: frame.Identity(), Head: frame.Identity(), Eyes: [2]r3.Vec{in.vec(), in.vec()}}
		screen := frame.Pose{At: in.vec(), Rot: frame.FromVector(in.vec())}
		device := gaze.Device{
			Tracker: gaze.Tracker{Accuracy: in.angle(), Precision: in.angle()},
			Screen: gaze.Screen{
				Used:      gaze.Rect{LeftMM: in.next(), RightMM: in.next(), BottomMM: in.next(), TopMM: in.next()},
				HousingMM: in.vec(), HousingBelowMM: in.next(),
			},
		}
		glasses := gaze.Glasses{LensSlant: in.angle()}
		grid := gaze.Grid{GapMM: in.next(), Rows: 3, Columns: 4}
		targets := device.Targets(screen, &st, &grid)
		allNumbers(t, "targets", targets)
		allNumbers(t, "ahead", device.Ahead(screen, &st))
		allNumbers(t, "lenses", glasses.Lenses(device, screen, &st, gaze.Both))
		if targets.Sizing != gaze.Sized && targets.Rows+targets.Columns != 0 {
			t.Errorf("%d x %d targets of unknown size", targets.Rows, targets.Columns)
		}
	})
}

// TestConditionOfNoKind: a condition of a kind that there is not has words too, and
// no margin counts as alike to one without bound.
func TestConditionOfNoKind(t *testing.T) {
	for _, k := range []gaze.ConditionKind{-1, gaze.BeyondDown + 1} {
		if got := (gaze.Condition{Kind: k}).String(); got == "" {
			t.Errorf("kind %d has no words", k)
		}
	}
	if inf := math.Inf(1); !gaze.Less(5, inf) || !gaze.Less(-inf, 5) || gaze.Less(inf, inf) {
		t.Error("margins without bound are compared wrongly")
	}
}
