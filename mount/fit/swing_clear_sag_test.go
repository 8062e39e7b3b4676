package fit_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// softArm returns the arm job with an arm that bends far under the device.
func softArm() *fit.Job {
	job := armJob()
	arm := job.Mount.Kit.Parts[3].(mount.Tube)
	arm.Section.Material.YoungMPa /= 20
	arm.Section.Material.ShearMPa /= 20
	job.Mount.Kit.Parts[3] = arm
	return job
}

// TestAsideSags: a result swings the housing aside where the load has brought it, which
// is into a post that the unloaded housing would pass over, and nearer to one beneath.
func TestAsideSags(t *testing.T) {
	job := softArm()
	free := checked(t, job, armSettings(0))
	held, bare := free.Postures[0].Held, free.Screen
	const sagMM = 10.0
	sag := bare.At.Z - held.At.Z
	if !(sag > sagMM) {
		t.Fatalf("sags by %.1f mm: the test tries too little", sag)
	}
	middle, half := job.Device.Screen.Housing()
	housing := space.Shape{Pose: frame.Translate(middle), HalfMM: half}
	// The arm swings about x = 400, y = 300. Both posts end beneath the unloaded housing: one
	// by less than the sag, the other by more.
	bottom := r3.Vec{X: middle.X, Y: middle.Y - half.Y, Z: middle.Z}
	low, lowest := held.Apply(bottom).Z, -housing.Moved(held).Farthest(r3.Vec{Z: -1})
	post := func(name string, angle frame.Angle, top float64) fit.KeepClear {
		sin, cos := math.Sincos(angle.Radians())
		at := r3.Vec{X: 400 + 400*cos, Y: 300 + 400*sin, Z: top - 10}
		return fit.KeepClear{Name: name, Shape: ball(t, at, 10)}
	}
	job.KeepClear = []fit.KeepClear{post("post in the way", 120*frame.Degree, low+sagMM/2), post("post beneath", 5*frame.Degree, lowest-4)}
	r := checked(t, job, armSettings(0))
	a := r.SwingClear
	if a == nil || a.Name != "elbow.pan" || !a.Low.Limit {
		t.Fatalf("aside %+v, want free to the joint's end on the right", a)
	}
	gap := func(screen frame.Pose, keep int, at float64) float64 {
		turned := frame.RotateAround(r3.Vec{X: 400, Y: 300}, frame.Angle(at), r3.Vec{Z: 1}).Mul(screen)
		return space.Between(housing.Moved(turned), job.KeepClear[keep].Shape).MM
	}
	if a.High.Limit || a.High.Part != "housing" || a.High.Zone != "post in the way" {
		t.Errorf("on the left it ends at %+v, want the housing at the post", a.High)
	}
	if mm := gap(held, 0, a.High.At); !(mm > 0 && mm <= space.FineMM) {
		t.Errorf("at the end on the left the sagged housing is %v mm from the post", mm)
	}
	least, loose := math.Inf(1), math.Inf(1)
	for at := a.Low.At; at <= a.High.At; at += 0.1 * degree {
		if at >= a.InUse && at <= a.Parked {
			least, loose = min(least, gap(held, 1, at)), min(loose, gap(bare, 1, at))
		}
		if gap(bare, 0, at) <= 0 {
			t.Fatal("the unloaded housing touches the post as well: the test tries too little")
		}
	}
	if !(loose > least+sagMM/2) {
		t.Fatalf("gap to the post beneath %v mm sagged, %v mm unloaded: the test tries too little", least, loose)
	}
	if a.Way.Zone != "post beneath" || math.Abs(a.Way.MM-least) > space.LeastMM {
		t.Errorf("least gap on the way to %v° %+v, want %v mm to the post beneath", a.Parked/degree, a.Way, least)
	}
}
