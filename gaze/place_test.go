package gaze_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/testdata/trials"
)

// scoreMM is what the search promises of the score.
const scoreMM = 0.1

func place(t *testing.T, r gaze.Request) gaze.Target {
	t.Helper()
	target, err := gaze.Place(r)
	if err != nil {
		t.Fatal(err)
	}
	return target
}

// TestPlaceRepeats: the same request gives the same answer to the last bit, also
// after others in between.
func TestPlaceRepeats(t *testing.T) {
	draw := newDrawing(40)
	for range 10 {
		device, scene := draw.device(), draw.scene()
		r := request(device, scene, draw.postures(scene, 2))
		first := place(t, r)
		place(t, request(draw.device(), scene, r.Postures))
		if again := place(t, r); again != first {
			t.Fatalf("got %+v, then %+v", first, again)
		}
	}
}

// TestPlaceKeepsWhatItMust: within the ranges, away from the face, and with the
// score that its parts add up to.
func TestPlaceKeepsWhatItMust(t *testing.T) {
	draw := newDrawing(41)
	count, binding := trials.Of(12, 60), 0
	for trial := range count {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 1+trial%3)
		r := request(device, scene, postures)
		r.Ranges.Low.Down, r.Ranges.High.Down = draw.degrees(-10, 5), draw.degrees(6, 20)
		r.Ranges.Low.DistanceMM, r.Ranges.High.DistanceMM = draw.between(350, 500), draw.between(500, 800)
		leastMM := draw.between(400, 650)
		limit := gaze.NewFaceDistance(device, postures, leastMM)
		r.Limits = limit.EyeByEye()
		target := place(t, r)

		if !aimWithin(target.Aim, r.Ranges) {
			t.Fatalf("trial %d: aim %+v is outside %+v", trial, target.Aim, r.Ranges)
		}
		got := nearestHousing(device, target.Pose, postures)
		if margin := limit.Margin(target.Pose).MM; math.Abs(margin-(got-leastMM)) > 0.5 {
			t.Fatalf("trial %d: housing %.3f mm off, its limit says %.3f mm", trial, got, margin+leastMM)
		}
		if got < leastMM-1e-3 && target.BrokenMM == 0 {
			t.Fatalf("trial %d: housing %.3f mm off, at least %.3f mm required", trial, got, leastMM)
		}
		if got < leastMM+0.5 {
			binding++
		}
		prefer, a := r.Prefer, target.Aim
		cost := math.Abs((a.Left - prefer.Left).Degrees()) + math.Abs((a.Down - prefer.Down).Degrees()) +
			math.Abs((a.FacingUp - prefer.FacingUp).Degrees()) + math.Abs((a.FacingRight - prefer.FacingRight).Degrees()) +
			math.Abs((a.Roll - prefer.Roll).Degrees()) + 0.1*math.Abs(a.DistanceMM-prefer.DistanceMM)
		if math.Abs(target.MarginMM-cost-target.Score) > 1e-9 {
			t.Fatalf("trial %d: margin %.6f less costs %.6f is not the score %.6f", trial, target.MarginMM, cost, target.Score)
		}
	}
	if binding < count/12 {
		t.Errorf("the distance from the face mattered %d times: too few to tell", binding)
	}
}

func aimWithin(a gaze.Aim, r gaze.Ranges) bool {
	values := func(a gaze.Aim) [6]float64 {
		return [6]float64{
			a.Left.Radians(), a.Down.Radians(), a.DistanceMM, a.FacingUp.Radians(), a.FacingRight.Radians(), a.Roll.Radians(),
		}
	}
	v, low, high := values(a), values(r.Low), values(r.High)
	for k := range v {
		if v[k] < low[k] || v[k] > high[k] {
			return false
		}
	}
	return true
}

// nearestHousing returns the distance of the nearest eye from the nearest of many
// points of the housing's front and edges, which is too long by less than 0.5 mm.
func nearestHousing(d gaze.Device, screen frame.Pose, postures []gaze.PostureInCarrier) float64 {
	size, least := d.Screen.HousingMM, math.Inf(1)
	const n = 40
	for i := range n + 1 {
		for k := range n + 1 {
			p := r3.Vec{X: size.X * (float64(i)/n - 0.5), Y: size.Y*(float64(k)/n-0.5) - d.Screen.HousingBelowMM}
			for _, st := range postures {
				for _, eye := range st.Eyes {
					least = min(least, r3.Norm(r3.Sub(screen.Apply(p), eye)))
				}
			}
		}
	}
	return least
}

// TestEitherEyeIsAtLeastAsGood: one eye being enough is worth no less than
// needing a certain one, and that no less than needing both.
func TestEitherEyeIsAtLeastAsGood(t *testing.T) {
	draw := newDrawing(42)
	for trial := range 25 {
		device, scene := draw.device(), draw.scene()
		score := func(used gaze.EyesUsed) float64 {
			s := scene
			s.Person.Eyes = used
			st := s.InCarrier(s.Measured.AsMeasured("measured"))
			return place(t, request(device, s, []gaze.PostureInCarrier{st})).Score
		}
		both, left, right, either := score(gaze.Both), score(gaze.LeftOnly), score(gaze.RightOnly), score(gaze.Either)
		if either < max(left, right)-scoreMM || left < both-scoreMM || right < both-scoreMM {
			t.Errorf("trial %d: both %.3f, left %.3f, right %.3f, either %.3f mm", trial, both, left, right, either)
		}
	}
}

// TestPlaceMirrored: a mirrored person gets the mirrored score.
func TestPlaceMirrored(t *testing.T) {
	draw := newDrawing(43)
	for trial := range 25 {
		device, scene := draw.device(), draw.scene()
		device.Screen.Used = device.Screen.Display()
		posture := draw.posture(scene)
		other := mirrorScene(scene)
		a := place(t, request(device, scene, []gaze.PostureInCarrier{scene.InCarrier(posture)}))
		b := place(t, request(device, other, []gaze.PostureInCarrier{other.InCarrier(mirrorPosture(posture))}))
		if !(math.Abs(a.Score-b.Score) <= scoreMM) {
			t.Errorf("trial %d: score %.4f mm, mirrored %.4f mm", trial, a.Score, b.Score)
		}
	}
}

// TestMoreAskedIsNeverBetter: a further posture or a limit cannot raise the score.
func TestMoreAskedIsNeverBetter(t *testing.T) {
	draw := newDrawing(44)
	for trial := range 25 {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 2)
		one := place(t, request(device, scene, postures[:1]))
		two := place(t, request(device, scene, postures))
		r := request(device, scene, postures)
		r.Limits = gaze.NewFaceDistance(device, postures, 500).EyeByEye()
		limited := place(t, r)
		if two.Score > one.Score+scoreMM || limited.Score > two.Score+scoreMM && limited.BrokenMM == 0 {
			t.Errorf("trial %d: one posture %.3f, two %.3f, kept off the face %.3f mm", trial, one.Score, two.Score, limited.Score)
		}
	}
}

// TestUpright: with WithLevel an unrolled screen is level however the head is
// inclined; with the head it inclines as the head does.
func TestUpright(t *testing.T) {
	scene := inventedScene()
	scene.Measured.Head.LateralFlexion = 20 * frame.Degree
	st := scene.InCarrier(scene.Measured.AsMeasured("inclined"))
	for _, row := range []struct {
		name    string
		upright gaze.Upright
		want    float64 // rise of the screen's right edge, degrees
	}{
		{"level", gaze.WithLevel, 0},
		{"with the head", gaze.WithHead, 20},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := request(inventedDevice(), scene, []gaze.PostureInCarrier{st})
			r.Upright = row.upright
			aim := gaze.Aim{Down: 0, DistanceMM: 600}
			r.Ranges = gaze.Ranges{Low: aim, High: aim}
			target := place(t, r)
			if got := math.Asin(target.Pose.Rot.X.Z) * 180 / math.Pi; !(math.Abs(got-row.want) <= 1e-9) {
				t.Errorf("the right edge rises by %g°, want %g°", got, row.want)
			}
			back := gaze.AimAt(target.Pose, &st, row.upright)
			if math.Abs(back.Roll.Degrees()) > 1e-9 || math.Abs(back.DistanceMM-600) > 1e-9 {
				t.Errorf("the aim came back as %+v", back)
			}
		})
	}
}

// TestSupine: someone who lies on the back looks up, and the screen hangs over
// the face, level with the head since the margin's vertical has no meaning there.
func TestSupine(t *testing.T) {
	scene := inventedScene()
	scene.Person.RestGaze = &gaze.GazeDirection{}
	lying := scene.Measured.AsMeasured("lying")
	lying.BackAngle = 190 * frame.Degree // from 100°: the trunk turned back by 90°
	st := scene.InCarrier(lying)
	for _, upright := range []gaze.Upright{gaze.WithHead, gaze.WithLevel} {
		r := request(inventedDevice(), scene, []gaze.PostureInCarrier{st})
		r.Upright = upright
		target := place(t, r)
		if target.MarginMM < 50 {
			t.Errorf("margin %.1f mm", target.MarginMM)
		}
		over := r3.Sub(target.Pose.At, st.Head.At)
		if frame.Between(over, r3.Vec{Z: 1}) > 25*frame.Degree {
			t.Errorf("the screen is at %v from the eyes, want above them", over)
		}
		if face := frame.Between(target.Pose.Rot.Z, r3.Vec{Z: -1}); face > 30*frame.Degree {
			t.Errorf("the screen faces down to within %.1f°", face.Degrees())
		}
	}
}

// TestScorerAgrees: any pose's score is the margin less the costs, and the
// target's is the target's.
func TestScorerAgrees(t *testing.T) {
	draw := newDrawing(45)
	for trial := range 30 {
		device, scene := draw.device(), draw.scene()
		postures := draw.postures(scene, 1+trial%2)
		r := request(device, scene, postures)
		r.Limits = gaze.NewFaceDistance(device, postures, 300).EyeByEye()
		target := place(t, r)
		scorer := gaze.NewScorer(r)
		if got, _, _ := scorer.Score(target.Pose); math.Abs(got-target.Score) > 1e-6 {
			t.Errorf("trial %d: score %.9f, the target's %.9f mm", trial, got, target.Score)
		}
		other := draw.screen(&postures[0], device.Tracker)
		if got, _, broken := scorer.Score(other); broken == 0 && got > target.Score+scoreMM {
			t.Errorf("trial %d: a random screen scores %.4f mm, the target %.4f mm", trial, got, target.Score)
		}
		if n := len(scorer.At(other)); n != scorer.Terms()+scorer.Limits()+len(scorer.Rates()) {
			t.Errorf("trial %d: %d numbers, want %d + %d + %d", trial, n, scorer.Terms(), scorer.Limits(), len(scorer.Rates()))
		}
	}
}

// TestRequestsThatCannotBeWorkedOn: no posture, ranges that cross, numbers that
// are none.
func TestRequestsThatCannotBeWorkedOn(t *testing.T) {
	nan := math.NaN()
	for _, row := range []struct {
		name  string
		spoil func(r *gaze.Request)
	}{
		{"no posture", func(r *gaze.Request) { r.Postures = nil }},
		{"crossed ranges", func(r *gaze.Request) { r.Ranges.Low.DistanceMM = 2000 }},
		{"eyes that are nowhere", func(r *gaze.Request) { r.Postures[0].Eyes[0].X = nan }},
		{"a head infinitely far", func(r *gaze.Request) { r.Postures[0].Head.At.Y = math.Inf(1) }},
		{"a preference that is no number", func(r *gaze.Request) { r.Prefer.Down = frame.Angle(nan) }},
		{"a negative rate", func(r *gaze.Request) { r.Rates.RollPerDegree = -1 }},
	} {
		t.Run(row.name, func(t *testing.T) {
			scene := inventedScene()
			r := request(inventedDevice(), scene, []gaze.PostureInCarrier{scene.InCarrier(scene.Measured.AsMeasured("measured"))})
			row.spoil(&r)
			if target, err := gaze.Place(r); !errors.Is(err, gaze.ErrRequest) {
				t.Errorf("got %+v, %v; want ErrRequest", target, err)
			}
		})
	}
}

// TestWords: every condition says in its own plain words what is wrong.
func TestWords(t *testing.T) {
	seen := map[string]gaze.Condition{}
	for _, eye := range []gaze.Eye{gaze.LeftEye, gaze.RightEye} {
		for _, c := range conditions(eye) {
			words := c.String()
			if other, ok := seen[words]; ok || !strings.Contains(words, eye.String()) || words != strings.TrimSpace(words) {
				t.Errorf("%#v and %#v: %q", c, other, words)
			}
			seen[words] = c
		}
	}
}
