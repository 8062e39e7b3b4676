package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/term"
)

// inParallel runs work for every name, as many at a time as there are processors,
// and returns the outcomes in the order of the names. After an interrupt
// not all are worked on; the outcomes are then not to be used.
func inParallel(ctx context.Context, s Streams, names []string, work func(i int) outcome) []outcome {
	outcomes := make([]outcome, len(names))
	bar := newProgress(s.Err, "cases", len(names))
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(names)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(names) && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				outcomes[i] = work(i)
				bar.add()
			}
		})
	}
	group.Wait()
	if ctx.Err() == nil {
		bar.finish()
	}
	return outcomes
}

// progress tells on a terminal how much of some work is done, when it takes longer than
// a moment. Any goroutine may use it.
type progress struct {
	w     io.Writer
	what  string
	total int
	start time.Time

	mu    sync.Mutex
	done  int
	shown bool
}

// moment is how long a person waits without wondering.
const moment = time.Second

func newProgress(w io.Writer, what string, total int) *progress {
	return &progress{w: w, what: what, total: total, start: time.Now()}
}

// add counts one more as done.
func (p *progress) add() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.show(p.done + 1)
}

// set tells how much is done.
func (p *progress) set(done int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.show(done)
}

// show writes over the line that is there. What cannot be written is no failure.
func (p *progress) show(done int) {
	p.done = done
	if p.total < 2 || !isTerminal(p.w) || time.Since(p.start) < moment {
		return
	}
	p.shown = true
	fmt.Fprintf(p.w, "\r%s: %d of %d", p.what, done, p.total)
}

// finish clears the line.
func (p *progress) finish() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprintf(p.w, "\r%*s\r", len(p.what)+2*len(strconv.Itoa(p.total))+6, "")
	}
}

// isTerminal reports whether somebody watches what is written to w.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
