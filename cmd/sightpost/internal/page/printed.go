package page

import (
	"bytes"
	"context"
	"html/template"
	"net/http"

	"sightpost/cmd/sightpost/internal/sheet"
)

// noSheet is what is printed where there is no sheet.
const noSheet = `<p>There is no setup sheet yet: measures are missing, or make no sense.</p>`

// printed returns the setup sheet as an element of the page, for paper alone.
func (s *Server) printed(ctx context.Context, q *request, r *result) (template.HTML, error) {
	if r == nil || r.Sheet == nil {
		return noSheet, nil
	}
	paper, err := sheet.PaperNamed(q.Paper)
	if err != nil {
		paper = sheet.A4
	}
	var text bytes.Buffer
	err = s.desk.do(ctx, s.desk.short, func() error { return r.Sheet.WriteElement(&text, paper) })
	return template.HTML(text.String()), err // made by a template, which escapes what it is given
}

// sheetPart answers with the setup sheet of a page that was typed in.
func (s *Server) sheetPart(w http.ResponseWriter, r *http.Request) {
	q, ok := s.form(w, r)
	if !ok {
		return
	}
	v, err := s.view(r.Context(), q, false)
	if err != nil {
		s.failed(w, err)
		return
	}
	text, err := s.printed(r.Context(), q, v.Result)
	if err != nil {
		s.failed(w, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write([]byte(text)) // whoever asked may be gone
}
