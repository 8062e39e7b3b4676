package page

import (
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
)

// unconfirmedLine begins the lines at the end of a case that name its numbers that are those of
// an example: nobody has typed or confirmed them. They are comments, so that they go where
// its file goes, and back with every undo, and with an assessment that is taken up again.
const unconfirmedLine = "# Of the example, not confirmed: "

// withoutUnconfirmed returns the text of a case without those lines, and the paths that they name.
func withoutUnconfirmed(text string) (rest string, paths []string) {
	if !strings.Contains(text, unconfirmedLine) {
		return text, nil
	}
	var kept strings.Builder
	for line := range strings.Lines(text) {
		if named, ok := strings.CutPrefix(line, unconfirmedLine); ok {
			paths = append(paths, strings.Fields(named)...)
		} else {
			kept.WriteString(line)
		}
	}
	return kept.String(), paths
}

// withUnconfirmed returns the text of a case with those lines.
func withUnconfirmed(text string, paths []string) string {
	const perLine = 4
	if len(paths) > 0 && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	all := []string{text}
	for some := range slices.Chunk(paths, perLine) {
		all = append(all, unconfirmedLine, strings.Join(some, " "), "\n")
	}
	return strings.Join(all, "")
}

// doubt marks the numbers at and below a path as those of an example.
func (q *request) doubt(path string) {
	for _, p := range q.draft.Words() {
		if f := q.form.At(p); f != nil && (f.Kind == casefile.Number || f.Kind == casefile.Span || p == kitEntry) && draft.Within(p, path) {
			q.unconfirmed = append(q.unconfirmed, p)
		}
	}
	q.Text = withUnconfirmed(q.draft.Text(), q.unconfirmed)
}

// confirm takes the marks from what is at and below a path.
func (q *request) confirm(path string) {
	q.unconfirmed = slices.DeleteFunc(q.unconfirmed, func(p string) bool { return draft.Within(p, path) })
}

// renumber has the marks follow when an entry is removed.
func (q *request) renumber(removed string) {
	q.confirm(removed)
	for i, p := range q.unconfirmed {
		q.unconfirmed[i] = draft.Renamed(p, removed)
	}
}
