package gaze_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
)

func ExamplePreferredGaze() {
	// K. H. E. Kroemer and S. G. Hill, "Preferred line of sight angle", Ergonomics
	// 29(9), 1986, 1129-1134, abstract: 33° and 24° below the horizontal at 0.5 m
	// and 1 m, sitting upright; 23° and 16° with the trunk reclined to 105°.
	for _, recline := range []frame.Angle{0, 15 * frame.Degree} {
		fmt.Printf("%.0f° %.0f°\n", gaze.PreferredGaze(500, recline).Degrees(), gaze.PreferredGaze(1000, recline).Degrees())
	}
	// Output:
	// 33° 24°
	// 23° 16°
}

// The limiting condition of a screen set by eye, in plain words.
func ExampleJudge_Margin() {
	scene, device := inventedScene(), inventedDevice()
	st := scene.InCarrier(scene.Measured.AsMeasured("measured"))
	judge := gaze.NewJudge(device, scene.Person)
	// Square before the eyes, 560 mm off: a screen's right is the person's right,
	// its normal faces back.
	screen := frame.Pose{
		Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}),
		At:  r3.Add(st.Head.At, r3.Vec{X: 560, Z: -60}),
	}
	mm, limiting := judge.Margin(screen, &st)
	fmt.Printf("%.1f mm: %v\n", mm, limiting)
	// Output:
	// 45.8 mm: left eye too near
}

// The whole question: where should the screen be for someone who sits upright
// in the morning and tilted back by 25° after lunch?
func ExamplePlace() {
	scene, device := inventedScene(), inventedDevice()
	upright := scene.Measured.AsMeasured("upright")
	rested := scene.Measured.AsMeasured("rested")
	rested.SeatTilt = 25 * frame.Degree
	postures := []gaze.PostureInCarrier{scene.InCarrier(upright), scene.InCarrier(rested)}

	target, err := gaze.Place(gaze.Request{
		Judge: gaze.NewJudge(device, scene.Person), Postures: postures, Prefer: gaze.Preferred(&postures[0], device.Tracker),
		Rates: gaze.DefaultRates(), Ranges: gaze.DefaultRanges(),
		Limits: gaze.NewFaceDistance(device, postures, 400).EyeByEye(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	at := target.Pose.At
	lean := math.Asin(target.Pose.Rot.Z.Z) * 180 / math.Pi
	fmt.Printf("forward %.0f mm, up %.0f mm, leaning back %.1f°\n", at.X, at.Z, lean)
	fmt.Printf("margin %.0f mm\n", target.MarginMM)
	// Output:
	// forward 766 mm, up 1071 mm, leaning back 9.4°
	// margin 96 mm
}
