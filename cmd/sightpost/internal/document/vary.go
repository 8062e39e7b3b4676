package document

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
	"sightpost/mount/fit/variation"
)

// Vary is the result of a case when what was measured, set and sat in is not quite
// what the case says.
type Vary struct {
	// Version of this form.
	Version int `json:"sightpost" jsonschema:"const=2"`
	// The question that was answered: "vary".
	Kind Kind `json:"kind" jsonschema:"const=vary"`
	// Code of the case, as the clinic chose it.
	Label string `json:"label"`
	// True when every posture that must work does as measured and set, and no keep-clear zone is touched.
	Works bool `json:"works"`
	// What does not work.
	Reasons []Finding `json:"reasons"`
	// Least margin over the postures that must work, as measured and set.
	MarginMM float64 `json:"margin_mm"`
	// How the mount is set; empty when the case has no mount.
	Settings []SettingValue `json:"settings"`
	// How many simulations of all errors there were.
	Simulations int `json:"simulations"`
	// What the simulations were chosen by: the same seed gives the same ones.
	Seed uint64 `json:"seed"`
	// All postures that must work, with the same errors in each.
	Together Tally `json:"together"`
	// Every posture of the case, in its order.
	Postures []PostureTally `json:"postures"`
	// The errors, the one with the largest total share first.
	Errors []ErrorShare `json:"errors"`
	// Standard deviation of the least margin of the postures that must work, which
	// the shares are shares of the square of.
	SDMM float64 `json:"sd_mm"`
	// In which range of each number of a posture that must work the screen works.
	Ranges []PostureRange `json:"ranges"`
	// One setup for all postures that must work against one for each; empty when
	// only one must work.
	Setups []SinglePostureSetup `json:"setups"`
	// Uncertainties that were assumed because the case gives none.
	Assumptions []casefile.Assumption `json:"assumptions"`
}

// SettingValue is what one setting is set to.
type SettingValue struct {
	// Part, dot, what moves.
	Name string `json:"name"`
	// Unit of its numbers.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// What it is set to.
	Value float64 `json:"value"`
	// The same as a person sets and reads it.
	Told Told `json:"as_read"`
}

// Tally is what many simulations came to.
type Tally struct {
	// Share of the simulations with a margin that is not negative, 0 to 1.
	Tracks float64 `json:"tracks"`
	// Lower end of the share's 95 % interval, by Wilson's score.
	TracksLow float64 `json:"tracks_low"`
	// Upper end of the share's 95 % interval.
	TracksHigh float64 `json:"tracks_high"`
	// Mean of the margin.
	MeanMM float64 `json:"mean_mm"`
	// Standard deviation of the margin.
	SDMM float64 `json:"sd_mm"`
	// Least margin of all simulations.
	LeastMM float64 `json:"least_mm"`
	// Margin that 5 % of the simulations stay below.
	P5MM float64 `json:"p5_mm"`
	// Margin that a quarter of the simulations stay below.
	P25MM float64 `json:"p25_mm"`
	// Margin that half of the simulations stay below.
	P50MM float64 `json:"p50_mm"`
	// Margin that three quarters of the simulations stay below.
	P75MM float64 `json:"p75_mm"`
	// Margin that 95 % of the simulations stay below.
	P95MM float64 `json:"p95_mm"`
	// Greatest margin of all simulations.
	MostMM float64 `json:"most_mm"`
}

// PostureTally is what many simulations came to in one posture.
type PostureTally struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// True when the case cannot do without this posture.
	MustWork bool `json:"must_work"`
	// Margin as measured and set.
	MarginMM float64 `json:"margin_mm"`
	// What the simulations came to.
	Tally
}

// ErrorShare is what one error has to do with the variance of the margin.
type ErrorShare struct {
	// The measure, or the name of the setting.
	Name string `json:"name"`
	// How the error is spread: "normal" with the standard deviation given, or
	// "uniform" with the half-width given.
	Kind string `json:"kind" jsonschema:"enum=normal,enum=uniform"`
	// Unit of the size.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// Standard deviation or half-width.
	Size float64 `json:"size"`
	// Part of the variance that would go if this error alone were none: Sobol's
	// first-order index. An estimate: it may come out a little below 0.
	First float64 `json:"first"`
	// Standard error of the first-order index.
	FirstSE float64 `json:"first_se"`
	// Part of the variance that would remain if all errors but this were none,
	// with all that it does jointly with others: Sobol's total index.
	Total float64 `json:"total"`
	// Standard error of the total index.
	TotalSE float64 `json:"total_se"`
}

// Varied is what a [Vary] is made from.
type Varied struct {
	Case        *casefile.Case
	Result      *fit.Result
	Seed        uint64
	Simulations variation.Simulations
	Shares      variation.ErrorShares
	// Curves are those of every number of every posture that must work.
	Curves []tolerance.PostureCurve
	// Separate is nil when only one posture must work.
	Separate *tolerance.SinglePostureSetups
}

// NewVary returns the object for v.
func NewVary(v Varied) *Vary {
	job := &v.Case.Job
	_, open := v.Case.Uncertainty(v.Result)
	out := &Vary{
		Version: Version, Kind: "vary", Label: v.Case.Label,
		Works: v.Result.Works, Reasons: reasons(v.Result), MarginMM: plain(v.Result.MarginMM()),
		Settings:    newSettingValues(v.Result),
		Simulations: v.Simulations.Count, Seed: v.Seed, Together: newTally(v.Simulations.Together),
		SDMM: plain(v.Shares.SDMM), Setups: newAlone(job, v.Separate), Assumptions: listed(open),
		Errors: each(v.Shares.Sources, newErrorShare),
		Ranges: each(v.Curves, func(c tolerance.PostureCurve) PostureRange { return newRange(v.Result, &c) }),
	}
	for i, t := range v.Simulations.Postures {
		f := &v.Result.Postures[i]
		out.Postures = append(out.Postures, PostureTally{Posture: f.Posture.Name, MustWork: f.Posture.MustWork, MarginMM: plain(f.MarginMM), Tally: newTally(t)})
	}
	return out
}

// newSettingValues returns the settings of r.
func newSettingValues(r *fit.Result) []SettingValue {
	out := []SettingValue{}
	for i, told := range SettingsTold(r) {
		j := r.Set.Chain.Moving()[i]
		out = append(out, SettingValue{Name: j.Name, Unit: unitOf(j), Value: inUnit(j, r.Set.Settings[i]), Told: told})
	}
	return out
}

func newTally(t variation.Tally) Tally {
	m := &t.Margin
	return Tally{
		Tracks: t.Tracks.Share, TracksLow: t.Tracks.Low, TracksHigh: t.Tracks.High,
		MeanMM: plain(m.MeanMM), SDMM: m.SDMM, LeastMM: plain(m.LeastMM), MostMM: plain(m.MostMM),
		P5MM: plain(m.P5MM), P25MM: plain(m.P25MM), P50MM: plain(m.P50MM), P75MM: plain(m.P75MM), P95MM: plain(m.P95MM),
	}
}

func newErrorShare(e variation.ErrorShare) ErrorShare {
	s := ErrorShare{
		Name: e.Name, Kind: e.Uncertainty.Kind.String(), Unit: "mm", Size: plain(e.Uncertainty.Size),
		First: plain(e.First), FirstSE: e.FirstSE, Total: plain(e.Total), TotalSE: e.TotalSE,
	}
	if e.Turns {
		s.Unit, s.Size = "deg", Rounded(frame.Angle(e.Uncertainty.Size).Degrees(), legible)
	}
	return s
}

// PostureRange is the range of one number of a posture in which the screen works,
// all else as it is.
type PostureRange struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// The number that varies.
	Varies string `json:"varies"`
	// Unit of all numbers of this range.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// The number's value in the posture.
	Now float64 `json:"now"`
	// Why no range can be given, in plain words; both ranges are then absent.
	Unknown Text `json:"unknown,omitzero"`
	// What carries the mount in this case.
	CarriedBy string `json:"carried_by" jsonschema:"enum=seat,enum=base"`
	// With the screen carried by the seat, in the same place before this posture.
	OnSeat *Range `json:"on_seat,omitempty"`
	// With the screen carried by the base, in the same place before this posture.
	OnBase *Range `json:"on_base,omitempty"`
}

// Range is a range and what ends it.
type Range struct {
	// True when the screen works at the present value. Otherwise both ends are
	// there and say what fails.
	Works bool `json:"works"`
	// The lower end.
	From RangeEnd `json:"from"`
	// The upper end.
	To RangeEnd `json:"to"`
}

// RangeEnd is one end of a range.
type RangeEnd struct {
	// The last value that works.
	Value float64 `json:"value"`
	// What fails beyond it, in plain words; absent when the screen works as far as
	// was looked.
	EndedBy Text `json:"ended_by,omitzero"`
}

// sweeps are between which values each number of a posture is looked at, in degrees or mm:
// wider than what people and chairs do, by judgment.
var sweeps = map[tolerance.PostureVariable][2]float64{
	tolerance.SeatTilt: {-30, 60}, tolerance.BackAngle: {60, 180}, tolerance.Slump: {-100, 300},
	tolerance.HeadFlexion: {-60, 60}, tolerance.HeadRotation: {-60, 60}, tolerance.HeadLateralFlexion: {-45, 45},
}

// SweepRange is between which values a number of a posture is looked at, mm or radians, wide
// enough to hold the present value.
func SweepRange(v tolerance.PostureVariable, now float64) (low, high float64) {
	unit := 1.0
	if v.Turns() {
		unit = frame.Degree.Radians()
	}
	return min(sweeps[v][0]*unit, now), max(sweeps[v][1]*unit, now)
}

// newRange returns the range of a curve.
func newRange(of *fit.Result, c *tolerance.PostureCurve) PostureRange {
	unit, show := "deg", func(v float64) float64 { return degreesOf(frame.Angle(v)) }
	if !c.Variable.Turns() {
		unit, show = "mm", plain
	}
	r := PostureRange{
		Posture: c.Posture.Name, Varies: c.Variable.String(), Unit: unit, Now: show(c.Present),
		CarriedBy: [...]string{"seat", "base"}[c.AsCarried.Carrier], Unknown: lacking(c, &of.Job.Scene),
	}
	if !r.Unknown.Empty() {
		return r
	}
	for _, curve := range []*tolerance.CarriedCurve{&c.AsCarried, &c.OtherCarrier} {
		into := &r.OnSeat
		if curve.Carrier == gaze.Base {
			into = &r.OnBase
		}
		*into = &Range{Works: curve.Works, From: newRangeEnd(of, curve.Low, show), To: newRangeEnd(of, curve.High, show)}
	}
	return r
}

func newRangeEnd(r *fit.Result, b tolerance.Bound, show func(float64) float64) RangeEnd {
	end := RangeEnd{Value: show(b.At)}
	if !b.Limit {
		end.EndedBy = Quote(endWords(r, &b))
	}
	return end
}

// lacking says what the case would have to give for a curve to mean anything. An
// axis that is not given is at the origin, on the floor, where none can be.
func lacking(c *tolerance.PostureCurve, scene *gaze.Scene) Text {
	switch {
	case c.Variable == tolerance.SeatTilt && scene.Chair.TiltPivotMM == (r3.Vec{}):
		return Say("the case gives no tilt axis of the seat")
	case c.Variable == tolerance.BackAngle && scene.Chair.BackHingeMM == (r3.Vec{}):
		return Say("the case gives no recline axis of the back support")
	}
	return Text{}
}

// SinglePostureSetup is a setup for one posture alone, beside the one for all that must work.
type SinglePostureSetup struct {
	// Name of the posture.
	Posture string `json:"posture"`
	// Its margin in the best setup for all that must work.
	TogetherMM float64 `json:"together_mm"`
	// Its margin in the best setup for it alone.
	AloneMM float64 `json:"alone_mm"`
	// True when the mount is clamped at another place for it; no settings are
	// compared then.
	Elsewhere bool `json:"elsewhere"`
	// The settings that differ, from the clamp outward.
	Moved []Moved `json:"moved"`
	// The same as a person changes them.
	Told []ToldChange `json:"as_read"`
}

// Moved is a setting that differs between two setups.
type Moved struct {
	// Part, dot, what moves.
	Name string `json:"name"`
	// Unit of both values.
	Unit string `json:"unit" jsonschema:"enum=mm,enum=deg"`
	// The one value.
	From float64 `json:"from"`
	// The other.
	To float64 `json:"to"`
	// Finest step that can be read off.
	Step float64 `json:"step"`
}

// newAlone returns what one setup for each posture would bring.
func newAlone(job *fit.Job, s *tolerance.SinglePostureSetups) []SinglePostureSetup {
	out := []SinglePostureSetup{}
	if s == nil {
		return out
	}
	lead := leading(job) // in which all are compared
	for _, a := range s.Alone {
		out = append(out, SinglePostureSetup{
			Posture: job.Postures[a.Posture].Name, TogetherMM: plain(a.TogetherMM), AloneMM: plain(a.MarginMM), Elsewhere: a.Elsewhere,
			Moved: each(a.Moved, func(m tolerance.Moved) Moved { return newMoved(m.Joint, m.Together, m.Alone) }),
			Told: toldChanges(toldIn(s.Together, lead), toldIn(a.Result, lead), func(i int) bool {
				return !a.Elsewhere && s.Together.Set.Settings[i] != a.Result.Set.Settings[i]
			}),
		})
	}
	return out
}

func newMoved(j mount.Joint, from, to float64) Moved {
	return Moved{Name: j.Name, Unit: unitOf(j), From: inUnit(j, from), To: inUnit(j, to), Step: inUnit(j, j.Step)}
}
