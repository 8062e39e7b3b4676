package cli_test

import (
	"os"
	"path/filepath"
	"testing"
)

// TestRecordsFitTheirSchemas files shipped cases twice and holds what is told of
// the records against the published schemas.
func TestRecordsFitTheirSchemas(t *testing.T) {
	cases, err := filepath.Glob(filepath.Join(shipped, "cases", "*.yaml"))
	if err != nil || len(cases) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	if os.Getenv("SIGHTPOST_LONG") == "" {
		cases = cases[:min(len(cases), 3)]
	}
	for _, file := range cases {
		t.Run(filepath.Base(file), func(t *testing.T) {
			in := t.TempDir()
			for _, day := range []string{"2026-10-14", "2026-11-25"} {
				if code, _, stderr := run(t, "record", "file", file, "--in", in, "--code", "bench", "--date", day); code == 2 {
					t.Fatal(stderr)
				}
			}
			for schema, command := range map[string]string{"record": "show", "records": "list", "comparison": "compare"} {
				code, object, stderr := run(t, "record", command, "bench", "--in", in, "--json")
				if code != 0 || stderr != "" {
					t.Fatalf("%s: exit code %d, %s", command, code, stderr)
				}
				if err := published(t, schema).Validate(parsed(t, object)); err != nil {
					t.Errorf("%s: %v", command, err)
				}
			}
		})
	}
}
