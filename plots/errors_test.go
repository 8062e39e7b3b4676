package plots_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"

	"sightpost/gaze"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/mount/space"
	"sightpost/plots"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

// TestCourseErrors: none, one that is not finite, and days out of order.
func TestCourseErrors(t *testing.T) {
	spoiled := slices.Clone(sampleCourse)
	spoiled[1].MarginMM = math.NaN()
	turned := slices.Clone(sampleCourse)
	slices.Reverse(turned)
	for _, all := range [][]plots.Found{nil, spoiled, turned} {
		if _, err := plots.Course(all, 0, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("%v: error %v, want ErrFigure", all, err)
		}
	}
	if _, err := plots.Course(sampleCourse, math.Inf(1), plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("endless margin required: error %v, want ErrFigure", err)
	}
}

// TestSceneErrors spoils the sample in one way each.
func TestSceneErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		name  string
		spoil func(*fit.Result, *fit.Job, *plots.Options)
		want  string
	}{
		{"no postures", func(r *fit.Result, j *fit.Job, _ *plots.Options) { r.Postures, j.Postures = nil, nil }, "none that must work"},
		{"another job", func(r *fit.Result, _ *fit.Job, _ *plots.Options) { r.Postures = r.Postures[:1] }, "1 postures"},
		{"unknown posture", func(_ *fit.Result, _ *fit.Job, o *plots.Options) { o.Posture = "prone" }, `"prone"`},
		{"screen nowhere", func(r *fit.Result, _ *fit.Job, _ *plots.Options) { r.Postures[0].Screen.At.X = nan }, "nowhere"},
		{"endless view", func(_ *fit.Result, j *fit.Job, _ *plots.Options) { j.Device.Tracker.FarMM = inf }, "not finite"},
		{"junction not a number", func(_ *fit.Result, j *fit.Job, _ *plots.Options) {
			j.Seated = fit.Seated{JunctionMM: r3.Vec{Z: nan}, Part: 1}
		}, "not finite"},
		{"person endless", func(_ *fit.Result, j *fit.Job, _ *plots.Options) {
			j.Seated = fit.Seated{JunctionMM: r3.Vec{Z: 500}, Part: math.Inf(1)}
		}, "not finite"},
		{"hinge not a number", func(_ *fit.Result, j *fit.Job, _ *plots.Options) { j.Scene.Chair.BackHingeMM.Z = nan }, "not finite"},
		{"housing not a number", func(_ *fit.Result, j *fit.Job, _ *plots.Options) { j.Device.Screen.HousingMM.X = nan }, "not finite"},
		{"too far", func(_ *fit.Result, j *fit.Job, _ *plots.Options) { j.Device.Tracker.FarMM = 1e5 }, "does not fit"},
		{"no shape", func(_ *fit.Result, j *fit.Job, _ *plots.Options) { j.KeepClear[0].Shape = space.Shape{} }, "tray"},
		{"paper too small", func(_ *fit.Result, _ *fit.Job, o *plots.Options) { o.Size = plots.Size{Width: 1, Height: 1} }, "outside 20 to 2000 mm"},
		{"paper not a number", func(_ *fit.Result, _ *fit.Job, o *plots.Options) { o.Size.Width = vg.Length(nan) }, "outside 20 to 2000 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := sample(t)
			job := r.Job
			var opt plots.Options
			tt.spoil(r, job, &opt)
			_, err := plots.Scene(r, plots.Side, opt)
			if !errors.Is(err, plots.ErrFigure) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("Scene: error %v, want ErrFigure with %q", err, tt.want)
			}
		})
	}
	if _, err := plots.Region(nil, plots.Top, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("Region of nothing: error %v", err)
	}
	r := sample(t)
	r.Set.Settings = r.Set.Settings[:3]
	if _, err := plots.Scene(r, plots.Side, plots.Options{}); err == nil {
		t.Error("Scene took settings that are not the chain's")
	}
}

// TestMarginErrors spoils a sweep.
func TestMarginErrors(t *testing.T) {
	good := func() *tolerance.Sweep {
		return &tolerance.Sweep{Chosen: 600, Curves: []tolerance.Curve{{Samples: []tolerance.Sample{{At: 500, MarginMM: 1}, {At: 700, MarginMM: 2}}}}}
	}
	if _, err := plots.Margin(good(), plots.Options{}); err != nil {
		t.Fatalf("a good sweep: %v", err)
	}
	for name, spoil := range map[string]func(*tolerance.Sweep){
		"no curve":        func(s *tolerance.Sweep) { s.Curves = nil },
		"no sample":       func(s *tolerance.Sweep) { s.Curves[0].Samples = nil },
		"NaN margin":      func(s *tolerance.Sweep) { s.Curves[0].Samples[0].MarginMM = math.NaN() },
		"infinite place":  func(s *tolerance.Sweep) { s.Curves[0].Samples[1].At = math.Inf(1) },
		"chosen nowhere":  func(s *tolerance.Sweep) { s.Chosen = math.NaN() },
		"all at one spot": func(s *tolerance.Sweep) { s.Chosen = 500; s.Curves[0].Samples[1].At = 500 },
	} {
		s := good()
		spoil(s)
		if _, err := plots.Margin(s, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("%s: error %v, want ErrFigure", name, err)
		}
	}
	if _, err := plots.Margin(nil, plots.Options{}); !errors.Is(err, plots.ErrFigure) {
		t.Errorf("nil sweep: error %v, want ErrFigure", err)
	}
}

// full is a writer that takes nothing.
type full struct{}

var errFull = errors.New("full")

func (full) Write([]byte) (int, error) { return 0, errFull }

// TestWriterErrors hands writers an empty figure and a full disk.
func TestWriterErrors(t *testing.T) {
	f := sideView(t, units.MM)
	for format, write := range writers() {
		if err := write(io.Discard, plots.Figure{}); !errors.Is(err, plots.ErrFigure) {
			t.Errorf("%s of an empty figure: error %v, want ErrFigure", format, err)
		}
		if err := write(full{}, f); !errors.Is(err, errFull) {
			t.Errorf("%s to a full disk: error %v, want %v", format, err, errFull)
		}
	}
}

// TestAwkwardNumbers puts awkward numbers and names into the sample at random: a
// figure is an error or is written, and never has a number that is none.
func TestAwkwardNumbers(t *testing.T) {
	numbers := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e-300, 1e6, 1e150, 1e308, math.Pi}
	names := []string{"", "a\nb\x00c", "🙂 <&>\"", strings.Repeat("long ", 60), "\xff", "נחת"}
	rng := rand.New(rand.NewPCG(7, 11))
	swings := swung(t, "post.swing")
	swingJob := swings.Job
	for range trials.Of(6, 60) {
		r := sample(t)
		job := r.Job
		aside := *swings.SwingClear
		r.SwingClear, job.Passage = &aside, swingJob.Passage
		job.Grid = &gaze.Grid{Rows: 3, Columns: 4}
		for range 1 + rng.IntN(3) {
			places := awkwardPlaces(r, job)
			*places[rng.IntN(len(places))] = numbers[rng.IntN(len(numbers))]
		}
		name := names[rng.IntN(len(names))]
		r.Postures[1].Posture.Name, job.Postures[1].Name, job.KeepClear[0].Name = name, name, name
		tryAll(t, r, plots.View(rng.IntN(3)), name)
	}
}

// awkwardPlaces returns numbers of every kind that a figure is drawn from.
func awkwardPlaces(r *fit.Result, job *fit.Job) []*float64 {
	d, c, p := &job.Device, &job.Scene.Chair, &job.Scene.Person
	f := &r.Postures[0]
	places := []*float64{
		&d.Tracker.NearMM, &d.Tracker.FarMM, &d.Tracker.BelowMM, &d.Screen.WidthMM, &d.Screen.HousingBelowMM,
		&d.Tracker.InFrontMM, (*float64)(&d.Tracker.Accuracy), (*float64)(&d.Tracker.Precision), &d.Screen.Used.TopMM, &job.Grid.GapMM,
		&r.Screen.Rot.X.X, &f.InCarrier.Carrier.Rot.Y.Z, &f.InCarrier.Seat.X.Z,
		(*float64)(&d.Tracker.Across), (*float64)(&d.Tracker.GazeLimit), (*float64)(&d.Tracker.AimedUp),
		(*float64)(&f.Posture.SeatTilt), (*float64)(&f.Posture.BackAngle), (*float64)(&p.GazeRange.Left),
		&r.SwingClear.Low.At, &r.SwingClear.Parked, &r.SwingClear.Way.On.Y, &r.SwingClear.TransferHalfWidthMM, &r.SwingClear.ParkedExtent.LeftMM,
		&job.Passage.WidthMM, &job.Passage.DoorMM, &job.Passage.FloorLengthMM,
		&job.KeepClear[0].Shape.RoundMM, &r.Set.Settings[0], &r.Set.Settings[2], &r.Set.Chain.Spans[0].Section.OutsideMM,
	}
	for _, v := range []*r3.Vec{
		&c.TiltPivotMM, &c.BackHingeMM, &p.NeckToEyesMM, &d.Screen.HousingMM, &f.InCarrier.MovementMM,
		&f.InCarrier.Head.At, &f.Screen.At, &f.InCarrier.Eyes[0], &r.Screen.At, &job.KeepClear[1].Shape.HalfMM,
	} {
		places = append(places, &v.X, &v.Y, &v.Z)
	}
	return places
}

// tryAll draws and writes every figure. The letters that a drawing brings are those of its
// PDF document: they are made twice only if SIGHTPOST_LONG is set.
func tryAll(t *testing.T, r *fit.Result, v plots.View, name string) {
	t.Helper()
	writeSVG := plots.WriteSVG
	if !trials.Long() {
		writeSVG = func(w io.Writer, f plots.Figure) error { return plots.WriteInlineSVG(w, f, "") }
	}
	try := func(f plots.Figure, err error) {
		if err != nil {
			return
		}
		var buf bytes.Buffer
		if err := writeSVG(&buf, f); err != nil {
			t.Errorf("write: %v", err)
		}
		for _, no := range []string{"NaN", "Inf"} {
			if strings.Contains(buf.String(), no) {
				t.Errorf("%s holds %s", f.Title, no)
			}
		}
		if err := plots.WritePDF(io.Discard, f); err != nil {
			t.Errorf("write: %v", err)
		}
	}
	opt := plots.Options{Label: name}
	try(plots.Scene(r, v, opt))
	try(plots.Region(r, v, opt))
	try(plots.View3D(r, plots.TurnedTo(r), opt))
	try(plots.ScreenTargets(r, opt))
	try(plots.HiddenFloor(r, opt))
	try(plots.SwingClear(r, opt))
	try(plots.Passage(r, opt))
	opt.Compact = true
	try(plots.Scene(r, v, opt))
	whole := sample(t)
	try(plots.Assessments(plots.Assessment{Label: name, Result: whole}, plots.Assessment{Date: name, Result: r}, v, plots.Options{}))
	try(plots.Assessments(plots.Assessment{Label: name, Result: r}, plots.Assessment{Date: name, Result: whole}, v, plots.Options{}))
	if all, err := tolerance.Of(context.Background(), r); err == nil {
		try(plots.Tolerances(all, sampleWords(all, units.MM), plots.Options{Label: name}))
	}
	sweep := tolerance.PostureSweep{Variable: tolerance.HeadFlexion, Low: -30 * degree, High: 30 * degree, Points: 11}
	if c, err := tolerance.CurvePosture(context.Background(), r, sweep); err == nil {
		try(plots.Postures([]tolerance.PostureCurve{c}, plots.Options{Label: name}))
	}
	for _, over := range [...]tolerance.Motion{tolerance.OverDistance, tolerance.OverTilt} {
		if s, err := tolerance.MarginSweep(r, over, 11); err == nil {
			try(plots.Margin(s, plots.Options{Label: name}))
		}
	}
}

// TestNotWorking draws a result in which the tracker does not work.
func TestNotWorking(t *testing.T) {
	r := sample(t)
	job := r.Job
	job.Device.Tracker.FarMM = 520
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	for i := range r.Postures {
		f := &r.Postures[i]
		f.Margins = judge.Margins(nil, r.Screen, &f.InCarrier)
		f.Least = gaze.Least(f.Margins)
	}
	f, err := plots.Region(r, plots.Side, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(written(t, f), "upright does not work: ") || !strings.Contains(written(t, f), "too far") {
		t.Errorf("the description does not say so: %q", written(t, f))
	}
}
