package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"io"
	"path"
	"strings"
	"sync"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots"
)

// result is what a page shows of a case beside and under its form.
type result struct {
	// Works says whether the case works, Headline says it in words.
	Works    bool
	Headline string
	// Failed says in words why there is nothing else here.
	Failed string
	Sheet  *sheet.Content
	// Told is the whole answer in words, nil until it is asked for.
	Told    *told
	Figures []tab
	Figure  template.HTML
	// Drawn is the name of the figure that is shown; Turned, if it can be turned, from
	// where it is seen.
	Drawn  string
	Turned *turned

	placed *answer.Placed
}

// tab is a figure to choose.
type tab struct {
	Name, Title string
	Chosen      bool
}

// open returns what opens the kit of a page's case: the text that came with it, if it
// is that which the case names, or a file of the folder by its path from the case.
func (s *Server) open(st *state) answer.Opener {
	return func(kit string) (io.ReadCloser, error) {
		if st.Kit != "" && kit == st.KitAt {
			return io.NopCloser(strings.NewReader(st.Kit)), nil
		}
		return s.openFile(path.Join(path.Dir(st.At), kit))
	}
}

// read reads the case of a page.
func (s *Server) read(st *state) (*answer.Case, error) {
	return answer.Read(st.name(), strings.NewReader(st.Text), s.open(st))
}

// stand returns how the mount stands as the page says.
func (st *state) stand() answer.AsFound {
	if !st.Stands {
		return answer.AsFound{Side: st.Side}
	}
	return answer.AsFound{Side: st.Side, Settings: st.Settings}
}

// worked is a case that was worked out, or what is wrong with it.
type worked struct {
	problems casefile.Errors
	given    *answer.Case // nil if something is wrong with it
	placed   *answer.Placed
	err      error // of the settings as they stand, or of what the case asks for
}

// errNoneStands reports that nobody has said yet how the mount stands.
var errNoneStands = errors.New("page: enter every setting as found, or take them from an assessment or a table")

// work works the case of a page out.
func (s *Server) work(ctx context.Context, st *state) (worked, error) {
	var w worked
	err := s.desk.do(ctx, s.desk.short, func() error {
		w = s.workOut(ctx, st)
		return ctx.Err()
	})
	if err != nil {
		return worked{}, err // w may still be written
	}
	return w, nil
}

// workOut is work that is done where it is asked for.
func (s *Server) workOut(ctx context.Context, st *state) (w worked) {
	c, err := s.read(st)
	if err != nil {
		if !errors.As(err, &w.problems) {
			w.err = err
		}
		return w
	}
	w.given = c
	if st.Stands && len(st.Settings) == 0 {
		w.err = errNoneStands
		return w
	}
	k := key(c, st.stand())
	if w.placed = s.memory.recall(k); w.placed != nil {
		return w
	}
	if w.placed, w.err = c.Place(ctx, st.stand()); w.err == nil {
		s.memory.keep(k, w.placed)
	}
	return w
}

// result returns what the page shows beside its form of a case that was worked out.
func (s *Server) result(ctx context.Context, st *state, w worked) (*result, error) {
	r := &result{}
	switch {
	case len(w.problems) > 0:
		return r, nil
	case w.err != nil:
		r.Failed = plainWords(w.err)
		return r, nil
	}
	r.placed, r.Works = w.placed, w.placed.Result.Works
	err := s.desk.do(ctx, s.desk.short, func() error { return errors.Join(r.headline(st), r.figure(st, w.placed)) })
	if err != nil {
		return nil, err // r may still be written
	}
	return r, nil
}

// headline says in short how the case does.
func (r *result) headline(st *state) error {
	rep, err := r.placed.Preview()
	if err != nil {
		return err
	}
	verdict, summary, reasons := rep.Headline()
	words := []string{verdict.In(st.Units)}
	if st.Stands {
		words[0] = "With the settings as found: " + words[0]
	}
	if r.Works {
		words = append(words, summary.In(st.Units))
	}
	for i := range reasons {
		words = append(words, sentence(reasons[i].Text.In(st.Units)))
	}
	r.Headline = strings.Join(words, " ")
	return nil
}

// tell fills in what the page shows under its form.
func (r *result) tell(st *state, version string) error {
	rep, err := r.placed.Report()
	if err != nil {
		return err
	}
	r.Sheet = r.placed.Sheet(rep, st.Units, version)
	r.Told, err = tellOf(rep, st.Units)
	return err
}

// printed returns the setup sheet as an element of the page, for paper alone.
func (r *result) printed(on string) (template.HTML, error) {
	paper, err := sheet.PaperNamed(on)
	if err != nil {
		paper = sheet.A4 // the choice of the page has no other
	}
	var text bytes.Buffer
	err = r.Sheet.WriteElement(&text, paper)
	return template.HTML(text.String()), err // made by a template, which escapes what it is given
}

// figure draws the one figure that is looked at.
func (r *result) figure(st *state, p *answer.Placed) error {
	all := p.Figures(st.Units)
	at := 0
	for i, f := range all {
		if f.Name == st.Figure {
			at = i
		}
	}
	for i, f := range all {
		r.Figures = append(r.Figures, tab{f.Name, f.Title, i == at})
	}
	chosen := all[at]
	r.Drawn = chosen.Name
	if chosen.Name == turnedName {
		r.Turned = turnedOf(st, p)
		chosen = p.View3D(r.Turned.view(), st.Units)
	}
	if st.Narrow {
		if small, ok := p.Small(chosen.Name, r.Turned.view(), st.Units); ok {
			chosen = small
		}
	}
	svg, err := inline(chosen, "figure")
	r.Figure = svg
	return err
}

// inline returns a figure as an element of the page. A figure that cannot be drawn is
// told in words: everything else is there all the same.
func inline(f answer.Figure, id string) (template.HTML, error) {
	fig, err := f.Draw()
	if errors.Is(err, plots.ErrFigure) {
		return template.HTML("<p>" + template.HTMLEscapeString(plainWords(err)) + "</p>"), nil // escaped
	}
	if err != nil {
		return "", fmt.Errorf("%s: %w", f.Name, err)
	}
	var svg bytes.Buffer
	if err := plots.WriteInlineSVG(&svg, fig, id); err != nil {
		return "", fmt.Errorf("%s: %w", f.Name, err)
	}
	return template.HTML(svg.String()), nil // written by plots, which escapes text
}

// plainWords returns an error as the page tells it: the package that speaks need not
// be named.
func plainWords(err error) string {
	var lines []string
	for line := range strings.Lines(err.Error()) {
		line = strings.TrimSpace(line)
		for _, name := range []string{"page: ", "casefile: ", "draft: ", "fit: ", "mount: ", "plots: ", "record: ", "gaze: "} {
			line = strings.TrimPrefix(line, name)
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "; ")
}

// memory keeps the cases that were worked out last, so that turning a drawing, looking
// at another figure or printing the sheet does not work the same case out again. It
// is of this start alone. What it keeps is read and never changed.
type memory struct {
	mu    sync.Mutex
	known map[string]*answer.Placed
	order []string // the oldest first
}

// remembered is how many cases are kept: the steps of one person's undo.
const remembered = 16

// key returns what tells apart cases and how their mounts stand. Where the case ends and
// its kit begins is not in their sum.
func key(c *answer.Case, s answer.AsFound) string {
	return fmt.Sprintf("%s %d %q", c.Sum(), len(c.Text), s)
}

// recall returns the case of a key as it was worked out, or nil.
func (m *memory) recall(key string) *answer.Placed {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.known[key]
}

// keep keeps a case that was worked out.
func (m *memory) keep(key string, p *answer.Placed) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known == nil {
		m.known = map[string]*answer.Placed{}
	}
	if m.known[key] == nil {
		m.order = append(m.order, key)
	}
	m.known[key] = p
	if len(m.order) > remembered {
		delete(m.known, m.order[0])
		m.order = m.order[1:]
	}
}
