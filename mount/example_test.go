package mount_test

import (
	"fmt"
	"math"
	"os"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// K. M. Lynch and F. C. Park, Modern Robotics (2017), ch. 4: the worked example
// printed with FKinSpace in the book's companion code, read in a quotation of it:
// p = (-5, 4, 1.68584073). The book's third joint is a screw of pitch 0.1, written
// here as a turn and a slide on one axis. Its lengths are meters.
func ExampleChain_Forward() {
	wide := func(name string, m mount.Motion, origin, axis r3.Vec) mount.Joint {
		j := mount.Joint{Name: name, Motion: m, Origin: frame.Translate(origin), Axis: axis, Step: 0.01}
		j.Low, j.High = -4000, 4000
		if m == mount.Turn {
			j.Low, j.High = -math.Pi, math.Pi
		}
		return j
	}
	c := mount.Chain{
		Joints: []mount.Joint{
			wide("first", mount.Turn, r3.Vec{Y: 4000}, r3.Vec{Z: 1}),
			wide("second", mount.Slide, r3.Vec{}, r3.Vec{Y: 1}),
			wide("third.turn", mount.Turn, r3.Vec{Y: 2000}, r3.Vec{Z: -1}),
			wide("third.slide", mount.Slide, r3.Vec{}, r3.Vec{Z: -1}),
		},
		Tip: frame.Pose{
			Rot: frame.Rotation{X: r3.Vec{X: -1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: -1}},
			At:  r3.Vec{Z: 2000},
		},
	}
	p, err := c.Forward(mount.Settings{math.Pi / 2, 3000, math.Pi, 100 * math.Pi})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("(%.2f, %.2f, %.5f) mm\n", p.At.X, p.At.Y, p.At.Z)
	// Output:
	// (-5000.00, 4000.00, 1685.84073) mm
}

func ExampleKit_Chain() {
	kit := twoTubes()
	c, err := kit.Chain(mount.Mounting{ClampMM: r3.Vec{X: 380, Y: 260, Z: 480}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, v := range c.Preferred() {
		j := c.Moving()[i]
		fmt.Println(j.Name, j.Format(v))
	}
	// Output:
	// post.height 450 mm
	// post.swing 0°
	// elbow.pan 0°
	// elbow.elevation 0°
	// arm.extension 250 mm
	// joint.pan 0°
	// joint.tilt 0°
	// joint.roll 0°
}

func ExampleChain_Prefer() {
	c, err := twoTubes().Chain(mount.Mounting{ClampMM: r3.Vec{X: 380, Y: 260, Z: 480}})
	if err != nil {
		fmt.Println(err)
		return
	}
	// The screen 600 mm ahead, 1100 mm up, on the midline, facing back: its right
	// is the person's right, its normal points back at the person.
	target := frame.Pose{
		Rot: frame.FromAxes(r3.Vec{Y: -1}, r3.Vec{Z: 1}),
		At:  r3.Vec{X: 600, Z: 1100},
	}
	s, err := c.Prefer(target, nil, mount.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, v := range s.Settings {
		j := c.Moving()[i]
		fmt.Println(j.Name, j.Format(v))
	}
	// Output:
	// post.height 560 mm
	// post.swing -22°
	// elbow.pan -22°
	// elbow.elevation 6°
	// arm.extension 377 mm
	// joint.pan 44°
	// joint.tilt 4°
	// joint.roll -4°
}

func ExampleChain_WriteURDF() {
	c := mount.Chain{
		Joints: []mount.Joint{{
			Name: "post.height", Motion: mount.Slide, Origin: frame.Translate(r3.Vec{X: 380}),
			Axis: r3.Vec{Z: 1}, Low: 300, High: 700, Step: 1, Preferred: 450,
		}},
		Tip: frame.Translate(r3.Vec{Z: 20}),
	}
	if err := c.WriteURDF(os.Stdout, "one post"); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <?xml version="1.0" encoding="UTF-8"?>
	// <robot name="one_post">
	//   <link name="carrier"></link>
	//   <link name="post.height"></link>
	//   <link name="screen"></link>
	//   <joint name="post.height" type="prismatic">
	//     <parent link="carrier"></parent>
	//     <child link="post.height"></child>
	//     <origin xyz="0.38 0 0" rpy="0 0 0"></origin>
	//     <axis xyz="0 0 1"></axis>
	//     <limit lower="0.3" upper="0.7" effort="1" velocity="1"></limit>
	//   </joint>
	//   <joint name="screen" type="fixed">
	//     <parent link="post.height"></parent>
	//     <child link="screen"></child>
	//     <origin xyz="0 0 0.02" rpy="0 0 0"></origin>
	//   </joint>
	// </robot>
}
