package page

import (
	"bytes"
	"cmp"
	"context"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

//go:embed html/*.html
var htmlFiles embed.FS

// newTemplates returns the parts of the page, which tell a case that form describes.
func newTemplates(form *casefile.Entry) (*template.Template, error) {
	words := func(t interface{ In(units.Units) string }, u units.Units) string { return inWords(t.In(u), form) }
	t, err := template.New("page").Funcs(template.FuncMap{
		"sentence": sentence, "unit": units.Units.String, "named": named, "entries": entries, "words": words,
	}).ParseFS(htmlFiles, "html/*.html")
	if err != nil {
		return nil, fmt.Errorf("page: %w", err)
	}
	return t, nil
}

// render returns a part of the page.
func (s *Server) render(part string, data any) (string, error) {
	var b bytes.Buffer
	if err := s.parts.ExecuteTemplate(&b, part, data); err != nil {
		return "", fmt.Errorf("page: %w", err)
	}
	return b.String(), nil
}

// sentence returns words as a sentence begins, and words in capitals in small ones.
func sentence(s string) string {
	if s == strings.ToUpper(s) {
		s = strings.ToLower(s)
	}
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// view is everything that a page shows.
type view struct {
	*request
	Version, Folder string
	// Unsaved says that the page holds what no file does, Address leads back to it.
	Unsaved bool
	Address string
	// Unfinished is what was not saved in other windows, Codes are those with assessments, those
	// assessed last apart from the others.
	Unfinished        []unfinished
	Codes, OlderCodes []filedCode
	// Recent are the cases that were changed last.
	Recent []string
	// First says that nothing has been said yet.
	First    bool
	Sections []section
	Missing  []missing
	// Broken are the problems that belong to no field: the text cannot be taken apart,
	// or something is wrong with a kit.
	Broken []string
	// Faults are the fields with a problem, Doubted those with a number of the example.
	Faults, Doubted []missing
	// Placed is the case as it was worked out, nil if it could not be. Failed says why, if
	// no entry is to blame, Verdict how the case does and Points why.
	Placed          *answer.Placed
	Failed, Verdict string
	Points          []point
	answered
	// Figures are those to choose from, Drawing is that which is shown and Drawn its name;
	// Turned, if it can be turned, from where it is seen.
	Figures []option
	Drawing template.HTML
	Drawn   string
	Turned  *turned
	Mounted *mounted
	// Notice is what came of an action, and Onward where the work goes on; Bad says that it failed.
	Notice string
	Onward *missing
	Bad    bool
	// Replace asks about files that would be replaced.
	Replace *question
	Listing listing
	Jobs    map[string]template.HTML
	Records *records

	key     string // of Placed
	answers *recent[answered]
}

// answered is what the page shows of a case under its form: Told is the whole answer in words,
// and Print the setup sheet, for paper alone; empty until they are asked for. Unprinted says why
// there is no sheet although there is an answer.
type answered struct {
	Told      *told
	Print     template.HTML
	Unprinted string
}

// missing is a measure that is still needed, or has a problem.
type missing struct{ ID, Label, Problem string }

// point is a line of the summary, with where the work on it goes on.
type point struct {
	document.Item
	Words string
	Step  missing
}

// fill works the case of a page out and fills in what the page shows of it, and then whatever
// else is asked for of a case that could be worked out.
func (s *Server) fill(ctx context.Context, q *request, v *view, further ...func(context.Context) error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	q.reshow()
	v.request, v.Version, v.Folder = q, s.opt.Version, filepath.Base(s.opt.Folder.Name())
	v.Unsaved, v.Address = q.unsaved(), "./"
	switch {
	case v.Unsaved && s.opt.Keep:
		v.Address = "?draft=" + q.Window
	case q.At != "":
		v.Address = "?case=" + url.QueryEscape(q.At)
	}
	v.Figures = []option{{q.Figure, q.Figure, true}} // the choice is kept while there are none
	v.First = q.Text == draft.Empty
	v.Print = `<p>No setup sheet yet: some measures are missing or not valid.</p>`
	if q.wrong != nil && !errors.Is(q.wrong, draft.ErrEntry) { // which is told beside the field
		var problems casefile.Errors
		if !errors.As(q.wrong, &problems) {
			v.Broken = []string{plainWords(q.wrong)}
		}
		v.note(problems)
		return nil
	}
	return s.desk.do(ctx, s.desk.short, func() error {
		w := s.workOut(ctx, &q.state)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		problems := w.problems()
		v.Sections = q.sections(w.given, problems, v.Listing.Kits)
		v.note(problems)
		v.Mounted = q.mounted(w)
		if w.err != nil {
			if problems == nil {
				v.Failed = plainWords(w.err)
			}
			return nil
		}
		v.Placed, v.key, v.answers = w.placed, w.key, &s.answers
		v.summarize()
		for _, fill := range further {
			if err := fill(ctx); err != nil {
				return err
			}
		}
		return nil
	})
}

// note notes which fields have problems and which are missing, and the problems that
// belong to no field.
func (v *view) note(problems casefile.Errors) {
	fields := map[string]bool{}
	for i := range v.Sections {
		s := &v.Sections[i]
		first := len(v.Faults) == 0 && len(v.Missing) == 0
		for _, e := range s.all {
			fields[e.Path] = true
			if e.Problem != "" {
				s.Wrong++
				v.Faults = append(v.Faults, missing{e.ID, e.in + ": " + e.Title(), e.Problem})
			}
			if e.Doubted {
				s.Doubted++
				v.Doubted = append(v.Doubted, missing{ID: e.ID, Label: "Edit " + wordsOf.Replace(e.Path)})
			}
			leaf := e.Sort != casefile.Group && e.Sort != casefile.List
			if e.Needed && (leaf || len(e.Entries) == 0) {
				s.Needed++
				v.Missing = append(v.Missing, missing{ID: e.ID, Label: e.in + ": " + e.Label})
			}
		}
		s.Open = s.Wrong > 0 || s.Needed > 0 && first || v.AsFound && s.ID == "measured"
	}
	for _, p := range problems {
		why := missing{ID: idOf(p.Entry()), Label: "Edit " + wordsOf.Replace(p.Entry())}
		switch {
		case v.Sections == nil || !p.Missing() && !fields[p.Entry()]:
			v.Broken = append(v.Broken, p.String())
		case p.Why() != "" && !slices.ContainsFunc(v.Points, func(o point) bool { return o.Step == why }):
			v.Points = append(v.Points, point{document.Item{Title: "Needed"}, sentence(inWords(p.Why(), v.form)) + ".", why})
		}
	}
}

// summarize says in short how the case does and why.
func (v *view) summarize() {
	verdict, items := document.Brief(v.Placed.Kind, v.Placed.Case.Case, v.Placed.Result)
	v.Verdict = verdict.In(v.Units)
	steps := map[string]missing{}
	for _, s := range v.Sections {
		steps[s.ID] = missing{ID: "part-" + s.ID, Label: s.Title}
		for _, e := range s.all {
			steps[e.Path] = missing{ID: e.ID, Label: "Edit " + wordsOf.Replace(e.Path)}
		}
	}
	onward := missing{ID: "results", Label: "Settings"}
	if v.AsFound {
		onward = missing{ID: "refitting", Label: "What to change"}
	}
	for _, p := range items {
		step, isEntry := steps[p.Entry]
		if !isEntry {
			step = onward
		}
		var words []string
		for _, t := range p.Texts {
			words = append(words, sentence(inWords(t.In(v.Units), v.form)))
		}
		v.Points = append(v.Points, point{p, strings.Join(words, " "), step})
	}
}

// Pointed returns the lines of the summary, or those of many reasons that follow after the
// first few.
func (v *view) Pointed(rest bool) []point {
	fails := 0
	return slices.DeleteFunc(slices.Clone(v.Points), func(p point) bool {
		if p.Fails {
			fails++
		}
		return rest != (p.Fails && fails > mostFails)
	})
}

// mostFails bounds the reasons that are shown at once.
const mostFails = 3

// tell fills in the answer in words and the setup sheet, or those that are still known.
func (v *view) tell(ctx context.Context) (err error) {
	key := fmt.Sprintf("%s %s %s %s", v.key, v.Units, v.Paper, v.Wide)
	v.answered, err = v.answers.of(key, func() (answered, error) { return v.answer(ctx) })
	return err
}

// answer works out what tell fills in.
func (v *view) answer(ctx context.Context) (a answered, err error) {
	rep, err := v.Placed.Report(ctx)
	if err != nil {
		return a, err
	}
	a.Told = tellOf(rep, v.Units)
	a.Told.Own = true
	if err := a.Told.draw(v.Placed.SideBySide(v.beside()), "posture"); err != nil {
		return a, err
	}
	var text bytes.Buffer
	if err = v.Placed.Sheet(rep.Document(), v.Units, v.Version).WriteElement(&text, v.paper()); err != nil {
		a.Unprinted = "No setup sheet: " + plainWords(err) + "."
		text.Reset()
		template.HTMLEscape(&text, []byte(a.Unprinted))
	}
	a.Print = template.HTML(text.String()) // made by a template, which escapes what it is given
	return a, nil
}

// Status returns in a few words whether the case works.
func (v *view) Status() string {
	wrong, lacking := len(v.Faults)+len(v.Broken), len(v.Missing)
	var all []string
	if wrong > 0 && v.Sections == nil {
		return "The text of the case cannot be read."
	}
	if wrong > 0 {
		all = append(all, "not valid: "+entries(wrong))
	}
	if lacking > 0 {
		all = append(all, "still needed: "+entries(lacking))
	}
	if all != nil {
		return sentence(strings.Join(all, "; ")) + "."
	}
	return cmp.Or(sentence(v.Failed), v.Verdict)
}

// entries returns a count of entries in words.
func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

// State names the kind of status for the style sheet.
func (v *view) State() string {
	switch {
	case len(v.Faults)+len(v.Broken) > 0:
		return "wrong"
	case len(v.Missing) > 0:
		return "needed"
	case v.Placed == nil:
		return "wrong"
	case v.Placed.Result.Works:
		return "works"
	}
	return "fails"
}

// What a page asks for beside the measures stays as it was said, whatever else of it is
// replaced: these, and Form, say what its fields hold.

// Ticked reports whether a box was ticked.
func (v *view) Ticked(name, value string) bool { return slices.Contains(v.Form[name], value) }

// Chosen reports whether a record was chosen, or is the one to begin with while none
// that is still there was.
func (v *view) Chosen(field, record string, begin bool) bool {
	if said := v.Form.Get(field); slices.Contains(v.Records.Names, said) {
		return said == record
	}
	return begin
}

// Title returns what the case is called: its file or, if it is assessed again, its code.
func (v *view) Title() string {
	code, _, _ := strings.Cut(v.Earlier, "/")
	return cmp.Or(v.At, code, "new case")
}

// MarginWanted says which margin is required if none is typed, and how much there is.
func (v *view) MarginWanted() string {
	words, mm := "the preferred margin of the case", -1.0
	if v.Placed != nil {
		mm = v.Placed.Job.Preferences.MarginMM
	}
	earlier := v.AsFound && v.Earlier != ""
	if earlier {
		if words = "the margin of the earlier assessment"; mm != 0 {
			words += ", at most the preferred one"
		}
	}
	said := document.Say("If left empty: " + words)
	if mm > 0 || mm == 0 && !earlier {
		said = document.Say("%s, %s", said, document.Length(mm))
	}
	if said = document.Say("%s.", said); v.Placed != nil && v.AsFound {
		said = document.Say("%s With the settings as found, the margin is %s.", said, document.Margin(v.Placed.Result.MarginMM()))
	}
	return said.In(v.Units)
}

// reshow has what was typed beside the case in the units that the page shows next.
func (q *request) reshow() {
	if typed := strings.TrimSpace(q.Form.Get("margin")); typed != "" && q.Shown != q.Units {
		f := q.form.At("preferences.margin")
		q.Form.Set("margin", shown(f, written(f, typed, q.Shown), q.Units))
	}
}

// shows says which pieces of the page are shown, by their ids: those that hold fields
// and buttons are hidden and never taken away, so that what they say is kept.
func (v *view) shows() map[string]bool {
	return map[string]bool{
		"figure-tools": v.Drawing != "", "figure-files": v.Drawing != "", "turning": v.Turned != nil,
		"case-changed": v.Unsaved && !v.First, "sheet-tools": v.Placed != nil, "hand-over": v.Placed != nil, "settings-table": v.Mounted != nil, "refitting": v.Mounted != nil,
	}
}
