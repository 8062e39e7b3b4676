package page

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"

	"sightpost/cmd/sightpost/internal/draft"
)

// handler returns what answers every request.
func (s *Server) handler() http.Handler {
	own := http.NewServeMux()
	own.HandleFunc("GET /{$}", s.showEmpty)
	own.HandleFunc("POST /{$}", s.act)
	own.HandleFunc("POST /live", s.live)
	own.HandleFunc("POST /job/{job}", s.jobPart)
	own.HandleFunc("POST /download/{what}", s.download)
	own.HandleFunc("POST /answer", s.answer)
	own.HandleFunc("POST /stop", s.stopped)
	own.HandleFunc("GET /measure/{key}", s.measure)
	own.HandleFunc("GET /static/{file}", s.static)
	all := http.NewServeMux()
	all.HandleFunc("GET /start", s.start)
	all.Handle(s.path, s.admitted(http.StripPrefix(s.path[:len(s.path)-1], own)))
	all.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "open the address that the program printed when it started", http.StatusNotFound)
	})
	return s.guarded(all)
}

// showEmpty shows a page on which nothing is said yet, or a case of the folder that
// the address names.
func (s *Server) showEmpty(w http.ResponseWriter, r *http.Request) {
	q := &request{state: state{Text: draft.Empty}, Form: r.URL.Query(), form: &s.form}
	q.Figure = q.Form.Get("figure")
	q.defaults()
	var action action
	if q.Form.Get("case") != "" {
		action = s.openCase
	}
	s.show(w, r, q, action)
}

// act does what a button of the page asks for and shows the page again.
func (s *Server) act(w http.ResponseWriter, r *http.Request) {
	q, ok := s.ask(w, r)
	if !ok {
		return
	}
	s.show(w, r, q, s.actions()[q.Action])
}

// show shows the whole page, after an action if there is one.
func (s *Server) show(w http.ResponseWriter, r *http.Request, q *request, action action) {
	after := func(*view) {}
	if action != nil {
		after = action(r.Context(), q)
	}
	v, err := s.view(r.Context(), q, true)
	if err == nil {
		err = s.tell(r.Context(), v)
	}
	if err != nil {
		s.failed(w, err)
		return
	}
	after(v)
	v.records(s)
	s.page(w, "page.html", v)
}

// page answers with a page.
func (s *Server) page(w http.ResponseWriter, name string, data any) {
	text, err := s.render(name, data)
	if err != nil {
		s.failed(w, err)
		return
	}
	sendHTML(w, text)
}

// sendHTML sends a page or a part of one.
func sendHTML(w http.ResponseWriter, text string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = io.WriteString(w, text) // whoever asked may be gone
}

// ask reads the form of a request, or answers what is wrong with it.
func (s *Server) ask(w http.ResponseWriter, r *http.Request) (*request, bool) {
	q, err := readRequest(r)
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		http.Error(w, "too large for a case and its kit", http.StatusRequestEntityTooLarge)
	case err != nil:
		http.Error(w, plainWords(errForm), http.StatusBadRequest)
	default:
		q.form = &s.form
		q.defaults()
		return q, true
	}
	return nil, false
}

// failed answers that something went wrong.
func (s *Server) failed(w http.ResponseWriter, err error) {
	switch {
	case errors.Is(err, errOlder), errors.Is(err, context.Canceled):
		w.WriteHeader(http.StatusNoContent) // nobody waits for it
	case errors.Is(err, errStopped):
		http.Error(w, plainWords(err), http.StatusServiceUnavailable)
	default:
		http.Error(w, plainWords(err), http.StatusInternalServerError)
	}
}

// liveAnswer is what a page needs to follow what is typed.
type liveAnswer struct {
	Number uint64 `json:"number"`
	// Text is that of the case with what was typed put in.
	Text  string `json:"text"`
	State string `json:"state"`
	// Status is told to those who cannot see the rest.
	Status string `json:"status"`
	// Problems and Needed are by the ids of the fields.
	Problems map[string]string `json:"problems"`
	Needed   []string          `json:"needed"`
	// Titles are those of the entries of lists, by their ids: they follow their names.
	Titles map[string]string `json:"titles"`
	Found  map[string]string `json:"found"`
	// Name is that of a file for the case, if none is given.
	Name string `json:"name"`
	// Figures are the names and titles of those to choose from, Drawn is the one that is
	// shown, and Turned says from where, if it can be turned.
	Figures [][2]string `json:"figures"`
	Drawn   string      `json:"drawn"`
	Turned  *turned     `json:"turned"`
	// Sections say how the parts of the form stand.
	Sections map[string]string `json:"sections"`
	// Parts are pieces of the page by their ids.
	Parts map[string]string `json:"parts"`
	// Shows says of other pieces whether they are shown.
	Shows map[string]bool `json:"shows"`
}

// live answers what a page that is being typed in needs, and only that. A request that
// has been overtaken by a newer one of the same page is not worked on.
func (s *Server) live(w http.ResponseWriter, r *http.Request) {
	q, ok := s.ask(w, r)
	if !ok {
		return
	}
	ctx, cancel, err := s.desk.newest(r.Context(), q.Window, q.Number)
	if err != nil {
		s.failed(w, err)
		return
	}
	defer cancel()
	v, err := s.view(ctx, q, false)
	var a *liveAnswer
	if err == nil {
		a, err = s.liveOf(q, v)
	}
	if err != nil {
		s.failed(w, err)
		return
	}
	send(w, a)
}

// answer answers what a page shows under its form and on paper, once somebody has
// stopped typing: it takes as long as the drawing again.
func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	q, ok := s.ask(w, r)
	if !ok {
		return
	}
	v, err := s.view(r.Context(), q, false)
	if err == nil {
		err = s.tell(r.Context(), v)
	}
	var text string
	if err == nil {
		text, err = s.render("answer", v)
	}
	if err != nil {
		s.failed(w, err)
		return
	}
	send(w, &liveAnswer{Number: q.Number, Parts: map[string]string{"answer": text, "print": string(v.Print)}, Shows: v.shows()})
}

// send sends an object.
func send(w http.ResponseWriter, a *liveAnswer) {
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(a) // whoever asked may be gone
}

// liveOf returns what a page needs of a view.
func (s *Server) liveOf(q *request, v *view) (*liveAnswer, error) {
	a := &liveAnswer{
		Number: q.Number, Text: v.Text, State: v.State(), Status: v.Status(), Name: v.Suggested(),
		Problems: map[string]string{}, Needed: []string{}, Titles: map[string]string{}, Found: map[string]string{}, Sections: map[string]string{}, Parts: map[string]string{},
	}
	for _, section := range v.Sections {
		a.Sections[section.ID] = section.State()
		for _, e := range section.Entries {
			a.entry(e)
		}
	}
	if v.Mounted != nil {
		for _, setting := range v.Mounted.Settings {
			a.Found[setting.ID] = setting.Found
			if setting.Problem != "" {
				a.Problems[setting.ID] = setting.Problem
			}
		}
		if v.Mounted.Problem != "" {
			a.Problems["s-all"] = v.Mounted.Problem
		}
	}
	a.Shows, a.Turned = v.shows(), v.Turning()
	if v.Drawn() {
		a.Drawn = v.Result.Drawn
		for _, f := range v.Result.Figures {
			a.Figures = append(a.Figures, [2]string{f.Name, f.Title})
		}
	}
	parts := []string{"status", "figure", "margin"}
	if q.restands(v.Mounted) {
		parts = append(parts, "stand")
	}
	for _, part := range parts {
		text, err := s.render(part, v)
		if err != nil {
			return nil, err
		}
		a.Parts[part] = text
	}
	return a, nil
}

// entry takes over what is wrong with a field and those under it.
func (a *liveAnswer) entry(e *entry) {
	if e.Number > 0 {
		a.Titles[e.ID] = e.Title()
	}
	if e.Problem != "" {
		a.Problems[e.ID] = e.Problem
	}
	if e.Needed {
		a.Needed = append(a.Needed, e.ID)
	}
	for _, inner := range e.Entries {
		a.entry(inner)
	}
}

// stopped ends the program.
func (s *Server) stopped(w http.ResponseWriter, _ *http.Request) {
	s.page(w, "stopped.html", nil)
	s.askToStop()
}
