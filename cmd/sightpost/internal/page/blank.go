package page

import (
	"context"

	"sightpost/cmd/sightpost/internal/casefile"
)

// blank is the form of a case on paper, to be filled in beside the person, in the order of
// the page.
type blank struct {
	Paper  string
	Groups []blankGroup
}

// blankGroup is a part of the form.
type blankGroup struct {
	casefile.FormGroup
	Rows []blankRow
}

// blankRow is a measure to write down.
type blankRow struct {
	Label, How, Unit, Picture string
	Options                   []string
}

// blankForm returns the form on paper: what most cases need, without what is advanced.
func (s *Server) blankForm(_ context.Context, q *request) (reply, error) {
	form := blank{Paper: paperName(q.Units)}
	for _, g := range casefile.Groups() {
		group := blankGroup{FormGroup: g}
		for _, f := range s.form.Rows() {
			holds := f.Kind == casefile.Group || f.Kind == casefile.List || f.Kind == casefile.Either || f.Kind == casefile.Version
			if f.Group != g.ID || f.Advanced || holds || !f.Required && f.Source == "" || f.Path == kitEntry {
				continue
			}
			row := blankRow{Label: wordsOf.Replace(f.Path), How: f.HowTo, Unit: unitWord(shownUnit(&f, q.Units)), Options: f.Options}
			if f.Kind == casefile.YesNo {
				row.Options = []string{"yes", "no"}
			}
			if f.Picture != "" {
				row.Picture = f.Path
			}
			group.Rows = append(group.Rows, row)
		}
		if group.Rows != nil {
			form.Groups = append(form.Groups, group)
		}
	}
	text, err := s.render("blank.html", form)
	return htmlReply(text), err
}
