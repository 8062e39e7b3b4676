package page_test

import (
	"context"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"sightpost/cmd/sightpost/internal/page"
	"sightpost/testdata/trials"
)

// TestBrowser does the whole job once in a real browser, the short way. It needs chromium
// and is skipped where there is none.
func TestBrowser(t *testing.T) {
	t.Parallel() // it mostly waits
	wholeJob(t, startBrowser(t))
}

// TestTours tries everything that the page does in a browser, when SIGHTPOST_LONG is set.
// All tours share one browser; each has a window, a server and a folder of its own.
func TestTours(t *testing.T) {
	if !trials.Long() {
		t.Skip("needs SIGHTPOST_LONG: takes minutes")
	}
	b := startBrowser(t)
	for _, part := range []struct {
		name string
		test func(*testing.T, *chromium)
	}{
		{"nobody is shut out", accessible}, // the longest first
		{"the focus is seen", focusSeen},
		{"the job by keyboard", jobByKeyboard},
		{"tab stops", fewStops},
		{"answers and paper", answersAgree},
		{"the latest wins", latestWins},
		{"the whole page wins", wholePageWins},
		{"undo", undone},
		{"undo of the mount", undoneSettings},
		{"undo at once", undoneAtOnce},
		{"undo of opening", undoneOpen},
		{"jobs follow the case", jobsFollow},
		{"the changes are made", changesMade},
		{"the text is kept", textKept},
		{"how the mount is set is kept", settingsKept},
		{"what is no part of the case is kept", besideKept},
		{"choices are kept", choicesKept},
		{"titles follow", titlesFollow},
		{"the focus is kept", focusKept},
		{"a download that fails", failedDownload},
		{"unsaved work comes back", comesBack},
		{"errors keep what was typed", errorsBeside},
		{"the drawing turns", drawingTurns},
		{"picture for the guide", guidePicture},
	} {
		t.Run(part.name, func(t *testing.T) {
			t.Parallel()
			part.test(t, b)
		})
	}
}

// chromium is a running browser.
type chromium struct{ ctx context.Context }

// startBrowser starts chromium without a window, with a new empty profile, and with
// everything off that would ask other hosts. It ends with the test.
func startBrowser(t *testing.T) *chromium {
	t.Helper()
	program, err := exec.LookPath("chromium")
	switch {
	case err != nil && trials.Long():
		t.Fatal(err)
	case err != nil:
		t.Skip("there is no chromium in PATH: the page is not tried in a browser")
	}
	profile, err := os.MkdirTemp("", "sightpost-browser")
	if err != nil {
		t.Fatal(err)
	}
	opts := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(program), chromedp.UserDataDir(profile),
		chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck,
	}
	for _, off := range []string{
		"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync",
		"disable-dev-shm-usage", "disable-renderer-backgrounding", "disable-background-timer-throttling",
		"force-color-profile=srgb", "hide-scrollbars", "force-prefers-reduced-motion",
	} {
		name, value, _ := strings.Cut(off, "=")
		if value == "" {
			opts = append(opts, chromedp.Flag(name, true))
		} else {
			opts = append(opts, chromedp.Flag(name, value))
		}
	}
	allocator, end := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, stop := chromedp.NewContext(allocator)
	t.Cleanup(func() {
		stop()
		end()
		_ = os.RemoveAll(profile) // the browser may still write its last files
	})
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("%s does not start: %v", program, err)
	}
	return &chromium{ctx}
}

// tab is one window of the browser on a page of its own.
type tab struct {
	*testing.T
	ctx    context.Context
	folder string // of the server
	origin string
	// refused says that the server is asked for what it refuses, which the console tells.
	refused bool

	mu    sync.Mutex
	said  []string                     // by the console
	asked []string                     // addresses
	open  map[network.RequestID]string // addresses that are not answered yet
	last  time.Time                    // when a request began or ended
}

// patience is how long any one step may take on a loaded machine.
const patience = 30 * time.Second

// open returns a window on a page that serves a folder of its own with the shipped
// cases and kits, if cases is true. When the test ends, nothing may have been said
// on the console, and no other host asked for anything.
func (b *chromium) open(t *testing.T, cases bool) *tab {
	t.Helper()
	w := &tab{T: t, folder: t.TempDir(), open: map[network.RequestID]string{}}
	if cases {
		for _, name := range []string{"cases", "kits"} {
			if err := os.CopyFS(filepath.Join(w.folder, name), os.DirFS(filepath.Join("../../../../testdata", name))); err != nil {
				t.Fatal(err)
			}
		}
	}
	address := served(t, w.folder)
	at, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	w.origin = at.Scheme + "://" + at.Host
	ctx, closeTab := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(w.listen))
	t.Cleanup(func() {
		w.quiet()
		closeTab()
	})
	w.ctx = ctx
	if err := chromedp.Do(ctx); err != nil { // the window lives as long as the context that it begins with
		t.Fatal(err)
	}
	inFront := emulation.SetFocusEmulationEnabledParams{Enabled: true} // every window at once
	if _, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, inFront); err != nil {
		t.Fatal(err)
	}
	w.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(address), chromedp.WaitVisible(chromedp.CSS("main")))
	return w
}

// served starts a server for a folder and returns its first address.
func served(t *testing.T, folder string) string {
	t.Helper()
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	s, err := page.New(page.Options{Folder: root, Version: "test", Log: io.Discard, Keep: true})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Errorf("the server ended with %v", err)
		}
		_ = root.Close() // only read from here on
	})
	return s.Address()
}

// listen notes what the console says and what is asked for.
func (w *tab) listen(event any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		w.asked = append(w.asked, e.Request.URL)
		w.open[e.RequestID], w.last = e.Request.Method+" "+e.Request.URL, time.Now()
	case *network.EventLoadingFinished:
		delete(w.open, e.RequestID)
		w.last = time.Now()
	case *network.EventLoadingFailed:
		delete(w.open, e.RequestID)
		w.last = time.Now()
	case *runtime.EventExceptionThrown:
		w.said = append(w.said, "exception: "+e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		w.said = append(w.said, "console."+string(e.Type))
	case *log.EventEntryAdded:
		w.said = append(w.said, string(e.Entry.Level)+": "+e.Entry.Text+" "+e.Entry.URL)
	}
}

// quiet reports what the console said and who else was asked.
func (w *tab) quiet() {
	w.Helper()
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, s := range w.said {
		if w.refused && strings.Contains(s, "status of 422") {
			continue
		}
		w.Errorf("the console says %q", s)
	}
	for _, a := range w.asked {
		if !strings.HasPrefix(a, w.origin+"/") && !strings.HasPrefix(a, "data:") && a != "about:blank" && !strings.HasPrefix(a, "blob:"+w.origin) {
			w.Errorf("the page asked for %s", a)
		}
	}
}

// do takes steps and ends the test if one fails.
func (w *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	w.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		w.Fatal(err)
	}
}

// ask returns what an expression of the page's script comes to.
func ask[T any](w *tab, expression string) T {
	w.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		w.Fatalf("%.200s: %v", expression, err)
	}
	return v
}

// until waits for an expression of the page's script to be true.
func (w *tab) until(what, expression string) {
	w.Helper()
	deadline := time.Now().Add(patience)
	for !ask[bool](w, expression) {
		if time.Now().After(deadline) {
			w.Fatalf("waited in vain for %s", what)
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// press presses keys, one after the other.
func (w *tab) press(keys string) { w.Helper(); w.do(chromedp.KeyEvent(keys)) }

// settled waits until the page has been answered and asks for nothing any more.
func (w *tab) settled() {
	w.Helper()
	ask[bool](w, `new Promise((done) => setTimeout(() => done(true), 10))`) // until what was just done has begun
	const still = 40 * time.Millisecond                                     // longer than a script takes to ask again
	for deadline := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		w.mu.Lock()
		quiet := len(w.open) == 0 && time.Since(w.last) > still
		w.mu.Unlock()
		if quiet && !ask[bool](w, `/page|answer/.test(document.getElementById("work")?.dataset.asking)`) {
			return
		}
		if time.Now().After(deadline) {
			w.Fatalf("the page still waits for %v", w.open)
		}
	}
}

// click presses the first element of a CSS selector and waits for what comes of it.
func (w *tab) click(selector string) {
	w.Helper()
	w.do(chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible))
	w.settled()
}

// set gives a field a value at once, as a script would, and waits for what comes of it.
func (w *tab) set(id, value string) {
	w.Helper()
	ok := ask[bool](w, fmt.Sprintf(`(() => {
		const field = document.getElementById(%q);
		if (!field) return false;
		field.value = %q;
		field.dispatchEvent(new Event(field.tagName === "SELECT" ? "change" : "input", {bubbles: true}));
		return true;
	})()`, id, value))
	if !ok {
		w.Fatalf("there is no field %s", id)
	}
	w.settled()
}

// text returns what the first element of a CSS selector says, shown or not.
func (w *tab) text(selector string) string {
	w.Helper()
	return ask[string](w, fmt.Sprintf(`document.querySelector(%q)?.textContent ?? "(none)"`, selector))
}

// example loads the worked example.
func (w *tab) example() {
	w.Helper()
	w.click(`button[value="example"]`)
	w.until("the drawing", `document.querySelector("#shown-figure svg") !== null`)
}
