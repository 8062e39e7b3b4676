package page

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/sheet"
)

// download gives a file made from what the page holds.
func (s *Server) download(ctx context.Context, q *request) (reply, error) {
	var a reply
	err := s.desk.do(ctx, s.desk.short, func() (err error) {
		a, err = s.made(ctx, q)
		return err
	})
	if err != nil {
		return reply{}, err // a may still be written
	}
	return a, nil
}

// made makes the file that is asked for.
func (s *Server) made(ctx context.Context, q *request) (reply, error) {
	switch {
	case errors.Is(q.wrong, draft.ErrEntry): // the file would lack what was typed
		return reply{}, q.wrong
	case q.What == "case.yaml":
		name := path.Base(cmp.Or(q.At, q.suggested()))
		return reply{name: name, data: q.outgoing(name, q.Text, "").text}, nil
	case q.What == "kit.yaml" && q.Kit == "":
		return reply{}, errors.New("the kit is already in the folder")
	case q.What == "kit.yaml":
		return reply{name: q.What, data: q.outgoing(q.What, q.Kit, "").text}, nil
	}
	p, err := s.placed(ctx, q)
	if err != nil {
		return reply{}, err
	}
	if format, ok := strings.CutPrefix(q.What, "figure."); ok {
		f, _, _ := q.look(p)
		files, err := f.Drawn(format)
		if err != nil {
			return reply{}, err
		}
		return reply{name: f.Name + "." + format, data: files[0]}, nil
	}
	rep, err := p.Report(ctx)
	if err != nil {
		return reply{}, err
	}
	a := reply{name: q.What}
	var text bytes.Buffer
	switch q.What {
	case "result.json":
		a.data, err = answer.JSON(rep, true)
		return a, err
	case "settings.csv":
		if rep.Mount == nil {
			return reply{}, errors.New("the case has no mount")
		}
		a.data, err = rep.Mount.SettingsCSV()
		return a, err
	case "sheet.pdf":
		err = p.Sheet(rep.Document(), q.Units, s.opt.Version).WritePDF(&text, q.paper())
	case "sheet.html":
		err = p.Sheet(rep.Document(), q.Units, s.opt.Version).WriteHTML(&text, q.paper())
	default:
		err = fmt.Errorf("there is no file %q to download", q.What)
	}
	a.data = text.Bytes()
	return a, err
}

// paper returns the paper of the sheet.
func (st *state) paper() sheet.Paper {
	paper, err := sheet.PaperNamed(st.Paper)
	if err != nil {
		return sheet.A4 // the choice of the page has no other
	}
	return paper
}
