package page_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
)

// answersAgree opens every shipped case, prints it on one size of paper or the other, and
// compares the whole answer in words, and of one case every drawing, with what the
// command line gives. That the server sends the same drawings for every case is tried
// without a browser.
func answersAgree(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	cases, err := filepath.Glob(filepath.Join(w.folder, "cases", "*.yaml"))
	if err != nil || len(cases) < 9 {
		t.Fatalf("%d cases (%v)", len(cases), err)
	}
	for i, file := range cases {
		name := filepath.Base(file)
		w.set("case", "cases/"+name)
		w.click(`button[value="open"]`)
		w.until("the answer to "+name, `document.querySelector("#in-words") !== null && document.querySelector("#shown-figure title").textContent.includes(document.getElementById("e-label").value)`)
		args := []string{"solve", file, "--full"}
		dir := t.TempDir()
		if name == drawnCase {
			args = append(args, "--out", dir)
		}
		words := plainly(commandWords(t, args...))
		said := ask[[]string](w, `[...document.querySelectorAll("#part-answer :is(li, th, td, h3), .points span")].map((e) => e.firstChild?.textContent ?? "")
			.flatMap((s) => s.split(/[.;] /)).filter((s) => s.trim() && s !== "body size: published means.")`) // of which the command line lists every size
		if len(said) < 60 {
			t.Errorf("%s: the page says only %q", name, said)
		}
		for _, s := range said {
			if !strings.Contains(words, plainly(s)) {
				t.Errorf("%s: the page says %q, which the command line does not", name, s)
			}
		}
		w.onPaper(name, i < len(cases)/2) // the page stays as it is chosen
		if name == drawnCase {
			w.sameDrawings(dir)
		}
	}
}

// drawnCase is the case whose drawings are all compared: of someone who drives, so
// that there is one of every kind.
const drawnCase = "driver.yaml"

// marksBetween are the marks by which a renderer lays words out or names entries; a point or
// a sign before a digit is of a number.
var marksBetween = regexp.MustCompile(`[_:;]|[.-](?:\D|$)`)

// plainly returns words in small letters, one blank around each, without marks between them.
func plainly(words string) string {
	words = marksBetween.ReplaceAllStringFunc(strings.ToLower(words), func(m string) string { return " " + m[1:] })
	return " " + strings.Join(strings.Fields(words), " ") + " "
}

// commandWords returns what the command line prints.
func commandWords(t *testing.T, args ...string) string {
	t.Helper()
	var out, complaints bytes.Buffer
	code := cli.Run(context.Background(), args, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints})
	if code != 0 && code != 3 {
		t.Fatalf("%v: exit code %d: %s", args, code, complaints.String())
	}
	return out.String()
}

// sameDrawings compares every drawing of the page with the one that the command line
// wrote into a folder.
func (w *tab) sameDrawings(dir string) {
	w.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.svg"))
	names := ask[[]string](w, `[...document.querySelectorAll("#figure-choice option")].map((o) => o.value)`)
	if err != nil || len(names) == 0 || len(names) != len(files) {
		w.Fatalf("the page has the drawings %v, the command line %v (%v)", names, files, err)
	}
	for _, name := range names {
		want, err := os.ReadFile(filepath.Join(dir, name+".svg"))
		if err != nil {
			w.Fatal(err)
		}
		w.set("figure-choice", name)
		svg := ask[string](w, `new XMLSerializer().serializeToString(document.querySelector("#shown-figure svg"))`)
		if got, want := marks(w.T, svg), marks(w.T, string(want)); !slices.Equal(got, want) {
			w.Errorf("the drawing %s differs from the command line's: %d and %d marks", name, len(got), len(want))
		}
	}
}

// marks returns what a drawing consists of: its elements with their attributes but
// for ids, and its texts.
func marks(t *testing.T, svg string) []string {
	t.Helper()
	// the letters that a file brings are no part of the drawing
	svg = strings.ReplaceAll(regexp.MustCompile(`<style>[^<]*</style>`).ReplaceAllString(svg, ""), "Figure Sans,", "")
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
