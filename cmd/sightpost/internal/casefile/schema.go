package casefile

import (
	_ "embed" // the starter files
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

// schema is the part of JSON Schema, draft 2020-12, that the forms need.
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

// Schema returns the JSON Schema (2020-12) of case files. It accepts what [Read]
// accepts, but for what a schema cannot say: bounds of values with units, and
// relations between entries.
func Schema() ([]byte, error) {
	return schemaOf(reflect.TypeFor[caseForm](), "A case: one person, one chair, one screen with its tracker, one mount")
}

// KitSchema returns the JSON Schema (2020-12) of kit files; see [Schema].
func KitSchema() ([]byte, error) {
	return schemaOf(reflect.TypeFor[kitForm](), "A kit: the parts of a mount, from the chair outward")
}

func schemaOf(t reflect.Type, title string) ([]byte, error) {
	d := defs{}
	root := d.form(t)
	root.Dialect, root.Title, root.Defs = "https://json-schema.org/draft/2020-12/schema", title, d
	raw, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("casefile: schema: %w", err)
	}
	return append(raw, '\n'), nil
}

// defs are the schemas of the forms met so far, by name.
type defs map[string]*schema

// of returns the schema of an entry.
func (d defs) of(t reflect.Type, f field) *schema {
	switch {
	case t.Kind() == reflect.Pointer:
		return d.of(t.Elem(), f)
	case t.Kind() == reflect.Slice:
		return &schema{Type: "array", Items: d.of(t.Elem(), field{}), MinItems: f.least, Description: f.doc}
	case isLeaf(t):
		s := reflect.New(t).Interface().(leafValue).schema(f)
		s.Description, s.Default = f.describe(), f.def
		return s
	}
	name := strings.TrimSuffix(t.Name(), "Form")
	if d[name] == nil {
		d[name] = &schema{} // stops a form that holds itself
		*d[name] = *d.form(t)
	}
	return &schema{Ref: "#/$defs/" + name, Description: f.describe()}
}

// form returns the schema of a form.
func (d defs) form(t reflect.Type) *schema {
	sh := shapeOf(t)
	if sh.word != nil {
		word := d.of(t.FieldByIndex(sh.word.index).Type, *sh.word)
		return &schema{AnyOf: []*schema{word, d.of(t.FieldByIndex(sh.form.index).Type, *sh.form)}}
	}
	closed := false
	s := &schema{Type: "object", Properties: map[string]*schema{}, Additional: &closed}
	for _, f := range sh.fields {
		ft := t.FieldByIndex(f.index).Type
		s.Properties[f.key] = d.of(ft, f)
		if f.required(ft) {
			s.Required = append(s.Required, f.key)
		}
	}
	for _, k := range sh.one {
		s.OneOf = append(s.OneOf, &schema{Required: []string{k}})
	}
	for _, need := range sh.needs {
		if s.Needs == nil {
			s.Needs = map[string][]string{}
		}
		s.Needs[need[0]] = need[1:]
	}
	return s
}

// describe returns the doc with what the schema itself cannot say: bounds, how it is
// measured, and what is taken if it is left out.
func (f field) describe() string {
	doc := f.doc
	if f.within != nil {
		doc += fmt.Sprintf(" From %g to %g.", f.within[0], f.within[1])
	}
	if f.below != nil {
		doc += fmt.Sprintf(" Below %g.", f.below[0])
	}
	if f.howto != "" {
		doc += " " + strings.ReplaceAll(f.howto, "{}", "it")
	}
	if f.absent != "" {
		doc += " If left out: " + f.absent + "."
	}
	return doc
}

// schema returns the schema of a quantity: a bare number, or text with a unit.
func (k kind) schema(f field) *schema {
	zero := 0.0
	bare := &schema{Type: "number"}
	switch f.sign {
	case positive:
		bare.Above = &zero
	case notNegative:
		bare.Minimum = &zero
	case anySign:
	}
	return &schema{
		AnyOf:    []*schema{bare, {Type: "string", Pattern: k.pattern(f.sign), MaxLength: maxQuantityLen}},
		Examples: []string{k.example},
	}
}

func (k kind) rangeSchema(f field) *schema {
	return &schema{Type: "string", Pattern: k.rangePattern(f.sign), MaxLength: maxQuantityLen, Examples: []string{k.rangeExample()}}
}

func (t *text) schema(field) *schema {
	return &schema{AnyOf: []*schema{{Type: "number"}, {Type: "string", Pattern: `\S`, MaxLength: maxText}}}
}

func (p *partName) schema(field) *schema {
	return &schema{AnyOf: []*schema{{Type: "integer"}, {Type: "string", Pattern: partNamePattern}}}
}

func (c *choice) schema(f field) *schema {
	s := &schema{}
	for _, w := range f.words {
		s.Enum = append(s.Enum, w)
	}
	return s
}

func (t *truth) schema(field) *schema {
	return &schema{Enum: []any{true, false, "yes", "no", "true", "false"}}
}

func (v *version) schema(field) *schema { return &schema{Enum: []any{1, "1"}} }

//go:embed starter/case.yaml
var starterCase string

//go:embed starter/kit.yaml
var starterKit string

// Starter returns the text of a commented case and of the kit that it names
// kit.yaml: the two files to begin with. Both are invented.
func Starter() (caseText, kitText []byte) { return []byte(starterCase), []byte(starterKit) }
