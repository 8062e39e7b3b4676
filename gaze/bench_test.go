package gaze_test

import (
	"testing"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

// BenchmarkPlace times the search for the target of one posture, of two, and of
// two that cannot be served together.
func BenchmarkPlace(b *testing.B) {
	for name, tilts := range map[string][]frame.Angle{
		"one": {0}, "two": {0, 6 * frame.Degree}, "unmet": {0, 30 * frame.Degree},
	} {
		scene, device := inventedScene(), inventedDevice()
		scene.Carrier = gaze.Base
		r := gaze.Request{Judge: gaze.NewJudge(device, scene.Person), Rates: gaze.DefaultRates(), Ranges: gaze.DefaultRanges()}
		for _, tilt := range tilts {
			p := scene.Measured.AsMeasured(name)
			p.SeatTilt = tilt
			r.Postures = append(r.Postures, scene.InCarrier(p))
		}
		r.Prefer = gaze.Preferred(&r.Postures[0], device.Tracker)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := gaze.Place(r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRooms times one evaluation of every condition with its changes.
func BenchmarkRooms(b *testing.B) {
	scene, device := inventedScene(), inventedDevice()
	judge := gaze.NewJudge(device, scene.Person)
	st := scene.InCarrier(scene.Measured.AsMeasured("upright"))
	r := gaze.Request{Judge: judge, Postures: []gaze.PostureInCarrier{st}, Rates: gaze.DefaultRates(), Ranges: gaze.DefaultRanges()}
	r.Prefer = gaze.Preferred(&st, device.Tracker)
	target, err := gaze.Place(r)
	if err != nil {
		b.Fatal(err)
	}
	margins := make([]gaze.ConditionMargin, 0, judge.Count())
	b.ReportAllocs()
	for b.Loop() {
		margins = judge.Margins(margins[:0], target.Pose, &st)
	}
}
