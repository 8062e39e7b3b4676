package cli

import (
	"context"
	"io"
	"os"
	"runtime"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// inParallel runs work for every name, as many at a time as there are processors,
// and returns the outcomes in the order of the names. After an interrupt it
// returns at once; the outcomes are then not to be used.
func inParallel(ctx context.Context, s Streams, names []string, work func(i int) outcome) []outcome {
	outcomes := make([]outcome, len(names))
	bar := newBar(s.Err, len(names))
	next := make(chan int)
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(names)) {
		group.Go(func() {
			for i := range next {
				outcomes[i] = work(i)
				_ = bar.Add(1) // a bar that cannot be drawn is no failure
			}
		})
	}
	finished := make(chan struct{})
	go func() {
		defer close(finished)
		defer group.Wait()
		defer close(next)
		for i := range names {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	select {
	case <-finished:
		_ = bar.Finish()
		return outcomes
	case <-ctx.Done():
		return nil
	}
}

// newBar returns a progress bar that shows only on a terminal and only for
// several cases.
func newBar(w io.Writer, n int) *progressbar.ProgressBar {
	return progressbar.NewOptions(n, append(barOptions(w, "cases"), progressbar.OptionSetVisibility(n > 1 && isTerminal(w)))...)
}

// untilDone does work and returns its error, or returns at once when it is
// interrupted; the work then goes on until the process ends and nobody looks at it.
func untilDone(ctx context.Context, work func() error) error {
	done := make(chan error, 1)
	go func() { done <- work() }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// slowBar is a progress bar that shows itself on a terminal when the work takes
// longer than a moment. It is used by one goroutine at a time.
type slowBar struct {
	w     io.Writer
	what  string
	total int
	start time.Time
	bar   *progressbar.ProgressBar // nil until it shows
}

// moment is how long a person waits without wondering.
const moment = time.Second

func newSlowBar(w io.Writer, what string, total int) *slowBar {
	return &slowBar{w: w, what: what, total: total, start: time.Now()}
}

// set shows how much is done.
func (b *slowBar) set(done int) {
	if b.bar == nil {
		if !isTerminal(b.w) || time.Since(b.start) < moment {
			return
		}
		b.bar = progressbar.NewOptions(b.total, barOptions(b.w, b.what)...)
	}
	_ = b.bar.Set(done) // a bar that cannot be drawn is no failure
}

// finish takes the bar away.
func (b *slowBar) finish() {
	if b.bar != nil {
		_ = b.bar.Finish()
	}
}

// isTerminal reports whether somebody watches what is written to w.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// barOptions are those of all progress bars.
func barOptions(w io.Writer, what string) []progressbar.Option {
	return []progressbar.Option{
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetPredictTime(false),
	}
}
