package page

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/pictures"
	"sightpost/cmd/sightpost/internal/sheet"
)

//go:embed static
var staticFiles embed.FS

// static serves the style sheet and the scripts.
func (s *Server) static(w http.ResponseWriter, r *http.Request) {
	name := path.Join("static", path.Base(r.PathValue("file")))
	text, err := staticFiles.ReadFile(name)
	if name == "static/sheet.css" {
		text, err = []byte(sheet.Style()), nil
	}
	if err != nil {
		http.Error(w, "there is no such file", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	_, _ = w.Write(text) // whoever asked may be gone
}

// measure serves the picture of how an entry is measured.
func (s *Server) measure(w http.ResponseWriter, r *http.Request) {
	entry := s.form.At(strings.TrimSuffix(r.PathValue("key"), ".svg"))
	if entry == nil {
		http.Error(w, "there is no such entry", http.StatusNotFound)
		return
	}
	svg, ok := pictures.SVG(*entry)
	if !ok {
		http.Error(w, "there is no picture of this entry", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Cache-Control", "private, max-age=3600")
	_, _ = w.Write(svg)
}

// file is what a download gives.
type file struct {
	name, kind string
	data       []byte
}

// download gives a file made from what the page holds.
func (s *Server) download(w http.ResponseWriter, r *http.Request) {
	q, ok := s.ask(w, r)
	if !ok {
		return
	}
	var f file
	err := s.desk.do(r.Context(), s.desk.short, func() (err error) {
		f, err = s.made(r.Context(), q, r.PathValue("what"))
		return err
	})
	if err != nil {
		http.Error(w, plainWords(err), http.StatusUnprocessableEntity)
		return
	}
	w.Header().Set("Content-Type", f.kind)
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": f.name}))
	_, _ = w.Write(f.data) // whoever asked may be gone
}

// made makes the file called what.
func (s *Server) made(ctx context.Context, q *request, what string) (file, error) {
	d, err := q.changed()
	if d.Text() != "" {
		q.settle(d.Text())
	}
	switch {
	case errors.Is(err, draft.ErrEntry): // the file would lack what was typed
		return file{}, err
	case what == "case.yaml":
		return file{baseOr(q.At, q.suggested()), "application/yaml", q.ends(q.Text)}, nil
	case what == "kit.yaml":
		if q.Kit == "" {
			return file{}, errors.New("the kit is already in the folder")
		}
		return file{what, "application/yaml", q.ends(q.Kit)}, nil
	}
	if err != nil {
		return file{}, err
	}
	p, err := s.placed(ctx, q)
	if err != nil {
		return file{}, err
	}
	if figure, ok := strings.CutPrefix(what, "figure."); ok {
		return drawn(q, p, figure)
	}
	return s.reported(q, p, what)
}

// baseOr returns the last part of a path, or a name for what has none.
func baseOr(at, name string) string {
	if at == "" {
		return name
	}
	return path.Base(at)
}

// drawn returns the figure that is looked at in a format.
func drawn(q *request, p *answer.Placed, format string) (file, error) {
	for _, f := range p.Figures(q.Units) {
		if f.Name != q.Figure {
			continue
		}
		if f.Name == turnedName {
			f = p.View3D(turnedOf(&q.state, p).view(), q.Units)
		}
		files, err := f.Drawn(format)
		if err != nil {
			return file{}, err
		}
		name := f.Name + "." + format
		return file{name, mime.TypeByExtension(path.Ext(name)), files[0]}, nil
	}
	return file{}, fmt.Errorf("there is no figure %q", q.Figure)
}

// reported returns a file that the report is written to.
func (s *Server) reported(q *request, p *answer.Placed, what string) (file, error) {
	rep, err := p.Report()
	if err != nil {
		return file{}, err
	}
	switch what {
	case "result.json":
		text, err := answer.JSON(rep, true)
		return file{what, "application/json", text}, err
	case "settings.csv":
		if rep.Mount == nil {
			return file{}, errors.New("the case has no mount")
		}
		text, err := rep.Mount.SettingsCSV()
		return file{what, "text/csv; charset=utf-8", text}, err
	}
	c := p.Sheet(rep, q.Units, s.opt.Version)
	paper, err := sheet.PaperNamed(q.Paper)
	if err != nil {
		return file{}, err
	}
	var text bytes.Buffer
	var write func(io.Writer, sheet.Paper) error
	kind := "application/pdf"
	switch what {
	case "sheet.pdf":
		write = c.WritePDF
	case "sheet.html":
		write, kind = c.WriteHTML, "text/html; charset=utf-8"
	default:
		return file{}, fmt.Errorf("there is no file %q to download", what)
	}
	err = write(&text, paper)
	return file{what, kind, text.Bytes()}, err
}
