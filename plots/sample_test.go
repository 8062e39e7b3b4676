package plots_test

import (
	"bytes"
	"context"
	"html"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
	"sightpost/mount/space"
	"sightpost/plots"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

const degree = float64(frame.Degree)

func TestMain(m *testing.M) { trials.Main(m) }

// turn returns a range of turns in degrees.
func turn(low, high, step float64) mount.Range {
	return mount.Range{Low: low * degree, High: high * degree, Step: step * degree}
}

// sampleKit is an invented mount of two tubes with an offset post.
func sampleKit() mount.Kit {
	alloy := mount.Material{Name: "aluminum", YoungMPa: 68900, ShearMPa: 26000, DensityKGM3: 2700, YieldMPa: 240}
	tube := mount.Section{OutsideMM: 25, WallMM: 2.5, Material: alloy}
	return mount.Kit{Name: "invented", Parts: []mount.Part{
		mount.Clamp{Name: "clamp"},
		mount.Tube{
			Name: "post", Section: tube, TotalMM: 746,
			Shape: mount.Centerline{BendRadiusMM: 80, Bends: []mount.Bend{
				{Angle: 50 * frame.Degree}, {StraightMM: 200, Turn: 180 * frame.Degree, Angle: 50 * frame.Degree},
			}},
			Slide: mount.Range{Low: 270, High: 600, Step: 5, Preferred: 450}, Turn: turn(-180, 180, 1),
		},
		mount.Elbow{Name: "elbow", Pan: turn(-170, 170, 1), Elevation: turn(-60, 60, 1), ElevationToEndMM: r3.Vec{X: 40}},
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: mount.Range{Low: 120, High: 400, Step: 5, Preferred: 250}},
		mount.Turns{Name: "joint", Pan: turn(-95, 95, 1), Tilt: turn(-80, 80, 1), Roll: turn(-45, 45, 1)},
		mount.Plate{Name: "plate", Faces: mount.FacesRight, OffsetMM: r3.Vec{Y: 160, Z: 60}},
	}}
}

// sampleJob is an invented person in an invented chair, upright and tilted back.
func sampleJob(t testing.TB) *fit.Job {
	t.Helper()
	job := &fit.Job{
		Scene: gaze.Scene{
			Person: gaze.Person{
				PupilSpacingMM: 60, NeckToEyesMM: r3.Vec{X: 95, Z: 75},
				RestGaze:   &gaze.GazeDirection{Down: 12 * frame.Degree},
				GazeRange:  gaze.GazeRange{Left: 30 * frame.Degree, Right: 30 * frame.Degree, Up: 20 * frame.Degree, Down: 30 * frame.Degree},
				MovementMM: r3.Vec{X: 30, Y: 40, Z: 20},
			},
			Chair:          gaze.Chair{TiltPivotMM: r3.Vec{X: 120, Z: 430}, BackHingeMM: r3.Vec{Z: 500}},
			Measured:       gaze.Sitting{BackAngle: 100 * frame.Degree, EyesMM: r3.Vec{X: 150, Z: 1180}, Head: gaze.Head{Flexion: 5 * frame.Degree}},
			RestDistanceMM: 600,
		},
		Device: gaze.Device{
			Screen: gaze.Screen{WidthMM: 260, HeightMM: 165, HousingMM: r3.Vec{X: 300, Y: 230, Z: 45}, HousingBelowMM: 15, MassKG: 1.6},
			Tracker: gaze.Tracker{
				NearMM: 500, BestMM: 600, FarMM: 750, Across: 40 * frame.Degree, UpDown: 30 * frame.Degree,
				BelowMM: 110, InFrontMM: 10, AimedUp: 15 * frame.Degree, GazeLimit: 36 * frame.Degree,
				Accuracy: 0.7 * frame.Degree, Precision: 0.3 * frame.Degree,
			},
		},
		Preferences: fit.Preferences{
			Rates: gaze.Rates{GazePerDegree: 1, FacingPerDegree: 1, RollPerDegree: 1, DistancePerMM: 0.1},
			Ranges: gaze.Ranges{
				Low:  gaze.Aim{Left: -60 * frame.Degree, Down: -60 * frame.Degree, DistanceMM: 150, FacingUp: -40 * frame.Degree, FacingRight: -40 * frame.Degree, Roll: -30 * frame.Degree},
				High: gaze.Aim{Left: 60 * frame.Degree, Down: 75 * frame.Degree, DistanceMM: 1500, FacingUp: 40 * frame.Degree, FacingRight: 40 * frame.Degree, Roll: 30 * frame.Degree},
			},
			FaceMM: 300,
		},
		Mount: &fit.MountJob{
			Kit:       sampleKit(),
			Mountings: []mount.Mounting{{ClampMM: r3.Vec{X: 335.5, Y: 255.8, Z: 326.4}}},
		},
	}
	job.Device.Screen.Used = job.Device.Screen.Display()
	job.Postures = []gaze.Posture{
		{Name: "upright", MustWork: true, BackAngle: 100 * frame.Degree, Head: gaze.Head{Flexion: 5 * frame.Degree}},
		{Name: "rested", MustWork: true, SeatTilt: 20 * frame.Degree, BackAngle: 105 * frame.Degree, Head: gaze.Head{Flexion: 8 * frame.Degree}},
		{Name: "asleep", SeatTilt: 40 * frame.Degree, BackAngle: 120 * frame.Degree},
	}
	tray, err := space.Box(frame.Translate(r3.Vec{X: 370, Z: 690}), r3.Vec{X: 300, Y: 460, Z: 25})
	if err != nil {
		t.Fatal(err)
	}
	knees, err := space.Capsule(r3.Vec{X: 500, Y: -120, Z: 560}, r3.Vec{X: 500, Y: 120, Z: 560}, 80)
	if err != nil {
		t.Fatal(err)
	}
	job.KeepClear = []fit.KeepClear{{Name: "tray", Shape: tray, RequiredMM: 20}, {Name: "knees", Shape: knees, RequiredMM: 30}}
	return job
}

// sampleSettings hold the screen of the sample job before both postures that must
// work: 335 mm, 24°, -82°, 24°, 395 mm, -22°, 27°, -22° in chain order.
func sampleSettings() mount.Settings {
	return mount.Settings{335, 24 * degree, -82 * degree, 24 * degree, 395, -22 * degree, 27 * degree, -22 * degree}
}

// sample returns the sample job with the mount at the sample settings, and how it
// fares. It is put together here from geometry alone, so that a better search
// for settings does not change the figures.
func sample(t testing.TB) *fit.Result {
	t.Helper()
	job := sampleJob(t)
	return setTo(t, job, sampleSettings())
}

// sampleAfter returns the sample some weeks later: the person has sunk and leans
// to the right, and the mount has new settings.
func sampleAfter(t testing.TB) *fit.Result {
	t.Helper()
	job := sampleJob(t)
	job.Scene.Measured.EyesMM = r3.Vec{X: 175, Y: -30, Z: 1130}
	settings := sampleSettings()
	settings[0], settings[1], settings[4], settings[6] = 300, 28*degree, 375, 33*degree
	return setTo(t, job, settings)
}

// setTo returns how a job fares with its mount at some settings.
func setTo(t testing.TB, job *fit.Job, settings mount.Settings) *fit.Result {
	t.Helper()
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
	if err != nil {
		t.Fatal(err)
	}
	screen, err := chain.Forward(settings)
	if err != nil {
		t.Fatal(err)
	}
	r := &fit.Result{Job: job, Screen: screen, Works: true, Set: &fit.Set{Chain: chain, Settings: settings, Reached: true}}
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	for _, p := range job.Postures {
		st := job.Scene.InCarrier(p)
		f := fit.PostureResult{Posture: p, InCarrier: st, Held: screen, Screen: st.Carrier.Mul(screen), Aim: gaze.AimAt(screen, &st, gaze.WithHead)}
		f.Margins = judge.Margins(nil, screen, &st)
		f.Least = gaze.Least(f.Margins)
		f.MarginMM = f.Margins[f.Least].MM
		r.Postures = append(r.Postures, f)
	}
	return r
}

// sideView returns one figure of the sample.
func sideView(t testing.TB, u units.Units) plots.Figure {
	t.Helper()
	f, err := plots.Scene(sample(t), plots.Side, plots.Options{Units: u})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// figures returns every kind of figure of the sample, by name.
func figures(t testing.TB) map[string]plots.Figure {
	t.Helper()
	return figuresIn(t, units.MM, plots.Size{})
}

// figuresIn returns them with their lengths in units, for paper of a size.
func figuresIn(t testing.TB, u units.Units, size plots.Size) map[string]plots.Figure {
	t.Helper()
	label := plots.Options{Label: "bench-07", Units: u, Size: size}
	rested := plots.Options{Posture: "rested", Units: u, Size: size}
	r := sample(t)
	job := r.Job
	all := make(map[string]plots.Figure)
	keep := func(name string, f plots.Figure, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[name] = f
	}
	for v, name := range map[plots.View]string{plots.Side: "side", plots.Top: "top", plots.Front: "front"} {
		f, err := plots.Scene(r, v, label)
		keep("scene-"+name, f, err)
		f, err = plots.Region(r, v, label)
		keep("region-"+name, f, err)
	}
	display, err := plots.ScreenTargets(r, label)
	keep("screen-targets", display, err)
	asked := *job
	asked.Grid = &gaze.Grid{Rows: 3, Columns: 8, GapMM: 4}
	asked.Device.Screen.Used.TopMM -= 25
	with := *r
	with.Job = &asked
	display, err = plots.ScreenTargets(&with, rested)
	keep("screen-targets-asked", display, err)
	hidden, err := plots.HiddenFloor(r, label)
	keep("hidden-floor", hidden, err)
	hidden, err = plots.HiddenFloor(r, rested)
	keep("hidden-floor-endless", hidden, err)
	turned, err := plots.View3D(r, plots.TurnedTo(r), label)
	keep("view3d", turned, err)
	turned, err = plots.View3D(r, plots.Turned{Azimuth: -145 * frame.Degree, Elevation: 25 * frame.Degree}, rested)
	keep("view3d-behind", turned, err)
	small := plots.Size{Width: 95 * vg.Millimeter, Height: 100 * vg.Millimeter}
	f, err := plots.Scene(r, plots.Side, plots.Options{Posture: "rested", Size: small, Compact: true, Units: u})
	keep("scene-compact", f, err)
	for over, name := range map[tolerance.Motion]string{tolerance.OverDistance: "distance", tolerance.OverTilt: "tilt"} {
		sweep, err := tolerance.MarginSweep(r, over, 121)
		if err != nil {
			t.Fatal(err)
		}
		f, err := plots.Margin(sweep, label)
		keep("margin-"+name, f, err)
	}
	f, err = plots.Tolerances(sampleTolerances(t, r), sampleWords(sampleTolerances(t, r), u), label)
	keep("tolerances", f, err)
	f, err = plots.Postures(sampleCurves(t, r), label)
	keep("postures", f, err)
	f, err = plots.Loads(sampleLoad(t, r), label)
	keep("loads", f, err)
	swings := swung(t, "post.swing")
	f, err = plots.Passage(swings, label)
	keep("passage", f, err)
	f, err = plots.SwingClear(swings, label)
	keep("swing-clear", f, err)
	f, err = plots.Distribution(sampleTally(t), label)
	keep("distribution", f, err)
	f, err = plots.Course(sampleCourse, 20, label)
	keep("course", f, err)
	before, after := sampleAssessments(t)
	f, err = plots.Assessments(before, after, plots.Side, plots.Options{Units: u, Size: size})
	keep("assessments", f, err)
	return all
}

// sampleCourse are invented margins of four days, of which two are too near to name both and
// one is far too short.
var sampleCourse = []plots.Found{
	{Day: time.Date(2026, 1, 12, 0, 0, 0, 0, time.UTC), MarginMM: 62},
	{Day: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), MarginMM: -300},
	{Day: time.Date(2026, 3, 3, 0, 0, 0, 0, time.UTC), MarginMM: 48},
	{Day: time.Date(2026, 6, 30, 0, 0, 0, 0, time.UTC), MarginMM: 55},
}

func sampleTolerances(t testing.TB, r *fit.Result) []tolerance.Tolerance {
	t.Helper()
	all, err := tolerance.Of(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// sampleWords returns invented words for tolerances, of which some take two lines.
func sampleWords(all []tolerance.Tolerance, u units.Units) []plots.ToleranceWords {
	var words []plots.ToleranceWords
	for _, t := range all {
		show := t.Joint.Format
		if t.Joint.Motion == mount.Slide {
			show = u.Length
		}
		w := plots.ToleranceWords{
			Setting: []string{strings.ReplaceAll(t.Joint.Name, ".", " "), "set " + show(t.Set), "limits " + show(t.Joint.Low) + " to " + show(t.Joint.High)},
			Low:     []string{show(t.Low.Readable), "left eye leaves the tracking volume at the bottom"},
			High:    []string{show(t.High.Readable), "limit of its range"},
		}
		if t.Why != nil {
			w.Low, w.High = nil, []string{"does not work as it is set:", "right eye too far"}
		}
		words = append(words, w)
	}
	return words
}

// written returns what is written in a figure, as its description for screen readers has it.
func written(t testing.TB, f plots.Figure) string {
	t.Helper()
	var svg bytes.Buffer
	if err := plots.WriteInlineSVG(&svg, f, "x"); err != nil {
		t.Fatal(err)
	}
	_, desc, _ := strings.Cut(svg.String(), `<desc id="x-desc">`)
	desc, _, _ = strings.Cut(desc, "</desc>")
	return html.UnescapeString(desc)
}

// sampleCurves returns the curve of every number of the upright posture.
func sampleCurves(t testing.TB, r *fit.Result) []tolerance.PostureCurve {
	t.Helper()
	var all []tolerance.PostureCurve
	for _, v := range tolerance.PostureVariables() {
		now := v.Of(r.Job.Postures[0])
		sweep := tolerance.PostureSweep{Posture: "upright", Variable: v, Low: now - 30*degree, High: now + 30*degree, Points: 61}
		if !v.Turns() {
			sweep.Low, sweep.High = 0, 200
		}
		c, err := tolerance.CurvePosture(context.Background(), r, sweep)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, c)
	}
	return all
}

// sampleTally returns invented margins of 400 draws, 60 of which do not work.
func sampleTally(t testing.TB) variation.Tally {
	t.Helper()
	share, err := variation.NewProportion(340, 400)
	if err != nil {
		t.Fatal(err)
	}
	tally := variation.Tally{Tracks: share, Margin: variation.Distribution{
		MeanMM: 18, SDMM: 17, LeastMM: -29, MostMM: 59, P5MM: -12, P25MM: 6, P50MM: 20, P75MM: 31, P95MM: 43,
	}}
	for i, n := range []int{5, 15, 40, 70, 70, 100, 70, 25, 5} {
		low := float64(10*i - 30)
		tally.Margin.Bins = append(tally.Margin.Bins, variation.Bin{LowMM: low, HighMM: low + 10, Count: n})
	}
	return tally
}

// sampleAssessments returns the sample and what it became some weeks later.
func sampleAssessments(t testing.TB) (before, after plots.Assessment) {
	t.Helper()
	r := sample(t)
	later := sampleAfter(t)
	return plots.Assessment{Label: "first visit", Date: "2026-03-02", Result: r},
		plots.Assessment{Label: "second visit", Date: "2026-05-04", Result: later}
}
