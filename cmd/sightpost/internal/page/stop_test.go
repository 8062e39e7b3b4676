package page_test

import (
	"context"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/page"
)

// start begins a server that nobody but the page itself stops.
func start(t *testing.T, root *os.Root) (ended chan error, address string) {
	t.Helper()
	s, err := page.New(page.Options{Folder: root})
	if err != nil {
		t.Fatal(err)
	}
	ended = make(chan error, 1)
	go func() { ended <- s.Serve(context.Background()) }()
	return ended, s.Address()
}

// TestNothingLeft: when the server has ended, so has everything that it began, even
// the jobs that nobody waited for.
func TestNothingLeft(t *testing.T) {
	root, err := os.OpenRoot(shipped)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	ended, address := start(t, root)
	w := open(t, address)
	f := w.openCase("cases/upright-adult.yaml").state()
	for _, path := range []string{"live", "answer", "download/sheet.pdf"} {
		if status, text := w.post(path, f); status != 200 {
			t.Errorf("%s: %d %.80s", path, status, text)
		}
	}
	quick := *w.client
	quick.Timeout = 5 * time.Millisecond
	impatient := &window{t: t, client: &quick, base: w.base, origin: w.origin}
	impatient.giveUp("job/vary", f)
	w.post("stop", fields{})
	w.client.CloseIdleConnections()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	const patience = 5 * time.Second
	for begun := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		stacks := make([]byte, 1<<20)
		left := string(stacks[:runtime.Stack(stacks, true)])
		if !strings.Contains(left, "internal/page.(*desk)") && !strings.Contains(left, "internal/page.(*Server)") && !strings.Contains(left, "mount/fit.") {
			return
		}
		if time.Since(begun) > patience {
			t.Fatalf("still at work:\n%s", left)
		}
	}
}

// giveUp asks for something and does not wait for it.
func (w *window) giveUp(path string, f fields) {
	r := w.request(path, f)
	a, err := w.client.Do(r)
	if err == nil {
		_ = a.Body.Close()
	}
}
