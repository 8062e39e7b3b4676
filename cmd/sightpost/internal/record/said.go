package record

import (
	"math"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
)

// saidChanges returns what changed between two cases and their kits, of the person and
// of all else. What both leave open is not told: it follows from what they say.
func saidChanges(before, after []casefile.Said) (person, things []Change) {
	person, things = []Change{}, []Change{}
	group := make(map[string]string)
	for _, e := range casefile.Table() {
		group[e.Path] = e.Group
	}
	old, now := byPath(before), byPath(after)
	for _, path := range union(paths(after), paths(before)) {
		a, b := old[path], now[path]
		if a != nil && b != nil && a.Assumed && b.Assumed {
			continue
		}
		row := path
		if b != nil {
			row = b.Row
		} else if a != nil {
			row = a.Row
		}
		if row == "label" || row == "note" || row == "mount.kit.note" {
			continue
		}
		changes := valueChanges(path, a, b)
		switch group[row] {
		case "person", "measured", "postures":
			person = append(person, changes...)
		default:
			things = append(things, changes...)
		}
	}
	return person, things
}

// valueChanges returns what changed of an entry; nil where a case does not have it. A
// range changes at its ends.
func valueChanges(path string, before, after *casefile.Said) []Change {
	said := func(s *casefile.Said) casefile.Said {
		if s == nil {
			return casefile.Said{}
		}
		return *s
	}
	a, b := said(before), said(after)
	what := inWords(path)
	if a.Word != "" || b.Word != "" {
		return wording(nil, path, what, a.Word, b.Word)
	}
	unit := a.Unit
	if after != nil {
		unit = b.Unit
	}
	end := func(suffix string, was, is float64) []Change {
		c := Change{Key: path + suffix, What: what + strings.Replace(suffix, ".", ", ", 1), Unit: unit}
		if before != nil {
			c.Before = &was
		}
		if after != nil {
			c.After = &is
		}
		if c.Before != nil && c.After != nil && math.Abs(was-is) <= sameAs {
			return nil
		}
		return []Change{c}
	}
	if a.Low == a.High && b.Low == b.High {
		return end("", a.Low, b.Low)
	}
	return append(end(".min", a.Low, b.Low), end(".max", a.High, b.High)...)
}

// inWords returns the path of an entry in words: "postures rested, seat tilt".
func inWords(path string) string {
	return strings.NewReplacer("_", " ", ".", ", ", "[", " ", "]", "").Replace(path)
}

func byPath(all []casefile.Said) map[string]*casefile.Said {
	by := make(map[string]*casefile.Said, len(all))
	for i := range all {
		by[all[i].Path] = &all[i]
	}
	return by
}

func paths(all []casefile.Said) []string {
	list := make([]string, 0, len(all))
	for _, s := range all {
		list = append(list, s.Path)
	}
	return list
}

// union returns the words of both lists, each once, in order.
func union(a, b []string) []string {
	seen := make(map[string]bool, len(a)+len(b))
	var all []string
	for _, list := range [][]string{a, b} {
		for _, s := range list {
			if !seen[s] {
				all = append(all, s)
			}
			seen[s] = true
		}
	}
	return all
}
