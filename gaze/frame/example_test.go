package frame_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

func ExampleAngle() {
	a := 12 * frame.Degree
	fmt.Printf("%.1f° is %.6f rad\n", a.Degrees(), a.Radians())
	fmt.Printf("%.1f°\n", (a + 350*frame.Degree).Wrapped().Degrees())
	// Output:
	// 12.0° is 0.209440 rad
	// 2.0°
}

// Chains of poses read left to right: a plate 600 mm out on an arm that is
// turned to the left by 30° about the vertical stands forward and to the left.
func ExamplePose_Mul() {
	baseFromArm := frame.Rotate(30*frame.Degree, r3.Vec{Z: 1})
	armFromPlate := frame.Translate(r3.Vec{X: 600})
	baseFromPlate := baseFromArm.Mul(armFromPlate)
	at := baseFromPlate.Apply(r3.Vec{})
	fmt.Printf("forward %.2f mm, left %.2f mm, up %.2f mm\n", at.X, at.Y, at.Z)
	// Output:
	// forward 519.62 mm, left 300.00 mm, up 0.00 mm
}

// In axes x forward, y left, z up (ISO 8855:2011) the right-hand rule makes a
// positive turn about the left axis lower the nose, so a gaze 29° below the
// horizontal is a turn of +29°.
func ExampleRotate() {
	gaze := frame.Rotate(29*frame.Degree, r3.Vec{Y: 1}).Apply(r3.Vec{X: 1})
	elevation := frame.Angle(math.Atan2(gaze.Z, gaze.X))
	fmt.Printf("%.0f°\n", elevation.Degrees())
	// Output:
	// -29°
}

func ExampleBetween() {
	a := frame.Between(r3.Vec{X: 1}, r3.Vec{X: 1, Y: 1})
	fmt.Printf("%.0f°\n", a.Degrees())
	// Output:
	// 45°
}
