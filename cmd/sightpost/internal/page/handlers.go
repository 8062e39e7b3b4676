package page

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"crypto/rand"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"mime"
	"net/http"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/pictures"
	"sightpost/cmd/sightpost/internal/sheet"
)

//go:embed static
var staticFiles embed.FS

// handler returns what answers every request.
func (s *Server) handler() http.Handler {
	own := http.NewServeMux()
	own.HandleFunc("GET /{$}", s.answering(s.show))
	own.HandleFunc("POST /{$}", s.answering(s.show))
	own.HandleFunc("POST /live", s.answering(s.live))
	own.HandleFunc("POST /keep", s.answering(s.keep))
	own.HandleFunc("POST /answer", s.answering(s.answer))
	own.HandleFunc("POST /job/{what}", s.answering(s.jobPart))
	own.HandleFunc("POST /download/{what}", s.answering(s.download))
	own.HandleFunc("POST /stop", s.stopped)
	own.HandleFunc("GET /measure/{key}", s.measure)
	own.HandleFunc("GET /example.svg", s.answering(s.exampleDrawing))
	own.HandleFunc("GET /blank", s.answering(s.blankForm))
	own.Handle("GET /static/{file}", http.FileServerFS(staticFiles))
	own.Handle("GET /static/sheet.css", reply{kind: "text/css; charset=utf-8", data: []byte(sheet.Style())})
	own.Handle("GET /static/letters.ttf", reply{kind: "font/ttf", data: sheet.Letters()})
	all := http.NewServeMux()
	all.HandleFunc("GET /start", s.start)
	all.Handle(s.path, s.admitted(http.StripPrefix(s.path[:len(s.path)-1], own)))
	all.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "open the address that the program printed when it started", http.StatusNotFound)
	})
	return s.guarded(all)
}

// reply is what a request is answered with.
type reply struct {
	kind string // of the data; that of the file if there is one
	data []byte
	name string // of the file to save it in; "" if it is to be shown
}

// kinds are those of files by the ends of their names, the same on every system.
var kinds = map[string]string{
	".yaml": "application/yaml", ".json": "application/json", ".csv": "text/csv; charset=utf-8", ".html": "text/html; charset=utf-8",
	".pdf": "application/pdf", ".zip": "application/zip", ".svg": "image/svg+xml", ".png": "image/png",
}

// ServeHTTP sends a reply.
func (a reply) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", cmp.Or(a.kind, kinds[path.Ext(a.name)]))
	if a.name != "" {
		w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": a.name}))
	}
	_, _ = w.Write(a.data) // whoever asked may be gone
}

// pack returns a reply that is to be shown compressed, if who asks takes it so.
func (a reply) pack(w http.ResponseWriter, r *http.Request) reply {
	const little = 4 << 10
	if a.name != "" || len(a.data) < little || !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		return a
	}
	var small bytes.Buffer
	z, _ := gzip.NewWriterLevel(&small, gzip.BestSpeed) // which is a level
	_, _ = z.Write(a.data)                              // memory takes all
	_ = z.Close()
	w.Header().Set("Content-Encoding", "gzip")
	a.data = small.Bytes()
	return a
}

// answering returns a handler that sends what do makes of a request, or tells why there
// is nothing.
func (s *Server) answering(do func(context.Context, *request) (reply, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		q, err := s.ask(r)
		var a reply
		if err == nil {
			a, err = do(r.Context(), q)
		}
		var large *http.MaxBytesError
		switch {
		case err == nil:
			a.pack(w, r).ServeHTTP(w, r)
		case errors.Is(err, errOlder), errors.Is(err, context.Canceled):
			w.WriteHeader(http.StatusNoContent) // nobody waits for it
		case errors.Is(err, errStopped):
			http.Error(w, plainWords(err), http.StatusServiceUnavailable)
		case errors.As(err, &large):
			http.Error(w, fmt.Sprintf("too large: the page takes %d MB at once", maxBody>>20), http.StatusRequestEntityTooLarge)
		case errors.Is(err, errForm):
			http.Error(w, plainWords(errForm), http.StatusBadRequest)
		default:
			http.Error(w, plainWords(err), http.StatusUnprocessableEntity)
		}
	}
}

// show does what a button of the page asks for, if one was pressed, and shows the whole
// page.
func (s *Server) show(ctx context.Context, q *request) (reply, error) {
	v := &view{}
	s.kept.put(q)
	if do := s.actions()[q.Action]; do != nil {
		if err := do(ctx, q, v); err != nil {
			v.Notice, v.Bad = plainWords(err), true
		}
	}
	q.Window = cmp.Or(q.Window, rand.Text())
	if q.Form.Get("shown") != "" && q.Form.Get("shown") != q.Form.Get("units") {
		s.kept.choose(q.Units.String())
	}
	s.kept.put(q)
	v.Listing = s.list()
	if err := s.fill(ctx, q, v, v.draw, v.tell); err != nil {
		return reply{}, err
	}
	required := 0.0
	if v.Placed != nil {
		required = v.Placed.Job.Preferences.MarginMM
	}
	v.Records = s.records(q, required)
	if v.First {
		v.Unfinished, v.Codes, v.Recent = s.kept.all(), s.filed(), s.recent(v.Listing.Cases)
		at := min(len(v.Codes), mostRecent)
		v.Codes, v.OlderCodes = v.Codes[:at], v.Codes[at:]
	}
	text, err := s.render("page.html", v)
	return htmlReply(text), err
}

// htmlReply returns a page or a part of one as a reply.
func htmlReply(text string) reply { return reply{kind: kinds[".html"], data: []byte(text)} }

// liveAnswer is what a page needs to follow what is typed.
type liveAnswer struct {
	Number uint64 `json:"number"`
	// Text is that of the case with what was typed put in.
	Text  string `json:"text"`
	State string `json:"state"`
	// Status is told to those who cannot see the rest.
	Status string `json:"status"`
	// Problems, Notes of what is unlikely, and Needed are by the ids of the fields.
	Problems map[string]string `json:"problems"`
	Notes    map[string]string `json:"notes"`
	Needed   []string          `json:"needed"`
	Doubted  []string          `json:"doubted"`
	// Titles are those of the entries of lists, by their ids: they follow their names.
	Titles map[string]string `json:"titles"`
	Found  map[string]string `json:"found"`
	// Name is that of a file for the case, if none is given, Address the one by which the
	// browser comes back to it.
	Name    string `json:"name"`
	Address string `json:"address"`
	// Figures are the names and titles of those to choose from, Drawn is the one that is
	// shown, and Turned says from where, if it can be turned.
	Figures [][2]string `json:"figures"`
	Drawn   string      `json:"drawn"`
	Turned  *turned     `json:"turned"`
	// Sections say how complete the parts of the form are.
	Sections map[string]string `json:"sections"`
	// Parts are pieces of the page by their ids.
	Parts map[string]string `json:"parts"`
	// Shows says of other pieces whether they are shown; those that it does not name stay.
	Shows map[string]bool `json:"shows"`
}

// liveReply returns an answer as an object, with parts of the page in it.
func (s *Server) liveReply(a *liveAnswer, v *view, parts []string) (_ reply, err error) {
	for _, part := range parts {
		if a.Parts[part], err = s.render(part, v); err != nil {
			return reply{}, err
		}
	}
	text, err := json.Marshal(a)
	return reply{kind: kinds[".json"], data: text}, err
}

// live answers what a page that is being typed in needs, and only that. A request that
// has been overtaken by a newer one of the same page is not worked on.
func (s *Server) live(ctx context.Context, q *request) (reply, error) {
	ctx, cancel, err := s.desk.newest(ctx, q.Window, q.Number)
	if err != nil {
		return reply{}, err
	}
	defer cancel()
	s.kept.put(q)
	v := &view{}
	if err := s.fill(ctx, q, v, v.draw); err != nil {
		return reply{}, err
	}
	parts := []string{"status", "margin"}
	if v.Drawing != "" { // else the last one stays
		parts = append(parts, "figure")
	}
	if q.otherSettings(v.Mounted) {
		parts = append(parts, "as-found")
	}
	return s.liveReply(v.live(), v, parts)
}

// answer answers what a page shows under its form and on paper, once someone has
// stopped typing.
func (s *Server) answer(ctx context.Context, q *request) (reply, error) {
	v := &view{}
	if err := s.fill(ctx, q, v, v.tell); err != nil {
		return reply{}, err
	}
	a := &liveAnswer{Number: q.Number, Parts: map[string]string{"print": string(v.Print)}, Shows: map[string]bool{}}
	var parts []string
	if v.Told != nil { // else the last ones stay
		parts = []string{"answer", "side-by-side"}
	}
	return s.liveReply(a, v, parts)
}

// live returns what a page needs of a view, but for the parts that are rendered.
func (v *view) live() *liveAnswer {
	a := &liveAnswer{
		Number: v.Number, Text: v.Text, State: v.State(), Status: v.Status(), Name: v.Suggested(), Address: v.Address,
		Problems: map[string]string{}, Notes: map[string]string{}, Needed: []string{}, Doubted: []string{}, Titles: map[string]string{},
		Found: map[string]string{}, Sections: map[string]string{}, Parts: map[string]string{},
		Shows: v.shows(), Turned: v.Turned,
	}
	put := func(all map[string]string, id, words string) {
		if words != "" {
			all[id] = words
		}
	}
	var fields []*entry
	for _, section := range v.Sections {
		a.Sections[section.ID] = section.State()
		fields = append(fields, section.all...)
	}
	if v.Mounted != nil {
		fields = append(fields, v.Mounted.Settings...)
		for _, e := range v.Mounted.Settings {
			a.Found[e.ID] = e.Assumed
		}
		put(a.Problems, "s-all", v.Mounted.Problem)
	}
	for _, e := range fields {
		if e.Number > 0 {
			a.Titles[e.ID] = e.Title()
		}
		put(a.Problems, e.ID, e.Problem)
		put(a.Notes, e.ID, e.Note)
		if e.Doubted {
			a.Doubted = append(a.Doubted, e.ID)
		}
		if e.Needed {
			a.Needed = append(a.Needed, e.ID)
		}
	}
	if v.Drawing != "" {
		a.Drawn = v.Drawn
		for _, f := range v.Figures {
			a.Figures = append(a.Figures, [2]string{f.Value, f.Label})
		}
	}
	return a
}

// stopped ends the program.
func (s *Server) stopped(w http.ResponseWriter, r *http.Request) {
	text, err := s.render("stopped.html", nil)
	if err != nil {
		text = err.Error()
	}
	htmlReply(text).ServeHTTP(w, r)
	s.stop()
}

// exampleDrawing draws what comes of the worked example.
func (s *Server) exampleDrawing(ctx context.Context, q *request) (reply, error) {
	caseText, kitText := casefile.Starter(q.Units)
	w, err := s.work(ctx, &state{Text: string(caseText), Kit: string(kitText), KitAt: "kit.yaml"})
	if err = cmp.Or(err, w.err); err != nil {
		return reply{}, err
	}
	const dots = 290
	look := answer.OnScreen(q.Units, dots)
	look.Compact = true
	svg, err := w.placed.Figures(ctx, look)[0].Drawn("svg")
	if err != nil {
		return reply{}, err
	}
	return reply{kind: kinds[".svg"], data: svg[0]}, nil
}

// measure serves the picture of how an entry is measured.
func (s *Server) measure(w http.ResponseWriter, r *http.Request) {
	if entry := s.form.At(strings.TrimSuffix(r.PathValue("key"), ".svg")); entry != nil {
		if svg, ok := pictures.SVG(*entry); ok {
			w.Header().Set("Cache-Control", "private, max-age=3600")
			reply{kind: kinds[".svg"], data: svg}.ServeHTTP(w, r)
			return
		}
	}
	http.Error(w, "there is no picture of this entry", http.StatusNotFound)
}
