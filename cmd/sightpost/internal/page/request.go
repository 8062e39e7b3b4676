package page

import (
	"errors"
	"io"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
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
	// is the sum of what this page wrote there.
	At, Disk string
	// Units are those that the page shows.
	Units units.Units
	// Figure is the name of the one that is looked at.
	Figure string
	// Turn and Lift say from where the turned figure is seen, in degrees as they were
	// typed; "" if nobody has turned it.
	Turn, Lift string
	// Narrow says that the page is no wider than a hand.
	Narrow bool
	// Paper of the sheet.
	Paper string
	// Stands says that the settings are those on the mount; if not they are to be found.
	Stands bool
	// Side of the mount, if the case leaves it open.
	Side string
	// Settings as found, as they were typed.
	Settings []answer.Entry
}

// request is what a page asks.
type request struct {
	state
	// Before is the text of the case as this page was told it last: Text is another
	// only if somebody changed the text itself. Base is the text that the form was made
	// from, which lacks all that was typed since: a field that is emptied and filled
	// again is thereby found where it was, with what stood behind it.
	Before, Base string
	// Shown are the units of what was typed.
	Shown units.Units
	// Entries are the fields of the form by path, as they were typed; refused are those
	// that could not be put into the text, with why.
	Entries map[string]string
	refused map[string]error
	// Action is what to do, Target to what.
	Action, Target string
	// Window and Number order the requests of a page.
	Window string
	Number uint64
	// Form holds everything else.
	Form url.Values
	// Uploads are the files that were sent.
	Uploads []upload

	form *casefile.Entry // describes a case
}

// upload is a file that was sent: with which field, its name, and its text.
type upload struct {
	Field, Name string
	Text        []byte
}

// sentWith returns the files that were sent with a field. A form without scripts sends
// those of all.
func (q *request) sentWith(field string) []upload {
	return slices.DeleteFunc(slices.Clone(q.Uploads), func(u upload) bool { return u.Field != field })
}

// Prefixes of the names of fields.
const (
	entryField   = "e:" // an entry of the case
	settingField = "s:" // a setting as found
)

// maxFields bounds how many fields a form has; a case of fifty postures has a
// thousand.
const maxFields = 5000

var errForm = errors.New("page: this is not the form of the page")

// readRequest reads what a page asks. Nothing of it is kept on disk.
func readRequest(r *http.Request) (*request, error) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil {
		return nil, errForm
	}
	var form url.Values
	var uploads []upload
	switch kind {
	case "application/x-www-form-urlencoded":
		form, err = urlencoded(r)
	case "multipart/form-data":
		form, uploads, err = multipart(r)
	default:
		err = errForm
	}
	if err != nil {
		return nil, err
	}
	q, err := requestOf(form)
	if err != nil {
		return nil, err
	}
	q.Uploads = uploads
	return q, nil
}

// urlencoded reads a form without files.
func urlencoded(r *http.Request) (url.Values, error) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return nil, err
	}
	return url.ParseQuery(string(body))
}

// multipart reads a form with files, all in memory.
func multipart(r *http.Request) (url.Values, []upload, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, nil, errForm
	}
	form := url.Values{}
	var uploads []upload
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
			uploads = append(uploads, upload{part.FormName(), part.FileName(), text})
		case part.FileName() == "":
			form.Add(part.FormName(), string(text))
		}
	}
}

// requestOf makes sense of a form. What is not text is refused as a whole.
func requestOf(form url.Values) (*request, error) {
	if len(form) > maxFields {
		return nil, errForm
	}
	q := &request{Entries: map[string]string{}, Form: form}
	for name, values := range form {
		for i, v := range values {
			if !utf8.ValidString(name) || !utf8.ValidString(v) {
				return nil, errForm
			}
			values[i] = plainEnds(v)
		}
		if path, ok := strings.CutPrefix(name, entryField); ok && path != "" {
			q.Entries[path] = strings.TrimSpace(values[0])
		}
	}
	get := form.Get
	q.Text, q.Before, q.Base = get("text"), get("before"), get("base")
	q.Kit, q.KitAt = get("kit"), get("kit-at")
	q.Windows = get("windows") != ""
	q.At, q.Disk = get("at"), get("disk")
	q.Units, q.Shown = unitsOr(get("units")), unitsOr(get("shown"))
	q.Figure, q.Turn, q.Lift, q.Paper = get("figure"), get("turn"), get("lift"), get("paper")
	q.Narrow = get("narrow") != ""
	q.Stands, q.Side = get("stands") != "", get("side")
	q.Window = get("window")
	q.Number, _ = strconv.ParseUint(get("number"), 10, 64) // 0 is the oldest
	q.Action, q.Target, _ = strings.Cut(get("action"), " ")
	q.settings()
	return q, nil
}

// settings collects the settings as found, in an order that does not change from
// run to run.
func (q *request) settings() {
	for name := range q.Form {
		setting, ok := strings.CutPrefix(name, settingField)
		if v := strings.TrimSpace(q.Form.Get(name)); ok && setting != "" && v != "" {
			q.Settings = append(q.Settings, answer.Entry{Name: setting, Value: v})
		}
	}
	slices.SortFunc(q.Settings, func(a, b answer.Entry) int { return strings.Compare(a.Name, b.Name) })
}

// plainEnds returns text with plain line ends: forms send those of Windows.
func plainEnds(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
}

// unitsOr returns the units called name, or mm.
func unitsOr(name string) units.Units {
	u, _ := units.Named(name) // mm is what the error comes with
	return u
}
