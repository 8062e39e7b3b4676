package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"sightpost/plots/units"
)

// TestSlowBody: who sends a body a letter at a time is put out.
func TestSlowBody(t *testing.T) {
	root, err := os.OpenRoot(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	s, err := New(Options{Folder: root})
	if err != nil {
		t.Fatal(err)
	}
	const soon = 300 * time.Millisecond
	s.http.ReadTimeout = soon
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx) }()
	defer func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}()
	host := s.listener.Addr().String()
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	head := fmt.Sprintf("POST %slive HTTP/1.1\r\nHost: %s\r\nCookie: sightpost=%s\r\nOrigin: http://%s\r\n", s.path, host, s.keys.token, host)
	if _, err := io.WriteString(c, head+"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 100000\r\n\r\ntext="); err != nil {
		t.Fatal(err)
	}
	go func() {
		for range 100 {
			time.Sleep(soon / 10)
			if _, err := io.WriteString(c, "a"); err != nil {
				return
			}
		}
	}()
	start := time.Now()
	_ = c.SetReadDeadline(start.Add(20 * soon))
	answer, err := io.ReadAll(c)
	if took := time.Since(start); err != nil && !errors.Is(err, syscall.ECONNRESET) || took > 10*soon {
		t.Errorf("put out after %v with %v", took, err)
	}
	if strings.Contains(string(answer), " 200 ") {
		t.Errorf("answered: %.100s", answer)
	}
}

// TestOnce: the address for a browser's arguments lets in once; who comes second with
// it shuts the first out.
func TestOnce(t *testing.T) {
	k := newKeys()
	first, ok := k.admit(k.once)
	if !ok || !k.admitted(first) {
		t.Fatal("not let in")
	}
	if _, ok := k.admit(k.once); ok || k.admitted(first) {
		t.Error("let in twice, or the first is still in")
	}
	again, ok := k.admit(k.key)
	if !ok || !k.admitted(again) {
		t.Error("the printed address does not let in afterwards")
	}
	if _, ok := k.admit(""); ok || k.admitted("") {
		t.Error("let in without a key")
	}
}

// TestOvertaken: a request that a newer one of the same window has overtaken is given
// up, and one that comes late is not begun.
func TestOvertaken(t *testing.T) {
	d := newDesk(io.Discard)
	first, cancel, err := d.newest(context.Background(), "w", 1)
	if err != nil {
		t.Fatal(err)
	}
	defer cancel()
	other, cancelOther, err := d.newest(context.Background(), "other", 1)
	if err != nil {
		t.Fatal(err)
	}
	defer cancelOther()
	second, cancelSecond, err := d.newest(context.Background(), "w", 3)
	if err != nil {
		t.Fatal(err)
	}
	defer cancelSecond()
	if first.Err() == nil || second.Err() != nil || other.Err() != nil {
		t.Errorf("first %v, second %v, other window %v", first.Err(), second.Err(), other.Err())
	}
	if _, _, err := d.newest(context.Background(), "w", 2); !errors.Is(err, errOlder) {
		t.Errorf("a late one: %v, want %v", err, errOlder)
	}
	for i := range 10 * maxWindows {
		_, cancel, err := d.newest(context.Background(), strconv.Itoa(i), 1)
		if err != nil {
			t.Fatal(err)
		}
		defer cancel()
	}
	if len(d.latest.known) > maxWindows || len(d.latest.order) > maxWindows {
		t.Errorf("%d windows are remembered", len(d.latest.known))
	}
}

// TestOvertakenWork: while a window's drawing is worked on, that of another is answered, and
// what a newer request of its own window has overtaken ends.
func TestOvertakenWork(t *testing.T) {
	d := newDesk(io.Discard)
	first, cancel, err := d.newest(context.Background(), "w", 1)
	if err != nil {
		t.Fatal(err)
	}
	defer cancel()
	begun, ended := make(chan struct{}), make(chan error, 1)
	go func() {
		_, err := made(first, d, false, func(ctx context.Context) (int, error) { close(begun); <-ctx.Done(); return 0, ctx.Err() })
		ended <- err
	}()
	<-begun
	if n, err := made(context.Background(), d, false, func(context.Context) (int, error) { return 1, nil }); n != 1 || err != nil || len(ended) > 0 {
		t.Errorf("another window gets %d, %v, and the first is at work: %v", n, err, len(ended) == 0)
	}
	_, cancelSecond, err := d.newest(context.Background(), "w", 2)
	if err != nil {
		t.Fatal(err)
	}
	defer cancelSecond()
	if err := <-ended; !errors.Is(err, context.Canceled) || !d.close(soon) {
		t.Errorf("overtaken: %v, or it goes on", err)
	}
}

// TestLongAndShort: a long job keeps no short one waiting, and who gives up does not
// wait for either.
func TestLongAndShort(t *testing.T) {
	d := newDesk(io.Discard)
	begun, end := make(chan struct{}), make(chan struct{})
	ended := make(chan error, 1)
	go func() {
		ended <- d.do(context.Background(), d.long, func() error { close(begun); <-end; return nil })
	}()
	<-begun
	if err := d.do(context.Background(), d.short, func() error { return nil }); err != nil {
		t.Error(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	if err := d.do(ctx, d.long, func() error { t.Error("done"); return nil }); err == nil {
		t.Error("a second long job was done beside the first")
	}
	close(end)
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if !d.close(soon) {
		t.Error("something is still at work")
	}
	if err := d.do(context.Background(), d.short, func() error { return nil }); !errors.Is(err, errStopped) {
		t.Errorf("work after the end: %v", err)
	}
}

// TestPanic: what goes wrong in a job is met where it was asked for.
func TestPanic(t *testing.T) {
	d := newDesk(io.Discard)
	defer func() {
		if p, ok := recover().(panicked); !ok || p.value != "slip" {
			t.Errorf("met %v", p)
		}
		if !d.close(soon) {
			t.Error("the place is lost")
		}
	}()
	_ = d.do(context.Background(), d.long, func() error { panic("slip") })
}

// soon is much longer than anything takes that ends at all.
const soon = 20 * time.Second

// TestPanicUnmet: what goes wrong in a job that nobody waits for is logged with the
// place where it went wrong, once.
func TestPanicUnmet(t *testing.T) {
	var told bytes.Buffer
	d := newDesk(&told)
	ctx, giveUp := context.WithCancel(context.Background())
	begun, gone := make(chan struct{}), make(chan struct{})
	go func() { <-begun; giveUp() }()
	if err := d.do(ctx, d.long, func() error { close(begun); <-gone; return slips() }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	close(gone)
	if !d.close(soon) {
		t.Fatal("the place is lost")
	}
	if got := told.String(); strings.Count(got, "please report it: slip") != 1 || !strings.Contains(got, "page.slips") {
		t.Errorf("logged: %q", got)
	}
}

// slips panics.
func slips() error { panic("slip") }

// TestEndedWithTheProgram: a long job is told to give up when the program is about to
// end, and one that does not is not waited for.
func TestEndedWithTheProgram(t *testing.T) {
	d := newDesk(io.Discard)
	begun := make(chan struct{})
	ended := make(chan error, 1)
	go func() {
		_, err := made(context.Background(), d, true, func(ctx context.Context) (int, error) { close(begun); <-ctx.Done(); return 0, ctx.Err() })
		ended <- err
	}()
	<-begun
	d.end()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
	if !d.close(soon) {
		t.Error("the job goes on")
	}
	d = newDesk(io.Discard)
	ctx, giveUp := context.WithCancel(context.Background())
	begun = make(chan struct{})
	stuck := make(chan struct{})
	defer close(stuck)
	go func() { <-begun; giveUp() }()
	_ = d.do(ctx, d.short, func() error { close(begun); <-stuck; return nil })
	if d.close(time.Millisecond) {
		t.Error("what goes on is said to have ended")
	}
}

// shippedServer returns a server of the shipped cases, of which nobody asks anything, and one of
// them.
func shippedServer(t *testing.T) (*Server, state) {
	t.Helper()
	root, err := os.OpenRoot("../../../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(Options{Folder: root})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = s.listener.Close() // nobody asked
		_ = root.Close()       // only read
	})
	const name = "cases/upright-adult.yaml"
	text, err := s.readFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s, state{Text: string(text), At: name}
}

// TestRemembered: the same case is told once, and anew in other units, on other paper, for
// another width, and when it changes.
func TestRemembered(t *testing.T) {
	s, st := shippedServer(t)
	told := func(change func(*state)) *told {
		q := &request{state: st, Form: url.Values{}, form: &s.form}
		change(&q.state)
		q.hold(q.Text)
		v := &view{}
		if err := s.fill(t.Context(), q, v, func(ctx context.Context) error { return v.tell(ctx) }); err != nil || v.Told == nil {
			t.Fatalf("told %v, error %v", v.Told, err)
		}
		return v.Told
	}
	first := told(func(*state) {})
	if told(func(*state) {}) != first {
		t.Error("the same case is told twice")
	}
	for name, change := range map[string]func(*state){
		"other units":    func(st *state) { st.Units = units.Inch },
		"other paper":    func(st *state) { st.Paper = "letter" },
		"another width":  func(st *state) { st.Wide = "260" },
		"another height": func(st *state) { st.Text = strings.Replace(st.Text, "1180 mm", "1150 mm", 1) },
	} {
		if told(change) == first {
			t.Errorf("%s: told as before", name)
		}
	}
}

// TestGivenUp: what is worked out, and jobs that draw at random, end when nobody waits for them any
// more.
func TestGivenUp(t *testing.T) {
	s, st := shippedServer(t)
	ctx, giveUp := context.WithCancel(context.Background())
	giveUp()
	if w := s.workOut(ctx, &st); !errors.Is(w.err, context.Canceled) {
		t.Errorf("where the screen goes: %v", w.err)
	}
	for job, do := range s.jobs() {
		if job != "vary" && job != "match" {
			continue
		}
		q := &request{state: st, Form: url.Values{"kits": {"kits/two-tube-offset.yaml"}}, form: &s.form}
		if _, err := do(ctx, q); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", job, err)
		}
	}
}
