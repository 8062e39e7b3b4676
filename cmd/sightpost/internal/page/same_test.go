package page_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"sightpost/cmd/sightpost/internal/cli"
	"sightpost/testdata/trials"
)

// command runs the program's command line and returns what it printed.
func command(t testing.TB, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	cli.Run(context.Background(), args, cli.Streams{In: strings.NewReader(""), Out: &out, Err: &err})
	return out.String(), err.String()
}

// TestSameAsCommands: for every shipped case every figure of the page is the one that
// the command line writes, and so is everything that can be downloaded. One case is tried
// without SIGHTPOST_LONG.
func TestSameAsCommands(t *testing.T) {
	t.Parallel()
	w := serve(t, shipped)
	for _, name := range shippedCases(t)[trials.Of(1, 0):] {
		t.Run(path.Base(name), func(t *testing.T) {
			t.Parallel()
			out := t.TempDir()
			command(t, "solve", filepath.Join(shipped, name), "--out", out, "--format", "svg")
			p := w.openCase(name)
			f := p.state()
			w := &window{t: t, client: w.client, base: w.base, origin: w.origin}
			for _, file := range []string{"result.json", "settings.csv", "sheet.pdf", "sheet.html"} {
				want, err := os.ReadFile(filepath.Join(out, file))
				if err != nil {
					t.Fatal(err)
				}
				if file == "sheet.pdf" || file == "sheet.html" {
					want = bytes.ReplaceAll(want, []byte("sightpost (devel)"), []byte("sightpost v0"))
				}
				_, got := w.post("download/"+file, f)
				if file == "sheet.pdf" {
					same(t, file, got[:4], "%PDF") // compressed, and another version is in it
					continue
				}
				same(t, file, got, string(want))
			}
			figures, err := filepath.Glob(out + "/*.svg")
			if err != nil || len(figures) < 8 {
				t.Fatalf("%d figures: %v", len(figures), err)
			}
			for _, figure := range figures {
				name := strings.TrimSuffix(filepath.Base(figure), ".svg")
				want, err := os.ReadFile(figure)
				if err != nil {
					t.Fatal(err)
				}
				f["figure"] = name
				_, got := w.post("download/figure.svg", f)
				same(t, name, got, string(want))
				for _, dots := range []float64{720, 260} { // windows of 1280 and 320
					f["wide"] = fmt.Sprint(dots)
					readable(t, name, w.live(f).Parts["figure"], dots)
				}
			}
		})
	}
}

// readable checks that no letter of a figure is less than 11 dots high where it is shown so
// many dots wide.
func readable(t *testing.T, name, svg string, dots float64) {
	t.Helper()
	const least = 11
	box := regexp.MustCompile(`viewBox="0 0 ([0-9.]+) `).FindStringSubmatch(svg)
	sizes := regexp.MustCompile(`font-size:([0-9.]+)px`).FindAllStringSubmatch(svg, -1)
	if box == nil || len(sizes) == 0 {
		t.Errorf("%s, %v dots wide: no figure, or nothing is written in it: %.200s", name, dots, svg)
		return
	}
	wide, _ := strconv.ParseFloat(box[1], 64)
	for _, size := range sizes {
		if high, _ := strconv.ParseFloat(size[1], 64); high*dots/wide < least {
			t.Errorf("%s, %v dots wide: letters of %.1f dots", name, dots, high*dots/wide)
			return
		}
	}
}

// same reports whether two files differ, and where.
func same(t *testing.T, name, got, want string) {
	t.Helper()
	if got == want {
		return
	}
	at := 0
	for at < min(len(got), len(want)) && got[at] == want[at] {
		at++
	}
	const around = 60
	t.Errorf("%s differs from byte %d: got %q, want %q", name, at, got[max(0, at-around):min(len(got), at+around)], want[max(0, at-around):min(len(want), at+around)])
}

// TestFromNothing fills an empty form with the measures of every shipped case, as they
// are written there, and gets the answer that the command line gives.
func TestFromNothing(t *testing.T) {
	t.Parallel()
	w := serve(t, shipped)
	for _, name := range shippedCases(t) {
		t.Run(path.Base(name), func(t *testing.T) {
			t.Parallel()
			w := &window{t: t, client: w.client, base: w.base, origin: w.origin}
			want, _ := command(t, "solve", filepath.Join(shipped, name), "--json")
			full := w.openCase(name)
			_, text := w.get("")
			p := newPage(t, text)
			p = fill(w, p, full)
			f := p.state()
			f["at"] = name // so that its kit is found
			_, got := w.post("download/result.json", f)
			var a, b any
			if err := errors.Join(json.Unmarshal([]byte(got), &a), json.Unmarshal([]byte(want), &b)); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(a, b, cmpopts.EquateApprox(0, typedTolerance), notHowWritten(), eitherSide()); diff != "" {
				t.Errorf("the page answers other than the command line:\n%s", diff)
			}
		})
	}
}

// typedTolerance is what a measure in inches or pounds loses when it is typed as it is
// shown, to a thousandth of a mm or a kg, and what becomes of that (mm and degrees).
const typedTolerance = 0.05

// notHowWritten leaves out what is assumed from a measure, which is told as that is
// written.
func notHowWritten() cmp.Option {
	return cmpopts.IgnoreMapEntries(func(key string, _ any) bool { return key == "assumptions" })
}

// eitherSide takes two limiting conditions as equal that differ by left and right alone: of
// a case that is the same on both sides, both limit, and what typing loses decides.
func eitherSide() cmp.Option {
	limiting := func(p cmp.Path) bool {
		key, ok := p.Last().(cmp.MapIndex)
		return ok && key.Key().String() == "limiting"
	}
	mirrored := strings.NewReplacer("left", "right", "right", "left")
	return cmp.FilterPath(limiting, cmp.Comparer(func(a, b any) bool {
		one, _ := a.(string)
		other, _ := b.(string)
		return one == other || one == mirrored.Replace(other)
	}))
}

// fill types what one page holds into another: entries as they show, lists by their
// buttons, groups that replace a word by their choice.
func fill(w *window, into, from shownPage) shownPage {
	w.t.Helper()
	entries := entriesOf(from)
	for _, e := range entries { // first what makes room for the others
		list, rest, listed := strings.Cut(e.name, "[")
		if !listed {
			continue
		}
		number, _, _ := strings.Cut(rest, "]")
		for !strings.Contains(into.text, `id="e-`+strings.ReplaceAll(list, "_", "-")+"-"+number+`"`) {
			into = w.act(into.state(), strings.TrimSpace("add "+list+" "+alternative(from, list, number)))
		}
	}
	f := into.state()
	f["units"], f["shown"] = from.value("shown"), from.value("shown")
	for _, e := range entries {
		f["e:"+e.name] = e.value
	}
	text := w.live(f).Text
	return w.act(fields{"text": text}, "show")
}

// alternative returns which of its alternatives an entry of the list keep_clear is.
func alternative(p shownPage, list, number string) string {
	if list != "keep_clear" {
		return ""
	}
	if strings.Contains(p.text, `name="e:keep_clear[`+number+`].box.`) {
		return "box"
	}
	return "capsule"
}

// typed is what a field holds.
type typed struct{ name, value string }

// entriesOf returns what the fields of a page's form hold, in their order.
func entriesOf(p shownPage) []typed {
	var all []typed
	for _, name := range p.names {
		if path, ok := strings.CutPrefix(name, "e:"); ok && p.value(name) != "" {
			all = append(all, typed{path, p.value(name)})
		}
	}
	return all
}
