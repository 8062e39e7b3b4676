package page

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"runtime"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// job is work that takes more than a moment. It may be given up when ctx ends.
type job func(ctx context.Context, q *request) (*told, error)

// jobs are the longer answers of the page, by name.
func (s *Server) jobs() map[string]job {
	return map[string]job{"vary": s.vary, "refit": s.refit, "match": s.match, "compare": s.compare}
}

// jobAction does a job for a page without scripts, which is shown again as a whole.
func (s *Server) jobAction(ctx context.Context, q *request) func(*view) {
	d, err := q.changed()
	if err != nil {
		return failing(err)
	}
	name := q.Target
	done := *q
	done.settle(d.Text())
	part, err := s.job(ctx, name, &done)
	if err != nil {
		return failing(err)
	}
	return func(v *view) { v.Jobs[name] = part }
}

// jobPart does a job and answers with the part of the page that tells of it.
func (s *Server) jobPart(w http.ResponseWriter, r *http.Request) {
	q, ok := s.ask(w, r)
	if !ok {
		return
	}
	ctx := r.Context()
	d, err := q.changed()
	if err == nil {
		q.settle(d.Text())
		var part template.HTML
		if part, err = s.job(ctx, r.PathValue("job"), q); err == nil {
			sendHTML(w, string(part))
			return
		}
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, errStopped) {
		s.failed(w, err)
		return
	}
	http.Error(w, plainWords(err), http.StatusUnprocessableEntity)
}

// job does a job at the place for long ones.
func (s *Server) job(ctx context.Context, name string, q *request) (template.HTML, error) {
	do, ok := s.jobs()[name]
	if !ok {
		return "", fmt.Errorf("there is no job %q", name)
	}
	var text string
	err := s.desk.doLong(ctx, func(ctx context.Context) error {
		t, err := do(ctx, q)
		if err != nil {
			return err
		}
		text, err = s.render("told", t)
		return err
	})
	return template.HTML(text), err // made by a template, which escapes what it is given
}

// placed works the case of a page out, or says what is wrong with it.
func (s *Server) placed(ctx context.Context, q *request) (*answer.Placed, error) {
	w := s.workOut(ctx, &q.state)
	switch {
	case len(w.problems) > 0:
		return nil, w.problems
	case w.err != nil:
		return nil, w.err
	}
	return w.placed, nil
}

// told is an answer as the page shows it: the short form of its document, the whole text,
// and its figures.
type told struct {
	Verdict, Summary string
	Sections         []document.Section
	Units            units.Units
	Text             string
	Figures          []template.HTML
}

// documented is an answer that comes as a document.
type documented interface{ Document() *document.Document }

// tellOf returns an answer as the page shows it.
func tellOf(a documented, u units.Units) (*told, error) {
	d := a.Document()
	t := &told{Verdict: d.Verdict.In(u), Summary: d.Summary.In(u), Units: u}
	for _, s := range d.Sections {
		if short := s.Short(); !short.Empty() {
			t.Sections = append(t.Sections, short)
		}
	}
	var whole strings.Builder
	err := text.Write(&whole, d, text.Options{Units: u, Full: true})
	t.Text = whole.String()
	return t, err
}

// column returns the title of a column of a table, which may have none.
func column(s document.Section, i int) string {
	if i < len(s.Head) {
		return s.Head[i]
	}
	return ""
}

// named returns the column that names the rows of a table: the first, or the first with a
// title where there are any, since a number may come before the name.
func named(s document.Section) int {
	return max(slices.IndexFunc(s.Head, func(title string) bool { return title != "" }), 0)
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

// The draws of the page are those of the command line, so that both answer the same.
const drawsSeed = 1

// workers returns how many processors a job may use: one is left to those who go on
// typing.
func workers() int { return max(1, runtime.GOMAXPROCS(0)-1) }

// vary draws all errors at once.
func (s *Server) vary(ctx context.Context, q *request) (*told, error) {
	p, err := s.placed(ctx, q)
	if err != nil {
		return nil, err
	}
	v, err := p.Vary(ctx, answer.VaryOptions{Draws: answer.VaryDraws, Seed: drawsSeed, Workers: workers()})
	if err != nil {
		return nil, err
	}
	t, err := tellOf(v, q.Units)
	if err != nil {
		return nil, err
	}
	return t, t.draw(v.Figures(q.Units), "vary")
}

// refit finds the least to change of the settings as they stand.
func (s *Server) refit(ctx context.Context, q *request) (*told, error) {
	if !q.Stands {
		return nil, errNoneStands
	}
	margin, err := answer.WantedMargin(written(q.marginField(), strings.TrimSpace(q.Form.Get("margin")), q.Shown))
	if err != nil {
		return nil, fmt.Errorf("required margin: %w", err)
	}
	p, err := s.placed(ctx, q)
	if err != nil {
		return nil, err
	}
	plan, err := p.Refit(ctx, margin, nil)
	if err != nil {
		return nil, err
	}
	return tellOf(plan, q.Units)
}

// match ranks kits for the case.
func (s *Server) match(ctx context.Context, q *request) (*told, error) {
	w := s.workOut(ctx, &state{Text: q.Text, Kit: q.Kit, KitAt: q.KitAt, At: q.At, Side: q.Side})
	switch {
	case len(w.problems) > 0:
		return nil, w.problems
	case w.given == nil:
		return nil, w.err
	}
	kits, err := s.kits(q.Form["kits"])
	if err != nil {
		return nil, err
	}
	m, err := w.given.Match(ctx, kits, answer.MatchOptions{
		Sides: q.Form.Get("sides") != "", Draws: answer.MatchDraws, Seed: drawsSeed, Workers: workers(),
	})
	if err != nil {
		return nil, err
	}
	return tellOf(m, q.Units)
}

// kits reads kits of the folder. The error names everything that is wrong with them.
func (s *Server) kits(names []string) ([]answer.NamedKit, error) {
	const most = 50
	switch {
	case len(names) == 0:
		return nil, errors.New("tick at least one kit")
	case len(names) > most:
		return nil, fmt.Errorf("%d kits are ticked; tick at most %d at a time", len(names), most)
	}
	return answer.ReadKits(names, s.openFile)
}
