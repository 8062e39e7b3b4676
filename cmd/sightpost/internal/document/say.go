package document

import (
	"encoding/json"
	"fmt"
	"strings"

	"sightpost/plots/units"
)

// Text is words with the quantities in them, which become numbers and units only
// when somebody asks for the words: see [Text.In]. The zero value says nothing. What
// a person wrote (a note, a name) is an argument like any other and stays as written.
type Text struct {
	format string
	args   []any
}

// Quantity is anything of which the words depend on the units: a [Length], an
// [Angle], a [Reading] and so on, and a [Text] that holds some.
type Quantity interface{ In(u units.Units) string }

// Say returns words in the form of fmt.Sprintf. Every argument that is a [Quantity]
// is formatted with %s, in the units of whoever renders the text.
func Say(format string, args ...any) Text { return Text{format, args} }

// In returns the words with every quantity in units u.
func (t Text) In(u units.Units) string {
	args := make([]any, len(t.args))
	for i, a := range t.args {
		if q, ok := a.(Quantity); ok {
			a = q.In(u)
		}
		args[i] = a
	}
	return fmt.Sprintf(t.format, args...)
}

// Empty reports whether t says nothing.
func (t Text) Empty() bool { return t.format == "" }

// MarshalJSON returns the words in mm.
func (t Text) MarshalJSON() ([]byte, error) { return json.Marshal(t.In(units.MM)) }

// UnmarshalJSON takes words as they are.
func (t *Text) UnmarshalJSON(object []byte) error {
	var words string
	err := json.Unmarshal(object, &words)
	*t = Quote(words)
	return err
}

// Quote returns the words of a person, as written.
func Quote(s string) Text {
	if s == "" {
		return Text{}
	}
	return Say("%s", s)
}

// Join returns those of the texts that say something, with a separator between them.
func Join(between string, texts ...Text) Text {
	var formats []string
	var args []any
	for _, t := range texts {
		if !t.Empty() {
			formats, args = append(formats, "%s"), append(args, t)
		}
	}
	return Text{strings.Join(formats, strings.ReplaceAll(between, "%", "%%")), args}
}
