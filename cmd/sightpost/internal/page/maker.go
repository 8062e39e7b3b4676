package page

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/draft"
)

// maker makes the form of a request.
type maker struct {
	*request
	problems casefile.Errors
	kits     []string
	given    *answer.Case // nil if something is wrong with it
	all      []*entry     // of the section that is made
}

// sections returns the form of a case, which is nil if it could not be read, with what is
// wrong with it and the kits to choose from.
func (q *request) sections(given *answer.Case, problems casefile.Errors, kits []string) []section {
	m := &maker{request: q, problems: problems, kits: kits, given: given}
	var all []section
	for _, g := range casefile.Groups() {
		s := section{FormGroup: g}
		m.all = nil
		for i := range q.form.Fields {
			f := &q.form.Fields[i]
			switch {
			case f.Group != g.ID || f.Kind == casefile.Version:
			case f.Kind == casefile.Group && f.Key == g.ID: // the section itself is the group
				_, lost := m.problem(f.Key)
				s.Entries = append(s.Entries, m.group(f, f.Key, g.Title, lost)...)
			default:
				s.Entries = append(s.Entries, m.entry(f, f.Key, g.Title, false))
			}
		}
		s.Entries, s.Rest = divided(s.Entries, s.Title, false)
		s.all = m.all
		all = append(all, s)
	}
	return all
}

// problem returns what is wrong with the entry at a path, and whether it is missing.
func (m *maker) problem(path string) (said string, missing bool) {
	var all []string
	for _, p := range m.problems {
		switch {
		case p.Entry() != path, p.Unusual: // which has a note

		case p.Missing():
			missing = true
		default:
			all = append(all, inWords(p.Said(), m.form))
		}
	}
	return strings.Join(all, "; "), missing
}

// entry returns a field of the form that is in what is titled so. Lost says that what
// holds it is missing from the case although it must be there.
func (m *maker) entry(f *casefile.Entry, path, in string, lost bool) *entry {
	said, missing := m.problem(path)
	e := &entry{
		Path: path, ID: idOf(path), Label: strings.ReplaceAll(f.Key, "_", " "), Sort: f.Kind,
		How: f.HowTo, Problem: said, Needed: missing || f.Required && lost,
		Optional: !f.Required, Given: m.draft.Has(path), Pictured: f.Picture != "", in: in, advanced: f.Advanced,
		Doubted: slices.Contains(m.unconfirmed, path),
	}
	m.all = append(m.all, e)
	in += ", " + e.Label
	switch f.Kind {
	case casefile.Group:
		e.Entries = m.group(f, path, in, e.Needed)
		e.Close = len(e.Entries) == closely && strings.HasPrefix(path, "keep_clear") && numbers(e.Entries)
	case casefile.List:
		m.list(e, f, path, in)
	case casefile.Either:
		m.either(e, f, path, in)
	default:
		m.leaf(e, f, path)
	}
	return e
}

// closely is how many fields are side by side: forward, left and up.
const closely = 3

// group returns the fields of a group. Of alternatives only those are shown that are
// there, unless they are mere numbers.
func (m *maker) group(f *casefile.Entry, path, in string, lost bool) []*entry {
	var all []*entry
	for i := range f.Fields {
		inner := &f.Fields[i]
		at := draft.Join(path, inner.Key)
		one := slices.Contains(f.One, inner.Key)
		if inner.Kind == casefile.Version || one && inner.Kind == casefile.Group && !m.draft.Has(at) {
			continue
		}
		all = append(all, m.entry(inner, at, in, lost && !one))
	}
	return all
}

// list fills in a list.
func (m *maker) list(e *entry, f *casefile.Entry, path, in string) {
	for n := range m.draft.Len(path) {
		at := draft.Nth(path, n+1)
		item := &entry{Path: at, ID: idOf(at), Sort: casefile.Group, Number: n + 1, Given: true, Sided: path == "keep_clear", in: in}
		item.Problem, _ = m.problem(at)
		within := in
		item.Label, _ = m.draft.Word(at + ".name")
		if item.Label != "" {
			within += ", " + item.Label
		}
		if name, part := m.part(f, at); part != "" {
			item.Folded, item.Label, within = true, cmp.Or(name, part), strings.TrimSuffix("Mount, "+name, ", ")
		}
		m.all = append(m.all, item)
		item.Entries = m.group(f, at, within, false)
		part := item.Folded && len(item.Entries) == 1
		item.Folded = part || path == "postures"
		item.Given = item.troubled() // folded away, but for what is needed or wrong
		if part {
			only := item.Entries[0]
			only.Bare = true
			only.Entries, only.Rest = divided(only.Entries, item.Label, true)
		} else {
			item.Entries, item.Rest = divided(item.Entries, item.Title(), false)
		}
		e.Entries = append(e.Entries, item)
	}
	add := func(value, what string) {
		a := "a "
		if strings.ContainsAny(what[:min(1, len(what))], "aeiou") {
			a = "an "
		}
		e.Adds = append(e.Adds, option{Value: "add " + value, Label: "Add " + a + strings.ReplaceAll(what, "_", " ")})
	}
	for _, p := range presets(path, m.Units) {
		e.Adds = append(e.Adds, option{Value: "add " + path + " " + p.name, Label: "Add " + p.name})
	}
	if len(f.One) == 0 || f.At(f.One[0]).Kind != casefile.Group {
		add(path, strings.TrimSuffix(f.Key, "s"))
		return
	}
	for _, one := range f.One {
		add(path+" "+one, one)
	}
}

// part returns what the part of a mount at a path is called, if it has a name of its own, and
// of which kind it is; "" if it is no part.
func (m *maker) part(f *casefile.Entry, at string) (name, kind string) {
	if len(f.One) != len(f.Fields) {
		return "", ""
	}
	for _, one := range f.One {
		if m.draft.Has(at + "." + one) {
			name, _ = m.draft.Word(at + "." + one + ".name")
			return name, wordsOf.Replace(one)
		}
	}
	return "", ""
}

// either fills in a word or the group that replaces it.
func (m *maker) either(e *entry, f *casefile.Entry, path, in string) {
	m.leaf(e, f.Word, path)
	given := m.draft.IsGroup(path)
	if f.Word.Kind != casefile.Words {
		for i := range e.Options {
			e.Options[i].Chosen = e.Options[i].Chosen && !given
		}
		e.Options = append(e.Options, option{byMeasures, byMeasures, given})
	}
	if given {
		e.Entries, e.Rest = divided(m.group(f, path, in, false), "the kit", path == kitEntry)
	}
	if path == kitEntry {
		m.kitChoice(e, given)
	}
}

// kitChoice fills in the kits to choose from: those in the folder, that which came
// with the case, and the one that is written in it.
func (m *maker) kitChoice(e *entry, inPlace bool) {
	word, _ := m.draft.Word(kitEntry) // "" if it names none
	var names []string
	for _, kit := range m.kits {
		names = append(names, relative(kit, m.At))
	}
	for _, name := range []string{m.KitAt, word} {
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	e.Options = append([]option{{"", "none", word == "" && !inPlace}}, choices(word, names...)...)
	for i := range e.Options {
		if o := &e.Options[i]; o.Value == m.KitAt && m.KitAt != "" {
			o.Label += map[bool]string{true: ", invented", false: ", kept with the case"}[slices.Contains(m.unconfirmed, kitEntry)]
		}
	}
	if inPlace {
		e.Options = append(e.Options, option{byMeasures, "dimensions in the case", true})
	}
}

// leaf fills in one word or number.
func (m *maker) leaf(e *entry, f *casefile.Entry, path string) {
	value, there := m.draft.Word(path)
	e.Assumed = f.Default
	switch f.Kind {
	case casefile.Choice, casefile.YesNo:
		e.choice(f, f.Options, value)
	case casefile.Number, casefile.Span:
		unit := shownUnit(f, m.Units)
		e.Unit, e.UnitName, e.Range = unitWord(unit), unit, bounds(f, m.Units)
		e.Low, e.High = limit(f, f.Low, m.Units, math.Ceil), limit(f, f.High, m.Units, math.Floor)
		if there {
			value = shown(f, value, m.Units)
		}
		if f.Default != "" {
			e.Assumed = assumed(f, m.Units)
		}
	default:
		e.Long = f.Key == "note" || strings.Contains(value, "\n")
		if names := m.settingNames(f); names != nil {
			e.choice(f, names, value)
			e.How, _, _ = strings.Cut(e.How, ", such as ") // they are there to see
		}
	}
	e.Value = value
	if u := f.Unlikely(written(f, value, m.Units)); u != nil && there {
		e.Note = document.Unlikely(u).In(m.Units)
	}
	if err, refused := m.refused[path]; refused {
		e.Value, e.Problem, e.Note = m.Entries[path], plainWords(err), ""
	}
}

// settingNames returns the settings of the mount that an entry may name, as far as the page knows
// them while a measure is not valid; nil if it names none.
func (m *maker) settingNames(f *casefile.Entry) []string {
	switch {
	case !f.IsSetting():
		return nil
	case m.given == nil:
		return settingNames(m.Form)
	}
	return m.given.Case.SettingNames(f)
}

// choice fills in the words to choose from, the first being that nothing is said. A
// word that is none of them is shown as it was written.
func (e *entry) choice(f *casefile.Entry, words []string, value string) {
	if f.Kind == casefile.YesNo {
		words, value = []string{"yes", "no"}, yesNo(value)
	}
	none := "not given"
	if f.Default != "" {
		none = f.Default + ", if not given"
	}
	if value != "" && !slices.Contains(words, value) {
		words = append(slices.Clone(words), value)
	}
	e.Options = []option{{"", none, value == ""}}
	for _, w := range words {
		e.Options = append(e.Options, option{w, wordsOf.Replace(w), w == value})
	}
}

// wordsOf makes words of the path of an entry or of a setting's name.
var wordsOf = strings.NewReplacer("[]", "", ".", " ", "_", " ", "[", " ", "]", "")

// inWords returns a message with words for the keys of the case in it.
func inWords(said string, form *casefile.Entry) string {
	return pathIn().ReplaceAllStringFunc(said, func(key string) string {
		if form.At(key) == nil {
			return key
		}
		return wordsOf.Replace(key)
	})
}

// pathIn matches what may be the path of an entry.
var pathIn = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[a-z]+(?:[_.][a-z]+|\[[^]]*\])+`) })

// idOf returns the id of the field of a path.
func idOf(path string) string { return "e-" + dashed.Replace(path) }

// dashed makes a part of an id of the path of an entry or of a setting's name.
var dashed = strings.NewReplacer(".", "-", "[", "-", "]", "", "_", "-")
