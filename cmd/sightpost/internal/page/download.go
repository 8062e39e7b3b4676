package page

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"path"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/guide"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/sheet"
)

// download gives a file made from what the page holds.
func (s *Server) download(ctx context.Context, q *request) (reply, error) {
	own := *q // what is given up may go on
	if q.What == changesPDF {
		own.unapply()
	}
	a, err := made(ctx, s.desk, refitted(q.What) || q.What == handOver, func(ctx context.Context) (reply, error) { return s.file(ctx, &own) })
	if code, ok := q.draft.Word("label"); ok && record.CheckCode(code) == nil && path.Ext(a.name) != ".yaml" && a.name != kitGuide && q.What != handOver {
		a.name = fmt.Sprintf("%s %s %s", code, record.DayOf(time.Now()), a.name)
	}
	return a, err
}

// handOver is one file with everything, to go on elsewhere.
const handOver = "handover.zip"

// kitGuide is the file that shows how to describe a mount.
const kitGuide = "kit-guide.html"

// The files of a refit: the sheet of its changes, and those of the settings that they lead to.
const (
	changesPDF    = "changes.pdf"
	afterSheetPDF = "after-sheet.pdf"
	afterSettings = "after-settings.csv"
)

// refitted reports whether a file is one of a refit.
func refitted(what string) bool {
	return what == changesPDF || what == afterSheetPDF || what == afterSettings
}

// file makes the file that is asked for.
func (s *Server) file(ctx context.Context, q *request) (reply, error) {
	switch {
	case errors.Is(q.wrong, draft.ErrEntry) && q.What != kitGuide: // the file would lack what was typed
		return reply{}, q.wrong
	case q.What == "case.yaml":
		name := path.Base(cmp.Or(q.At, q.Suggested()))
		return reply{name: name, data: q.outgoing(name, q.Text, "").Text}, nil
	case q.What == "kit.yaml" && q.Kit == "":
		return reply{}, errors.New("the kit is already in the folder")
	case q.What == "kit.yaml":
		return reply{name: q.What, data: q.outgoing(q.What, q.Kit, "").Text}, nil
	case q.What == kitGuide:
		var text bytes.Buffer
		err := guide.Write(&text, q.Units)
		return reply{name: q.What, data: text.Bytes()}, err
	}
	p, err := s.placed(ctx, q)
	if err != nil {
		return reply{}, err
	}
	if q.What == handOver {
		return s.handOver(ctx, q, p)
	}
	if format, ok := strings.CutPrefix(q.What, "figure."); ok {
		f, _, _ := q.figure(ctx, p, answer.Look{Units: q.Units})
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
	doc := rep.Document()
	if refitted(q.What) {
		plan, err := s.plan(ctx, q)
		if err != nil {
			return reply{}, err
		}
		p, doc = plan.Set, plan.ChangeSheet()
		if rep, err = plan.Report(ctx); err != nil {
			return reply{}, err
		}
		switch {
		case q.What != changesPDF:
			doc = rep.Document()
		case doc == nil:
			return reply{}, errors.New("there is no change to make")
		}
	}
	a := reply{name: q.What}
	var text bytes.Buffer
	switch q.What {
	case "result.json":
		a.data, err = answer.JSON(rep, true)
		return a, err
	case "settings.csv", afterSettings:
		if rep.Mount == nil {
			return reply{}, errors.New("the case has no mount")
		}
		a.data = rep.SettingsCSV()
		return a, nil
	case "sheet.pdf", afterSheetPDF, changesPDF:
		err = p.Sheet(doc, q.Units, s.opt.Version).WritePDF(&text, q.paper())
	case "sheet.html":
		err = p.Sheet(doc, q.Units, s.opt.Version).WriteHTML(&text, q.paper())
	default:
		err = fmt.Errorf("there is no file %q to download", q.What)
	}
	a.data = text.Bytes()
	return a, err
}

// handOver makes the hand-over file, with the records of the code if there are any.
func (s *Server) handOver(ctx context.Context, q *request, p *answer.Placed) (reply, error) {
	code := p.Label
	if err := record.CheckCode(code); err != nil {
		return reply{}, err
	}
	var filed []disk.File
	err := s.inRecords(func(f *record.Folder) (err error) { filed, err = f.Files(code); return err })
	if err != nil && !errors.Is(err, disk.ErrNone) {
		return reply{}, err
	}
	data, err := p.HandOver(ctx, q.Text, answer.Look{Units: q.Units}, q.paper(), s.opt.Version, filed)
	return reply{name: answer.HandOverName(code, record.DayOf(time.Now())), data: data}, err
}

// paper returns the paper of the sheet.
func (st *state) paper() sheet.Paper {
	paper, _ := sheet.PaperNamed(st.Paper) // the choice of the page has no other
	return paper
}
