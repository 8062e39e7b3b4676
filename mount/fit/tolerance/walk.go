package tolerance

import (
	"context"
	"math"

	"sightpost/mount/fit"
)

// Bound is where something fails when one number changes and all others stay: a setting
// in [Tolerance], a number of a posture in [PostureCurve].
type Bound struct {
	// At is the last value at which nothing has failed: mm where the number is a
	// length, radians where it is an angle.
	At float64
	// Limit says that nothing fails up to the end of the range that was looked at.
	// Otherwise Reason is what fails next.
	Limit bool
	fit.Reason
}

// walker judges one number at one value after another.
type walker struct {
	// failure says what fails at a value, and whether something does.
	failure func(v float64) (fit.Reason, bool, error)
	// works says whether nothing does, which is known sooner.
	works func(v float64) (bool, error)
	// spare returns how much margin is to spare there (mm), which is known sooner still.
	spare func(v float64) (float64, error)
}

// walk looks at values from start, where nothing fails, toward limit, a stride apart and
// with zero among them if it is on the way. It returns where something first fails.
func (w *walker) walk(ctx context.Context, start, limit, zero, stride float64) (Bound, error) {
	way := math.Copysign(1, limit-start)
	for good := start; good != limit; {
		if err := ctx.Err(); err != nil {
			return Bound{}, err
		}
		const slack = 1e-6 // of a stride, for rounding
		at := zero + way*stride*(math.Floor(way*(good-zero)/stride+slack)+1)
		if (limit-at)*way <= 0 {
			at = limit
		}
		works, err := w.works(at)
		if err != nil {
			return Bound{}, err
		}
		if !works {
			if end, fails, err := w.first(good, at); fails || err != nil {
				return end, err
			}
		}
		good = at
	}
	return Bound{At: limit, Limit: true, Reason: fit.Reason{Posture: -1}}, nil
}

// within is how finely an end is found: mm or radians, far below what can be read.
const within = 1e-6

// first returns where between two values, of which the first works and the other does not,
// something first fails, and whether it does.
func (w *walker) first(good, bad float64) (Bound, bool, error) {
	mm, err := w.spare(bad)
	if err != nil {
		return Bound{}, false, err
	}
	spare, ofMargin := w.spare, !(mm >= 0)
	if !ofMargin {
		spare = func(v float64) (float64, error) {
			if works, err := w.works(v); !works {
				return -1, err
			}
			return 1, nil
		}
	}
	low, high, err := narrowed(good, bad, spare)
	if err == nil && ofMargin {
		var works bool
		if works, err = w.works(low); !works && err == nil { // something else fails sooner
			return w.first(good, low)
		}
	}
	if err != nil {
		return Bound{}, false, err
	}
	why, fails, err := w.failure(high)
	return Bound{At: low, Reason: why}, fails, err
}

// narrowed narrows an interval to what is within, between something to spare and not: by
// where a straight line between the ends comes to nothing, a little to either side in
// turn, and by halves every third time.
func narrowed(good, bad float64, spare func(v float64) (float64, error)) (low, high float64, err error) {
	left, err := spare(good)
	if err != nil {
		return good, bad, err
	}
	short, err := spare(bad)
	for i := 0; err == nil && math.Abs(bad-good) > within; i++ {
		part, aside := 0.5, within/2/math.Abs(bad-good)
		if i%3 < 2 && left > short {
			part = left/(left-short) + aside*float64(2*(i%3)-1)
		}
		mid := good + (bad-good)*min(max(part, aside), 1-aside)
		var mm float64
		if mm, err = spare(mid); mm >= 0 {
			good, left = mid, mm
		} else {
			bad, short = mid, mm
		}
	}
	return good, bad, err
}
