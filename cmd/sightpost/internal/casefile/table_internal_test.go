package casefile

import (
	"encoding/json"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// tables are both tables, with the schema and the starter text of each.
func tables(t *testing.T) map[string]struct {
	rows    []Entry
	schema  []byte
	starter string
	form    any
} {
	t.Helper()
	caseSchema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	kitSchema, err := KitSchema()
	if err != nil {
		t.Fatal(err)
	}
	caseText, kitText := Starter()
	type table = struct {
		rows    []Entry
		schema  []byte
		starter string
		form    any
	}
	return map[string]table{
		"case": {Table(), caseSchema, string(caseText), &caseForm{}},
		"kit":  {KitTable(), kitSchema, string(kitText), &kitForm{}},
	}
}

// TestEveryRowHasItsFaces: what the table has, schema, form, starter and comparison have
// too, and every entry says how it is measured.
func TestEveryRowHasItsFaces(t *testing.T) {
	var groups []string
	for _, g := range Groups() {
		groups = append(groups, g.ID)
	}
	for name, table := range tables(t) {
		t.Run(name, func(t *testing.T) {
			schema, said := schemaKeys(t, table.schema), rowsSaid(table.form)
			for _, row := range table.rows {
				if !schema[row.Path] {
					t.Errorf("%s is not in the schema", row.Path)
				}
				if row.Doc == "" || row.HowTo == "" || strings.Contains(row.HowTo, "{}") {
					t.Errorf("%s: doc %q, how-to %q", row.Path, row.Doc, row.HowTo)
				}
				if row.Picture != "" && row.HowTo == capital(row.Doc) {
					t.Errorf("%s has a picture and no how-to for it", row.Path)
				}
				if leaf := row.Kind != Group && row.Kind != List; leaf && !said[row.Path] {
					t.Errorf("%s is not compared", row.Path)
				}
				if name == "case" && !slices.Contains(groups, row.Group) {
					t.Errorf("%s belongs to the unknown part %q of the form", row.Path, row.Group)
				}
				if !row.Advanced && !strings.Contains(table.starter, row.Key+":") {
					t.Errorf("%s is not in the starter", row.Path)
				}
			}
		})
	}
}

// schemaKeys returns the paths of all keys in a schema.
func schemaKeys(t *testing.T, text []byte) map[string]bool {
	t.Helper()
	var root schema
	if err := json.Unmarshal(text, &root); err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	var walk func(s *schema, path string)
	walk = func(s *schema, path string) {
		if name, ok := strings.CutPrefix(s.Ref, "#/$defs/"); ok {
			walk(root.Defs[name], path)
		}
		for _, one := range s.AnyOf {
			walk(one, path)
		}
		for key, inner := range s.Properties {
			at := joinKey(path, key)
			if inner.Items != nil {
				at, inner = at+"[]", inner.Items
			}
			keys[at] = true
			walk(inner, at)
		}
	}
	walk(&root, "")
	return keys
}

// rowsSaid returns the rows of which a form that holds everything says something.
func rowsSaid(form any) map[string]bool {
	fillAll(reflect.ValueOf(form).Elem())
	rows := map[string]bool{}
	for _, said := range valuesOf(nil, reflect.ValueOf(form).Elem(), "", "") {
		rows[said.Row] = true
	}
	return rows
}

// fillAll puts something into every entry of a form.
func fillAll(v reflect.Value) {
	switch {
	case v.Kind() == reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fillAll(v.Elem())
	case v.Kind() == reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fillAll(v.Index(0))
	case isLeaf(v.Type()):
		v.Addr().Interface().(leafValue).accept()
	default:
		s := shapeOf(v.Type())
		fields := s.fields
		if s.word != nil {
			fields = []field{*s.word, *s.form}
		}
		for _, f := range fields {
			fillAll(v.FieldByIndex(f.index))
		}
	}
}

// TestValues: the values of a case are those that its file says, in the units of the
// table, with what is assumed marked so.
func TestValues(t *testing.T) {
	caseText, kitText := Starter()
	c := readStarter(t, string(caseText), string(kitText))
	said := map[string]Said{}
	for _, s := range c.Values() {
		if _, twice := said[s.Path]; twice {
			t.Errorf("%s twice", s.Path)
		}
		said[s.Path] = s
	}
	for path, want := range map[string]Said{
		"measured.eyes.up":                     {Row: "measured.eyes.up", Value: Value{Low: 1180, High: 1180, Unit: "mm"}},
		"postures[rested].seat_tilt":           {Row: "postures[].seat_tilt", Value: Value{Low: 25, High: 25, Unit: "deg"}},
		"preferences.rates.gaze":               {Row: "preferences.rates.gaze", Value: Value{Low: 1, High: 1}, Assumed: true},
		"preferences.ranges.distance":          {Row: "preferences.ranges.distance", Value: Value{Low: 150, High: 1500, Unit: "mm"}, Assumed: true},
		"preferences.roll_follows":             {Row: "preferences.roll_follows", Value: Value{Word: "head"}},
		"mount.kit":                            {Row: "mount.kit", Value: Value{Word: "kit.yaml"}},
		"mount.kit.parts[post].post.height.to": {Row: "mount.kit.parts[].post.height.to", Value: Value{Low: 760, High: 760, Unit: "mm"}},
		"chair.seat_height":                    {Row: "chair.seat_height", Value: Value{Low: 500, High: 500, Unit: "mm"}, Assumed: true},
		"body.face.below_eyes":                 {Row: "body.face.below_eyes", Value: Value{Low: 110, High: 110, Unit: "mm"}, Assumed: true},
	} {
		want.Path = path
		if said[path] != want {
			t.Errorf("got %+v, want %+v", said[path], want)
		}
	}
}

// TestValuesTellCasesApart: a change of any preference shows in the values.
func TestValuesTellCasesApart(t *testing.T) {
	caseText, kitText := Starter()
	before := readStarter(t, string(caseText), string(kitText)).Values()
	for _, more := range []string{"rates: {gaze: 2}", "ranges: {roll: -5 to 5}", "roll_follows: level"} {
		text := strings.Replace(string(caseText), "  roll_follows: head", "  roll_follows: head\n  "+more, 1)
		if strings.HasPrefix(more, "roll_follows") {
			text = strings.Replace(string(caseText), "  roll_follows: head", "  "+more, 1)
		}
		if after := readStarter(t, text, string(kitText)).Values(); slices.Equal(before, after) {
			t.Errorf("%s shows no change", more)
		}
	}
}

// readStarter reads a case with its kit.
func readStarter(t *testing.T, caseText, kitText string) *Case {
	t.Helper()
	c, err := Read("case.yaml", strings.NewReader(caseText), func(string) (io.ReadCloser, error) {
		return io.NopCloser(strings.NewReader(kitText)), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}
