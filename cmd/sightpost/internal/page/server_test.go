package page_test

import (
	"context"
	"encoding/json"
	"html"
	"io"
	"maps"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/page"
	"sightpost/testdata/trials"
)

// shipped is the folder of the shipped cases and kits.
const shipped = "../../../../testdata"

// window is a window of a browser that has the page open: it knows the cookie, and
// sends what a browser would.
type window struct {
	t      testing.TB
	client *http.Client
	base   string // address of the page
	origin string
	first  string       // first address
	posts  atomic.Int32 // how often a form was sent, but for what follows typing
}

// serve serves a folder and opens the page. The server ends with the test.
func serve(t testing.TB, folder string) *window {
	t.Helper()
	return serveWith(t, folder, page.Options{Version: "v0", Log: t.Output()})
}

// serveWith does the same with options.
func serveWith(t testing.TB, folder string, opt page.Options) *window {
	t.Helper()
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	opt.Folder = root
	s, err := page.New(opt)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx) }()
	w := open(t, s.Address())
	t.Cleanup(func() {
		w.client.CloseIdleConnections()
		stop()
		if err := <-ended; err != nil {
			t.Errorf("the server ended with %v", err)
		}
		if err := root.Close(); err != nil {
			t.Error(err)
		}
	})
	return w
}

// open opens the page at its first address.
func open(t testing.TB, address string) *window {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	// a transport of its own, so that its connections can be closed
	w := &window{t: t, client: &http.Client{Jar: jar, Transport: &http.Transport{DisableCompression: true}}, first: address}
	r, err := w.client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if r.StatusCode != http.StatusOK {
		t.Fatalf("the first address answers %s", r.Status)
	}
	w.base = r.Request.URL.String()
	w.origin = r.Request.URL.Scheme + "://" + r.Request.URL.Host
	return w
}

// do sends a request as the page's own and returns what came back.
func (w *window) do(method, path, kind, body string) (status int, text string, header http.Header) {
	w.t.Helper()
	r, err := http.NewRequest(method, w.base+path, strings.NewReader(body))
	if err != nil {
		w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", kind)
	r.Header.Set("Origin", w.origin)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	a, err := w.client.Do(r)
	if err != nil {
		w.t.Fatal(err)
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	if err != nil {
		w.t.Fatal(err)
	}
	return a.StatusCode, string(b), a.Header
}

// get asks for something.
func (w *window) get(path string) (int, string) {
	w.t.Helper()
	status, text, _ := w.do(http.MethodGet, path, "", "")
	return status, text
}

// fields are those of the page's form.
type fields map[string]string

// post sends a form.
func (w *window) post(path string, f fields) (int, string) {
	w.t.Helper()
	form := url.Values{}
	for name, v := range f {
		form.Set(name, v)
	}
	if path != "live" {
		w.posts.Add(1)
	}
	status, text, _ := w.do(http.MethodPost, path, "application/x-www-form-urlencoded", form.Encode())
	return status, text
}

// request returns a form that is about to be sent.
func (w *window) request(path string, f fields) *http.Request {
	w.t.Helper()
	form := url.Values{}
	for name, v := range f {
		form.Set(name, v)
	}
	r, err := http.NewRequest(http.MethodPost, w.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", w.origin)
	return r
}

// act presses a button of the page and returns the page that comes back.
func (w *window) act(f fields, action string) shownPage {
	w.t.Helper()
	f = maps.Clone(f)
	f["action"] = action
	status, text := w.post("", f)
	if status != http.StatusOK {
		w.t.Fatalf("%q: %d: %s", action, status, text)
	}
	return newPage(w.t, text)
}

// live is what the page asks for while it is typed in.
type live struct {
	Number                    uint64
	Text, State, Status       string
	Problems, Found, Sections map[string]string
	Titles, Notes             map[string]string
	Name                      string
	Needed, Doubted           []string
	Parts                     map[string]string
	Shows                     map[string]bool
	Figures                   [][2]string
}

// live sends what is typed.
func (w *window) live(f fields) live {
	w.t.Helper()
	f = maps.Clone(f)
	if f["number"] == "" {
		f["number"] = strconv.FormatInt(time.Now().UnixNano(), 10)
	}
	status, text := w.post("live", f)
	if status != http.StatusOK {
		w.t.Fatalf("%d: %s", status, text)
	}
	var l live
	if err := json.Unmarshal([]byte(text), &l); err != nil {
		w.t.Fatal(err)
	}
	return l
}

// shownPage is a page that came back.
type shownPage struct {
	t     testing.TB
	text  string
	names []string // of its fields, in their order
	held  fields
}

var (
	named  = regexp.MustCompile(`\bname="([^"]*)"`)
	valued = regexp.MustCompile(`\bvalue="([^"]*)"`)
)

// newPage reads the fields of a page, tag by tag.
func newPage(t testing.TB, text string) shownPage {
	t.Helper()
	p := shownPage{t: t, text: text, held: fields{}}
	chosen := "" // the choice that the options are of
	form, _, _ := strings.Cut(text, `<div id="part-print"`)
	for piece := range strings.SplitSeq(form, "<") {
		tag, within, _ := strings.Cut(piece, ">")
		kind, tag, _ := strings.Cut(tag, " ")
		if kind != "option" && kind != "textarea" && kind != "select" && kind != "input" {
			continue
		}
		name, value := html.UnescapeString(first(named.FindStringSubmatch(tag))), first(valued.FindStringSubmatch(tag))
		switch {
		case kind == "option" && strings.HasSuffix(tag, " selected"):
			p.held[chosen] = html.UnescapeString(value)
			continue
		case kind == "textarea":
			value = strings.TrimPrefix(within, "\n")
		case kind == "select":
			chosen, value = name, ""
		case kind != "input":
			continue
		}
		if name != "" {
			p.names = append(p.names, name)
			p.held[name] = html.UnescapeString(value)
		}
	}
	return p
}

// first returns what a match caught, if there is one.
func first(match []string) string {
	if match == nil {
		return ""
	}
	return match[1]
}

// value returns what a field of the page holds: an input, a text area or a choice.
func (p shownPage) value(name string) string { return p.held[name] }

// state returns the fields of the page that every request sends along.
func (p shownPage) state() fields {
	p.t.Helper()
	f := fields{"units": p.value("shown")}
	for _, name := range []string{"text", "before", "base", "kit", "kit-at", "at", "disk", "filed", "earlier", "applied", "windows", "shown", "window"} {
		f[name] = p.value(name)
	}
	return f
}

// whole returns all fields of the page as a browser sends them, the empty ones too.
func (p shownPage) whole() fields {
	f := p.state()
	for _, name := range p.names {
		if strings.HasPrefix(name, "e:") {
			f[name] = p.value(name)
		}
	}
	return f
}

// asFound returns what the page sends when the settings that it shows are those as found.
func (p shownPage) asFound() fields {
	p.t.Helper()
	f := p.state()
	f["as-found"] = "yes"
	for _, name := range p.names {
		if strings.HasPrefix(name, "s:") {
			f[name] = p.value(name)
		}
	}
	return f
}

// notice returns what the page says of what was done.
func (p shownPage) notice() string {
	m := regexp.MustCompile(`(?s)id="notice"[^>]*>(.*?)</p>`).FindStringSubmatch(p.text)
	if m == nil {
		return ""
	}
	return html.UnescapeString(m[1])
}

// openCase opens a case of the folder.
func (w *window) openCase(name string) shownPage {
	w.t.Helper()
	return w.act(fields{"case": name}, "open")
}

// filesIn returns the paths of all files below a folder.
func filesIn(t testing.TB, folder string) []string {
	t.Helper()
	var all []string
	err := filepath.WalkDir(folder, func(path string, e os.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			all = append(all, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(all)
	return all
}

// shippedCases returns the names of the shipped cases within their folder: of all of them
// in the long tests, else of two that differ most.
func shippedCases(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(shipped + "/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	if !trials.Long() {
		return []string{"cases/floor-stand.yaml", "cases/upright-adult.yaml"}
	}
	for i, f := range files {
		files[i] = "cases/" + filepath.Base(f)
	}
	return files
}
