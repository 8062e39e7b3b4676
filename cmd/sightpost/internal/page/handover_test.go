package page_test

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/record"
)

// TestHandOver hands a case with its assessments over to another machine, twice, where they
// go on, and refuses what differs there.
func TestHandOver(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	w := serve(t, from)
	f := w.act(fields{}, "example").state()
	f["e:label"], f["date"], f["record-note"] = "K-31", "2026-10-14", "first visit"
	p := w.act(f, "file")
	p = w.act(p.state(), "withdraw K-31/2026-10-14")
	f = p.state()
	f["date"] = "2026-11-25"
	f = w.act(f, "file").state()
	form := url.Values{}
	for name, v := range f {
		form.Set(name, v)
	}
	status, body, header := w.do(http.MethodPost, "download/handover.zip", "application/x-www-form-urlencoded", form.Encode())
	want := `"K-31 ` + string(record.DayOf(time.Now())) + `.zip"`
	if name := header.Get("Content-Disposition"); status != http.StatusOK || !strings.Contains(name, want) {
		t.Fatalf("%d, named %s, want %s: %.200s", status, name, want, body)
	}
	other := serve(t, to)
	for _, news := range []string{"filed 2 new", "filed 0 new"} {
		p = other.upload(fields{}, "upload", map[string]string{"K-31.zip": body})
		if !strings.Contains(p.notice(), news) || p.value("e:label") != "K-31" || !strings.Contains(p.text, "WITHDRAWN") || len(p.examples()) == 0 {
			t.Errorf("%s: want %s of K-31", p.notice(), news)
		}
	}
	if bad := serve(t, t.TempDir()).upload(fields{}, "upload", map[string]string{"K-31.zip": body, "a.yaml": "a"}); !strings.Contains(bad.notice(), "by itself") {
		t.Errorf("with another file: %s", bad.notice())
	}
	if l := other.live(p.state()); l.State != "works" {
		t.Errorf("elsewhere: %s", l.Status)
	}
	file := filepath.Join(to, "records", "K-31", "2026-11-25.yaml")
	if err := os.WriteFile(file, []byte("another"), 0o600); err != nil {
		t.Fatal(err)
	}
	if p = other.upload(fields{}, "upload", map[string]string{"K-31.zip": body}); !strings.Contains(p.text, `class="notice bad"`) {
		t.Errorf("what differs: %s", p.notice())
	}
	if p = other.upload(fields{}, "upload", map[string]string{"K-31.zip": body[:len(body)/2]}); !strings.Contains(p.text, `class="notice bad"`) {
		t.Errorf("cut off: %s", p.notice())
	}
}
