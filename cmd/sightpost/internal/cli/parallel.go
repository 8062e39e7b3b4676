package cli

import (
	"context"
	"io"
	"os"
	"runtime"
	"sync"

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
	f, ok := w.(*os.File)
	visible := ok && n > 1 && term.IsTerminal(int(f.Fd()))
	return progressbar.NewOptions(n,
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetVisibility(visible),
		progressbar.OptionSetDescription("cases"),
		progressbar.OptionShowCount(),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetPredictTime(false),
	)
}
