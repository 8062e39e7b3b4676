package casefile

import (
	"encoding/json"
	"io"
	"slices"
	"strings"
	"testing"

	"sightpost/plots/units"
)

// TestEveryRowHasItsFaces: what the table has, schema, form, starter and comparison have
// too, and every entry says how it is measured.
func TestEveryRowHasItsFaces(t *testing.T) {
	caseText, kitText := Starter(units.MM)
	var groups []string
	for _, g := range Groups() {
		groups = append(groups, g.ID)
	}
	for _, file := range []struct {
		table   *Entry
		schema  []byte
		starter string
	}{
		{caseTable(), Schema(), string(caseText)},
		{kitTable(), KitSchema(), string(kitText) + string(EveryPart(units.MM))},
	} {
		schema, said := schemaKeys(t, file.schema), rowsSaid(file.table)
		rows := file.table.rows(nil)
		if len(rows) < 100 {
			t.Errorf("%s has %d rows only", file.table.Path, len(rows))
		}
		for _, row := range rows {
			if !schema[strings.TrimPrefix(row.Path, file.table.Path+".")] {
				t.Errorf("%s is not in the schema", row.Path)
			}
			if row.Doc == "" || row.HowTo == "" || strings.Contains(row.HowTo, "{}") {
				t.Errorf("%s: doc %q, how-to %q", row.Path, row.Doc, row.HowTo)
			}
			if row.Picture != "" && row.HowTo == capital(row.Doc) && file.table != kitTable() {
				t.Errorf("%s has a picture and no how-to for it", row.Path)
			}
			if leaf := row.Kind != Group && row.Kind != List; leaf && !said[row.Path] {
				t.Errorf("%s is not compared", row.Path)
			}
			if !slices.Contains(groups, row.Group) {
				t.Errorf("%s belongs to the unknown part %q of the form", row.Path, row.Group)
			}
			if !row.Advanced && !strings.Contains(file.starter, row.Key+":") {
				t.Errorf("%s is not in the starter", row.Path)
			}
		}
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

// rowsSaid returns the rows of which a file that holds everything says something.
func rowsSaid(e *Entry) map[string]bool {
	rows := map[string]bool{}
	for _, said := range filled(e, e.Kind == List).allSaid() {
		rows[said.Row] = true
	}
	return rows
}

// filled returns a node with something in every entry: of a list in its only item.
func filled(e *Entry, list bool) *node {
	if list {
		return &node{row: e, items: []*node{filled(e, false)}}
	}
	n := &node{row: e, valid: e.Kind != Group && e.Kind != List, kids: map[string]*node{}}
	for i := range e.Fields {
		f := &e.Fields[i]
		n.kids[f.Key] = filled(f, f.Kind == List)
	}
	return n
}

// TestValues: the values of a case are those that its file says, in the units of the
// table, with what is assumed marked so.
func TestValues(t *testing.T) {
	caseText, kitText := Starter(units.MM)
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
		"mount.kit.parts[post].post.height.to": {Row: "mount.kit.parts[].post.height.to", Value: Value{Low: 610, High: 610, Unit: "mm"}, steady: "mount.kit"},
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
	caseText, kitText := Starter(units.MM)
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
