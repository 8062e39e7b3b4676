package answer

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/tube"
	"sightpost/plots/units"
)

// AsFound says how the mount is set. The zero value leaves everything to be found.
type AsFound struct {
	// Side to clamp the mount on, "left" or "right"; "" will do where the case names
	// one.
	Side string
	// Settings are those on the mount, all of them; none if they are to be
	// found.
	Settings []Entry
	// Inner says that they are those of the chain itself, as records hold them, and not as a
	// person reads them.
	Inner bool
}

// Given reports whether settings are given.
func (s AsFound) Given() bool { return len(s.Settings) > 0 }

// Placed is a case and where its screen is.
type Placed struct {
	*Case
	Kind    document.Kind
	AsFound AsFound
	Result  *fit.Result

	bound   atomic.Pointer[fit.Bound]  // of a refusal, once it was proved
	advised atomic.Pointer[fit.Result] // once it was asked for
}

// Place works a case out. With settings the screen is where they hold it, without
// any where it should.
func (c *Case) Place(ctx context.Context, s AsFound) (*Placed, error) {
	p := &Placed{Case: c, AsFound: s}
	var err error
	if s.Given() {
		p.Kind = document.Check
		p.Result, err = checked(ctx, s, &c.Job)
	} else {
		p.Kind = document.Solve
		p.Result, err = solved(ctx, s, &c.Job)
	}
	if errors.Is(err, tube.ErrNoStiffness) && c.KitFile != "" {
		err = fmt.Errorf("%s: %w", c.KitFile, err)
	}
	if err != nil {
		return nil, err
	}
	return p, nil
}

// Prove bounds the margin of any screen where none was found that works, with a number of
// boxes; see [fit.Prove].
func (p *Placed) Prove(ctx context.Context, boxes int, watch func(boundMM float64)) error {
	if p.Kind != document.Solve || !p.Result.Unmet() {
		return nil
	}
	b, err := fit.Prove(ctx, p.Result, boxes, watch)
	if err == nil {
		p.bound.Store(&b)
	}
	return err
}

// Report returns the report of p with what would help, a refusal with what a moment's proof
// bounds unless more was asked for before. Several may ask for it at the same time: p.Result
// stays as it is.
func (p *Placed) Report(ctx context.Context) (*document.Report, error) {
	advised := p.advised.Load()
	if advised == nil {
		var err error
		if advised, err = fit.Advise(ctx, p.Result); err != nil {
			return nil, err
		}
		p.advised.Store(advised)
	}
	r := *advised
	if r.Bound = p.bound.Load(); r.Bound == nil && p.Kind == document.Solve && r.Unmet() {
		b, err := fit.Prove(ctx, p.Result, fit.ProofBoxes, nil)
		if err = cmp.Or(err, ctx.Err()); err != nil {
			return nil, err // a proof that was given up bounds less
		}
		r.Bound = &b
		p.bound.Store(&b)
	}
	return document.New(ctx, p.Kind, p.Case.Case, &r)
}

// Sheet returns the sheet of a document about p. Version is that of the program.
func (p *Placed) Sheet(d *document.Document, u units.Units, version string) *sheet.Content {
	// enough of the sum to tell the states of one case apart, and short enough to
	// compare by eye
	const sumDigits = 12
	return sheet.New(sheet.Source{Document: d, Result: p.Result, Units: u, Version: version, Checksum: p.Sum()[:sumDigits]})
}

// checked returns the result at the settings of s.
func checked(ctx context.Context, s AsFound, job *fit.Job) (*fit.Result, error) {
	at, err := Mounting(job, s.Side)
	if err != nil {
		return nil, err
	}
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[at])
	if err != nil {
		return nil, err
	}
	settings, err := settingsOf(job, chain, s)
	if err != nil {
		return nil, err
	}
	return fit.Check(ctx, job, at, settings)
}

// solved solves the job, on the side of s if it names one.
func solved(ctx context.Context, s AsFound, job *fit.Job) (*fit.Result, error) {
	if s.Side == "" {
		return fit.Solve(ctx, job)
	}
	at, err := Mounting(job, s.Side)
	if err != nil {
		return nil, err
	}
	return fit.SolveAt(ctx, job, at)
}

// ErrWhichSide reports that a case lets a mount be clamped on either side and nobody
// says on which it is.
var ErrWhichSide = errors.New("the case leaves open on which side the mount is clamped")

// Mounting returns the place among the job's mountings of the one on the given side;
// "" will do where there is only one, and is [ErrWhichSide] otherwise.
func Mounting(job *fit.Job, side string) (int, error) {
	if job.Mount == nil {
		return 0, errors.New("the case has no mount")
	}
	if side == "" {
		if len(job.Mount.Mountings) > 1 {
			return 0, ErrWhichSide
		}
		return 0, nil
	}
	if side != "left" && side != "right" {
		return 0, fmt.Errorf("there is no side %q: choose left or right", side)
	}
	at := slices.IndexFunc(job.Mount.Mountings, func(m mount.Mounting) bool { return m.Side.String() == side })
	if at < 0 {
		return 0, fmt.Errorf("the case does not let the mount be clamped on the %s: see mount.side", side)
	}
	return at, nil
}
