package variation_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/variation"
	"sightpost/testdata/trials"
)

func under(t *testing.T, r *fit.Result, e map[int]float64) ([]float64, float64) {
	t.Helper()
	each, least, err := variation.MarginsUnder(r, e)
	if err != nil {
		t.Fatal(err)
	}
	return each, least
}

// TestErrorsAreWhatTheyAre makes a second job of what is true under some errors
// and checks it with the settings as they truly are: its margins must be those of
// the first job under the errors. The base carries the mount, so that the clamp's
// place is the same in chair axes and in its own.
func TestErrorsAreWhatTheyAre(t *testing.T) {
	for trial := range trials.Of(10, 100) {
		c := fittest.NewClinic(22, uint64(trial))
		job := stiff(c.Job())
		job.Scene.Carrier = gaze.Base
		job.Postures = job.Postures[:1]
		r := solve(t, job)
		e := map[int]float64{}
		for k := range 3 {
			e[variation.EyesForward+k], e[variation.ClampForward+k] = c.In(-20, 20), c.In(-20, 20)
			e[variation.HeadRotation+k] = c.In(-0.1, 0.1)
		}
		for _, k := range []int{variation.SeatTilt, variation.BackAngle} {
			e[k] = c.In(-0.1, 0.1)
		}
		e[variation.PupilSpacing], e[variation.NeckForward], e[variation.NeckUp] = c.In(-3, 3), c.In(-9, 9), c.In(-9, 9)
		s := slices.Clone(r.Set.Settings)
		for i := range s {
			s[i] += c.In(-0.02, 0.02)
			s[i] = r.Set.Chain.Moving()[i].Clamp(s[i])
			e[variation.MeasureCount+i] = s[i] - r.Set.Settings[i]
		}
		want, err := fit.Check(t.Context(), trulyBased(job, e), r.Set.Mounting, s)
		if err != nil {
			t.Fatal(err)
		}
		each, least := under(t, r, e)
		if math.Abs(each[0]-want.Postures[0].MarginMM) > sameMM || math.Abs(least-want.MarginMM()) > sameMM {
			t.Errorf("trial %d: margins %v and %v mm, by Check %v", trial, each, least, want.MarginMM())
		}
	}
}

// trulyBased returns the job as it is under errors, for a mount on the base and
// the measured posture alone.
func trulyBased(job *fit.Job, e map[int]float64) *fit.Job {
	vec := func(k int) r3.Vec { return r3.Vec{X: e[k], Y: e[k+1], Z: e[k+2]} }
	is := *job
	m := &is.Scene.Measured
	m.EyesMM = r3.Add(m.EyesMM, vec(variation.EyesForward))
	m.Head.Rotation += frame.Angle(e[variation.HeadRotation])
	m.Head.Flexion += frame.Angle(e[variation.HeadFlexion])
	m.Head.LateralFlexion += frame.Angle(e[variation.HeadLateralFlexion])
	m.SeatTilt += frame.Angle(e[variation.SeatTilt])
	m.BackAngle += frame.Angle(e[variation.BackAngle])
	is.Scene.Person.PupilSpacingMM += e[variation.PupilSpacing]
	neck := &is.Scene.Person.NeckToEyesMM
	*neck = r3.Add(*neck, r3.Vec{X: e[variation.NeckForward], Z: e[variation.NeckUp]})
	p := m.AsMeasured("measured")
	p.MustWork = true
	is.Postures = []gaze.Posture{p}
	place := *job.Mount
	place.Mountings = slices.Clone(job.Mount.Mountings)
	for i := range place.Mountings {
		place.Mountings[i].ClampMM = r3.Add(place.Mountings[i].ClampMM, vec(variation.ClampForward))
	}
	is.Mount = &place
	return &is
}

// TestMisreadTilt: a seat tilt that was misread at measuring costs nothing in the
// measured posture, since mount and eyes were measured from the same floor; a
// posture that was predicted is then off by as much; and a misread tilt of that posture
// is that of a job with the tilt as it is.
func TestMisreadTilt(t *testing.T) {
	const misread = 0.05 // radians
	job := stiff(tilted())
	job.Scene.Person.MovementMM = r3.Vec{} // its axes are those of the seat as it truly is
	job.Postures[1].BackAngle = job.Postures[0].BackAngle
	r := solve(t, job)
	each, _ := under(t, r, map[int]float64{variation.SeatTilt: misread})
	if math.Abs(each[0]-r.Postures[0].MarginMM) > sameMM {
		t.Errorf("measured posture: %v mm, with the tilt misread %v mm", r.Postures[0].MarginMM, each[0])
	}
	own, err := variation.OwnSlot(r, 1, variation.SeatTilt)
	if err != nil {
		t.Fatal(err)
	}
	if own == variation.SeatTilt {
		t.Fatal("another tilt counts as the same reading")
	}
	for name, carrier := range map[string]gaze.Carrier{"seat": gaze.Seat, "base": gaze.Base} {
		is := *job
		is.Scene.Carrier = carrier
		is.Postures = slices.Clone(job.Postures)
		r := solve(t, &is)
		each, _ := under(t, r, map[int]float64{own: misread})
		is.Postures[1].SeatTilt += misread
		want, err := fit.Check(t.Context(), &is, r.Set.Mounting, r.Set.Settings)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(each[1]-want.Postures[1].MarginMM) > sameMM {
			t.Errorf("%s: second posture's tilt off: %v mm, by Check %v", name, each[1], want.Postures[1].MarginMM)
		}
	}
}

// TestReadings: what counts as the same reading as in the measured sitting.
func TestReadings(t *testing.T) {
	job := adult()
	other := job.Postures[0]
	other.Name, other.SeatTilt = "tilted", 0.3
	seen := job.Postures[0]
	seen.Name, seen.EyesMM = "seen", &r3.Vec{X: 150, Z: 1170}
	slid := job.Postures[0]
	slid.Name, slid.SlumpMM = "slid", 20
	job.Postures = append(job.Postures, other, seen, slid)
	r := solve(t, job)
	const slump = 8
	for _, row := range []struct {
		name             string
		posture, reading int
		same             bool
	}{
		{"measured: tilt", 0, variation.SeatTilt, true},
		{"measured: back", 0, variation.BackAngle, true},
		{"measured: flexion", 0, variation.HeadFlexion, true},
		{"tilted: tilt", 1, variation.SeatTilt, false},
		{"tilted: back", 1, variation.BackAngle, true},
		{"seen: tilt", 2, variation.SeatTilt, true},
		{"seen: flexion", 2, variation.HeadFlexion, false},
		{"seen: eyes", 2, variation.EyesForward, false},
		{"slid: slump", 3, slump, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			slot, err := variation.OwnSlot(r, row.posture, row.reading)
			if err != nil {
				t.Fatal(err)
			}
			if (slot == row.reading) != row.same {
				t.Errorf("slot %d for reading %d; want the same reading: %v", slot, row.reading, row.same)
			}
		})
	}
	own, err := variation.OwnSlot(r, 2, variation.EyesForward)
	if err != nil {
		t.Fatal(err)
	}
	each, _ := under(t, r, map[int]float64{own + 2: 15})
	job.Postures[2].EyesMM = &r3.Vec{X: 150, Z: 1185}
	want, err := fit.Check(t.Context(), job, r.Set.Mounting, r.Set.Settings)
	if err != nil {
		t.Fatal(err)
	}
	for i := range each {
		if math.Abs(each[i]-want.Postures[i].MarginMM) > sameMM {
			t.Errorf("posture %d with the third's eyes higher: %v mm, by Check %v", i, each[i], want.Postures[i].MarginMM)
		}
	}
}

func TestSimulationsDoNotAllocate(t *testing.T) {
	job := tilted()
	seen := job.Postures[0]
	seen.EyesMM = &r3.Vec{X: 150, Z: 1170}
	job.Postures = append(job.Postures, seen)
	r := solve(t, job)
	draw, err := variation.DrawAllocations(r, variation.DefaultBudget(r))
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(100, draw); n != 0 {
		t.Errorf("a draw allocates %v times", n)
	}
}
