package fit_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// independentMargin computes the margin of a posture in another way than the
// package does: in chair axes, from projected coordinates for the tracker's view,
// from atan2 for the eyes, and by searching the arc for the gaze limit.
func independentMargin(job *fit.Job, f *fit.PostureResult) float64 {
	eyes := f.Eyes()
	each := [2]float64{}
	for i, eye := range eyes {
		e := independentEye{job: job, fare: f, eye: eye}
		each[i] = min(e.view(), e.gazeLimit(), e.reach())
	}
	switch job.Scene.Person.Eyes {
	case gaze.LeftOnly:
		return each[gaze.LeftEye]
	case gaze.RightOnly:
		return each[gaze.RightEye]
	case gaze.Either:
		return max(each[0], each[1])
	default:
		return min(each[0], each[1])
	}
}

type independentEye struct {
	job  *fit.Job
	fare *fit.PostureResult
	eye  r3.Vec // chair axes
}

// movement returns the reach of the usual movement along n (chair axes).
func (e *independentEye) movement(n r3.Vec) float64 {
	tilt := e.fare.Posture.SeatTilt.Radians()
	forward := r3.Vec{X: math.Cos(tilt), Z: math.Sin(tilt)}
	up := r3.Vec{X: -math.Sin(tilt), Z: math.Cos(tilt)}
	m := e.job.Scene.Person.MovementMM
	return math.Sqrt(sq(m.X*r3.Dot(forward, n)) + sq(m.Y*n.Y) + sq(m.Z*r3.Dot(up, n)))
}

func sq(v float64) float64 { return v * v }

func (e *independentEye) tracker() r3.Vec {
	t := e.job.Device.Tracker
	return e.fare.Screen.Apply(r3.Vec{Y: -t.BelowMM, Z: t.InFrontMM})
}

// view returns the least distance to a face of the tracker's view.
func (e *independentEye) view() float64 {
	t := e.job.Device.Tracker
	rot := e.fare.Screen.Rot
	s, c := math.Sin(t.AimedUp.Radians()), math.Cos(t.AimedUp.Radians())
	axis := r3.Add(r3.Scale(c, rot.Z), r3.Scale(s, rot.Y))
	up := r3.Sub(r3.Scale(c, rot.Y), r3.Scale(s, rot.Z))
	to := r3.Sub(e.eye, e.tracker())
	depth := r3.Dot(to, axis)
	least := min(depth-t.NearMM, t.FarMM-depth) - e.movement(axis)
	for _, side := range []struct {
		across r3.Vec
		half   frame.Angle
	}{{rot.X, t.Across / 2}, {up, t.UpDown / 2}} {
		cos, tan := math.Cos(side.half.Radians()), math.Tan(side.half.Radians())
		for _, sign := range []float64{1, -1} {
			outward := r3.Scale(sign, side.across)
			n := r3.Unit(r3.Sub(outward, r3.Scale(tan, axis)))
			room := (depth*tan - r3.Dot(to, outward)) * cos
			least = min(least, room-e.movement(n))
		}
	}
	return least
}

func (e *independentEye) corners() [4]r3.Vec {
	u := e.job.Device.Screen.Used
	return [4]r3.Vec{
		e.fare.Screen.Apply(r3.Vec{X: u.LeftMM, Y: u.BottomMM}), e.fare.Screen.Apply(r3.Vec{X: u.RightMM, Y: u.BottomMM}),
		e.fare.Screen.Apply(r3.Vec{X: u.LeftMM, Y: u.TopMM}), e.fare.Screen.Apply(r3.Vec{X: u.RightMM, Y: u.TopMM}),
	}
}

// gazeLimit returns the least distance from the places at which a corner and the
// tracker are seen just at the gaze limit, searched in the plane of the eye.
func (e *independentEye) gazeLimit() float64 {
	g := e.job.Device.Tracker.GazeLimit.Radians()
	least := math.Inf(1)
	for _, corner := range e.corners() {
		a, b := e.tracker(), corner
		u := r3.Unit(r3.Sub(b, a))
		chord := r3.Norm(r3.Sub(b, a))
		rel := r3.Sub(e.eye, a)
		along := r3.Dot(rel, u)
		side := r3.Sub(rel, r3.Scale(along, u))
		height := r3.Norm(side)
		side = r3.Unit(side)
		// by the law of sines, the ray that leaves a at angle t to the chord meets
		// the arc at the distance chord·sin(g+t)/sin g
		point := func(t float64) (x, y float64) {
			d := chord * math.Sin(g+t) / math.Sin(g)
			return d * math.Cos(t), d * math.Sin(t)
		}
		dist := func(t float64) float64 {
			x, y := point(t)
			return math.Hypot(x-along, y-height)
		}
		best := 0.0
		for i := range 400 {
			if t := (math.Pi - g) * float64(i) / 399; dist(t) < dist(best) {
				best = t
			}
		}
		for step := math.Pi / 400; step > 1e-13; step *= 0.6 {
			for _, t := range []float64{best - step, best + step} {
				if dist(t) < dist(best) {
					best = t
				}
			}
		}
		x, y := point(best)
		away := r3.Add(r3.Scale(along-x, u), r3.Scale(height-y, side))
		room := dist(best)
		if angleAt(e.eye, a, b) > g {
			room = -room
		}
		if r3.Norm(away) > 0 {
			room -= e.movement(r3.Unit(away))
		}
		least = min(least, room)
	}
	return least
}

func angleAt(at, a, b r3.Vec) float64 {
	p, q := r3.Unit(r3.Sub(a, at)), r3.Unit(r3.Sub(b, at))
	return 2 * math.Asin(min(1, r3.Norm(r3.Sub(p, q))/2))
}

// reach returns the least distance from a limit of the eyes, from the angle by
// which each corner is within it.
func (e *independentEye) reach() float64 {
	head := e.fare.InCarrier.Carrier.Mul(e.fare.InCarrier.Head).Rot
	r := e.job.Scene.Person.GazeRange
	least := math.Inf(1)
	for _, corner := range e.corners() {
		v := head.ApplyInverse(r3.Sub(corner, e.eye))
		limit := func(across float64, most frame.Angle, axis r3.Vec) {
			azimuth := math.Atan2(across, v.X)
			room := math.Hypot(across, v.X) * math.Sin(most.Radians()-azimuth)
			n := head.Apply(r3.Sub(r3.Scale(math.Sin(most.Radians()), r3.Vec{X: 1}), r3.Scale(math.Cos(most.Radians()), axis)))
			least = min(least, room-e.movement(n))
		}
		limit(v.Y, r.Left, r3.Vec{Y: 1})
		limit(-v.Y, r.Right, r3.Vec{Y: -1})
		limit(v.Z, r.Up, r3.Vec{Z: 1})
		limit(-v.Z, r.Down, r3.Vec{Z: -1})
	}
	return least
}
