package page

import (
	"bytes"
	"cmp"
	"context"
	"crypto/rand"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"net/url"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

//go:embed html/*.html
var htmlFiles embed.FS

// newTemplates returns the parts of the page.
func newTemplates() (*template.Template, error) {
	t, err := template.New("page").Funcs(template.FuncMap{
		"sentence": sentence, "unit": units.Units.String, "column": column, "named": named,
	}).ParseFS(htmlFiles, "html/*.html")
	if err != nil {
		return nil, fmt.Errorf("page: %w", err)
	}
	return t, nil
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
	state
	Version, Folder string
	Window          string
	// First says that nothing has been said yet.
	First    bool
	Sections []section
	Missing  []missing
	// Broken are the problems that belong to no field: the text cannot be taken apart,
	// or something is wrong with a kit.
	Broken  []string
	Wrong   int // how many fields have a problem
	Result  *result
	Mounted *mounted
	// Notice is what came of an action; Bad says that it failed.
	Notice string
	Bad    bool
	// Replace asks about files that would be replaced.
	Replace *question
	Listing listing
	Jobs    map[string]template.HTML
	Records *records
	// Print is the setup sheet, for paper alone.
	Print template.HTML
	// Form is what the fields said that are no part of the case.
	Form url.Values

	code string // of the case
}

// missing is a measure that is still needed.
type missing struct{ ID, Label string }

// Status returns in a few words how the case stands.
func (v *view) Status() string {
	switch {
	case len(v.Broken) > 0 && v.Sections == nil:
		return "The text of the case cannot be read."
	case v.Wrong+len(v.Broken) > 0 || len(v.Missing) > 0:
		return v.unfinished()
	case v.Result == nil:
		return ""
	case v.Result.Failed != "":
		return sentence(v.Result.Failed)
	}
	return v.Result.Headline
}

// unfinished says how much is wrong and how much is missing.
func (v *view) unfinished() string {
	var all []string
	if n := v.Wrong + len(v.Broken); n > 0 {
		all = append(all, plural(n, "entry is not valid", "entries are not valid"))
	}
	if n := len(v.Missing); n > 0 {
		all = append(all, "still needed: "+plural(n, "measure", "measures"))
	}
	return sentence(strings.Join(all, "; ")) + "."
}

// State names the kind of status for the style sheet.
func (v *view) State() string {
	switch {
	case v.Wrong+len(v.Broken) > 0:
		return "wrong"
	case len(v.Missing) > 0:
		return "needed"
	case v.Result == nil || v.Result.Failed != "":
		return "wrong"
	case v.Result.Works:
		return "works"
	}
	return "fails"
}

// UnitOptions returns the units to choose from.
func (v *view) UnitOptions() []option {
	var all []option
	for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
		label := u.String()
		if u == units.Inch {
			label = "inches"
		}
		all = append(all, option{u.String(), label, u == v.Units})
	}
	return all
}

// plural returns a number with the word for one or for several.
func plural(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// view works the case of a page out and returns what the page shows of it. Whole says
// that the form is shown too, not only what is live.
func (s *Server) view(ctx context.Context, q *request, whole bool) (*view, error) {
	v := &view{
		Version: s.opt.Version, Folder: filepath.Base(s.opt.Folder.Name()), Window: cmp.Or(q.Window, rand.Text()),
		Jobs: map[string]template.HTML{}, Form: q.Form,
	}
	d, err := q.changed()
	if err != nil && !errors.Is(err, draft.ErrEntry) { // which is told beside the field
		v.broken(err)
	}
	if d.Text() != "" {
		q.Text = d.Text()
	}
	q.reshow()
	v.state = q.state
	v.First = q.Text == draft.Empty
	if whole {
		v.Listing = s.list()
	}
	if v.Broken != nil {
		return v, nil
	}
	v.code, _ = d.Word("label")
	w, err := s.work(ctx, &q.state)
	if err != nil {
		return nil, err
	}
	if v.Result, err = s.result(ctx, &q.state, w); err != nil {
		return nil, err
	}
	m := newMaker(d, q.Units, w.problems)
	m.kit, m.refused, m.typed = q.KitAt, q.refused, q.Entries
	m.kits = kitOptions(v.Listing.Kits, q.At)
	v.Sections = m.sections(q.form)
	v.note(w.problems)
	v.Mounted = q.state.mounted(w)
	return v, nil
}

// tell works out what the page shows under its form and on paper.
func (s *Server) tell(ctx context.Context, v *view) error {
	r := v.Result
	if r == nil || r.placed == nil {
		v.Print = `<p>No setup sheet yet: some measures are missing or not valid.</p>`
		return nil
	}
	return s.desk.do(ctx, s.desk.short, func() (err error) {
		if err := r.tell(&v.state, s.opt.Version); err != nil {
			return err
		}
		v.Print, err = r.printed(v.Paper)
		return err
	})
}

// broken takes over the problems of a text that cannot be taken apart.
func (v *view) broken(err error) {
	var problems casefile.Errors
	if !errors.As(err, &problems) {
		v.Broken = []string{plainWords(err)}
		return
	}
	for _, p := range problems {
		v.Broken = append(v.Broken, p.String())
	}
}

// note notes which fields have problems and which are missing, and the problems that
// belong to no field.
func (v *view) note(problems casefile.Errors) {
	fields := map[string]bool{}
	for i := range v.Sections {
		s := &v.Sections[i]
		wrong, lacking := v.Wrong, len(v.Missing)
		for _, e := range s.Entries {
			v.noteEntry(e, s.Title, fields)
		}
		s.Wrong, s.Needed = v.Wrong-wrong, len(v.Missing)-lacking
		s.Open = s.Wrong > 0 || s.Needed > 0 && lacking == 0 && wrong == 0
	}
	for _, p := range problems {
		if !p.Missing() && !fields[p.Entry()] {
			v.Broken = append(v.Broken, p.String())
		}
	}
}

// noteEntry notes what is wrong with an entry and those under it.
func (v *view) noteEntry(e *entry, in string, fields map[string]bool) {
	fields[e.Path] = true
	if e.Problem != "" {
		v.Wrong++
	}
	leaf := e.Sort != casefile.Group && e.Sort != casefile.List
	if e.Needed && (leaf || len(e.Entries) == 0) {
		v.Missing = append(v.Missing, missing{e.ID, in + ": " + e.Label})
	}
	for _, inner := range e.Entries {
		name := in
		if e.Label != "" {
			name += ", " + e.Label
		}
		v.noteEntry(inner, name, fields)
	}
}

// kitOptions returns the kits of the folder as a case at a path would name them.
func kitOptions(kits []string, at string) []option {
	var all []option
	for _, kit := range kits {
		name := relative(kit, at)
		all = append(all, option{Value: name, Label: name})
	}
	return all
}

// render returns a part of the page.
func (s *Server) render(part string, data any) (string, error) {
	var b bytes.Buffer
	if err := s.parts.ExecuteTemplate(&b, part, data); err != nil {
		return "", fmt.Errorf("page: %w", err)
	}
	return b.String(), nil
}

// say returns a notice of what was done.
func (v *view) say(format string, args ...any) { v.Notice, v.Bad = fmt.Sprintf(format, args...), false }

// fail tells of what went wrong.
func (v *view) fail(err error) { v.Notice, v.Bad = plainWords(err), true }

// defaults fills in what an empty page begins with.
func (st *state) defaults() {
	if st.Text == "" {
		st.Text = draft.Empty
	}
	if st.Figure == "" {
		st.Figure = "side-view"
	}
	if st.Paper == "" {
		st.Paper = "a4"
	}
	if st.Units < units.MM || st.Units > units.Inch {
		st.Units = units.MM
	}
}
