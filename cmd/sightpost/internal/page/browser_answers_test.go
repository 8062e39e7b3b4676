package page_test

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
)

// answersAgree opens every shipped case, prints it on one size of paper or the other, and
// compares the whole answer in words with what the command line gives. That the server gives
// the same drawings is tried without a browser.
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
		words := plainly(commandWords(t, "solve", file, "--full"))
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
	}
}

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
