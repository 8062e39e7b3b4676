package page

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"html/template"
	"runtime"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// job is work that takes more than a moment. It may be given up when ctx ends.
type job func(ctx context.Context, q *request) (*told, error)

// jobs are the longer answers of the page, by name.
func (s *Server) jobs() map[string]job {
	return map[string]job{"vary": s.vary, "refit": s.refit, "match": s.match, "compare": s.compare}
}

// jobAction does a job for a page without scripts, which is shown again as a whole.
func (s *Server) jobAction(ctx context.Context, q *request, v *view) error {
	part, err := s.job(ctx, q.Target, q)
	v.Jobs = map[string]template.HTML{q.Target: template.HTML(part)} // made by a template, which escapes what it is given
	return err
}

// jobPart does a job and answers with the part of the page that tells of it.
func (s *Server) jobPart(ctx context.Context, q *request) (reply, error) {
	part, err := s.job(ctx, q.What, q)
	return htmlReply(part), err
}

// job does a job at the place for long ones.
func (s *Server) job(ctx context.Context, name string, q *request) (string, error) {
	do, ok := s.jobs()[name]
	switch {
	case q.wrong != nil:
		return "", q.wrong
	case !ok:
		return "", fmt.Errorf("there is no job %q", name)
	}
	own := *q // what is given up may go on
	return made(ctx, s.desk, true, func(ctx context.Context) (string, error) {
		t, err := do(ctx, &own)
		if err != nil {
			return "", err
		}
		return s.render("told", t)
	})
}

// told is an answer as the page shows it: its document and its figures.
type told struct {
	Verdict, Summary string
	Sections         []document.Section
	Units            units.Units
	Figures          []template.HTML
	// Own says that it is the page's answer, to no further question.
	Own bool
	// Refitted says that there is a sheet of settings that a refit leads to, Changes that
	// there is one of what changes.
	Refitted, Changes bool
}

// documented is an answer that comes as a document.
type documented interface{ Document() *document.Document }

// tellOf returns an answer as the page shows it.
func tellOf(a documented, u units.Units) *told {
	d := a.Document()
	return &told{Verdict: sentence(d.Verdict.In(u)), Summary: d.Summary.In(u), Sections: d.Sections, Units: u}
}

// Short returns t without what only the full form shows, but for what is to be observed,
// which the page's own answer shows whole.
func (t *told) Short() *told {
	short := *t
	short.Sections = nil
	for _, s := range t.Sections {
		if !t.Own || s.ID != document.SectionSafety {
			s = s.Short()
		}
		if !s.Empty() {
			short.Sections = append(short.Sections, s)
		}
	}
	return &short
}

// Long reports whether there is more to show than the short form.
func (t *told) Long() bool {
	return slices.ContainsFunc(t.Sections, func(s document.Section) bool {
		short := s.Short()
		return len(short.Rows)+len(short.Lines) < len(s.Rows)+len(s.Lines)
	})
}

// named returns the column that names the rows of a table: the first, or the second of several
// where the rows are numbered.
func named(s document.Section) int {
	if len(s.Rows[0].Cells) > 2 && isNumber(s.Rows[0].Cells[0].In(units.MM)) {
		return 1
	}
	return 0
}

// draw draws figures for a part of the page.
func (t *told) draw(all []answer.Figure, id string) error {
	for i, f := range all {
		svg, err := inline(f, fmt.Sprintf("%s-%d", id, i+1))
		if err != nil {
			return err
		}
		t.Figures = append(t.Figures, svg)
	}
	return nil
}

// The simulations of the page are those of the command line, so that both answer the same.
const simulationSeed = 1

// workers returns how many processors a job may use: one is left to those who go on
// typing.
func workers() int { return max(1, runtime.GOMAXPROCS(0)-1) }

// vary draws all errors at once.
func (s *Server) vary(ctx context.Context, q *request) (*told, error) {
	p, err := s.placed(ctx, q)
	if err != nil {
		return nil, err
	}
	v, err := p.Vary(ctx, answer.VaryOptions{Size: answer.VarySimulations, Seed: simulationSeed, Workers: workers()})
	if err != nil {
		return nil, err
	}
	t := tellOf(v, q.Units)
	return t, t.draw(v.Figures(q.look(inCard)), "vary")
}

// refit tells the least to change of the settings as found.
func (s *Server) refit(ctx context.Context, q *request) (*told, error) {
	plan, err := s.plan(ctx, q)
	if err != nil {
		return nil, err
	}
	t := tellOf(plan, q.Units)
	t.Refitted, t.Changes = plan.Restored, plan.ChangeSheet() != nil
	return t, nil
}

// plan finds the least to change of the settings as found.
func (s *Server) plan(ctx context.Context, q *request) (*answer.Refit, error) {
	if !q.AsFound {
		return nil, errNotSet
	}
	margin, err := answer.WantedMargin(strings.TrimSpace(q.Form.Get("margin")), q.Shown)
	if err != nil {
		return nil, fmt.Errorf("required margin: %w", err)
	}
	w := s.workOut(ctx, &q.state)
	if err := cmp.Or(q.wrong, w.err); err != nil {
		return nil, err
	}
	return s.plans.of(fmt.Sprintf("%s %v", w.key, margin), func() (*answer.Refit, error) { return w.placed.Refit(ctx, margin) })
}

// match ranks kits of the folder for the case.
func (s *Server) match(ctx context.Context, q *request) (*told, error) {
	c, err := answer.Read(q.name(), strings.NewReader(q.Text), s.opener(&q.state))
	if err != nil {
		return nil, err
	}
	const most = 50
	names := q.Form["kits"]
	switch {
	case len(names) == 0:
		return nil, errors.New("tick at least one kit")
	case len(names) > most:
		return nil, fmt.Errorf("%d kits are ticked; tick at most %d at a time", len(names), most)
	}
	m, err := c.Match(ctx, answer.ReadKits(names, s.openFile), answer.MatchOptions{
		Sides: q.Form.Get("sides") != "", Simulations: answer.MatchSimulations, Seed: simulationSeed, Workers: workers(),
	})
	if err != nil {
		return nil, err
	}
	return tellOf(m, q.Units), nil
}
