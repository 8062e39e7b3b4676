package casefile

import (
	"cmp"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
)

// TestSchemas keeps the published schemas and the tables the same.
func TestSchemas(t *testing.T) {
	for _, tt := range []struct {
		file, title string
		table       *Entry
		has         []byte
	}{
		{"schema-case.json", "A case: one person, one chair, one screen with its tracker, one mount", caseTable(), Schema()},
		{"schema-kit.json", "A kit: the parts of a mount, from the chair outward", kitTable(), KitSchema()},
	} {
		want, err := schemaOf(tt.table, tt.title)
		if err != nil {
			t.Fatal(err)
		}
		if flag.Lookup("update").Value.String() == "true" {
			if err := os.WriteFile(tt.file, want, 0o644); err != nil {
				t.Fatal(err)
			}
		} else if diff := gocmp.Diff(string(tt.has), string(want)); diff != "" {
			t.Errorf("%s is not current (run with -update): -file +now\n%s", tt.file, diff)
		}
	}
}

// schema is the part of JSON Schema, draft 2020-12, that the tables need.
type schema struct {
	Dialect     string              `json:"$schema,omitempty"`
	Title       string              `json:"title,omitempty"`
	Description string              `json:"description,omitempty"`
	Type        any                 `json:"type,omitempty"`
	Ref         string              `json:"$ref,omitempty"`
	Properties  map[string]*schema  `json:"properties,omitempty"`
	Required    []string            `json:"required,omitempty"`
	Additional  *bool               `json:"additionalProperties,omitempty"`
	OneOf       []*schema           `json:"oneOf,omitempty"`
	AnyOf       []*schema           `json:"anyOf,omitempty"`
	Needs       map[string][]string `json:"dependentRequired,omitempty"`
	Items       *schema             `json:"items,omitempty"`
	MinItems    int                 `json:"minItems,omitempty"`
	Enum        []any               `json:"enum,omitempty"`
	Pattern     string              `json:"pattern,omitempty"`
	MaxLength   int                 `json:"maxLength,omitempty"`
	Minimum     *float64            `json:"minimum,omitempty"`
	Above       *float64            `json:"exclusiveMinimum,omitempty"`
	Default     string              `json:"default,omitempty"`
	Examples    []string            `json:"examples,omitempty"`
	Defs        map[string]*schema  `json:"$defs,omitempty"`
}

// schemaOf returns the schema of a table.
func schemaOf(e *Entry, title string) ([]byte, error) {
	d := defs{}
	root := d.group(e)
	root.Dialect, root.Title, root.Defs = "https://json-schema.org/draft/2020-12/schema", title, d
	raw, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("casefile: schema: %w", err)
	}
	return append(raw, '\n'), nil
}

// defs are the schemas of the groups met so far, by name.
type defs map[string]*schema

// named returns a reference to the schema of a name.
func (d defs) named(name, description string, of func() *schema) *schema {
	if d[name] == nil {
		d[name] = of()
	}
	return &schema{Ref: "#/$defs/" + name, Description: description}
}

// of returns the schema of an entry.
func (d defs) of(e *Entry) *schema {
	name, group := cmp.Or(e.form, e.Key), func() *schema { return d.group(e) }
	switch e.Kind {
	case List:
		return &schema{Type: "array", Items: d.named(name, "", group), MinItems: e.Least, Description: e.Doc}
	case Group:
		return d.named(name, e.describe(), group)
	case Either:
		return d.named(name, e.describe(), func() *schema {
			return &schema{AnyOf: []*schema{d.of(e.Word), d.named(e.instead.name, e.instead.doc, group)}}
		})
	default:
		s := e.leafSchema()
		s.Description, s.Default = e.describe(), e.def
		return s
	}
}

// group returns the schema of a group.
func (d defs) group(e *Entry) *schema {
	closed := false
	s := &schema{Type: "object", Properties: map[string]*schema{}, Additional: &closed}
	for i := range e.Fields {
		f := &e.Fields[i]
		s.Properties[f.Key] = d.of(f)
		if f.Required {
			s.Required = append(s.Required, f.Key)
		}
	}
	for _, k := range e.One {
		s.OneOf = append(s.OneOf, &schema{Required: []string{k}})
	}
	for _, need := range e.needs {
		if s.Needs == nil {
			s.Needs = map[string][]string{}
		}
		s.Needs[need[0]] = need[1:]
	}
	return s
}

// describe returns the doc with what the schema itself cannot say: bounds, how it is
// measured, and what is taken if it is left out.
func (e *Entry) describe() string {
	doc := e.Doc
	if e.within != (bounds{}) {
		doc += fmt.Sprintf(" From %g to %g.", e.within[0], e.within[1])
	}
	if e.below != 0 {
		doc += fmt.Sprintf(" Below %g.", e.below)
	}
	if e.howto != "" {
		doc += " " + strings.ReplaceAll(e.howto, "{}", "it")
	}
	if e.absent != "" {
		doc += " If left out: " + e.absent + "."
	}
	return doc
}

// leafSchema returns the schema of a word or number. A quantity is a bare number, or text
// with a unit.
func (e *Entry) leafSchema() *schema {
	s := &schema{}
	switch e.Kind {
	case Number:
		bare := &schema{Type: "number"}
		switch e.sign {
		case positive:
			bare.Above = new(float64)
		case notNegative:
			bare.Minimum = new(float64)
		case anySign:
		}
		s.AnyOf = []*schema{bare, {Type: "string", Pattern: e.of.signed(e.sign), MaxLength: maxQuantityLen}}
		s.Examples = []string{e.of.example}
	case Span:
		s.Type, s.Pattern, s.MaxLength = "string", e.of.rangePattern(numbers[e.sign]), maxQuantityLen
		s.Examples = []string{e.of.rangeExample()}
	case Choice:
		for _, w := range e.Options {
			s.Enum = append(s.Enum, w)
		}
	case YesNo:
		s.Enum = []any{true, false, "yes", "no", "true", "false"}
	case Version:
		s.Enum = []any{1, "1"}
	default:
		s.AnyOf = []*schema{{Type: "number"}, {Type: "string", Pattern: `\S`, MaxLength: maxText}}
		if e.pattern != "" {
			s.AnyOf = []*schema{{Type: "integer"}, {Type: "string", Pattern: e.pattern}}
		}
	}
	return s
}

// unitPattern matches one of k's units, in which no mark has a meaning of its own.
func (k *kind) unitPattern() string { return "(?:" + strings.Join(k.words(), "|") + ")" }

// pattern matches a number with or without a unit, or in two units.
func (k *kind) pattern() string {
	return k.patternOf(anyNumber, signs+k.both.pattern("[0-9]+", bareNumber))
}

// patternOf matches what a pattern of numbers does, with or without a unit, or one of two units.
func (k *kind) patternOf(number, inTwo string) string {
	if len(k.units) > 0 {
		number += "(?:" + gap + k.unitPattern() + ")?"
	}
	if k.both != nil {
		number = "(?:" + number + "|" + inTwo + ")"
	}
	return "^" + gap + number + gap + "$"
}

// pattern matches a whole number of the larger of two units and a number of the smaller.
func (two *pair) pattern(whole, number string) string {
	if two == nil {
		return ""
	}
	return whole + gap + "(?:" + strings.Join(two.large, "|") + ")" + gap + number + gap + "(?:" + strings.Join(two.small, "|") + ")"
}

// rangePattern matches two numbers of a pattern with "to" between them. Where only one has
// a unit, it must be the second, and it is that of both.
func (k *kind) rangePattern(number string) string {
	number, unit := gap+number+gap, k.unitPattern()
	return "^" + number + "(?:to" + number + "|(?:" + unit + gap + ")?to" + number + unit + gap + ")$"
}

// The patterns of a number that is not negative, and of one above zero.
const (
	some        = "[0-9]*[1-9][0-9]*"
	plainNumber = `\+?` + bareNumber
	aboveZero   = `\+?` + bareAbove
	bareAbove   = `(?:(?:` + some + blank + `[0-9]+|(?:0+` + blank + `)?` + some + `)` + parts + `|[0-9]*` + gap + `[` + halves + `]|` +
		some + `[.,]?[0-9]*|[0-9]*[.,]` + some + `)`
)

// numbers are the patterns of a number of each sign.
var numbers = map[sign]string{anySign: anyNumber, notNegative: plainNumber, positive: aboveZero}

// signed matches a number of a sign, with or without a unit or in two units, of which one alone
// makes it positive.
func (k *kind) signed(s sign) string {
	switch s {
	case positive:
		return k.patternOf(aboveZero, `\+?(?:`+k.both.pattern(some, bareNumber)+"|"+k.both.pattern("0+", bareAbove)+")")
	case notNegative:
		return k.patternOf(plainNumber, `\+?`+k.both.pattern("[0-9]+", bareNumber))
	default:
		return k.pattern()
	}
}

// FuzzForms: the reader takes just what the patterns of the schemas match.
func FuzzForms(f *testing.F) {
	for _, s := range []string{
		"118 cm", "46 1/2 in", "-12.5°", "0 to 120 mm", "0 mm to 5 cm", "5 mm to 12", "9/0", "46½\u00a0in", `3'10"`, `-3 ft 7 1/2 in`,
		`3.5 ft 7 in`, "3 ft -7 in", "3 ft", "4 lb 3 oz", "4 lb 3", "5\t", "1⁄16 in", "25 N\u00a0m", "25 lbf in", "- 5", "1 ½", "to", "5 to 7",
	} {
		f.Add(s)
	}
	kinds := []*kind{length, angle, turn, mass, force, moment, stress, density, number}
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range kinds {
			if _, got := k.written(s); got != matches(k.pattern(), s) {
				t.Errorf("%q is written as %s: %v, the schema says %v", s, k.name, got, !got)
			}
			span := Entry{Kind: Span, of: k}
			if _, _, bad := span.parse(s, anySign); (bad == nil || bad.sense) != matches(k.rangePattern(anyNumber), s) {
				t.Errorf("%q is a span of %s: %v, the schema says otherwise", s, k.name, bad)
			}
		}
	})
}
