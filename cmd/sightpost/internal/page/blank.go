package page

import (
	"net/http"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
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

// blankForm serves the form on paper: what most cases need, without what is advanced.
func (s *Server) blankForm(w http.ResponseWriter, r *http.Request) {
	u := unitsOr(r.URL.Query().Get("units"))
	form := blank{Paper: paperName(u)}
	for _, g := range casefile.Groups() {
		group := blankGroup{FormGroup: g}
		for _, f := range s.form.Rows() {
			if f.Group == g.ID && !f.Advanced && leafKind(f.Kind) && (f.Required || f.Source != "") && f.Path != kitEntry {
				group.Rows = append(group.Rows, newBlankRow(&f, u))
			}
		}
		if group.Rows != nil {
			form.Groups = append(form.Groups, group)
		}
	}
	text, err := s.render("blank.html", form)
	if err != nil {
		http.Error(w, plainWords(err), http.StatusInternalServerError)
		return
	}
	htmlReply(text).send(w)
}

// leafKind reports whether an entry of a kind is written down by itself.
func leafKind(k casefile.Kind) bool {
	return k == casefile.Number || k == casefile.Span || k == casefile.Choice || k == casefile.YesNo || k == casefile.Words
}

func newBlankRow(f *casefile.Entry, u units.Units) blankRow {
	row := blankRow{
		Label: wordsOf.Replace(f.Path), How: f.HowTo,
		Unit: unitWord(shownUnit(f, u)), Options: f.Options,
	}
	if f.Kind == casefile.YesNo {
		row.Options = []string{"yes", "no"}
	}
	if f.Picture != "" {
		row.Picture = f.Path
	}
	return row
}
