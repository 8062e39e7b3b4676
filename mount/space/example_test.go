package space_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount/space"
)

// The gap between a screen's casing and a knee.
func ExampleBetween() {
	casing, err := space.Box(frame.Translate(r3.Vec{X: 600, Z: 700}), r3.Vec{X: 30, Y: 300, Z: 200})
	if err != nil {
		log.Fatal(err)
	}
	thigh, err := space.Capsule(r3.Vec{X: 100, Y: 100, Z: 480}, r3.Vec{X: 550, Y: 120, Z: 500}, 70)
	if err != nil {
		log.Fatal(err)
	}
	g := space.Between(casing, thigh)
	fmt.Printf("%.1f mm apart, wider by moving along (%.2f, %.2f, %.2f)\n", g.MM, g.Toward.X, g.Toward.Y, g.Toward.Z)
	// Output:
	// 35.9 mm apart, wider by moving along (0.33, 0.00, 0.94)
}

// An arm, 400 mm long, is swung aside by a right angle about an upright post. On
// the way it touches the joystick.
func ExampleSweep() {
	arm, err := space.Capsule(r3.Vec{}, r3.Vec{X: 400}, 12)
	if err != nil {
		log.Fatal(err)
	}
	joystick, err := space.Capsule(r3.Vec{X: 200, Y: 200, Z: -150}, r3.Vec{X: 200, Y: 200, Z: -20}, 20)
	if err != nil {
		log.Fatal(err)
	}
	up, turn := r3.Vec{Z: 1}, 90*frame.Degree
	least, err := space.Sweep(space.Arc{
		SpeedMM: turn.Radians() * arm.ReachMM(r3.Vec{}, up),
		At: func(t float64, shapes []space.Shape) []space.Shape {
			return append(shapes, arm.Moved(frame.Rotate(frame.Angle(t)*turn, up)))
		},
	}, []space.Shape{joystick})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f mm at %.0f degrees\n", least.MM, least.T*turn.Degrees())
	// Output:
	// -12 mm at 45 degrees
}
