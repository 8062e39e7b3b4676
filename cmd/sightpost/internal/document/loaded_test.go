package document_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
	"sightpost/mount/tube"
	"sightpost/plots/units"
)

// loaded returns a report that tells all there is to tell: made-up loads, a swing, a
// driver with glasses and a grid of targets that is too small.
func loaded(t *testing.T) *document.Report {
	t.Helper()
	c := sample()
	c.Job.Demand = fit.Demand{ShockFactor: 1.5, SafetyFactor: 2}
	c.Job.Passage = fit.Passage{WidthMM: 640, BehindMM: 250, AheadMM: 800, DoorMM: 815, FloorWidthMM: 760, FloorLengthMM: 1220}
	c.Job.Grid = &gaze.Grid{Rows: 6, Columns: 8, GapMM: 5}
	c.Job.Drives = true
	c.Job.Scene.Person.Glasses = &gaze.Glasses{LensSlant: 8 * frame.Degree}
	c.Job.Device.Tracker.Accuracy, c.Job.Device.Tracker.Precision = 1*frame.Degree, 0.5*frame.Degree
	c.Job.KeepClear = append(c.Job.KeepClear, fit.KeepClear{Name: "trunk", By: gaze.Seat, Shape: space.Shape{Pose: frame.Translate(r3.Vec{X: 50, Z: 800}), HalfMM: r3.Vec{X: 100, Y: 160, Z: 250}}, RequiredMM: 20, Assumed: true})
	r := check(t, c, asSet())
	r.Set.Exact, r.Set.Reached, r.Set.OffMM, r.Set.Off = asSet(), true, 2.5, 0.4*frame.Degree
	r.Target = gaze.Target{Pose: r.Screen, Aim: r.Postures[0].Aim, Score: 80, MarginMM: 97, Limiting: r.Postures[0].Limiting()}
	for i := range r.Postures {
		f := &r.Postures[i]
		bare := f.InCarrier.Carrier.Mul(r.Screen)
		f.Sag = tube.Sag{ShiftMM: r3.Vec{X: 0.4, Y: -0.2, Z: -3.2}, Turn: r3.Vec{X: 0.002, Y: -0.007, Z: 0.0001}}
		f.Screen = f.Sag.Pose(bare.At).Mul(bare)
	}
	r.Load, r.SwingClear = madeLoad(r), madeAside()
	return reported(t, document.Solve, c, r)
}

func madeLoad(r *fit.Result) *fit.Load {
	load := &fit.Load{
		Tubes: []fit.TubeLoad{
			{Stress: tube.Stress{Part: "post", AtMM: 40, MPa: 31.25, YieldMPa: 276, MomentNM: 24}, Posture: 0},
			{Stress: tube.Stress{Part: "arm", AtMM: 0, MPa: 18, YieldMPa: 276, MomentNM: 9}, Posture: 1},
		},
		Parts:   []tube.Carry{{Part: "elbow", KG: 3.1, RatedKG: 6}, {Part: "joint", KG: 1.9, RatedKG: 2.5}},
		Weakest: 4,
	}
	place := 0
	for i, j := range r.Set.Chain.Joints {
		if j.Motion.String() == "fixed" {
			continue
		}
		hold := fit.JointLoad{JointLoad: tube.JointLoad{Joint: i, Load: 1.5 * float64(place)}, Name: j.Name}
		if j.Name == "elbow.elevation" {
			hold.Load, hold.SlipLoad, load.Weakest = 12.3, 20, place
		}
		load.Joints = append(load.Joints, hold)
		place++
	}
	return load
}

func madeAside() *fit.SwingClear {
	d := frame.Degree.Radians()
	return &fit.SwingClear{
		Joint: 2, Name: "post.swing", InUse: -16 * d, Parked: -118 * d, TransferHalfWidthMM: 250, TransferHalfWidthRequiredMM: fit.TransferHalfWidthMM,
		Low: fit.SwingEnd{At: -180 * d, Limit: true}, High: fit.SwingEnd{At: 21.5 * d, Part: "housing", Zone: "trunk"},
		Way:          fit.SwingClearance{Clearance: space.Clearance{MM: 34.2}, At: -61 * d, Part: "arm", Zone: "knees"},
		Used:         fit.Extent{BehindMM: 250, AheadMM: 830, LeftMM: 500, RightMM: 320},
		ParkedExtent: fit.Extent{BehindMM: 250, AheadMM: 800, LeftMM: 520, RightMM: 320},
		Problems:     []fit.SwingProblem{fit.DoorInUse, fit.DoorParked, fit.FloorInUse, fit.FloorParked},
	}
}

// slips returns a report on a mount with a joint that does not hold the device, and
// whose swing has no room.
func slips(t *testing.T) *document.Report {
	t.Helper()
	c := sample()
	c.Job.Demand = fit.Demand{ShockFactor: 1.5, SafetyFactor: 2}
	r := check(t, c, asSet())
	r.Set.Exact, r.Set.Reached = asSet(), true
	r.Target = goodTarget(r)
	r.Load = madeLoad(r)
	weak := &r.Load.Joints[r.Load.Weakest]
	weak.SlipLoad = 15
	moving := r.Set.Chain.Moving()
	arm := moving[slices.IndexFunc(moving, func(j mount.Joint) bool { return strings.HasSuffix(j.Name, ".extension") })]
	r.Works, r.Reasons = false, []fit.Reason{{
		Kind: fit.JointSlips, At: r.Load.Weakest, Part: weak.Name, Is: weak.Load, Limit: weak.SlipLoad,
		Remedies: []fit.Remedy{{Kind: fit.SlideFurther, Joint: arm, From: 400, To: 310}},
	}}
	return reported(t, document.Solve, c, r)
}

// rounding is how far a product of a few numbers near 1 may be off.
const rounding = 1e-12

// TestStrength follows made-up loads to the words that a person acts on.
func TestStrength(t *testing.T) {
	holds, slipping := loaded(t), slips(t)
	if !holds.Works || slipping.Works {
		t.Fatalf("works %v and %v, want true and false", holds.Works, slipping.Works)
	}
	for _, row := range []struct {
		name      string
		rep       *document.Report
		wantUsed  float64 // 1.5 times 12.3 N m, of what it holds
		wantWords []string
	}{
		{"holds", holds, 1.5 * 12.3 / 20, nil},
		{"slips", slipping, 1.5 * 12.3 / 15, []string{
			"The elbow elevation joint slips (posture", "arm extension at most 310 mm, 90 mm shorter than now",
			"so that the elbow elevation joint carries less", "DO NOT HANG this device on the mount as set: the elbow elevation joint slips",
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			j := row.rep.Load.Weakest()
			if j == nil || j.Joint != "elbow.elevation" || !(math.Abs(*j.Used-row.wantUsed) < rounding) {
				t.Fatalf("weakest joint %+v, want elbow.elevation with %v used", j, row.wantUsed)
			}
			said := inWords(slices.Concat(row.rep.Reasons, row.rep.Remedies, row.rep.Warnings))
			for _, words := range row.wantWords {
				if strings.Count(said, words) != 1 {
					t.Errorf("%q is not said once in %q", words, said)
				}
			}
		})
	}
	if used := holds.Load.Tubes[0].Used; !(math.Abs(used-31.25*1.5*2/276) < rounding) {
		t.Errorf("%v of the post's yield is used, want stress times bump times safety", used)
	}
}

// TestYieldUnknown: a tube of which no yield is known is neither called strong nor judged by
// a yield of nothing.
func TestYieldUnknown(t *testing.T) {
	rep := loaded(t)
	rep.Mount.RatedKG = 3
	all := func() string {
		var words strings.Builder
		d := rep.Document()
		words.WriteString(d.Verdict.In(units.MM))
		for _, s := range d.Sections {
			for _, row := range s.Rows {
				words.WriteString(" " + strings.Join(row.In(units.MM), " "))
			}
		}
		return words.String()
	}
	const unjudged, tube = "Strength not checked", "tube post 31 MPa 276 MPa"
	if words := all(); strings.Contains(words, unjudged) || !strings.Contains(words, tube) {
		t.Fatalf("%q is said, or not %q, in %q", unjudged, tube, words)
	}
	rep.Load.Tubes[0].YieldMPa, rep.Load.Tubes[0].Used = 0, 0
	if words := all(); !strings.Contains(words, unjudged) || !strings.Contains(words, "tube post 31 MPa unknown") {
		t.Errorf("%q is not said, or a yield of the post, in %q", unjudged, words)
	}
}

// TestSlipUnknown: where the tubes were checked, nobody reads that their strength was not.
func TestSlipUnknown(t *testing.T) {
	rep := loaded(t)
	rep.Mount.RatedKG = 3
	rep.Load.WeakestJoint = ""
	const want = "Slip not checked: no slip torques."
	if got := rep.Document().Verdict.In(units.MM); !strings.HasSuffix(got, want) || strings.Contains(got, "Strength") {
		t.Errorf("%q does not end with %q alone", got, want)
	}
}

// TestChainWithoutLoad says that the product of the chain differs from the screen by
// the sag, and by nothing else.
func TestChainWithoutLoad(t *testing.T) {
	rep := loaded(t)
	p := &rep.Postures[0]
	bare := poseOf(p.ChairFromCarrier).Mul(product(t, rep.Mount.Chain))
	moved := r3.Sub(r3.Vec{X: p.Screen.Middle.ForwardMM, Y: p.Screen.Middle.LeftMM, Z: p.Screen.Middle.UpMM}, bare.At)
	want := r3.Vec{X: p.Sag.ForwardMM, Y: p.Sag.LeftMM, Z: -p.Sag.DropMM}
	if d := r3.Norm(r3.Sub(moved, want)); !(d < productMM) {
		t.Errorf("the middle moves by %v, reported %v", moved, want)
	}
	if p.Sag.PitchDeg <= 0 {
		t.Errorf("nod of %v° where the upper edge leans toward the viewer", p.Sag.PitchDeg)
	}
}
