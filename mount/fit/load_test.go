package fit_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/tube"
)

// stretched returns settings with the arm all out, level and square to the post's
// bend.
func stretched(t *testing.T, job *fit.Job) mount.Settings {
	t.Helper()
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[0])
	if err != nil {
		t.Fatal(err)
	}
	s := chain.Preferred()
	for i, j := range chain.Moving() {
		if j.Name == "arm.extension" {
			s[i] = j.High
		}
	}
	return s
}

func checked(t *testing.T, job *fit.Job, s mount.Settings) *fit.Result {
	t.Helper()
	r, err := fit.Check(t.Context(), job, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// advised returns a result with what would help.
func advised(t *testing.T, r *fit.Result) *fit.Result {
	t.Helper()
	r, err := fit.Advise(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestHeavyDeviceSlips: on a long arm a heavy device turns the hinge that carries
// the arm, which is told with its moment: weight times lever.
func TestHeavyDeviceSlips(t *testing.T) {
	const kg, holds = 2.8, 9.0
	job := gripped(kg, holds)
	r := checked(t, job, stretched(t, job))
	if r.Works || r.Load.Weakest < 0 || r.Load.Joints[r.Load.Weakest].Name != "elbow.elevation" {
		t.Fatalf("works %v, weakest %+v of %+v", r.Works, r.Load.Weakest, r.Load.Joints)
	}
	if why := ofStrength(r); len(why) != 1 || why[0].Kind != fit.JointSlips || why[0].Part != "elbow.elevation" || why[0].At != r.Load.Weakest {
		t.Fatalf("reasons of strength %+v", why)
	}
	// the device's part: its weight times the level lever from the hinge
	empty := gripped(1e-9, holds)
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	own := checked(t, empty, r.Set.Settings).Load.Joints[r.Load.Weakest]
	at := frames[own.Joint]
	housing := frames[len(frames)-1].Apply(r3.Vec{Z: -job.Device.Screen.HousingMM.Z / 2})
	lever := r3.Dot(r3.Cross(r3.Sub(housing, at.At), r3.Vec{Z: -kg * 9.80665 / 1000}), at.Rot.Apply(r.Set.Chain.Joints[own.Joint].Axis))
	const toleranceNM = 1e-6
	if got := r.Load.Joints[r.Load.Weakest].Load - own.Load; math.Abs(got-math.Abs(lever)) > toleranceNM {
		t.Errorf("the device turns the hinge by %v N m, want %v", got, lever)
	}
}

// TestRemediesHold tries what a problem's help names, and a little less of it.
func TestRemediesHold(t *testing.T) {
	const kg, holds = 2.8, 9.0
	job := gripped(kg, holds)
	job.Demand = fit.Demand{ShockFactor: 1.5}
	r := advised(t, checked(t, job, stretched(t, job)))
	fails := func(job *fit.Job, s mount.Settings) bool {
		return slices.ContainsFunc(checked(t, job, s).Reasons, func(why fit.Reason) bool {
			return why.Kind == fit.JointSlips && why.Part == "elbow.elevation"
		})
	}
	why := ofStrength(r)[0]
	remedy := func(kind fit.RemedyKind, joint string) float64 {
		for _, m := range why.Remedies {
			if m.Kind == kind && m.Joint.Name == joint {
				return m.To
			}
		}
		t.Fatalf("%+v lacks a remedy of kind %d", why.Remedies, kind)
		return 0
	}
	lighter := remedy(fit.LighterDevice, "")
	reach := remedy(fit.SlideFurther, "arm.extension")
	firmer := remedy(fit.MoreSlipLoad, "elbow.elevation")
	for _, tt := range []struct {
		name           string
		kg, holds, arm float64
		fails          bool
	}{
		{"as it is", kg, holds, 400, true},
		{"a lighter device", lighter, holds, 400, false},
		{"one not light enough", lighter + 0.051, holds, 400, true},
		{"a shorter arm", kg, holds, reach, false},
		{"one not short enough", kg, holds, reach + 5.01, true},
		{"a firmer joint", kg, firmer, 400, false},
		{"one not firm enough", kg, firmer - 0.11, 400, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := gripped(tt.kg, tt.holds)
			job.Demand = fit.Demand{ShockFactor: 1.5}
			s := stretched(t, job)
			for i, j := range r.Set.Chain.Moving() {
				if j.Name == "arm.extension" {
					s[i] = tt.arm
				}
			}
			if got := fails(job, s); got != tt.fails {
				t.Errorf("fails %v, want %v", got, tt.fails)
			}
		})
	}
}

func ExampleLoad() {
	job := gripped(2.8, 5)
	r, err := fit.Solve(context.Background(), job)
	if err != nil {
		fmt.Println(err)
		return
	}
	weakest := r.Load.Joints[r.Load.Weakest]
	fmt.Printf("%s slips first: %.1f of %.1f N m\n", weakest.Name, weakest.Load, weakest.SlipLoad)
	for _, tube := range r.Load.Tubes {
		fmt.Printf("%s: %.0f of %.0f N/mm²\n", tube.Part, tube.MPa, tube.YieldMPa)
	}
	if r, err = fit.Advise(context.Background(), r); err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range r.Reasons[0].Remedies {
		fmt.Printf("remedy %d: %.2f instead of %.2f\n", m.Kind, m.To, m.From)
	}
	// Output:
	// elbow.elevation slips first: 5.1 of 5.0 N m
	// post: 19 of 276 N/mm²
	// arm: 4 of 276 N/mm²
	// remedy 0: 2.70 instead of 2.80
	// remedy 1: 135.00 instead of 140.00
	// remedy 4: 5.10 instead of 5.00
}

// TestRatedTubesHold: an arm too weak for its load bears it where its yield stands for the
// moment that the remedy asks for, and not where for a little less.
func TestRatedTubesHold(t *testing.T) {
	job := func(yieldMPa float64) *fit.Job {
		job := adult()
		arm := job.Mount.Kit.Parts[3].(mount.Tube)
		arm.Section.OutsideMM, arm.Section.WallMM, arm.Section.Material.YieldMPa = 12, 1, yieldMPa
		job.Mount.Kit.Parts[3] = arm
		job.Device.Screen.MassKG = 2.5
		job.Demand = fit.Demand{ShockFactor: 2, SafetyFactor: 1.5}
		return job
	}
	at := func(yieldMPa float64) *fit.Result {
		return advised(t, checked(t, job(yieldMPa), stretched(t, job(yieldMPa))))
	}
	weak := at(276)
	why := tooWeak(weak, "arm")
	rated := remedyTo(why, fit.TubeRatedFor)
	if rated == 0 {
		t.Fatalf("%+v asks for no rating", why)
	}
	load := weak.Load.Tubes[why.At]
	perNM := load.MPa / load.MomentNM // of the tube as it is
	if why := tooWeak(at(rated*perNM), "arm"); why != nil {
		t.Errorf("a tube that bears %v N·m is too weak as well: %+v", rated, why)
	}
	const step = 0.1001
	if tooWeak(at((rated-step)*perNM), "arm") == nil {
		t.Errorf("a tube that bears less than %v N·m would do", rated)
	}
}

// TestRatedPartsHold: a plate with the rating that the remedy asks for carries its device,
// and one with a tenth of a kilogram less does not.
func TestRatedPartsHold(t *testing.T) {
	overloaded := func(ratedKG float64) *fit.Reason {
		job := adult()
		job.Device.Screen.MassKG = 1.234
		last := len(job.Mount.Kit.Parts) - 1
		plate := job.Mount.Kit.Parts[last].(mount.Plate)
		plate.RatedKG = ratedKG
		job.Mount.Kit.Parts[last] = plate
		all := ofStrength(advised(t, checked(t, job, stretched(t, job))))
		if len(all) == 0 {
			return nil
		}
		return &all[0]
	}
	why := overloaded(0.9)
	rated := remedyTo(why, fit.PartRatedFor)
	if rated == 0 {
		t.Fatalf("%+v asks for no rating", why)
	}
	if why := overloaded(rated); why != nil {
		t.Errorf("a plate rated for %v kg is overloaded as well: %+v", rated, why)
	}
	if overloaded(rated-0.1) == nil {
		t.Errorf("a plate rated for less than %v kg would do", rated)
	}
}

// ofStrength returns the reasons of a result that are about what the mount can bear.
func ofStrength(r *fit.Result) []fit.Reason {
	return slices.DeleteFunc(slices.Clone(r.Reasons), func(why fit.Reason) bool { return !why.OfStrength() })
}

// tooWeak returns why the tube of a part is too weak; nil when it is not.
func tooWeak(r *fit.Result, part string) *fit.Reason {
	for i := range r.Reasons {
		if why := &r.Reasons[i]; why.Kind == fit.TubeYields && why.Part == part {
			return why
		}
	}
	return nil
}

// remedyTo returns what the remedy of a kind asks for; 0 when there is none.
func remedyTo(why *fit.Reason, kind fit.RemedyKind) float64 {
	if why == nil {
		return 0
	}
	for _, m := range why.Remedies {
		if m.Kind == kind {
			return m.To
		}
	}
	return 0
}

// TestDoubledDeviceDoublesItsSag: sag is linear in the masses.
func TestDoubledDeviceDoublesItsSag(t *testing.T) {
	sag := func(kg float64) r3.Vec {
		job := gripped(kg, 0)
		return checked(t, job, stretched(t, job)).Postures[0].Sag.ShiftMM
	}
	const toleranceMM = 1e-9
	none, one, two := sag(1e-12), sag(1), sag(2)
	if off := r3.Sub(r3.Sub(two, none), r3.Scale(2, r3.Sub(one, none))); r3.Norm(off) > toleranceMM || one.Z > -1 {
		t.Errorf("sag %v, %v and %v with 0, 1 and 2 kg", none, one, two)
	}
}

// TestStiffMountStandsWhereItIsSet: what does not sag is reported as the chain has it.
func TestStiffMountStandsWhereItIsSet(t *testing.T) {
	r := solve(t, stiff(tilted()))
	const toleranceMM = 1e-3 // what is left of the sag
	for _, f := range r.Postures {
		if off := r3.Norm(r3.Sub(f.Held.At, r.Screen.At)); off > toleranceMM || r3.Norm(f.Sag.Turn) > 1e-5 {
			t.Errorf("%s: off by %v mm, sag %v", f.Posture.Name, off, f.Sag)
		}
	}
}

// TestAimsHigh: before rounding, the sagged screen is on the target, and with a
// mount that sags more it is set so much higher.
func TestAimsHigh(t *testing.T) {
	// what reaching a target leaves open, see mount.Options
	const reachedMM, reached = 0.15, 0.02 * degree
	for name, job := range map[string]*fit.Job{"adult": adult(), "gripped": gripped(2.9, 0)} {
		r := solve(t, job)
		exact := &fit.Result{Job: r.Job, Set: &fit.Set{Chain: r.Set.Chain}}
		st := r.Postures[0].InCarrier
		held := fittest.Sagging(exact)(r.Set.Exact, &st)
		off := r.Target.Pose.Inverse().Mul(held)
		if r3.Norm(off.At) > reachedMM || off.Rot.Angle().Radians() > reached {
			t.Errorf("%s: off the target by %v mm and %v", name, r3.Norm(off.At), off.Rot.Angle())
		}
		if f := &r.Postures[0]; r3.Norm(r3.Sub(f.Held.At, held.At)) > roundedMM || r.Set.OffMM > roundedMM {
			t.Errorf("%s: %v mm off when rounded", name, r.Set.OffMM)
		}
		// to one posture, the target is where a mount without sag would have it
		const sameTargetMM = 0.05 // a thousandth of a mm of score leaves so much open
		rigid := solve(t, stiff(job))
		if d := r3.Norm(r3.Sub(rigid.Target.Pose.At, r.Target.Pose.At)); d > sameTargetMM {
			t.Errorf("%s: target moved by %v mm", name, d)
		}
	}
}

// TestTooSoft: a mount whose joints give so much that the screen turns by more than a
// small angle does not work, and a device as light as the remedy names holds.
func TestTooSoft(t *testing.T) {
	job := gripped(2, 0)
	elbow := job.Mount.Kit.Parts[2].(mount.Elbow)
	elbow.Elevation.Stiffness.Compliance = 2 * degree
	job.Mount.Kit.Parts[2] = elbow
	r := advised(t, checked(t, job, stretched(t, job)))
	all := ofStrength(r)
	if r.Works || len(all) != 1 {
		t.Fatalf("works %v, reasons of strength %+v", r.Works, all)
	}
	why := &all[0]
	if why.Kind != fit.TooSoft || why.Is != r.Load.Turn.Radians() || r.Load.Turn <= tube.SmallTurn || why.Is != r3.Norm(r.Postures[0].Sag.Turn) {
		t.Errorf("%+v, want too soft by %v", why, r.Load.Turn)
	}
	kg := remedyTo(why, fit.LighterDevice)
	if kg == 0 {
		t.Fatalf("%+v names no lighter device", why.Remedies)
	}
	for _, tt := range []struct {
		kg   float64
		soft bool
	}{{kg, false}, {kg + 0.051, true}} {
		job.Device.Screen.MassKG = tt.kg
		if got := len(ofStrength(checked(t, job, r.Set.Settings))) > 0; got != tt.soft {
			t.Errorf("with %v kg too soft: %v", tt.kg, got)
		}
	}
}

// TestLighterDeviceDespiteRounding: what rounding leaves of the plate's mass beside the
// device's is no plate.
func TestLighterDeviceDespiteRounding(t *testing.T) {
	const kg, holds = 2.8, 9.0
	job := gripped(kg, holds)
	plate := job.Mount.Kit.Parts[5].(mount.Plate)
	plate.MassKG, plate.CenterMM = math.Nextafter(kg, 3), r3.Vec{X: 10}
	job.Mount.Kit.Parts[5] = plate
	reasons := ofStrength(advised(t, checked(t, job, stretched(t, job))))
	if len(reasons) == 0 || remedyTo(&reasons[0], fit.LighterDevice) == 0 {
		t.Errorf("%+v, want a lighter device among the remedies", reasons)
	}
}
