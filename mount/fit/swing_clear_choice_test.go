package fit_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

func TestAsideProblems(t *testing.T) {
	chair := fit.Passage{WidthMM: 660, BehindMM: 300, AheadMM: 915}
	// A bar beside the arm on the left, and one on the right.
	bars := func(t *testing.T, angles ...float64) (all []fit.KeepClear) {
		t.Helper()
		for i, a := range angles {
			sin, cos := math.Sincos(a * degree)
			all = append(all, fit.KeepClear{Name: "bar " + strconv.Itoa(i), Shape: ball(t, r3.Vec{X: 400 + 200*cos, Y: 300 + 200*sin, Z: 980}, 20)})
		}
		return all
	}
	for _, tt := range []struct {
		name  string
		pan   float64
		setup func(*testing.T, *fit.Job)
		want  []fit.SwingProblem
	}{
		{"all is well", -60, func(_ *testing.T, j *fit.Job) { j.Passage = chair }, nil},
		{"doorway", -60, func(_ *testing.T, j *fit.Job) {
			j.Passage = chair
			j.Passage.DoorMM = 650
		}, []fit.SwingProblem{fit.DoorInUse, fit.DoorParked}},
		{"doorway wide enough in use", -60, func(_ *testing.T, j *fit.Job) {
			j.Passage = chair
			j.Passage.DoorMM, j.Passage.FloorWidthMM, j.Passage.FloorLengthMM = 815, 760, 1220
		}, nil},
		{"floor too short", -60, func(_ *testing.T, j *fit.Job) {
			j.Passage = chair
			j.Passage.FloorWidthMM, j.Passage.FloorLengthMM = 2000, 1200
		}, []fit.SwingProblem{fit.FloorInUse, fit.FloorParked}},
		{"floor too narrow, of any length", -60, func(_ *testing.T, j *fit.Job) {
			j.Passage = chair
			j.Passage.FloorWidthMM = 600
		}, []fit.SwingProblem{fit.FloorInUse, fit.FloorParked}},
		{"floor too short, of any width", -60, func(_ *testing.T, j *fit.Job) {
			j.Passage = chair
			j.Passage.FloorLengthMM = 1200
		}, []fit.SwingProblem{fit.FloorInUse, fit.FloorParked}},
		{"hardly free", -60, func(t *testing.T, j *fit.Job) {
			t.Helper()
			j.KeepClear = bars(t, -30, -95)
		}, []fit.SwingProblem{fit.StaysInTransfer}},
		{"not free", -60, func(t *testing.T, j *fit.Job) {
			t.Helper()
			j.KeepClear = bars(t, -62)
		}, []fit.SwingProblem{fit.CannotSwing}},
		{"not free, and too wide", -60, func(t *testing.T, j *fit.Job) {
			t.Helper()
			j.KeepClear, j.Passage = bars(t, -62), chair
			j.Passage.DoorMM = 650
		}, []fit.SwingProblem{fit.DoorInUse, fit.CannotSwing}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			job := armJob()
			tt.setup(t, job)
			a, _ := asideOf(t, job, armSettings(tt.pan))
			if !slices.Equal(a.Problems, tt.want) {
				t.Errorf("problems %v, want %v", a.Problems, tt.want)
			}
		})
	}
}

// TestAsideOfABed: no way leads ahead out of a bed; the mount rests as far from the face
// as it goes.
func TestAsideOfABed(t *testing.T) {
	job := armJob()
	job.Passage.Bed = true
	a, r := asideOf(t, job, armSettings(-60))
	if a.TransferHalfWidthMM != 0 || a.TransferHalfWidthRequiredMM != 0 || len(a.Problems) > 0 {
		t.Errorf("way out free for %v of %v mm, problems %v; want none of either", a.TransferHalfWidthMM, a.TransferHalfWidthRequiredMM, a.Problems)
	}
	face := func(at float64) float64 {
		housing, tubes := swung{job, r.Set, a}.placed(t, at)
		least := math.Inf(1)
		for _, part := range append(tubes, housing) {
			least = min(least, space.FromPoint(r.Postures[0].InCarrier.Head.At, part).MM)
		}
		return least
	}
	const roundedMM = 1 // places as far to the mm count as alike
	best := face(a.Parked)
	for v := a.Low.At; v <= a.High.At; v += 5 * degree {
		if mm := face(r.Set.Chain.Moving()[a.Joint].Round(v)); mm > best+roundedMM {
			t.Fatalf("rests %.0f mm from the face at %.0f°, could %.0f mm at %.0f°", best, a.Parked/degree, mm, v/degree)
		}
	}
}

func TestAsideChoosesItsJoint(t *testing.T) {
	solved := func(change func(*fit.Job)) (*fit.SwingClear, error) {
		job := adult()
		change(job)
		asked := job.Passage
		job.Passage = fit.Passage{}
		r := solve(t, job)
		job.Passage = asked
		return fit.SwingClearOf(r)
	}
	for _, tt := range []struct {
		name   string
		change func(*fit.Job)
		want   string
	}{
		{"first upright turn", func(*fit.Job) {}, "post.swing"},
		{"by name", func(j *fit.Job) { j.Passage.About = "elbow.pan" }, "elbow.pan"},
		{"a slide by name", func(j *fit.Job) { j.Passage.About = "arm.extension" }, "arm.extension"},
		{"post does not turn", func(j *fit.Job) { set(j, 1, func(p *mount.Tube) { p.Turn = mount.Range{} }) }, "elbow.pan"},
		{"post turns too little", func(j *fit.Job) { set(j, 1, func(p *mount.Tube) { p.Turn = turn(-5, 5, 1) }) }, "elbow.pan"},
		{"post leans", func(j *fit.Job) { j.Mount.Mountings[0].Axes.Tilt = 30 * frame.Degree }, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, err := solved(tt.change)
			if err != nil {
				t.Fatal(err)
			}
			if name := nameOf(a); name != tt.want {
				t.Errorf("swings about %q, want %q", name, tt.want)
			}
		})
	}
	_, err := solved(func(j *fit.Job) { j.Passage.About = "elbow.pam" })
	if !errors.Is(err, fit.ErrJob) || !strings.Contains(err.Error(), `no joint "elbow.pam"; this mount has clamp.index, post.height, post.swing, elbow.pan`) {
		t.Errorf("an unknown joint gives %v", err)
	}
}

func nameOf(a *fit.SwingClear) string {
	if a == nil {
		return ""
	}
	return a.Name
}

// set changes a tube of a job's kit.
func set(j *fit.Job, part int, change func(*mount.Tube)) {
	p := j.Mount.Kit.Parts[part].(mount.Tube)
	change(&p)
	j.Mount.Kit.Parts[part] = p
}

func BenchmarkAside(b *testing.B) {
	job := adult()
	thigh, err := space.Capsule(r3.Vec{X: 100, Y: 110, Z: 560}, r3.Vec{X: 560, Y: 130, Z: 580}, 80)
	if err != nil {
		b.Fatal(err)
	}
	for k := range 8 {
		shape := thigh.Moved(frame.Translate(r3.Vec{X: -60 * float64(k%3), Y: -70 * float64(k), Z: -10 * float64(k)}))
		job.KeepClear = append(job.KeepClear, fit.KeepClear{Name: fmt.Sprint("thing ", k), Shape: shape, RequiredMM: 20})
	}
	r, err := fit.Solve(b.Context(), job)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := fit.SwingClearOf(r); err != nil {
			b.Fatal(err)
		}
	}
}
