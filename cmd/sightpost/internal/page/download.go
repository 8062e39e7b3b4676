package page

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/sheet"
)

// download gives a file made from what the page holds.
func (s *Server) download(ctx context.Context, q *request) (a reply, err error) {
	err = s.desk.do(ctx, s.desk.short, func() (err error) {
		a, err = s.made(ctx, q)
		return err
	})
	return a, err
}

// made makes the file that is asked for.
func (s *Server) made(ctx context.Context, q *request) (reply, error) {
	switch {
	case errors.Is(q.wrong, draft.ErrEntry): // the file would lack what was typed
		return reply{}, q.wrong
	case q.What == "case.yaml":
		name := path.Base(cmp.Or(q.At, q.suggested()))
		return reply{"application/yaml", q.outgoing(name, q.Text, "").text, name}, nil
	case q.What == "kit.yaml":
		if q.Kit == "" {
			return reply{}, errors.New("the kit is already in the folder")
		}
		return reply{"application/yaml", q.outgoing(q.What, q.Kit, "").text, q.What}, nil
	}
	p, err := s.placed(ctx, q)
	if err != nil {
		return reply{}, err
	}
	if format, ok := strings.CutPrefix(q.What, "figure."); ok {
		return drawn(q, p, format)
	}
	return s.reported(q, p)
}

// drawn returns the figure that is looked at in a format.
func drawn(q *request, p *answer.Placed, format string) (reply, error) {
	for _, f := range p.Figures(q.Units) {
		if f.Name != q.Figure {
			continue
		}
		if f.Name == turnedName {
			f = p.View3D(turnedOf(&q.state, p).view(), q.Units)
		}
		files, err := f.Drawn(format)
		if err != nil {
			return reply{}, err
		}
		return reply{mime.TypeByExtension("." + format), files[0], f.Name + "." + format}, nil
	}
	return reply{}, fmt.Errorf("there is no figure %q", q.Figure)
}

// reported returns a file that the report is written to.
func (s *Server) reported(q *request, p *answer.Placed) (reply, error) {
	rep, err := p.Report()
	if err != nil {
		return reply{}, err
	}
	paper := func(write func(*sheet.Content, io.Writer, sheet.Paper) error) ([]byte, error) {
		on, err := sheet.PaperNamed(q.Paper)
		if err != nil {
			return nil, err
		}
		var text bytes.Buffer
		err = write(p.Sheet(rep, q.Units, s.opt.Version), &text, on)
		return text.Bytes(), err
	}
	a := reply{name: q.What}
	switch q.What {
	case "result.json":
		a.kind = "application/json"
		a.data, err = answer.JSON(rep, true)
	case "settings.csv":
		if rep.Mount == nil {
			return reply{}, errors.New("the case has no mount")
		}
		a.kind = "text/csv; charset=utf-8"
		a.data, err = rep.Mount.SettingsCSV()
	case "sheet.pdf":
		a.kind = "application/pdf"
		a.data, err = paper((*sheet.Content).WritePDF)
	case "sheet.html":
		a.kind = "text/html; charset=utf-8"
		a.data, err = paper((*sheet.Content).WriteHTML)
	default:
		err = fmt.Errorf("there is no file %q to download", q.What)
	}
	return a, err
}
