package main_test

import (
	"bytes"
	"context"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
	"sightpost/testdata/trials"
)

//go:generate go test . -update

var update = flag.Bool("update", false, "rewrite the golden text and figures of the shipped cases")

const (
	cases   = "../../testdata/cases"
	kits    = "../../testdata/kits"
	goldens = "testdata/shipped"
)

// exitCodes are what each shipped case is there to show: all invented.
var exitCodes = map[string]int{
	"upright-adult":     0, // a seat-carried two-tube mount
	"tilt-two-postures": 0, // tilt-in-space, two postures that must work
	"recline-120":       0,
	"child":             0,
	"one-eye":           0, // one eye used, little up-gaze
	"base-two-postures": 3, // a base-carried mount that cannot serve two postures
	"kit-too-short":     3,
	"bed-rail":          0,
	"floor-stand":       0,
	"knee-in-the-way":   3, // a leg lies where the post must be
	"heavy-on-long-arm": 3, // a device that slips in the elbow
	"driver":            0, // who must see the floor ahead
}

// drawn are the cases whose figures are kept as goldens: one posture, and two that
// must work. Of all others the text is.
var drawn = map[string]bool{"upright-adult": true, "tilt-two-postures": true}

// told is what the full text of every case tells of its mount: sag, the joint that slips
// first, the smallest clearance and the parked position.
var told = []string{"\nWEIGHT ", "he screen sinks ", " of slip torque", "\nCLEARANCES ", "\nPARKED POSITION "}

// mostLines is how long the text of a case with one posture may be.
const mostLines = 60

func TestMain(m *testing.M) { trials.Main(m) }

// run runs the program in this process and returns what it printed.
func run(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	code = cli.Run(context.Background(), args, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &err})
	return code, out.String(), err.String()
}

// TestShippedCases solves every shipped case and compares the text and the
// figures with the goldens. Files are written of those that are drawn, and of all in the
// long tests.
func TestShippedCases(t *testing.T) {
	files, err := filepath.Glob(cases + "/*.yaml")
	if err != nil || len(files) != len(exitCodes) {
		t.Fatalf("%d cases are shipped (error %v), %d are known here", len(files), err, len(exitCodes))
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir, args := t.TempDir(), []string{"solve", file}
			files := drawn[name] || trials.Long()
			if files {
				args = append(args, "--out", dir)
			}
			code, text, stderr := run(t, args...)
			if want, known := exitCodes[name]; !known || code != want {
				t.Errorf("exit code %d, want %d: %s", code, want, stderr)
			}
			golden := filepath.Join(goldens, name)
			if *update {
				rewrite(t, golden, dir, text)
			}
			compare(t, golden, "solve.txt", []byte(text))
			if !files {
				return
			}
			_, full, _ := run(t, "solve", file, "--full")
			for _, words := range told {
				if !strings.Contains(full, words) {
					t.Errorf("the text lacks %q", words)
				}
			}
			_, inches, _ := run(t, "solve", file, "--units", "in")
			for _, short := range []string{text, inches} {
				if n := strings.Count(short, "\n"); n > mostLines && strings.Count(short, " required ") < 2 {
					t.Errorf("it takes %d lines for one posture, want %d at most:\n%s", n, mostLines, short)
				}
			}
			figures, err := filepath.Glob(dir + "/*.svg")
			if err != nil || len(figures) < 8 {
				t.Fatalf("only %d figures (error %v)", len(figures), err)
			}
			for _, f := range figures {
				if !drawn[name] {
					continue
				}
				got, err := os.ReadFile(f)
				if err != nil {
					t.Fatal(err)
				}
				compare(t, golden, filepath.Base(f), letters.ReplaceAll(got, nil))
			}
		})
	}
}

// letters are those that a figure brings along; goldens go without them.
var letters = regexp.MustCompile(`base64,[^)]*`)

// rewrite replaces the goldens of a case.
func rewrite(t *testing.T, golden, dir, text string) {
	t.Helper()
	if err := os.RemoveAll(golden); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(golden, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(golden, "solve.txt"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if !drawn[filepath.Base(golden)] {
		return
	}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".svg" {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(golden, d.Name()), letters.ReplaceAll(data, nil), 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// compare reports a difference from a golden file.
func compare(t *testing.T, dir, name string, got []byte) {
	t.Helper()
	want, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Errorf("%v; run with -update and look at what is new", err)
		return
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from its golden in %s; run with -update and look at what changed", name, dir)
	}
}

// TestReadmeShowsWhatIsPrinted holds the README's example to the golden text, up to the
// settings; with -update it writes it again.
func TestReadmeShowsWhatIsPrinted(t *testing.T) {
	const path = "../../README.md"
	readme, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	golden, err := os.ReadFile(filepath.Join(goldens, "upright-adult", "solve.txt"))
	if err != nil {
		t.Fatal(err)
	}
	before, example, after := exampleIn(string(readme))
	want, settings, found := strings.Cut(string(golden), "\nSETTINGS")
	if example == "" || !found {
		t.Fatal("the README shows no example, or the golden text no settings")
	}
	settings, _, _ = strings.Cut(settings, "\n\n")
	want = indented(want + "\nSETTINGS" + settings + "\n")
	switch {
	case example == want:
	case *update:
		if err := os.WriteFile(path, []byte(before+want+after), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("the README shows\n%s\nand the golden text begins with\n%s", example, want)
	}
}

// exampleIn returns the README's example, which ends where a line is neither indented
// nor empty, and what is before and after it.
func exampleIn(readme string) (before, example, after string) {
	at := strings.Index(readme, "\n    bench-06:") + 1
	if at == 0 {
		return readme, "", ""
	}
	end := at
	for line := range strings.Lines(readme[at:]) {
		if line != "\n" && !strings.HasPrefix(line, "    ") {
			break
		}
		end += len(line)
	}
	example = strings.TrimRight(readme[at:end], "\n") + "\n"
	return readme[:at], example, readme[at+len(example):]
}

// indented returns text as Markdown shows it word for word.
func indented(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		if line != "\n" {
			b.WriteString("    ")
		}
		b.WriteString(line)
	}
	return b.String()
}

// TestGuideNamesFilesThatExist looks for every Go file that DEVELOPERS.md names.
func TestGuideNamesFilesThatExist(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var there strings.Builder
	err = filepath.WalkDir("../..", func(path string, _ fs.DirEntry, err error) error {
		there.WriteString(filepath.ToSlash(path) + "\n")
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`[a-z0-9_/]+\.go\b`).FindAllString(string(guide), -1)
	if len(named) < 20 {
		t.Fatalf("%d files are named: the search finds too few", len(named))
	}
	for _, name := range named {
		if !strings.Contains(there.String(), "/"+name+"\n") {
			t.Errorf("DEVELOPERS.md names %s, which is not there", name)
		}
	}
}
