package page

import (
	"fmt"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

// caseName is what messages call a case that has no file.
const caseName = "the case"

// name returns what messages call the case.
func (st *state) name() string {
	if st.At == "" {
		return caseName
	}
	return st.At
}

// byMeasures is what the choice of an either says when its measures are given.
const byMeasures = "by its measures"

// changed returns the draft of what a page holds, with what was typed in its form
// put in. Entries that come back as they were shown are not changed. A kit that came
// with the case goes as soon as the case names another.
func (q *request) changed() (draft.Draft, error) {
	if q.Before != "" && q.Text != q.Before { // the text itself was changed, and wins
		d, err := draft.Read(q.name(), q.Text, q.form)
		if err == nil {
			q.keepKit(d)
		}
		return d, err
	}
	text := q.Base
	if text == "" {
		text = q.Text
	}
	d, err := draft.Read(q.name(), text, q.form)
	if err != nil {
		return d, err
	}
	q.claimKit(d)
	e := editor{d: d, units: q.Shown, typed: q.Entries, refused: map[string]error{}}
	e.fields(q.form, "")
	q.refused = e.refused
	q.keepKit(e.d)
	return e.d, e.err
}

// settle makes a text that of the case, with all that was typed put in.
func (q *request) settle(text string) {
	q.Text, q.Before, q.Base, q.Entries = text, "", "", nil
}

// claimKit takes the kit that came with a case for the one that the case names.
func (q *request) claimKit(d draft.Draft) {
	if q.Kit != "" && q.KitAt == "" {
		q.KitAt, _ = d.Word(kitEntry)
	}
}

// keepKit drops the kit that came with a case if the case names another.
func (q *request) keepKit(d draft.Draft) {
	q.claimKit(d)
	if word, ok := d.Word(kitEntry); ok && word != q.KitAt {
		q.Kit, q.KitAt = "", ""
	}
}

// kitEntry is the entry that names the kit of a case, or holds it.
const kitEntry = "mount.kit"

// editor puts what was typed into a draft.
type editor struct {
	d     draft.Draft
	units units.Units
	typed map[string]string
	// refused are the entries that could not be put in, with why; err is the first of
	// them.
	refused map[string]error
	err     error
}

// fields goes through the entries of a group in the order of the form.
func (e *editor) fields(group *casefile.Entry, path string) {
	for i := range group.Fields {
		f := &group.Fields[i]
		e.field(f, join(path, f.Key))
	}
}

// field puts in one entry and what lies under it.
func (e *editor) field(f *casefile.Entry, path string) {
	switch f.Kind {
	case casefile.Group:
		e.fields(f, path)
	case casefile.List:
		for n := 1; e.d.Has(fmt.Sprintf("%s[%d]", path, n)); n++ {
			e.fields(f, fmt.Sprintf("%s[%d]", path, n))
		}
	case casefile.Either:
		e.either(f, path)
	case casefile.Version:
	default:
		e.leaf(f, path)
	}
}

// either puts in a word, or the group that stands instead.
func (e *editor) either(f *casefile.Entry, path string) {
	chosen, sent := e.typed[path]
	switch {
	case sent && chosen == byMeasures:
		e.change(path, draft.Draft.Group)
	case sent && chosen == "" && e.d.IsGroup(path): // shown as given by its measures
		e.change(path, draft.Draft.Remove)
	case sent:
		e.leaf(f.Word, path)
	}
	if e.d.IsGroup(path) {
		e.fields(f, path)
		if sent && !e.d.IsGroup(path) { // its last entry went
			e.change(path, draft.Draft.Group)
		}
	}
}

// leaf puts in one word or number, if it was changed. An empty field takes out only
// what was shown in it: what the form could not show stays.
func (e *editor) leaf(f *casefile.Entry, path string) {
	typed, sent := e.typed[path]
	if !sent {
		return
	}
	was, there := e.d.Word(path)
	if there && sameShown(typed, shown(f, was, e.units)) || typed == "" && !there {
		return
	}
	if typed == "" {
		e.change(path, draft.Draft.Remove)
		return
	}
	e.change(path, func(d draft.Draft, path string) (draft.Draft, error) {
		return d.Set(path, written(f, typed, e.units))
	})
}

// sameShown reports whether a field came back as it was shown. A field of one line
// loses line ends.
func sameShown(typed, shown string) bool {
	return typed == strings.TrimSpace(shown) || typed == strings.TrimSpace(strings.ReplaceAll(shown, "\n", ""))
}

// change changes the entry at path, or notes why that cannot be.
func (e *editor) change(path string, how func(draft.Draft, string) (draft.Draft, error)) {
	d, err := how(e.d, path)
	if err == nil {
		e.d = d
		return
	}
	e.refused[path] = err
	if e.err == nil {
		e.err = err
	}
}

// join joins a path and a key.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// add returns the draft with a further entry in a list: with a name if its entries
// have one, and begun with one of their alternatives if they have some.
func (q *request) add(d draft.Draft, list, alternative string) (draft.Draft, error) {
	f := q.form.At(list)
	if f == nil || f.Kind != casefile.List {
		return d, draft.ErrEntry
	}
	path := fmt.Sprintf("%s[%d]", list, d.Len(list)+1)
	if f.Under("name") != nil {
		var err error
		if d, err = d.Set(path+".name", newName(d, list)); err != nil {
			return d, err
		}
	}
	switch {
	case slices.Contains(f.One, alternative):
		return d.Group(path + "." + alternative)
	case f.Under("name") == nil:
		return d.Group(path)
	}
	return d, nil
}

// newName returns a name that no entry of the list has yet.
func newName(d draft.Draft, list string) string {
	word := map[string]string{"postures": "posture", "keep_clear": "space"}[list]
	if word == "" {
		word = "new"
	}
	for n := d.Len(list) + 1; ; n++ {
		name := fmt.Sprintf("%s %d", word, n)
		taken := false
		for i := range d.Len(list) {
			was, _ := d.Word(fmt.Sprintf("%s[%d].name", list, i+1))
			taken = taken || was == name
		}
		if !taken {
			return name
		}
	}
}

// marginField returns the entry of the preferred margin.
func (q *request) marginField() *casefile.Entry { return q.form.At("preferences.margin") }

// reshow has what was typed beside the case in the units that the page shows next.
func (q *request) reshow() {
	if typed := strings.TrimSpace(q.Form.Get("margin")); typed != "" && q.Shown != q.Units {
		f := q.marginField()
		q.Form.Set("margin", shown(f, written(f, typed, q.Shown), q.Units))
	}
	q.Shown = q.Units
}
