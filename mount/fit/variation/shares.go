package variation

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"sightpost/mount/fit"
)

// ErrorShares says which errors the scatter of the margin comes from.
type ErrorShares struct {
	// SDMM is the standard deviation of the least margin of the postures that must
	// work, under all errors together.
	SDMM float64
	// Sources are those that have an error, the one with the largest total first.
	Sources []ErrorShare
	// Evaluations is how many times the margin was evaluated.
	Evaluations int
}

// ErrorShare is what one source of error has to do with the margin's variance.
type ErrorShare struct {
	// Name is that of the measure, such as "eyes up", or of the setting.
	Name        string
	Turns       bool // an angle, in radians
	Uncertainty Uncertainty
	// First is the part of the variance that would go if this error alone were
	// none (Sobol's first-order index), Total the part that would remain if all
	// others were none but this, with all that it does jointly with others
	// (total index). They are estimates: First may come out a little below zero.
	First, Total float64
	// FirstSE and TotalSE are the standard errors of the two.
	FirstSE, TotalSE float64
}

const (
	defaultRows = 4096
	fewestRows  = 8 * sobolRows // for the standard errors
	mostRows    = 1_000_000
)

// Shares returns the shares of all sources of error in the variance of the
// margin. All readings of one uncertainty, such as the seat tilt in each posture, are one
// source. The error names the uncertainty that is invalid, wraps [fit.ErrJob], or is that
// of ctx.
//
// Reference: I. M. Sobol', "Sensitivity estimates for nonlinear mathematical
// models", Math. Model. Comput. Exp. 1, 1993, 407-414, from memory.
func Shares(ctx context.Context, r *fit.Result, budget Budget, opt Options) (ErrorShares, error) {
	rows, err := opt.size(defaultRows, fewestRows, mostRows)
	if err != nil {
		return ErrorShares{}, err
	}
	rows = (rows + sobolRows - 1) / sobolRows * sobolRows
	plan, err := newErrorPlan(r, budget)
	if err != nil {
		return ErrorShares{}, err
	}
	m := &sobolModel{numbers: plan.slots, start: func() (func(*rand.Rand, []float64), func([]float64) float64) {
		return plan.draw, plan.truth().leastMargin
	}}
	for i := range plan.sources {
		m.groups = append(m.groups, plan.sources[i].slots)
	}
	found, sd, err := m.sobol(ctx, rows, opt)
	if err != nil {
		return ErrorShares{}, err
	}
	out := ErrorShares{SDMM: sd, Sources: found, Evaluations: rows * (len(found) + 2)}
	if math.IsNaN(sd) || math.IsInf(sd, 0) {
		return ErrorShares{}, fmt.Errorf("%w: with errors as large as these a margin is not a number", fit.ErrJob)
	}
	for i := range found {
		of := plan.sources[i]
		found[i].Name, found[i].Turns, found[i].Uncertainty = of.name, of.turns, of.Uncertainty
	}
	slices.SortStableFunc(out.Sources, func(a, b ErrorShare) int { return cmp.Compare(b.Total, a.Total) })
	return out, nil
}
