package plots

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
)

// screenBefore returns a display area 300 by 200 mm before an eye in screen axes.
func screenBefore(eye r3.Vec) *screenTargets {
	job := &fit.Job{}
	job.Device.Screen = gaze.Screen{WidthMM: 300, HeightMM: 200}
	job.Device.Screen.Used = job.Device.Screen.Display()
	job.Device.Tracker.Accuracy = frame.Degree
	f := &fit.PostureResult{InCarrier: gaze.PostureInCarrier{Eyes: [2]r3.Vec{eye, eye}}}
	s := &scene{board: &board{}, job: job, shown: f}
	return &screenTargets{scene: s, screen: frame.Identity(), eye: eye, targets: job.Device.Targets(frame.Identity(), &f.InCarrier, nil)}
}

// TestLinesOfEqualSize: on every line, wherever the eye is, a degree has the size
// that is written along it, and all of it is on the display area.
func TestLinesOfEqualSize(t *testing.T) {
	const (
		sizeMM  = 1e-3 // chords leave the line by 4e-5 of its radius
		slackMM = 1e-9
	)
	rng := rand.New(rand.NewPCG(9, 9))
	for range 20 {
		l := screenBefore(r3.Vec{X: 400 * (rng.Float64() - 0.5), Y: 400 * (rng.Float64() - 0.5), Z: 400 + 400*rng.Float64()})
		l.degrees()
		if n := len(l.notes); n < 2 || n > mostLines+1 {
			t.Fatalf("eye at %v: %d lines", l.eye, n)
		}
		for _, n := range l.notes {
			if math.Abs(n.at.X) > 150+1 || math.Abs(n.at.Y) > 100+1 {
				t.Errorf("eye at %v: %s is written at %v, off the display area", l.eye, n.text, n.at)
			}
		}
		levels := make(map[float64]bool)
		for _, i := range l.items {
			level := l.degreeMM(i.points[len(i.points)/2])
			nearest := math.Round(level*1000) / 1000
			levels[nearest] = true
			for _, p := range i.points {
				if math.Abs(p.X) > 150+slackMM || math.Abs(p.Y) > 100+slackMM {
					t.Fatalf("eye at %v: a line of %g at %v, off the display area", l.eye, level, p)
				}
				if got := l.degreeMM(p); math.Abs(got-nearest) > sizeMM {
					t.Fatalf("eye at %v: a degree is %g mm at %v, on the line of %g", l.eye, got, p, nearest)
				}
			}
		}
		if len(levels) != len(l.notes) {
			t.Errorf("eye at %v: %d sizes, %d numbers", l.eye, len(levels), len(l.notes))
		}
	}
}
