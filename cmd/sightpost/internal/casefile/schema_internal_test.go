package casefile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sightpost/plots/units"
	"sightpost/testdata/trials"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// sort is one sort of file: its schema, its reader and the shipped files.
type sort struct {
	schema *jsonschema.Schema
	read   func(text []byte) error
	files  map[string][]byte
}

func compiled(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	const at = "urn:schema" // and no path: it may hold a space
	if err := c.AddResource(at, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(at)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func shippedFiles(t *testing.T, folder string, more []byte) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("../../../../testdata", folder, "*.yaml"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no shipped %s: %v", folder, err)
	}
	files := map[string][]byte{"starter": more}
	for _, p := range paths {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(p)] = text
	}
	return files
}

// spreadsText gives spreads of both kinds, of measures and of settings.
const spreadsText = `
uncertainty:
  eyes: {forward: {normal: 8 mm}, up: {uniform: 1/2 in}}
  head: {rotation: {uniform: 3 deg}}
  seat_tilt: {normal: 0.5 deg}
  pupil_spacing: {normal: 2}
  settings:
    - {name: post.height, length: {normal: 2 mm}}
    - {name: elbow.elevation, angle: {uniform: 0}}
`

// surroundText gives all that is around the person, and what the chair must
// pass; it takes the place of the line that begins a chair.
const surroundText = `
body:
  face: {breadth: 16 cm, length: 20 cm, above_eyes: 12 cm, below_eyes: 11 cm, clearance: 4 in}
  trunk: {breadth: 30 cm, depth: 15 cm, height: 1 ft 1/2 in, clearance: 0}
  thighs: {thickness: 15 cm, length: 58 cm, spacing: 20 cm}
passage:
  about: post.swing
  doorway: 80 cm
  clear_floor: {width: 760 mm, length: 4 ft}
chair:
  seat_height: 19 in
  size: {width: 63 cm, behind: 28 cm, ahead: 88 cm}
  drives: yes
  armrests: {spacing: 52 cm, top: 76 cm, back: 5 cm, front: 38 cm, width: 6 cm, thickness: 4 cm, clearance: 1 cm}
  joystick: {side: right, at: {forward: 43 cm, left: -26 cm, up: 83 cm}, size: {forward: 12 cm, left: 9 cm, up: 14 cm}, clearance: 4 cm}
  tray: {width: 60 cm, back: 25 cm, front: 60 cm, top: 78 cm, thickness: 15, clearance: 2 cm}
`

func sorts(t *testing.T) map[string]sort {
	t.Helper()
	caseText, kitText := Starter(units.MM)
	cases := sort{schema: compiled(t, Schema()), files: shippedFiles(t, "cases", caseText)}
	cases.read = func(text []byte) error {
		_, err := Read("case", bytes.NewReader(text), func(string) (io.ReadCloser, error) {
			return io.NopCloser(bytes.NewReader(kitText)), nil
		})
		return err
	}
	// A case with its kit in place goes through both sets of forms at once.
	place := strings.Replace(string(caseText), "kit: kit.yaml", "kit:\n    "+strings.ReplaceAll(string(kitText), "\n", "\n    "), 1)
	cases.files["kit in place"] = []byte(place)
	cases.files["uncertainty"] = append(slices.Clone(caseText), spreadsText...)
	cases.files["surroundings"] = []byte(strings.Replace(string(cases.files["child.yaml"]), "\nchair:\n", surroundText, 1))
	kits := sort{schema: compiled(t, KitSchema()), files: shippedFiles(t, "kits", kitText)}
	kits.read = func(text []byte) error {
		_, err := ReadKit("kit", bytes.NewReader(text))
		return err
	}
	return map[string]sort{"cases": cases, "kits": kits}
}

// asJSON returns what a YAML file says, as encoding/json would have it.
func asJSON(t *testing.T, text []byte) any {
	t.Helper()
	raw, err := yaml.YAMLToJSON(text)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// firstStage reports whether the reader found only problems of the second stage.
func firstStage(err error) (ok bool) {
	var problems Errors
	if !errors.As(err, &problems) {
		return err == nil
	}
	return !slices.ContainsFunc(problems, func(p Problem) bool { return !p.sense })
}

func TestSchemaAcceptsShippedFiles(t *testing.T) {
	for name, s := range sorts(t) {
		for file, text := range s.files {
			t.Run(name+"/"+file, func(t *testing.T) {
				if err := s.schema.Validate(asJSON(t, text)); err != nil {
					t.Errorf("the schema refuses it: %v", err)
				}
				if err := s.read(text); err != nil {
					t.Errorf("the reader refuses it: %v", err)
				}
			})
		}
	}
}

// TestSecondStage: what a schema cannot say is left to the reader. The files hold one
// example of every rule of sense.go and kitsense.go; what the rules say of them is
// beside them.
func TestSecondStage(t *testing.T) {
	all := sorts(t)
	for file, name := range map[string]string{
		"sense.case.yaml": "cases", "sense-more.case.yaml": "cases", "surround.case.yaml": "cases", "kitfile.case.yaml": "cases", "eyes.case.yaml": "cases", "uncertainty.case.yaml": "cases", "spreads-kit.case.yaml": "cases",
		"sense.kit.yaml": "kits", "long.kit.yaml": "kits", "lengths.kit.yaml": "kits", "tight.kit.yaml": "kits",
	} {
		t.Run(file, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("testdata/bad", file))
			if err != nil {
				t.Fatal(err)
			}
			if err := all[name].schema.Validate(asJSON(t, text)); err != nil {
				t.Errorf("the schema refuses it: %v", err)
			}
			if file == "kitfile.case.yaml" { // the file that it names is there in this test
				return
			}
			if err := all[name].read(text); err == nil || !firstStage(err) {
				t.Errorf("Read = %v, want problems of the second stage only", err)
			}
		})
	}
}

// odd are the values that every entry of every shipped file is replaced by in
// turn: right and wrong units, signs, sorts and words.
func odd() []any {
	words := []string{
		"", " ", "x", "yes", "no", "true", "seat", "left", "head", "forward", "both", "steel-S235",
		"12", "-12", "+12", "0", "0.0", "-0.5", ".5", "5.", "12 mm", "12mm", "-12 mm", "0 mm", "1/2 in", "46 1/2 in", "0/2 in", "1/0 in",
		"0 1/2 in", "0 0/2 in", "−3 mm", "3\u00a0mm", `46"`, "46”", "118,5 cm", "0,0 cm", "0 ½ in", "1⁄2 in", `3'10"`, `0'0"`, "4 lb 3 oz", "0 lb 0 oz", "1.180,5 mm", "1 fathom", "12 deg", "-12 deg", "0 deg", "12°", "0.1 rad", "3 kg", "2 lb", "12 deg mm", "mm", "1e3 mm",
		"70 GPa", "2.7 g/cm3", "25 N m", "25 N·m", "-25 Nm", "0 N cm", "300 N", "3 ft 7 1/2 in", "-3 ft 7 in", "0 ft 6\"", "0 ft 0 in", "3 ft 7 cm", "assumed", "none", "0 to 120 mm", "0 mm to 12 cm", "0 mm to 12", "-10 to 10 deg", "10 to 20", "10 to", "to 20 mm", "5 to 6 kg", "-5 to 5 mm", "a b", "a.b", "a=b", strings.Repeat("9", 90),
	}
	values := []any{
		true, false, nil,
		[]any{},
		[]any{"x"},
		map[string]any{},
		map[string]any{"x": 1},
		0, 1, 5, -5, 0.5, 200, 100000,
		map[string]any{"forward": 1, "left": 2, "up": 3},
	}
	for _, w := range words {
		values = append(values, w)
	}
	return values
}

// mutants calls visit with every file that differs from doc in one place: an entry
// missing, misspelt or replaced.
func mutants(doc any, visit func(what string)) { mutate(doc, doc, "", visit) }

func mutate(root, at any, path string, visit func(what string)) {
	switch v := at.(type) {
	case map[string]any:
		keys := make([]string, 0, len(v))
		for k := range v {
			keys = append(keys, k)
		}
		slices.Sort(keys)
		for _, k := range keys {
			old := v[k]
			delete(v, k)
			visit(path + "." + k + " missing")
			v[k+"z"] = old
			visit(path + "." + k + " misspelt")
			delete(v, k+"z")
			for _, o := range odd() {
				v[k] = o
				visit(fmt.Sprintf("%s.%s = %#v", path, k, o))
			}
			v[k] = old
			mutate(root, old, path+"."+k, visit)
		}
	case []any:
		for i := range v {
			old := v[i]
			for _, o := range []any{nil, "x", 5, map[string]any{}, []any{}} {
				v[i] = o
				visit(fmt.Sprintf("%s[%d] = %#v", path, i+1, o))
			}
			v[i] = old
			mutate(root, old, path+"["+strconv.Itoa(i+1)+"]", visit)
		}
	}
}

// TestSchemaAgreesWithReader compares both on files that differ from a shipped one
// in one place. What only the reader can find is of its second stage, and passes
// here.
func TestSchemaAgreesWithReader(t *testing.T) {
	wantAccepted, wantRefused := 30, trials.Of(100, 200) // else the comparison would be empty
	every := trials.Of(200, 10)                          // of the mutants, one in so many: all of them take hours
	for name, s := range sorts(t) {
		files := []string{"starter", "kit in place", "uncertainty", "surroundings", "child.yaml", "bed-rail.yaml", "two-tube-offset.yaml", "bed-rail-ball.yaml"}
		accepted, refused := 0, 0
		for _, file := range files {
			text, ok := s.files[file]
			if !ok {
				continue
			}
			t.Run(name+"/"+file, func(t *testing.T) {
				doc := asJSON(t, text)
				draw := rand.New(rand.NewPCG(1, 1))
				mutants(doc, func(what string) {
					if draw.IntN(every) > 0 {
						return
					}
					raw, err := json.Marshal(doc)
					if err != nil {
						t.Fatal(err)
					}
					bySchema := s.schema.Validate(asJSONNumbers(t, raw)) == nil
					readErr := s.read(raw)
					if byReader := firstStage(readErr); bySchema != byReader {
						t.Errorf("%s: schema accepts: %t, reader accepts: %t\n%v", what, bySchema, byReader, readErr)
					}
					if bySchema {
						accepted++
					} else {
						refused++
					}
				})
			})
		}
		if accepted < wantAccepted || refused < wantRefused {
			t.Errorf("%s: compared %d accepted and %d refused files, want at least %d and %d", name, accepted, refused, wantAccepted, wantRefused)
		}
	}
}

func asJSONNumbers(t *testing.T, raw []byte) any {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestTables checks what the columns of both tables say: keys and docs are there, bounds
// are in order, defaults can be read, and the keys that a group names are its own.
func TestTables(t *testing.T) {
	const rows = 300 // else the walk would be empty
	if n := checkRow(t, caseTable()); n < rows {
		t.Errorf("visited %d rows only", n)
	}
}

// checkRow checks a row and what is below it, and returns their number.
func checkRow(t *testing.T, e *Entry) (rows int) {
	t.Helper()
	if e.Path != "" && (e.Key == "" || e.Doc == "") {
		t.Errorf("%s: key or doc missing", e.Path)
	}
	if !slices.Contains([]sign{anySign, positive, notNegative}, e.sign) {
		t.Errorf("%s: unknown sign %q", e.Path, e.sign)
	}
	if e.within[0] > e.within[1] || e.of != nil && max(-e.within[0], e.within[1]) > e.of.most {
		t.Errorf("%s: bounds %v", e.Path, e.within)
	}
	if e.def != "" {
		if bad := (&node{row: e}).read(e.def); bad != nil {
			t.Errorf("%s: default: %+v", e.Path, bad)
		}
	}
	leaf := (&node{row: e}).leaf()
	if (e.Kind == Group || e.Kind == List || e.Kind == Either) != (len(e.Fields) > 0) {
		t.Errorf("%s is %q and has %d rows below it", e.Path, e.Kind, len(e.Fields))
	}
	if (leaf.Kind == Number || leaf.Kind == Span) != (leaf.of != nil) || (leaf.Kind == Choice) != (len(leaf.Options) > 0) {
		t.Errorf("%s is %q, with %d options and the quantity %v", e.Path, leaf.Kind, len(leaf.Options), leaf.of)
	}
	keys := e.Keys()
	named := append(slices.Concat(e.needs...), e.One...)
	for _, f := range e.Fields {
		if f.over != "" {
			named = append(named, f.over)
		}
	}
	for _, k := range named {
		if !slices.Contains(keys, k) {
			t.Errorf("%s names the unknown key %q", e.Path, k)
		}
	}
	for i := range e.Fields {
		rows += checkRow(t, &e.Fields[i])
	}
	return rows + 1
}

// TestPathsAreInTheTable: every path by which the code asks for an entry is one of the
// table, or the end of one.
func TestPathsAreInTheTable(t *testing.T) {
	var paths []string
	var walk func(e *Entry)
	walk = func(e *Entry) {
		paths = append(paths, "."+strings.ReplaceAll(e.Path, "[]", ""))
		for i := range e.Fields {
			walk(&e.Fields[i])
		}
	}
	walk(caseTable())
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	asks := regexp.MustCompile(`\.(?:get|has|span|number|angle|word|yes|list|vec|xyz|setting|offset|inJoint|group|derive)\("([^"]+)"`)
	found := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, ask := range asks.FindAllStringSubmatch(string(text), -1) {
			path := strings.TrimSuffix(ask[1], ".") // a key is put behind it
			found++
			if !slices.ContainsFunc(paths, func(p string) bool { return strings.HasSuffix(p, "."+path) }) {
				t.Errorf("%s asks for %q, which is no entry", file, path)
			}
		}
	}
	if found < 150 {
		t.Errorf("found %d paths only", found)
	}
}
