package plots_test

import (
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/tube"
	"sightpost/plots"
)

// sampleLoad returns the sample with what an invented device of 2 kg does to its
// mount, and what the joints are invented to hold: the rise of the elbow too little.
func sampleLoad(t testing.TB, r *fit.Result) *fit.Result {
	t.Helper()
	chain := r.Set.Chain
	chain.Masses = append(slices.Clone(chain.Masses), mount.Mass{Part: "device", Carrier: len(chain.Joints), KG: 2})
	chain.Rated = slices.Clone(chain.Rated)
	chain.Rated[0].KG, chain.Rated[2].KG = 3.5, 3
	m, err := tube.NewModel(chain)
	if err != nil {
		t.Fatal(err)
	}
	down := r3.Vec{Z: -9.80665}
	var l tube.Load
	if err := m.At(&l, r.Set.Settings, down); err != nil {
		t.Fatal(err)
	}
	lines, err := m.Lines(nil, r.Set.Settings, down, 0)
	if err != nil {
		t.Fatal(err)
	}
	load := &fit.Load{Lines: lines, Parts: l.Parts, Weakest: -1}
	holds := map[string]float64{"post.height": 300, "post.swing": 20, "elbow.pan": 12, "elbow.elevation": 6, "joint.tilt": 4}
	for _, j := range l.Joints {
		name := chain.Joints[j.Joint].Name
		j.SlipLoad = holds[name]
		if name == "elbow.elevation" {
			load.Weakest = len(load.Joints)
		}
		load.Joints = append(load.Joints, fit.JointLoad{JointLoad: j, Name: name, Posture: 1})
	}
	for _, s := range l.Tubes {
		load.Tubes = append(load.Tubes, fit.TubeLoad{Stress: s})
	}
	with := *r
	with.Load = load
	return &with
}

// TestLoadsInWords reads the numbers of the description.
func TestLoadsInWords(t *testing.T) {
	r := sample(t)
	f, err := plots.Loads(sampleLoad(t, r), plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"moves by (mm)", "moment (N·m)", "along the tubes from the clamp outward (mm)",
		"joints: load of slip torque or force; post height; ", "% of 300 N", "% of 6 N·m", "weakest joint",
		"joint pan; limit not known", "% of 240 MPa", "parts: mass carried of rated mass; clamp; ", "% of 3.5 kg",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("the description has no %q: %s", want, written(t, f))
		}
	}
}

// TestLoadsCounted: rough ground and safety are in the numbers that are beside the
// bars.
func TestLoadsCounted(t *testing.T) {
	r := sample(t)
	job := r.Job
	with := sampleLoad(t, r)
	job.Demand = fit.Demand{ShockFactor: 2, SafetyFactor: 1.5}
	with.Load.Joints[0].Load, with.Load.Joints[0].SlipLoad = 60, 400
	with.Load.Tubes[0].MPa, with.Load.Tubes[0].YieldMPa = 100, 240
	with.Load.Parts[0].KG, with.Load.Parts[0].RatedKG = 3.555, 3.5
	f, err := plots.Loads(with, plots.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"joints: load of slip torque or force, × 2 shock factor; post height; 30% of 400 N;",
		"tubes: stress of yield, × 2 shock factor, × 1.5 safety factor; post; 125% of 240 MPa;",
		"parts: mass carried of rated mass; clamp; 102% of 3.5 kg", "slips, yields or is overloaded",
	} {
		if !strings.Contains(written(t, f), want) {
			t.Errorf("the description has no %q: %s", want, written(t, f))
		}
	}
}

// TestLoadsErrors spoils the load in one way each.
func TestLoadsErrors(t *testing.T) {
	r := sample(t)
	for _, tt := range []struct {
		name  string
		spoil func(r *fit.Result)
		want  string
	}{
		{"no load", func(r *fit.Result) { r.Load = nil }, "no mount"},
		{"no mount", func(r *fit.Result) { r.Set = nil }, "no mount"},
		{"no lines", func(r *fit.Result) { r.Load.Lines = nil }, "no mount"},
		{"sag not a number", func(r *fit.Result) { r.Load.Lines[3].Sag.ShiftMM.Z = math.NaN() }, "moves by (mm) from 0 to NaN: not finite"},
		{"moment endless", func(r *fit.Result) { r.Load.Lines[3].MomentNM = math.Inf(1) }, "not finite"},
		{"out of order", func(r *fit.Result) { slices.Reverse(r.Load.Lines) }, "without width"},
		{"no length", func(r *fit.Result) { r.Load.Lines = slices.Repeat(r.Load.Lines[:1], 3) }, "without width"},
		{"stress not a number", func(r *fit.Result) { r.Load.Tubes[0].MPa = math.NaN() }, "post: a load is negative"},
		{"holds less than nothing", func(r *fit.Result) { r.Load.Joints[1].SlipLoad = -1 }, "post swing: a load is negative"},
		{"mass endless", func(r *fit.Result) { r.Load.Parts[0].KG = math.Inf(1) }, "clamp: a load is negative"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			bad := sampleLoad(t, r)
			tt.spoil(bad)
			_, err := plots.Loads(bad, plots.Options{})
			wantFigureError(t, err, tt.want)
		})
	}
	_, err := plots.Loads(nil, plots.Options{})
	wantFigureError(t, err, "no mount")
	without := sampleLoad(t, r)
	without.Job = nil
	_, err = plots.Loads(without, plots.Options{})
	wantFigureError(t, err, "no mount")
}

// A load far beyond what is held, joints that are not in the chain, postures that are
// not in the job and long names are drawn all the same.
func TestLoadsOdd(t *testing.T) {
	r := sample(t)
	job := r.Job
	odd := sampleLoad(t, r)
	odd.Load.Joints[0].Load = 1e5
	odd.Load.Joints[1].Joint, odd.Load.Joints[1].Posture = 99, -3
	odd.Load.Parts[0].Part = strings.Repeat("long_name ", 12)
	odd.Load.Posture = 7
	job.Postures = job.Postures[:1]
	f, err := plots.Loads(odd, plots.Options{Label: strings.Repeat("w", 200)})
	if err != nil {
		t.Fatal(err)
	}
	for format, write := range writers() {
		if err := write(io.Discard, f); err != nil {
			t.Errorf("%s: %v", format, err)
		}
	}
}
