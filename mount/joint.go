package mount

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Motion is what an elementary joint can do.
type Motion int

// The three motions.
const (
	Fixed Motion = iota // does not move
	Slide               // moves along its axis, mm
	Turn                // turns about its axis by the right-hand rule, radians
)

// String returns "fixed", "slide" or "turn".
func (m Motion) String() string {
	if m < Fixed || m > Turn {
		return "motion " + strconv.Itoa(int(m))
	}
	return [...]string{"fixed", "slide", "turn"}[m]
}

// Joint is one elementary joint: a fixed pose, then a motion along or about an
// axis through the origin of the frame so reached. Low, High, Step and Preferred
// are in mm for a slide and in radians for a turn; a fixed joint leaves them and
// Axis zero.
type Joint struct {
	Name   string // part, dot, what moves: "post.height"; unique in a chain
	Motion Motion
	Origin frame.Pose // previous joint's moved frame from this joint's frame
	Axis   r3.Vec     // unit vector in this joint's frame

	Low, High float64 // limits of the setting, both allowed
	// Step is the finest step that a person can read: readable settings are the
	// multiples of Step within the limits. An indexed joint has stops instead,
	// at Low, Low+Step, Low+2 Step and so on, and can be nowhere else.
	Step      float64
	Indexed   bool
	Preferred float64        // where it is best left
	Effort    float64        // weight of moving it away from Preferred, 0 or more
	Read      string         // how to read it, as the kit says; "" if it does not
	Scale     Scale          // what the part is marked with
	Stiffness JointStiffness // how it behaves under load
}

// limitSlack is by how much a setting may pass a limit before it counts as
// outside, in mm or radians: for the rounding of a unit conversion only.
const limitSlack = 1e-9

// Clamp returns v moved to the nearer limit if it lies outside the limits.
func (j Joint) Clamp(v float64) float64 { return math.Min(math.Max(v, j.Low), j.High) }

// sameMM and sameTurn are the changes below which a setting counts as the same: the
// rounding of units, far below what can be read.
const (
	sameMM   = 1e-6
	sameTurn = 1e-9
)

// Same reports whether a and b are one and the same setting.
func (j Joint) Same(a, b float64) bool {
	if j.Motion == Turn {
		return math.Abs(a-b) <= sameTurn
	}
	return math.Abs(a-b) <= sameMM
}

// Round returns the readable setting nearest to v: a stop if j is indexed, else
// a multiple of Step within the limits. If no multiple of Step lies within the
// limits it returns v moved to the nearer limit. A NaN comes back as NaN.
//
// A limit that is not itself readable is never returned while another value is:
// nobody can read off where it is.
func (j Joint) Round(v float64) float64 {
	first, last, zero, ok := j.grid()
	if !ok {
		return j.Clamp(v)
	}
	k := math.Round((v - zero) / j.Step)
	return zero + j.Step*math.Min(math.Max(k, first), last)
}

// Neighbors returns the readable settings next to v, at or below and at or above
// it. Both are the same where v is readable itself or lies outside the outermost
// readable setting.
func (j Joint) Neighbors(v float64) (below, above float64) {
	first, last, zero, ok := j.grid()
	if !ok {
		return j.Clamp(v), j.Clamp(v)
	}
	k := (v - zero) / j.Step
	lo, hi := math.Floor(k+gridSlack), math.Ceil(k-gridSlack)
	lo = math.Min(math.Max(lo, first), last)
	hi = math.Min(math.Max(hi, first), last)
	return zero + j.Step*lo, zero + j.Step*hi
}

// gridSlack is the part of a step by which a setting may miss a readable value
// and still count as that value: far below reading, far above rounding.
const gridSlack = 1e-9

// grid returns the readable settings as zero + k Step for whole k from first to
// last; ok is false if there are none.
func (j Joint) grid() (first, last, zero float64, ok bool) {
	if j.Motion == Fixed || !(j.Step > 0) {
		return 0, 0, 0, false
	}
	if j.Indexed {
		zero = j.Low
	}
	first = math.Ceil((j.Low-zero)/j.Step - gridSlack)
	last = math.Floor((j.High-zero)/j.Step + gridSlack)
	return first, last, zero, first <= last
}

// Stops returns the positions of an indexed joint in rising order, and nil for
// any other joint, or one with more stops than [Chain.Check] accepts.
func (j Joint) Stops() []float64 {
	first, last, zero, ok := j.grid()
	if !j.Indexed || !ok || last-first >= maxStops {
		return nil
	}
	stops := make([]float64, 0, int(last-first)+1)
	for k := first; k <= last; k++ {
		stops = append(stops, zero+k*j.Step)
	}
	return stops
}

// Part returns the name of the part to which j belongs, the first word of its own.
func (j Joint) Part() string {
	part, _, _ := strings.Cut(j.Name, ".")
	return part
}

// Counted reports whether the positions of j are counted: it has stops, and no scale.
func (j Joint) Counted() bool { return j.Indexed && !j.Scale.Given && j.Step > 0 }

// Stop returns the place of v among the stops of j, the lowest being 1.
func (j Joint) Stop(v float64) int { return int(math.Round((v-j.Low)/j.Step)) + 1 }

// Format returns setting v as the part shows it, in the reader's unit and to the digits of
// the joint's step: "412 mm", "-12.5°", "stop 3".
func (j Joint) Format(v float64) string {
	if j.Counted() {
		return "stop " + strconv.Itoa(j.Stop(v))
	}
	v = j.Scale.Shown(v)
	if j.Motion == Turn {
		return decimal(frame.Angle(v).Degrees(), digits(frame.Angle(j.Step).Degrees())) + "°"
	}
	return decimal(v, digits(j.Step)) + " mm"
}

// digits returns how many decimals, at most 3, are needed to write multiples of
// step; 1 for a step that is not positive.
func digits(step float64) int {
	if !(step > 0) {
		return 1
	}
	const tol = 1e-6 // of a unit in the last place written
	for d := range 3 {
		scaled := step * math.Pow10(d)
		if math.Abs(scaled-math.Round(scaled)) < tol && scaled > tol {
			return d
		}
	}
	return 3
}

// decimal writes v with the given number of decimals, and never "-0".
func decimal(v float64, decimals int) string {
	p := math.Pow10(decimals)
	if r := math.Round(v*p) / p; !math.IsInf(r, 0) && !math.IsNaN(r) {
		v = r + 0
	}
	if v == 0 {
		v = 0 // a negative zero would print its sign
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}
