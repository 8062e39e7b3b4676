package record_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"

	"sightpost/cmd/sightpost/internal/record"
)

// TestSchema keeps the published schema and the type the same. Descriptions are
// the comments of the fields.
func TestSchema(t *testing.T) {
	const file = "schema-record.json"
	r := jsonschema.Reflector{Anonymous: true}
	if err := r.AddGoComments("sightpost/cmd/sightpost/internal/record", "."); err != nil {
		t.Fatal(err)
	}
	s := r.Reflect(&record.Record{})
	s.Title = "sightpost record"
	var want bytes.Buffer
	enc := json.NewEncoder(&want)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(s); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(file, want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(record.Schema()), want.String()); diff != "" {
		t.Errorf("%s is not current (run with -update): -file +now\n%s", file, diff)
	}
}
