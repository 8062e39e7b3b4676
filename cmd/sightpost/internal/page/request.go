package page

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// state is what a page holds and sends with every request.
type state struct {
	// Text is that of the case, with plain line ends; Windows says that its file has
	// those of Windows.
	Text    string
	Windows bool
	// Kit is the text of a kit that came with the case, "" if its file is in the folder;
	// KitAt the path by which the case names it.
	Kit, KitAt string
	// At is the path of the case within the folder, "" if it came from elsewhere; Disk
	// is the sum of what this page read or wrote there. Filed is that of what was filed.
	At, Disk, Filed string
	// Units are those that the page shows, Shown those beside which its fields were typed.
	Units, Shown units.Units
	// Figure is the name of the one that is looked at.
	Figure string
	// Turn and Lift say from where the turned figure is seen, in degrees as they were
	// typed; "" if nobody has turned it.
	Turn, Lift string
	// Wide is how many dots the drawing may be wide.
	Wide string
	// Paper of the sheet.
	Paper string
	// AsFound says that the settings are those on the mount; if not they are to be found.
	AsFound bool
	// Side of the mount, if the case leaves it open.
	Side string
	// Settings as found, as they were typed. Earlier is the code and name of the record
	// that they were taken from, with a slash between; "" if from none.
	Settings []answer.Entry
	Earlier  string
	// Applied is how the mount was set before a refit was applied, and the sum of what the page
	// held after it, as fields; "" if none was.
	Applied string
}

// Hidden are the words of the state that no field shows, by the names of their fields.
func (st *state) Hidden() map[string]*string {
	return map[string]*string{
		"kit-at": &st.KitAt, "at": &st.At, "disk": &st.Disk, "filed": &st.Filed, "earlier": &st.Earlier, "applied": &st.Applied, "wide": &st.Wide,
	}
}

// words are all words of the state by the names of their fields.
func (st *state) words() map[string]*string {
	all := st.Hidden()
	maps.Copy(all, map[string]*string{
		"text": &st.Text, "kit": &st.Kit, "figure": &st.Figure, "turn": &st.Turn, "lift": &st.Lift, "paper": &st.Paper, "side": &st.Side,
	})
	return all
}

// request is what a page asks.
type request struct {
	state
	// draft is the case with what was typed in the form put in. Wrong says why there is
	// none, or is the first of the refused: the fields that could not be put into the text,
	// by path, with why.
	draft   draft.Draft
	wrong   error
	refused map[string]error
	// unconfirmed are the paths of the numbers that are those of an example.
	unconfirmed []string
	// Entries are the fields of the form by path, as they were typed.
	Entries map[string]string
	// What is the last part of the address, Action what to do, Target to what.
	What, Action, Target string
	// Window and Number order the requests of a page.
	Window string
	Number uint64
	// Form holds everything else.
	Form url.Values
	// Uploads are the files that were sent.
	Uploads []sentFile

	form *casefile.Entry // describes a case
}

// sentFile is a file that was sent: with which field, its name, and its text.
type sentFile struct {
	Field, Name string
	Text        []byte
}

// sentWith returns the files that were sent with a field. A form without scripts sends
// those of all.
func (q *request) sentWith(field string) []sentFile {
	return slices.DeleteFunc(slices.Clone(q.Uploads), func(u sentFile) bool { return u.Field != field })
}

// Prefixes of the names of fields.
const (
	entryField   = "e:" // an entry of the case
	settingField = "s:" // a setting as found
)

// maxFields bounds how many fields a form has; a case of fifty postures has a
// thousand, which is more than the library takes of a form with files.
const maxFields = 5000

var errForm = errors.New("page: this is not the form of the page")

// ask reads what a page asks. Nothing of it is kept on disk.
func (s *Server) ask(r *http.Request) (*request, error) {
	form, uploads, err := s.formOf(r)
	var q *request
	if err == nil {
		q, err = requestOf(form, &s.form)
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errForm, err)
	}
	q.What, q.Uploads = r.PathValue("what"), uploads
	return q, nil
}

// formOf returns the form of a request. An address may name unfinished work to go on with,
// or a case of the folder to open, a figure, and units.
func (s *Server) formOf(r *http.Request) (url.Values, []sentFile, error) {
	if r.Method != http.MethodPost {
		from := r.URL.Query()
		if form, err := s.kept.form(from.Get("draft")); err == nil {
			return form, nil, nil
		}
		form := url.Values{"figure": from["figure"], "units": {cmp.Or(from.Get("units"), s.kept.units())}}
		if from.Get("case") != "" {
			form["case"], form["action"] = from["case"], []string{"open"}
		}
		return form, nil, nil
	}
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case err != nil:
		return nil, nil, err
	case kind == "application/x-www-form-urlencoded":
		err := r.ParseForm()
		return r.PostForm, nil, err
	case kind == "multipart/form-data":
		return multipart(r)
	}
	return nil, nil, errForm
}

// multipart reads a form with files, all in memory.
func multipart(r *http.Request) (url.Values, []sentFile, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, nil, err
	}
	form := url.Values{}
	var uploads []sentFile
	for n := 0; ; n++ {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return form, uploads, nil
		case err != nil:
			return nil, nil, err
		case n > maxFields:
			return nil, nil, errForm
		}
		text, err := io.ReadAll(part)
		switch {
		case err != nil:
			return nil, nil, err
		case part.FileName() != "" && len(text) > 0:
			uploads = append(uploads, sentFile{part.FormName(), part.FileName(), text})
		case part.FileName() == "":
			form.Add(part.FormName(), string(text))
		}
	}
}

// requestOf makes sense of a form. What is not text is refused as a whole.
func requestOf(form url.Values, describes *casefile.Entry) (*request, error) {
	if len(form) > maxFields {
		return nil, errForm
	}
	q := &request{Entries: map[string]string{}, Form: form, form: describes}
	for name, values := range form {
		for i, v := range values {
			if !utf8.ValidString(name) || !utf8.ValidString(v) {
				return nil, errForm
			}
			values[i] = plainEnds(v)
		}
		typed := strings.TrimSpace(form.Get(name))
		if path, ok := strings.CutPrefix(name, entryField); ok && path != "" {
			q.Entries[path] = typed
		}
	}
	q.Settings = settingsOf(form)
	get := form.Get
	for name, word := range q.words() {
		*word = get(name)
	}
	q.Text, q.Figure = cmp.Or(q.Text, draft.Empty), cmp.Or(q.Figure, "side-view")
	q.Wide = cmp.Or(q.Wide, "720") // beside the form in a window of 1280
	q.Windows, q.AsFound = get("windows") != "", get("as-found") != ""
	q.Units, q.Shown = unitsOr(get("units")), unitsOr(get("shown"))
	if usual := paperName(q.Shown); q.Paper == "" || q.Paper == usual { // the paper goes with the units
		q.Paper = paperName(q.Units)
	}
	q.Window = get("window")
	q.Number, _ = strconv.ParseUint(get("number"), 10, 64) // 0 is the oldest
	q.Action, q.Target, _ = strings.Cut(get("action"), " ")
	// "before" is the text as the page was told it last: the text is another only if
	// someone changed it itself, and then it wins. "base" is the text that the form was
	// made from, which lacks all that was typed since: a field that is emptied and filled
	// again is thereby found where it was, with what came after it.
	text := cmp.Or(get("base"), q.Text)
	if before := get("before"); before != "" && q.Text != before {
		text, q.Entries = q.Text, nil
	}
	q.read(text)
	return q, nil
}

// settingsOf returns the settings as found that a form gives, by name.
func settingsOf(form url.Values) []answer.Entry {
	var all []answer.Entry
	for _, name := range settingNames(form) {
		if typed := strings.TrimSpace(form.Get(settingField + name)); typed != "" {
			all = append(all, answer.Entry{Name: name, Value: typed})
		}
	}
	return all
}

// settingNames returns the names of the settings that a form has fields for.
func settingNames(form url.Values) []string {
	var all []string
	for name := range form {
		if setting, ok := strings.CutPrefix(name, settingField); ok && setting != "" {
			all = append(all, setting)
		}
	}
	slices.Sort(all)
	return all
}

// paperName returns the name of the paper that goes with units.
func paperName(u units.Units) string { return strings.ToLower(sheet.PaperFor(u).String()) }

// plainEnds returns text with plain line ends: forms send those of Windows.
func plainEnds(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
}

// unitsOr returns the units called name, or mm.
func unitsOr(name string) units.Units {
	u, _ := units.Named(name) // mm is what the error comes with
	return u
}
