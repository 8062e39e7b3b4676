package record_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sightpost/cmd/sightpost/internal/record"
)

//go:generate go test . -update

var update = flag.Bool("update", false, "rewrite the golden files")

// TestEncode shows the file of a record and reads it back.
func TestEncode(t *testing.T) {
	want := sample("bench-1", "2026-11-25")
	text := encoded(t, want)
	const path = "testdata/encoded.yaml"
	if *update {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	golden, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(golden), string(text)); diff != "" {
		t.Errorf("%s is not current (run with -update): -file +now\n%s", path, diff)
	}
	got, err := record.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("read back: -want +got\n%s", diff)
	}
}

// TestFirstForm reads a file of the first form. It was written once and stays as it
// is for ever: whatever becomes of later forms, this one can be read.
func TestFirstForm(t *testing.T) {
	text, err := os.ReadFile("testdata/form-1.yaml")
	if err != nil {
		t.Fatal(err)
	}
	got, err := record.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	want := sample("bench-1", "2026-11-25")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	// The sum is that of the lines above the last, as any other tool gives it.
	above, last, _ := bytes.Cut(text, []byte("checksum: "))
	sum := sha256.Sum256(above)
	if want := "sha256:" + hex.EncodeToString(sum[:]) + "\n"; string(last) != want {
		t.Errorf("checksum %q, want %q", last, want)
	}
}

// TestDecodeHostile hands Decode what is no record, or one no longer.
func TestDecodeHostile(t *testing.T) {
	whole := string(encoded(t, sample("bench-1", "2026-11-25")))
	// summed puts the sum under lines that someone has written.
	summed := func(above string) string {
		sum := sha256.Sum256([]byte(above))
		return above + "checksum: sha256:" + hex.EncodeToString(sum[:]) + "\n"
	}
	above := whole[:strings.LastIndex(whole, "checksum:")]
	for _, test := range []struct {
		name, text string
		want       error
		says       string
	}{
		{"empty", "", record.ErrCutShort, "cut short"},
		{"only the heading", whole[:20], record.ErrCutShort, "cut short"},
		{"no end", strings.TrimSuffix(whole, "\n"), record.ErrCutShort, "checksum"},
		{"no checksum", above, record.ErrCutShort, "checksum"},
		{"binary", "\x00\x01\x02", record.ErrNoRecord, "not text"},
		{"a picture", "\x89PNG\r\n\x1a\n", record.ErrNoRecord, "not text"},
		{"an escape", strings.Replace(whole, "Invented", "\x1b[2J", 1), record.ErrNoRecord, "not text"},
		{"huge", strings.Repeat("#", 3<<20), record.ErrNoRecord, "more than"},
		{"a case", "sightpost: 1\n", record.ErrNoRecord, "sightpost_record:"},
		{"prose", "He sits well today.\n", record.ErrNoRecord, "sightpost_record:"},
		{"later form", strings.Replace(whole, "sightpost_record: 2", "sightpost_record: 3", 1), record.ErrNewer, "form 3"},
		{"later form, all else different", "sightpost_record: 17\nsum = 3\n" + whole[strings.LastIndex(whole, "checksum"):], record.ErrNewer, "later version"},
		{"no version", strings.Replace(whole, "sightpost_record: 2", "sightpost_record: one", 1), record.ErrNoRecord, "version"},
		{"unknown key", summed(strings.Replace(above, "kind:", "sort:", 1)), record.ErrNoRecord, `"sort"`},
		{"key twice", summed(strings.Replace(above, "kind:", "tool: other\nkind:", 1)), record.ErrNoRecord, "tool"},
		{"text twice", summed(above + "case: |2+\n  other\n"), record.ErrNoRecord, "twice"},
		{"text not indented", summed(above + "tool: other\n"), record.ErrNoRecord, "not indented"},
		{"no case", summed(above[:strings.Index(above, "case: |")]), record.ErrNoRecord, "no case"},
		{"no date", summed(strings.Replace(above, "2026-11-25", "2026-02-30", 1)), record.ErrNoRecord, "2026-02-30"},
		{"no code", summed(strings.Replace(above, "code: bench-1", "code: ../bench", 1)), record.ErrNoRecord, "code"},
		{"no number", summed(strings.Replace(above, "margin_mm: 31.25", "margin_mm: .nan", 1)), record.ErrNoRecord, "number"},
		{"anchors", summed(strings.Replace(above, "tool: ", "tool: &a ", 1)), record.ErrNoRecord, "YAML mark"},
		{"tokens", summed("sightpost_record: 1\nsettings: [" + strings.Repeat("1,", 50_000) + "]\n"), record.ErrNoRecord, "words and marks"},
		{"braces", summed("sightpost_record: 1\nsettings: " + strings.Repeat("[", 4000) + "\n"), record.ErrNoRecord, "levels"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := record.Decode([]byte(test.text))
			if !errors.Is(err, test.want) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %v, want %v that says %q", err, test.want, test.says)
			}
		})
	}
}

// TestEdited changes a record by hand in every line and looks whether it is
// noticed.
func TestEdited(t *testing.T) {
	lines := strings.SplitAfter(string(encoded(t, sample("bench-1", "2026-11-25"))), "\n")
	noticed := 0
	for i := range lines[:len(lines)-2] {
		for _, edit := range []string{strings.TrimSuffix(lines[i], "\n") + " # seen\n", lines[i] + "# seen\n"} {
			edited := strings.Join(lines[:i], "") + edit + strings.Join(lines[i+1:], "")
			r, err := record.Decode([]byte(edited))
			if err == nil && !r.Edited {
				t.Errorf("not noticed: %q for %q", edit, lines[i])
			}
			if err == nil {
				noticed++
			}
		}
	}
	if noticed == 0 {
		t.Error("no edited record could be read at all")
	}
}

// TestLineEnds lets a system change how lines end, which is no edit.
func TestLineEnds(t *testing.T) {
	want := sample("bench-1", "2026-11-25")
	got, err := record.Decode(bytes.ReplaceAll(encoded(t, want), []byte("\n"), []byte("\r\n")))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// TestEncodeRefuses hands Encode what could not be read again.
func TestEncodeRefuses(t *testing.T) {
	for name, spoil := range map[string]func(*record.Record){
		"a code that is a path": func(r *record.Record) { r.Code = "../../etc" },
		"no day":                func(r *record.Record) { r.Day = "tomorrow" },
		"no case":               func(r *record.Record) { r.Case = "" },
		"no kind":               func(r *record.Record) { r.Kind = "guess" },
		"no posture":            func(r *record.Record) { r.Result.Postures = nil },
		"not a number":          func(r *record.Record) { r.Settings[0].Value = math.NaN() },
		"an infinite margin":    func(r *record.Record) { r.Result.MarginMM = math.Inf(1) },
		"a control character":   func(r *record.Record) { r.Note = "\a\n" },
		"a case without an end": func(r *record.Record) { r.Case = "label: bench-1" },
		"a huge case":           func(r *record.Record) { r.Case = strings.Repeat("a\n", 1<<20) },
	} {
		t.Run(name, func(t *testing.T) {
			r := sample("bench-1", "2026-11-25")
			spoil(r)
			if text, err := record.Encode(r); err == nil {
				t.Errorf("encoded as\n%s", text)
			}
		})
	}
}

// FuzzTexts files any text for a case and reads it back as it was.
func FuzzTexts(f *testing.F) {
	for _, text := range []string{"a: b\n", " \n", "\n\n a\n", "---\n...\n", "a\u0085b\u2028c\n", "\ufeffa\r\nb\rc", "# x\n\t- |2+\n", "a\n   \n\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		text, err := record.Plain(raw)
		if err != nil {
			return
		}
		r := sample("bench-1", "2026-11-25")
		r.Case, r.Note, r.Kit = text, "", text
		if strings.TrimSpace(text) == "" {
			return // no case
		}
		if _, err := record.Encode(r); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	})
}

// FuzzDecode reads whatever it is given, and what it reads it can file.
func FuzzDecode(f *testing.F) {
	whole := encoded(f, sample("bench-1", "2026-11-25"))
	f.Add(whole)
	f.Add(whole[:len(whole)/2])
	f.Add([]byte("sightpost_record: 3\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		r, err := record.Decode(raw)
		if err != nil {
			if r != nil {
				t.Errorf("both a record and %v", err)
			}
			return
		}
		if err := record.CheckCode(r.Code); err != nil {
			t.Error(err)
		}
	})
}

func ExampleParseName() {
	for _, text := range []string{"2026-11-25", "2026-11-25-2", "2026-11-25-1", "25.11.2026"} {
		n, err := record.ParseName(text)
		fmt.Println(n.Day, n.Nth, err)
	}
	// Output:
	// 2026-11-25 1 <nil>
	// 2026-11-25 2 <nil>
	//  0 record: "2026-11-25-1" is not the name of a record; write 2026-11-25, or 2026-11-25-2 for the second of that day
	//  1 record: "25.11.2026" is not a date such as 2026-11-25
}
