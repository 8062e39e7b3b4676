package casefile

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// spot is the place of an entry.
type spot struct {
	File         string
	Line, Column int // both from 1; the column counts characters
	// Key is the dotted path of the entry, "tracker.near"; "" for the whole file.
	Key string
}

// problem returns a problem of the entry at a place.
func (s spot) problem(found, expected string) Problem {
	return Problem{spot: s, Found: found, Expected: expected}
}

// parent returns s under the name of what holds it.
func (s spot) parent() spot {
	s.Key = s.Key[:max(strings.LastIndexByte(s.Key, '.'), 0)]
	return s
}

// under returns s under the name of an entry of it.
func (s spot) under(key string) spot {
	s.Key = joinKey(s.Key, key)
	return s
}

func joinKey(path, key string) string {
	if path == "" {
		return cut(key)
	}
	return path + "." + cut(key)
}

// Problem is one thing that is wrong with a file, and where.
type Problem struct {
	spot
	// Found and Expected are phrases: `"118,5 cm"`, "a length such as 118 cm".
	Found, Expected string
	// Nearest is the known word nearest to the one found; "" if none is near.
	Nearest string

	// Unusual says that the entry is allowed by itself, but likely the cause of the others.
	Unusual bool

	sense   bool   // of the stage that no schema can check
	far     bool   // a quantity that is only too large
	missing string // the path of the entry that is not there; "" for any other problem
}

// String returns the problem in one line.
func (p Problem) String() string {
	key := p.Key
	if key != "" {
		key += ": "
	}
	return fmt.Sprintf("%s:%d:%d: %s%s", p.File, p.Line, p.Column, key, p.Said())
}

// Entry returns the dotted path of the entry that p is about: its key or, if an entry
// is missing, that of the missing one.
func (p Problem) Entry() string {
	return cmp.Or(p.missing, p.Key)
}

// Missing reports whether p says that a required entry is not there.
func (p Problem) Missing() bool { return p.missing != "" }

// Why returns why an entry is missing that not every case needs; "" for any other problem.
func (p Problem) Why() string {
	if !p.Missing() || !p.sense {
		return ""
	}
	return p.Found + ": " + p.Expected
}

// Said returns what is wrong without the place.
func (p Problem) Said() string {
	said := "found " + p.Found + ", expected " + p.Expected
	if p.Unusual {
		said = "found " + p.Found + ", usually " + p.Expected
	}
	if p.Nearest != "" {
		said += "; did you mean " + p.Nearest + "?"
	}
	return said
}

// Errors are all problems found in a case and its kit, sorted by place.
type Errors []Problem

// maxShown bounds the lines of an error's text: a file of the wrong kind has
// thousands of problems.
const maxShown = 40

// Error returns one line for each problem, the first 40.
func (e Errors) Error() string {
	var lines []string
	for _, p := range e[:min(len(e), maxShown)] {
		lines = append(lines, p.String())
	}
	if more := len(e) - maxShown; more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}

// sorted sorts e by file, line and column, and drops repetitions.
func (e Errors) sorted() Errors {
	slices.SortStableFunc(e, func(a, b Problem) int {
		return cmp.Or(strings.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return slices.Compact(e)
}

// maxQuoted bounds, in characters, what a message repeats from a file.
const maxQuoted = 40

// quoted returns text in quotation marks, cut short if long.
func quoted(text string) string {
	text = cut(text)
	if strings.Contains(text, `"`) && !strings.ContainsAny(text, "`\n") && strconv.CanBackquote(text) {
		return "`" + text + "`"
	}
	return strconv.Quote(text)
}

// cut returns text, cut short if long.
func cut(text string) string {
	if utf8.RuneCountInString(text) > maxQuoted {
		text = string([]rune(text)[:maxQuoted]) + "…"
	}
	return text
}

// Nearest returns the word nearest to text by Levenshtein's distance, if it is
// near enough to be a misspelling: no more than half of its letters, and no more than 3.
func Nearest(text string, words []string) string {
	if len(text) > 2*maxQuoted {
		return ""
	}
	best, least := "", 1<<30
	for _, w := range words {
		d := distance([]rune(strings.ToLower(text)), []rune(w))
		if d < least && d <= min(max(1, len(w)/2), 3) {
			best, least = w, d
		}
	}
	return best
}

// distance returns how many letters must be inserted, removed or replaced to make
// b from a.
//
// Reference: V. I. Levenshtein, "Binary codes capable of correcting deletions,
// insertions, and reversals", Soviet Physics Doklady 10, 1966 (from memory).
func distance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			replaced := diagonal
			if x != y {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
