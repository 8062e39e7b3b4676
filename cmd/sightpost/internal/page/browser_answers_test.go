package page_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
)

// answersAgree opens every shipped case and compares the whole answer in words, and a
// drawing, of the first case every drawing, with what the command line gives. That the
// server makes every drawing of every case alike is tried without a browser.
func answersAgree(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	cases, err := filepath.Glob(filepath.Join(w.folder, "cases", "*.yaml"))
	if err != nil || len(cases) < 9 {
		t.Fatalf("%d cases (%v)", len(cases), err)
	}
	for i, file := range cases {
		name := filepath.Base(file)
		words, drawings := commandLine(t, file)
		w.set("case", "cases/"+name)
		w.click(`button[value="open"]`)
		w.until("the answer to "+name, `document.querySelector("#in-words pre") !== null`)
		if got := w.text("#in-words pre"); got != words {
			t.Errorf("%s: the page says\n%s\nthe command line\n%s", name, got, words)
		}
		figures := ask[[]string](w, `[...document.querySelectorAll("#figure-choice option")].map((o) => o.value)`)
		if len(figures) != len(drawings) {
			t.Errorf("%s: the page has %d drawings, the command line %d", name, len(figures), len(drawings))
		}
		if i > 0 {
			figures = figures[:1]
		}
		for _, f := range figures {
			w.set("figure-choice", f)
			svg := ask[string](w, `new XMLSerializer().serializeToString(document.querySelector("#shown-figure svg"))`)
			if got, want := marks(t, svg), marks(t, string(drawings[f])); !slices.Equal(got, want) {
				t.Errorf("%s: the drawing %s differs from the command line's: %d and %d marks", name, f, len(got), len(want))
			}
		}
	}
}

// commandLine returns what "solve" prints of a case, and the drawings that it writes,
// by their names.
func commandLine(t *testing.T, file string) (words string, drawings map[string][]byte) {
	t.Helper()
	dir := t.TempDir()
	var out, complaints bytes.Buffer
	code := cli.Run(context.Background(), []string{"solve", file, "--out", dir}, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints})
	if code != 0 && code != 3 {
		t.Fatalf("solve %s: exit code %d: %s", file, code, complaints.String())
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.svg"))
	if err != nil || len(files) == 0 {
		t.Fatalf("solve %s: no drawing (%v)", file, err)
	}
	drawings = make(map[string][]byte)
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		drawings[strings.TrimSuffix(filepath.Base(f), ".svg")] = text
	}
	return out.String(), drawings
}

// marks returns what a drawing consists of: its elements with their attributes but
// for ids, and its texts.
func marks(t *testing.T, svg string) []string {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var all []string
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			mark := []string{e.Name.Local}
			for _, a := range e.Attr {
				if a.Name.Local != "id" && !strings.HasPrefix(a.Name.Local, "aria-") && a.Name.Space != "xmlns" && a.Name.Local != "xmlns" {
					mark = append(mark, a.Name.Local+"="+strings.Join(strings.Fields(a.Value), " "))
				}
			}
			all = append(all, strings.Join(mark, " "))
		case xml.CharData:
			if words := strings.Join(strings.Fields(string(e)), " "); words != "" {
				all = append(all, words)
			}
		}
	}
}
