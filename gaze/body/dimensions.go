package body

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Dimension is a size of adults.
type Dimension struct{ Men, Women Spread }

// Spread is the mean and the standard deviation of a size, mm.
type Spread struct{ MeanMM, SDMM float64 }

// Dimensions of 4082 men and 1986 women, computed from the open data files of the survey.
//
// Reference: C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army
// Personnel: Methods and Summary Statistics", NATICK/TR-15/007, 2014.
var (
	HeadBreadth     = Dimension{Spread{154.3, 5.5}, Spread{147.8, 5.2}}
	EyesToBack      = Dimension{Spread{199.5 - eyesBehindBrowMM, 7.0}, Spread{189.8 - eyesBehindBrowMM, 7.4}} // length of the head
	CrownAboveEyes  = Dimension{Spread{113.8, 9.0}, Spread{108.9, 8.2}}                                       // sitting height less eye height
	napeBelowEyes   = Dimension{Spread{125.1, 13.0}, Spread{123.9, 11.7}}                                     // the lowest bone of the neck
	ShoulderBreadth = Dimension{Spread{510.4, 32.5}, Spread{450.3, 28.7}}                                     // across the upper arms
	BellyDepth      = Dimension{Spread{254.7, 37.3}, Spread{229.7, 31.5}}
	ThighThickness  = Dimension{Spread{180.5, 15.6}, Spread{167.9, 14.1}} // above the seat
	ThighLength     = Dimension{Spread{618.0, 30.6}, Spread{590.6, 32.6}} // back of the buttocks to front of the knee
)

// MeanMM returns the mean of the means of men and women.
func (d Dimension) MeanMM() float64 { return (d.Men.MeanMM + d.Women.MeanMM) / 2 }

// UsualMM returns the range (whole mm) of nearly everyone, children and large people
// included: half the 5th percentile of women to half as much again as the 95th of men,
// both of normal distributions. The halves are choices of this tool.
func (d Dimension) UsualMM() (low, high float64) {
	const fifth = 1.645 // standard deviations
	return math.Round((d.Women.MeanMM - fifth*d.Women.SDMM) / 2), math.Round((d.Men.MeanMM + fifth*d.Men.SDMM) * 3 / 2)
}

// eyesBehindBrowMM is how far the eyes are behind the point between the brows.
//
// Reference: S. Pheasant, "Bodyspace: Anthropometry, Ergonomics and the Design of
// Work", 2nd edition, Taylor & Francis, 1996 (title page from memory), whose definition
// of head length an online text on anthropometry reproduces: "approximately 20 mm".
const eyesBehindBrowMM = 20

// neckBelowEyesMM is how far the neck point is below the eyes in adults: the mean that a
// case assumes for person.neck_to_eyes.
const neckBelowEyesMM = 75

// Head is the size of head and face, mm.
type Head struct{ BreadthMM, EyesToBackMM, AboveEyesMM, BelowEyesMM float64 }

// Trunk is the size of the trunk with the upper arms, mm: across the shoulders, from
// the back support to the front of the belly, and up along the back support.
type Trunk struct{ BreadthMM, DepthMM, HeightMM float64 }

// Thighs is the size of both thighs, mm: above the seat, from the back support to the
// front of the knee, and from the middle of one to the middle of the other.
type Thighs struct{ ThicknessMM, LengthMM, SpacingMM float64 }

// ScaledMM returns the mean of a dimension for a person as large as the one in the seat, in
// whole mm.
func (s Seat) ScaledMM(d Dimension) float64 { return math.Round(d.MeanMM() * s.Part) }

// TrunkMM returns the published height of a trunk up along the back support, in whole mm:
// it ends as far below the neck point as the lowest bone of the neck does.
func (s Seat) TrunkMM() float64 {
	measured := s.scene.Measured
	neck := r3.Sub(measured.EyesMM, measured.Head.Turn().Apply(s.scene.Person.NeckToEyesMM))
	below := (napeBelowEyes.MeanMM() - neckBelowEyesMM) * s.Part
	return math.Round(max(s.AlongBackMM(neck)-below, leastTrunkMM))
}

// leastTrunkMM is the least height of a trunk. A choice of this tool.
const leastTrunkMM = 100

// Box is a box between two corners, low and high in every direction, mm.
type Box struct{ LowMM, HighMM r3.Vec }

// Rod is a rod with round ends, by the ends of its center line and its radius, mm.
type Rod struct {
	FromMM, ToMM r3.Vec
	RadiusMM     float64
}

// Box returns head and face in head axes, whose origin is between the eyes. It begins
// a few mm behind the eyes, so as not to contain them.
func (h Head) Box() Box {
	return Box{
		LowMM:  r3.Vec{X: -h.EyesToBackMM, Y: -h.BreadthMM / 2, Z: -h.BelowEyesMM},
		HighMM: r3.Vec{X: -BehindEyesMM, Y: h.BreadthMM / 2, Z: h.AboveEyesMM},
	}
}

// BehindEyesMM is how far a shape of the head begins behind the eyes. A choice of this
// tool.
const BehindEyesMM = 5

// Box returns the trunk in the axes of the back support; see [Seat.BackInChair].
func (t Trunk) Box() Box {
	return Box{LowMM: r3.Vec{Y: -t.BreadthMM / 2}, HighMM: r3.Vec{X: t.DepthMM, Y: t.BreadthMM / 2, Z: t.HeightMM}}
}

// Rods returns left and right thigh with their knees, on a level seat of a height.
func (t Thighs) Rods(seatMM float64) (left, right Rod) {
	radius := t.ThicknessMM / 2
	rod := func(y float64) Rod {
		hip := r3.Vec{X: radius, Y: y, Z: seatMM + radius}
		return Rod{FromMM: hip, ToMM: r3.Vec{X: max(t.LengthMM-radius, radius), Y: y, Z: hip.Z}, RadiusMM: radius}
	}
	return rod(t.SpacingMM / 2), rod(-t.SpacingMM / 2)
}
