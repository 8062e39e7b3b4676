package page_test

import (
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
)

// TestStrangers sends what other sites, other users and other programs may send. All
// of it is refused, nothing is written, and the page goes on.
func TestStrangers(t *testing.T) {
	folder := t.TempDir()
	w := serve(t, folder)
	address, err := url.Parse(w.base)
	if err != nil {
		t.Fatal(err)
	}
	save := "text=sightpost%3A+1%0A&name=case.yaml&action=save"
	for _, row := range strangers(address) {
		t.Run(row.name, func(t *testing.T) {
			r, err := http.NewRequest(http.MethodPost, w.base, strings.NewReader(save))
			if err != nil {
				t.Fatal(err)
			}
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set("Origin", w.origin)
			for _, c := range w.client.Jar.Cookies(r.URL) {
				r.AddCookie(c)
			}
			row.change(r)
			a, err := (&http.Transport{DisableKeepAlives: true}).RoundTrip(r)
			if err != nil {
				t.Fatal(err)
			}
			defer a.Body.Close()
			if a.StatusCode != row.want {
				t.Errorf("got %s, want %d", a.Status, row.want)
			}
			if a.Header.Get("Content-Security-Policy") == "" || a.Header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("headers are missing: %v", a.Header)
			}
		})
	}
	if files := filesIn(t, folder); len(files) != 0 {
		t.Errorf("%v were written", files)
	}
	if status, _ := w.get(""); status != http.StatusOK {
		t.Errorf("the page answers %d afterwards", status)
	}
}

// stranger is a request that this server's page cannot have sent.
type stranger struct {
	name   string
	change func(*http.Request)
	want   int
}

// strangers are changes to a request of the page's own at an address.
func strangers(address *url.URL) []stranger {
	return []stranger{
		{"another host", func(r *http.Request) { r.Host = "example.org" }, http.StatusMisdirectedRequest},
		{"another host, right port", func(r *http.Request) { r.Host = "example.org:" + address.Port() }, http.StatusMisdirectedRequest},
		{"no port", func(r *http.Request) { r.Host = "127.0.0.1" }, http.StatusMisdirectedRequest},
		{"another port", func(r *http.Request) { r.Host = "127.0.0.1:1" }, http.StatusMisdirectedRequest},
		{"another site", func(r *http.Request) { r.Header.Set("Origin", "https://example.org") }, http.StatusForbidden},
		{"no site", func(r *http.Request) { r.Header.Set("Origin", "null") }, http.StatusForbidden},
		{"another port's page", func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") }, http.StatusForbidden},
		{"a secure twin", func(r *http.Request) { r.Header.Set("Origin", "https://"+address.Host) }, http.StatusForbidden},
		{"a form of another site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
		{"a page on another port", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }, http.StatusForbidden},
		{"no cookie", func(r *http.Request) { r.Header.Del("Cookie") }, http.StatusForbidden},
		{"a wrong cookie", func(r *http.Request) { r.Header.Set("Cookie", "sightpost=guess") }, http.StatusForbidden},
		{"a wrong path", func(r *http.Request) { r.URL.Path = "/GUESS/" }, http.StatusNotFound},
		{"the root", func(r *http.Request) { r.URL.Path = "/" }, http.StatusNotFound},
		{"a wrong key", func(r *http.Request) { r.Method, r.URL.Path, r.URL.RawQuery = "GET", "/start", "key=guess" }, http.StatusForbidden},
		{"no key", func(r *http.Request) { r.Method, r.URL.Path = "GET", "/start" }, http.StatusForbidden},
		{"another method", func(r *http.Request) { r.Method = http.MethodPut }, http.StatusMethodNotAllowed},
		{"no form", func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }, http.StatusBadRequest},
		{"no kind", func(r *http.Request) { r.Header.Del("Content-Type") }, http.StatusBadRequest},
	}
}

// TestLinkElsewhere: the first address opens the page when it is typed or opened, and
// not from a page of another site.
func TestLinkElsewhere(t *testing.T) {
	w := serve(t, t.TempDir())
	for site, want := range map[string]int{"none": http.StatusOK, "cross-site": http.StatusForbidden} {
		r, err := http.NewRequest(http.MethodGet, w.first, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Sec-Fetch-Site", site)
		a, err := w.client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = a.Body.Close()
		if a.StatusCode != want {
			t.Errorf("%s: %s, want %d", site, a.Status, want)
		}
	}
}

// TestCookie: the cookie is for the page alone, and no script sees it.
func TestCookie(t *testing.T) {
	w := serve(t, t.TempDir())
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	a, err := client.Get(w.first)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	client.CloseIdleConnections()
	c := a.Cookies()[0]
	if c.SameSite != http.SameSiteStrictMode || !c.HttpOnly || len(c.Path) < 20 || c.Path != a.Header.Get("Location") {
		t.Errorf("cookie %v for %s", c, a.Header.Get("Location"))
	}
}

// TestPolicy: the page may load nothing from elsewhere, and nothing of it is kept.
func TestPolicy(t *testing.T) {
	w := serve(t, t.TempDir())
	_, text, header := w.do(http.MethodGet, "", "", "")
	policy := header.Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'"} {
		if !strings.Contains(policy, part) {
			t.Errorf("the policy lacks %s: %s", part, policy)
		}
	}
	if header.Get("Cache-Control") != "no-store" || header.Get("Referrer-Policy") != "same-origin" {
		t.Errorf("headers %v", header)
	}
	for _, mark := range []string{"http://", "https://", "<style", " onclick", "<script>"} {
		if strings.Contains(text, mark) {
			t.Errorf("the page holds %q", mark)
		}
	}
}

// TestNoListing: folders of what is embedded are not shown, nor anything beside them.
func TestNoListing(t *testing.T) {
	w := serve(t, t.TempDir())
	for path, want := range map[string]int{
		"static/page.css": 200, "static/page.js": 200, "static/sheet.css": 200, "measure/measured.eyes.up": 200,
		"static/": 404, "static": 404, "static/..%2fserver.go": 404, "static/%2e%2e/page.html": 404, "measure/": 404, "measure/secret": 404, "html/page.html": 404,
	} {
		if status, text := w.get(path); status != want {
			t.Errorf("%s: %d, want %d: %.80s", path, status, want, text)
		}
	}
}

// TestPaths asks for files outside the folder in every way there is.
func TestPaths(t *testing.T) {
	above := t.TempDir()
	folder := filepath.Join(above, "folder")
	const secret = "sightpost: 1\nlabel: secret-of-another\n"
	for name, text := range map[string]string{"secret.yaml": secret, "folder/own.yaml": "sightpost: 1\nlabel: own\n"} {
		name = filepath.Join(above, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	linked := os.Symlink(filepath.Join(above, "secret.yaml"), filepath.Join(folder, "link.yaml")) == nil
	if linked {
		if err := os.Symlink(above, filepath.Join(folder, "up")); err != nil {
			t.Fatal(err)
		}
	}
	w := serve(t, folder)
	before := filesIn(t, above)
	for _, name := range []string{
		"../secret.yaml", "./../secret.yaml", filepath.Join(above, "secret.yaml"), "/etc/passwd", "..\\secret.yaml", "link.yaml", "up/secret.yaml",
		"folder/../../secret.yaml", "own.yaml/../../secret.yaml", "", ".", "own.yaml\x00.yaml", "absent.yaml", "file:///etc/passwd", "C:\\secret.yaml",
	} {
		p := w.openCase(name)
		if strings.Contains(p.text, "secret-of-another") || strings.Contains(p.text, "root:") {
			t.Errorf("%q was opened", name)
		}
		if p.notice() == "" {
			t.Errorf("%q: nothing is said", name)
		}
		if name == "" || name == "." || strings.HasPrefix(name, "absent") {
			continue
		}
		p = w.act(fields{"text": "sightpost: 1\nlabel: x\n", "replaced": name}, "replace")
		if name != "link.yaml" && strings.HasPrefix(p.notice(), "Saved") {
			t.Errorf("%q was saved: %s", name, p.notice())
		}
	}
	text, err := os.ReadFile(filepath.Join(above, "secret.yaml"))
	if err != nil || string(text) != secret {
		t.Errorf("the file outside is now %q, %v", text, err)
	}
	if after := filesIn(t, above); len(after) != len(before) {
		t.Errorf("files before %v and after %v", before, after)
	}
	for _, kit := range []string{"../secret.yaml", "/etc/passwd", "up/secret.yaml"} {
		l := w.live(fields{"text": "sightpost: 1\nmount: {kit: '" + kit + "'}\n"})
		if strings.Contains(l.Parts["status"]+strings.Join(values(l.Problems), ""), "secret-of") {
			t.Errorf("kit %q was opened", kit)
		}
	}
}

// values returns the values of a map.
func values(m map[string]string) []string {
	var all []string
	for _, v := range m {
		all = append(all, v)
	}
	return all
}

// TestHostileText: what a case holds is shown as text, never run, and broken bytes are
// refused.
func TestHostileText(t *testing.T) {
	w := serve(t, t.TempDir())
	const script = `<script>alert(1)</script>`
	for _, text := range []string{
		"sightpost: 1\nlabel: \"" + script + "\"\n",
		"sightpost: 1\nnote: |\n  " + script + "</textarea>" + script + "\n",
		"sightpost: 1\npostures:\n  - name: '\"><img src=x onerror=alert(1)>'\n",
		script,
		"<html><body onload=alert(1)>",
		"sightpost: 1\n\"e: <b>\": 1\n",
	} {
		p := w.act(fields{"text": text}, "show")
		for _, mark := range []string{script, "<img src=x", "<body onload", "<b>\":"} {
			if strings.Contains(p.text, mark) {
				t.Errorf("%q comes back as %q", text, mark)
			}
		}
		l := w.live(fields{"text": text})
		for name, part := range l.Parts {
			if strings.Contains(part, script) || strings.Contains(part, "<img src=x") {
				t.Errorf("%q comes back in %s", text, name)
			}
		}
	}
	for _, body := range []string{"text=%ff%fe", "text=a&%ff=1", "text=%zz", "e:%C3%28=1"} {
		if status, text, _ := w.do(http.MethodPost, "live", "application/x-www-form-urlencoded", body); status != http.StatusBadRequest {
			t.Errorf("%q: %d %.60s, want 400", body, status, text)
		}
	}
}

// TestHugeBody: a body of a gigabyte is cut off long before its end.
func TestHugeBody(t *testing.T) {
	t.Parallel()
	w := serve(t, t.TempDir())
	const size = 1 << 30
	body := &counting{}
	body.left.Store(size)
	r, err := http.NewRequest(http.MethodPost, w.base+"live", body)
	if err != nil {
		t.Fatal(err)
	}
	r.ContentLength = size
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", w.origin)
	a, err := w.client.Do(r)
	if err == nil {
		defer a.Body.Close()
		if a.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("got %s, want 413", a.Status)
		}
	}
	const some = 64 << 20 // what the system's buffers may swallow
	if read := size - body.left.Load(); read > some {
		t.Errorf("%d bytes were taken", read)
	}
	if status, _ := w.get(""); status != http.StatusOK {
		t.Errorf("the page answers %d afterwards", status)
	}
}

// counting is a body of the letter a.
type counting struct{ left atomic.Int64 }

func (c *counting) Read(p []byte) (int, error) {
	left := c.left.Load()
	if left == 0 {
		return 0, io.EOF
	}
	n := min(int64(len(p)), left)
	for i := range p[:n] {
		p[i] = 'a'
	}
	c.left.Add(-n)
	return int(n), nil
}

// TestCrowd: a thousand connections that say nothing, and some that say half of it, keep
// nobody out who has the key.
func TestCrowd(t *testing.T) {
	t.Parallel()
	w := serve(t, t.TempDir())
	address, err := url.Parse(w.base)
	if err != nil {
		t.Fatal(err)
	}
	if status, _ := w.get(""); status != http.StatusOK {
		t.Fatal(status)
	}
	const crowd = 1000
	var all []net.Conn
	defer func() {
		for _, c := range all {
			_ = c.Close()
		}
	}()
	for i := range crowd {
		c, err := net.Dial("tcp", address.Host)
		if err != nil {
			break // the system's own bound
		}
		all = append(all, c)
		if i%2 == 0 {
			_, _ = io.WriteString(c, "POST /live HTTP/1.1\r\nHost: "+address.Host+"\r\nContent-Le")
		}
	}
	// neither who was there is put out, nor who comes again
	if status, _ := w.get(""); status != http.StatusOK {
		t.Errorf("who was there is answered %d", status)
	}
	fresh := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, Jar: w.client.Jar}
	a, err := fresh.Get(w.first)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if a.StatusCode != http.StatusOK {
		t.Errorf("who comes again is answered %d", a.StatusCode)
	}
}
