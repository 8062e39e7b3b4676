package page

import (
	"fmt"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

// section is a part of the form: what is measured together.
type section struct {
	ID, Title string
	Lead      string // a sentence
	Entries   []*entry
	// Needed and Wrong are how many of its entries are missing and invalid.
	Needed, Wrong int
	// Open says that it is shown without being asked for.
	Open bool
}

// State says in a few words how complete a part of the form is.
func (s *section) State() string {
	var all []string
	if s.Wrong > 0 {
		all = append(all, plural(s.Wrong, "not valid", "not valid"))
	}
	if s.Needed > 0 {
		all = append(all, plural(s.Needed, "needed", "needed"))
	}
	return strings.Join(all, ", ")
}

// entry is a field of the form, or a group of them.
type entry struct {
	Path, ID string
	Label    string
	Sort     casefile.Kind
	// How says how it is measured, Range within what.
	How, Range string
	Value      string
	// Assumed is what is taken if it is left out.
	Assumed        string
	Unit, UnitName string
	Options        []option
	Needed         bool // it must be given and is not
	Problem        string
	Pictured       bool // there is a drawing of what it means
	Long           bool // of several lines
	Entries        []*entry
	// Given says that a group or a list has something in it, Optional that it may be
	// left out.
	Given, Optional bool
	// Number is that of an entry of a list; Adds are the sorts of entries to add.
	Number int
	Adds   []option
	// Close says that the fields stand side by side: the parts of a point or a size
	// that is measured as others are.
	Close bool
}

// Title returns what an entry of a list is called.
func (e *entry) Title() string {
	if e.Label != "" {
		return e.Label
	}
	return fmt.Sprintf("entry %d", e.Number)
}

// option is a choice.
type option struct {
	Value, Label string
	Chosen       bool
}

// maker makes the form of a draft.
type maker struct {
	d        draft.Draft
	units    units.Units
	problems map[string][]string // by path of the entry
	missing  map[string]bool
	kits     []option
	kit      string // path of the kit that came with the case
	// refused are the fields that could not be put into the draft, with why; typed is
	// what they hold.
	refused map[string]error
	typed   map[string]string
}

// newMaker returns a maker for a draft and what is wrong with it.
func newMaker(d draft.Draft, u units.Units, problems casefile.Errors) *maker {
	m := &maker{d: d, units: u, problems: map[string][]string{}, missing: map[string]bool{}}
	for _, p := range problems {
		if p.Missing() {
			m.missing[p.Entry()] = true
			continue
		}
		m.problems[p.Entry()] = append(m.problems[p.Entry()], p.Said())
	}
	return m
}

// sections returns the form.
func (m *maker) sections(form *casefile.Entry) []section {
	var all []section
	for _, g := range casefile.Groups() {
		all = append(all, section{ID: g.ID, Title: g.Title, Lead: g.Lead})
	}
	for i := range form.Fields {
		f := &form.Fields[i]
		if f.Kind == casefile.Version {
			continue
		}
		at := slices.IndexFunc(all, func(s section) bool { return s.ID == f.Group })
		e := m.entry(f, f.Key, false)
		if f.Kind == casefile.Group && f.Key == all[at].ID {
			all[at].Entries = append(all[at].Entries, e.Entries...) // the section itself is the group
			continue
		}
		all[at].Entries = append(all[at].Entries, e)
	}
	return all
}

// entry returns a field of the form. Lost says that what holds it is missing from the
// case although it must be there.
func (m *maker) entry(f *casefile.Entry, path string, lost bool) *entry {
	e := &entry{
		Path: path, ID: idOf(path), Label: strings.ReplaceAll(f.Key, "_", " "), Sort: f.Kind,
		How: f.HowTo, Problem: strings.Join(m.problems[path], "; "),
		Optional: !f.Required, Given: m.d.Has(path), Pictured: f.Picture != "",
		Needed: m.missing[path] || f.Required && lost,
	}
	switch f.Kind {
	case casefile.Group:
		m.group(e, f, path, e.Needed)
	case casefile.List:
		m.list(e, f, path)
	case casefile.Either:
		m.either(e, f, path)
	default:
		m.leaf(e, f, path)
	}
	return e
}

// group fills in a group of fields. Of alternatives only those are shown that are
// there, unless they are mere numbers.
func (m *maker) group(e *entry, f *casefile.Entry, path string, lost bool) {
	for i := range f.Fields {
		inner := &f.Fields[i]
		at := join(path, inner.Key)
		one := slices.Contains(f.One, inner.Key)
		if one && inner.Kind == casefile.Group && !m.d.Has(at) {
			continue
		}
		e.Entries = append(e.Entries, m.entry(inner, at, lost && !one))
	}
	e.Close = len(e.Entries) == closely && e.Sort == casefile.Group && strings.HasPrefix(path, "keep_clear")
	for _, inner := range e.Entries {
		e.Close = e.Close && inner.Sort == casefile.Number
	}
}

// closely is how many fields stand side by side: forward, left and up.
const closely = 3

// list fills in a list.
func (m *maker) list(e *entry, f *casefile.Entry, path string) {
	for n := 1; n <= m.d.Len(path); n++ {
		at := fmt.Sprintf("%s[%d]", path, n)
		item := &entry{Path: at, ID: idOf(at), Sort: casefile.Group, Number: n, Given: true, Problem: strings.Join(m.problems[at], "; ")}
		item.Label, _ = m.d.Word(at + ".name")
		m.group(item, f, at, false)
		e.Entries = append(e.Entries, item)
	}
	if len(f.One) == 0 || f.Under(f.One[0]).Kind != casefile.Group {
		e.Adds = []option{{Value: "add " + path, Label: "Add " + singular(f.Key)}}
		return
	}
	for _, one := range f.One {
		e.Adds = append(e.Adds, option{Value: "add " + path + " " + one, Label: "Add " + article(strings.ReplaceAll(one, "_", " "))})
	}
}

// singular names an entry of a list.
func singular(key string) string {
	return article(strings.TrimSuffix(strings.ReplaceAll(key, "_", " "), "s"))
}

// article puts "a" or "an" before a word.
func article(word string) string {
	if strings.ContainsAny(word[:min(1, len(word))], "aeiou") {
		return "an " + word
	}
	return "a " + word
}

// either fills in a word or the group that stands instead.
func (m *maker) either(e *entry, f *casefile.Entry, path string) {
	m.leaf(e, f.Word, path)
	e.Sort = casefile.Either
	given := m.d.IsGroup(path)
	if f.Word.Kind != casefile.Words {
		for i := range e.Options {
			e.Options[i].Chosen = e.Options[i].Chosen && !given
		}
		e.Options = append(e.Options, option{Value: byMeasures, Label: byMeasures, Chosen: given})
	}
	if given {
		m.group(e, f, path, false)
	}
	if path == kitEntry {
		m.kitChoice(e, given)
	}
}

// kitChoice fills in the kits to choose from: those in the folder, that which came
// with the case, and the one that is written in it.
func (m *maker) kitChoice(e *entry, inPlace bool) {
	e.Options = append([]option{{Value: "", Label: "none"}}, m.kits...)
	word, _ := m.d.Word(kitEntry) // "" if it names none
	for _, name := range []string{m.kit, word} {
		if !slices.ContainsFunc(e.Options, func(o option) bool { return o.Value == name }) {
			e.Options = append(e.Options, option{Value: name, Label: name})
		}
	}
	for i := range e.Options {
		o := &e.Options[i]
		o.Chosen = o.Value == word && !inPlace
		if o.Value == m.kit && m.kit != "" {
			o.Label += ", uploaded with the case"
		}
	}
	if inPlace {
		e.Options = append(e.Options, option{Value: byMeasures, Label: "dimensions in the case", Chosen: true})
	}
}

// leaf fills in one word or number.
func (m *maker) leaf(e *entry, f *casefile.Entry, path string) {
	value, there := m.d.Word(path)
	if err, refused := m.refused[path]; refused {
		defer func() { e.Value, e.Problem = m.typed[path], plainWords(err) }()
	}
	e.Assumed = f.Default
	switch f.Kind {
	case casefile.Choice, casefile.YesNo:
		e.choice(f, value)
	case casefile.Number, casefile.Span:
		unit := shownUnit(f, m.units)
		e.Unit, e.UnitName, e.Range = unitWord(unit), unit, bounds(f, m.units)
		if there {
			value = shown(f, value, m.units)
		}
		if f.Default != "" {
			e.Assumed = shown(f, f.Default, m.units)
		}
	default:
		e.Long = f.Key == "note" || strings.Contains(value, "\n")
	}
	e.Value = value
}

// choice fills in the words to choose from, the first being that nothing is said. A
// word that is none of them is shown as it was written.
func (e *entry) choice(f *casefile.Entry, value string) {
	words := f.Options
	if f.Kind == casefile.YesNo {
		words, value = []string{"yes", "no"}, yesNo(value)
	}
	none := "not said"
	if f.Default != "" {
		none = f.Default + ", if not said"
	}
	e.Options = append(e.Options, option{Label: none, Chosen: value == ""})
	for _, w := range words {
		e.Options = append(e.Options, option{Value: w, Label: w, Chosen: w == value})
	}
	if value != "" && !slices.Contains(words, value) {
		e.Options = append(e.Options, option{Value: value, Label: value, Chosen: true})
	}
}

// idOf returns the id of the field of a path.
func idOf(path string) string {
	return "e-" + strings.NewReplacer(".", "-", "[", "-", "]", "", "_", "-").Replace(path)
}
