package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

// name returns what messages call the case.
func (st *state) name() string { return cmp.Or(st.At, "the case") }

// byMeasures is what the choice of an either says when its measures are given.
const byMeasures = "by its measures"

// kitEntry is the entry that names the kit of a case, or holds it.
const kitEntry = "mount.kit"

// read takes a text for that of the case, and puts the entries that were typed into it.
// Those that come back as they were shown are not changed. A kit that came with the case
// goes as soon as the case names another.
func (q *request) read(text string) {
	q.refused = map[string]error{}
	text, q.unconfirmed = withoutUnconfirmed(text)
	if q.draft, q.wrong = draft.Read(q.name(), text, q.form); q.wrong != nil {
		return
	}
	if q.Kit != "" && q.KitAt == "" {
		q.KitAt, _ = q.draft.Word(kitEntry)
	}
	q.fields(q.form, "")
	q.Text = withUnconfirmed(q.draft.Text(), q.unconfirmed)
	if word, ok := q.draft.Word(kitEntry); ok && word != q.KitAt {
		q.Kit, q.KitAt = "", ""
	}
}

// hold makes a text that of the case.
func (q *request) hold(text string) {
	q.Text, q.Entries = text, nil
	q.read(text)
}

// fields puts in the entries of a group, and what lies under them, in the order of the
// form.
func (q *request) fields(group *casefile.Entry, path string) {
	for i := range group.Fields {
		f := &group.Fields[i]
		at := draft.Join(path, f.Key)
		switch f.Kind {
		case casefile.Group:
			q.fields(f, at)
		case casefile.List:
			for n := 1; q.draft.Has(draft.Nth(at, n)); n++ {
				q.fields(f, draft.Nth(at, n))
			}
		case casefile.Either:
			q.either(f, at)
		case casefile.Version:
		default:
			q.leaf(f, at)
		}
	}
}

// either puts in a word, or the group that replaces it.
func (q *request) either(f *casefile.Entry, path string) {
	chosen, sent := q.Entries[path]
	switch {
	case sent && chosen == byMeasures:
		q.change(path, draft.Draft.Group)
	case sent && chosen == "" && q.draft.IsGroup(path): // shown as given by its measures
		q.change(path, draft.Draft.Remove)
	case sent:
		q.leaf(f.Word, path)
	}
	if q.draft.IsGroup(path) {
		q.fields(f, path)
		if sent && !q.draft.IsGroup(path) { // its last entry went
			q.change(path, draft.Draft.Group)
		}
	}
}

// leaf puts in one word or number, if it was changed. An empty field takes out only
// what was shown in it: what the form could not show stays. A field of one line loses line
// ends.
func (q *request) leaf(f *casefile.Entry, path string) {
	typed, sent := q.Entries[path]
	if !sent {
		return
	}
	was, there := q.draft.Word(path)
	before := shown(f, was, q.Shown)
	same := typed == strings.TrimSpace(before) || typed == strings.TrimSpace(strings.ReplaceAll(before, "\n", ""))
	switch {
	case there && same, typed == "" && !there:
	case typed == "":
		q.change(path, draft.Draft.Remove)
	default:
		q.change(path, func(d draft.Draft, path string) (draft.Draft, error) {
			return d.Set(path, written(f, typed, q.Shown))
		})
	}
}

// change changes the entry at path, or notes why that cannot be.
func (q *request) change(path string, how func(draft.Draft, string) (draft.Draft, error)) {
	d, err := how(q.draft, path)
	if err == nil {
		if d.Text() != q.draft.Text() {
			q.confirm(path)
		}
		q.draft = d
		return
	}
	q.refused[path] = err
	q.wrong = cmp.Or(q.wrong, err)
}

// added returns the case with a further entry in a list: with a name if its entries have one,
// and begun with one of their alternatives, or as one of the presets, if they have some.
func (q *request) added(list, as string) (d draft.Draft, err error) {
	d = q.draft
	f := q.form.At(list)
	if f == nil || f.Kind != casefile.List {
		return d, draft.ErrEntry
	}
	path := draft.Nth(list, d.Len(list)+1)
	name := f.At("name")
	named := name != nil && !name.IsSetting() // which is to be chosen
	if named {
		if d, err = d.Set(path+".name", newName(d, list, cmp.Or(as, strings.TrimSuffix(f.Key, "s")))); err != nil {
			return d, err
		}
	}
	for _, p := range presets(list, q.Units) {
		if p.name == as {
			return d.Set(path+"."+p.key, p.value)
		}
	}
	switch {
	case slices.Contains(f.One, as):
		return d.Group(path + "." + as)
	case !named:
		return d.Group(path)
	}
	return d, nil
}

// preset is what an entry of a list begins with.
type preset struct{ name, key, value string }

// presets returns those of a list.
func presets(list string, u units.Units) []preset {
	if list != "postures" {
		return nil
	}
	const slumpMM, slumpInches = 40, 1.5
	slump := u.Length(slumpMM)
	if u == units.Inch {
		slump = u.Length(slumpInches * u.MM())
	}
	return []preset{
		{"as measured", "must_work", "yes"},
		{"upright", "seat_tilt", "0 deg"},
		{"tilted 25°", "seat_tilt", "25 deg"},
		{"reclined", "back_angle", "120 deg"},
		{"slumped " + slump, "slump", slump},
	}
}

// newName returns a name for another entry of a list: a word, with another number if it is taken.
func newName(d draft.Draft, list, word string) string {
	taken := map[string]bool{}
	for i := range d.Len(list) {
		name, _ := d.Word(draft.Nth(list, i+1) + ".name")
		taken[name] = true
	}
	name := word
	for n := 2; taken[name]; n++ {
		name = fmt.Sprintf("%s %d", strings.TrimRight(word, " 0123456789"), n)
	}
	return name
}
