package document_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"

	"sightpost/cmd/sightpost/internal/document"
)

//go:generate go test . -update

// update rewrites goldens and the schema: go test ./cmd/sightpost/internal/document -update.
var update = flag.Bool("update", false, "rewrite the schema and the golden files")

// TestSchema keeps the published schema and the types the same. Descriptions are
// the comments of the fields.
func TestSchema(t *testing.T) {
	for _, row := range []struct {
		name   string
		object any
	}{
		{"result", &document.Report{}},
		{"vary", &document.Vary{}},
		{"refit", &document.Refit{}},
		{"match", &document.Match{}},
		{"records", &document.Records{}},
		{"comparison", &document.Comparison{}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := jsonschema.Reflector{Anonymous: true, Mapper: func(of reflect.Type) *jsonschema.Schema {
				if of == reflect.TypeFor[document.Text]() || of == reflect.TypeFor[document.Line]() {
					return &jsonschema.Schema{Type: "string"}
				}
				return nil
			}}
			for _, room := range []string{".", "../casefile"} {
				if err := r.AddGoComments("sightpost/cmd/sightpost/internal/document", room); err != nil {
					t.Fatal(err)
				}
			}
			s := r.Reflect(row.object)
			s.Title = "sightpost " + row.name
			var want bytes.Buffer
			enc := json.NewEncoder(&want)
			enc.SetEscapeHTML(false)
			enc.SetIndent("", "  ")
			if err := enc.Encode(s); err != nil {
				t.Fatal(err)
			}
			published, err := document.Schema(row.name)
			if err != nil && !*update {
				t.Fatal(err)
			}
			golden(t, "schema-"+row.name+".json", published, want.Bytes())
		})
	}
}

// golden compares got, which the file holds, with what it should hold.
func golden(t *testing.T, file string, got, want []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(got), string(want)); diff != "" {
		t.Errorf("%s is not current (run with -update): -file +now\n%s", file, diff)
	}
}
