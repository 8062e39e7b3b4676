package space_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// The gap between a screen's housing and a knee.
func ExampleBetween() {
	housing, err := space.Box(frame.Translate(r3.Vec{X: 600, Z: 700}), r3.Vec{X: 30, Y: 300, Z: 200})
	if err != nil {
		log.Fatal(err)
	}
	thigh, err := space.Capsule(r3.Vec{X: 100, Y: 100, Z: 480}, r3.Vec{X: 550, Y: 120, Z: 500}, 70)
	if err != nil {
		log.Fatal(err)
	}
	g := space.Between(housing, thigh)
	fmt.Printf("%.1f mm apart, wider by moving along (%.2f, %.2f, %.2f)\n", g.MM, g.Toward.X, g.Toward.Y, g.Toward.Z)
	// Output:
	// 35.9 mm apart, wider by moving along (0.33, 0.00, 0.94)
}

// An arm, 400 mm long, is swung aside about an upright post. On the way it touches
// the joystick.
func ExampleSweep() {
	arm, err := space.Capsule(r3.Vec{}, r3.Vec{X: 400}, 12)
	if err != nil {
		log.Fatal(err)
	}
	joystick, err := space.Capsule(r3.Vec{X: 200, Y: 200, Z: -150}, r3.Vec{X: 200, Y: 200, Z: -20}, 20)
	if err != nil {
		log.Fatal(err)
	}
	about := space.Path{Along: r3.Vec{Z: 1}}
	sweep := space.NewSweep(about, []space.Shape{arm}, []space.Shape{joystick}, nil)
	turn := 90 * frame.Degree
	stop, least := sweep.Free(turn.Radians()), sweep.Least(0, turn.Radians())
	fmt.Printf("free as far as %.1f degrees\n", frame.Angle(stop.By).Degrees())
	fmt.Printf("%.0f mm at %.0f degrees\n", least.MM, frame.Angle(least.By).Degrees())
	// Output:
	// free as far as 39.9 degrees
	// -12 mm at 45 degrees
}
