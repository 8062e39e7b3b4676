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

// TestSchema keeps the published schemas and the types the same. Descriptions are
// the comments of the fields.
func TestSchema(t *testing.T) {
	for _, row := range []struct {
		title, file string
		object      any
		published   []byte
	}{
		{"sightpost record", "schema-record.json", &record.Record{}, record.Schema()},
		{"sightpost records", "schema-records.json", &record.List{}, record.ListSchema()},
		{"sightpost comparison", "schema-comparison.json", &record.Comparison{}, record.ComparisonSchema()},
	} {
		t.Run(row.title, func(t *testing.T) {
			r := jsonschema.Reflector{Anonymous: true}
			if err := r.AddGoComments("sightpost/cmd/sightpost/internal/record", "."); err != nil {
				t.Fatal(err)
			}
			s := r.Reflect(row.object)
			s.Title = row.title
			var want bytes.Buffer
			enc := json.NewEncoder(&want)
			enc.SetEscapeHTML(false)
			enc.SetIndent("", "  ")
			if err := enc.Encode(s); err != nil {
				t.Fatal(err)
			}
			if *update {
				if err := os.WriteFile(row.file, want.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(string(row.published), want.String()); diff != "" {
				t.Errorf("%s is not current (run with -update): -file +now\n%s", row.file, diff)
			}
		})
	}
}
