package page

import (
	"context"
	"errors"
	"io"
	"log"
	"runtime/debug"
	"sync"
	"time"
)

// desk hands out places to work at, so that long jobs never keep short ones waiting:
// the two have places of their own. There are more places for short ones than processors,
// because the worst of them take a second or two, and then share the processors with those
// of other windows.
type desk struct {
	short, long chan struct{}
	work        sync.WaitGroup
	// ending is done when the program is about to end: long jobs are given up then.
	ending context.Context
	end    context.CancelFunc
	log    *log.Logger // is told what went wrong within

	mu     sync.Mutex
	latest recent[*asked] // of a window
	closed bool
}

// asked is the latest request of a window.
type asked struct {
	number uint64
	cancel context.CancelFunc
}

// shortPlaces is how many windows are answered at a time.
const shortPlaces = 16

// maxWindows bounds how many windows are remembered.
const maxWindows = 64

// errOlder reports that a window has asked again since.
var errOlder = errors.New("page: replaced by a newer request of the same page")

// errStopped reports that the server is about to end.
var errStopped = errors.New("page: the program was stopped")

func newDesk(told io.Writer) *desk {
	ending, end := context.WithCancel(context.Background())
	return &desk{
		short: make(chan struct{}, shortPlaces), long: make(chan struct{}, 1),
		latest: recent[*asked]{most: maxWindows}, ending: ending, end: end,
		log: log.New(told, "sightpost: ", 0),
	}
}

// made returns what work makes at a place for short jobs, or at that for long ones: then
// the context that work is given also ends when the program is about to end. What work
// makes after it was given up is not read.
func made[T any](ctx context.Context, d *desk, long bool, work func(context.Context) (T, error)) (T, error) {
	places := d.short
	if long {
		var cancel context.CancelFunc
		ctx, cancel = context.WithCancel(ctx)
		defer cancel()
		defer context.AfterFunc(d.ending, cancel)()
		places = d.long
	}
	var out, none T
	err := d.do(ctx, places, func() (err error) {
		out, err = work(ctx)
		return err
	})
	if err != nil {
		return none, err // out may still be written
	}
	return out, nil
}

// newest begins a request of a window. The context that it returns ends when the
// window asks again; the error is errOlder if it has already. A request of no window in
// particular is always the newest.
func (d *desk) newest(ctx context.Context, window string, number uint64) (context.Context, context.CancelFunc, error) {
	ctx, cancel := context.WithCancel(ctx)
	if window == "" {
		return ctx, cancel, nil
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if was, ok := d.latest.get(window); ok {
		if was.number >= number {
			cancel()
			return nil, nil, errOlder
		}
		was.cancel()
	}
	d.latest.put(window, &asked{number, cancel})
	return ctx, cancel, nil
}

// do works at one of the places, when there is a free one. If ctx ends before, nothing
// is done; if it ends while the work goes on, do returns and nobody looks at what
// comes of the work, which keeps its place until it ends.
func (d *desk) do(ctx context.Context, places chan struct{}, work func() error) error {
	select {
	case places <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	d.mu.Lock()
	closed := d.closed
	if !closed {
		d.work.Add(1)
	}
	d.mu.Unlock()
	if closed {
		<-places
		return errStopped
	}
	done := make(chan error, 1)
	go func() {
		defer d.work.Done()
		defer func() { <-places }()
		defer func() {
			if p := recover(); p != nil {
				d.report(p) // nobody may be waiting any more
				done <- panicked{p}
			}
		}()
		if err := ctx.Err(); err != nil {
			done <- err
			return
		}
		done <- work()
	}()
	select {
	case err := <-done:
		var p panicked
		if errors.As(err, &p) {
			panic(p) // where the request's own handler meets it
		}
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// report tells the program's own log of a panic and where it was.
func (d *desk) report(p any) {
	d.log.Printf("internal error, please report it: %v\n%s", p, debug.Stack())
}

// panicked carries a panic, which has been reported, from the place of work to who
// asked.
type panicked struct{ value any }

func (panicked) Error() string { return "page: internal error" }

// close waits until all work has ended, for a while, and reports whether it has.
// Nobody looks at what comes of what has not.
func (d *desk) close(while time.Duration) bool {
	d.mu.Lock()
	d.closed = true
	for _, a := range d.latest.known {
		a.cancel()
	}
	d.mu.Unlock()
	ended := make(chan struct{})
	go func() { d.work.Wait(); close(ended) }()
	select {
	case <-ended:
		return true
	case <-time.After(while):
		return false
	}
}

// recent keeps the values that were put in last, by key.
type recent[V any] struct {
	most  int
	mu    sync.Mutex
	known map[string]V
	order []string // of keys, the oldest first
}

// get returns the value of a key, if it is still kept.
func (r *recent[V]) get(key string) (V, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	v, ok := r.known[key]
	return v, ok
}

// of returns the value of a key, which is made, and kept unless that fails, if it is not kept.
func (r *recent[V]) of(key string, made func() (V, error)) (V, error) {
	if v, known := r.get(key); known {
		return v, nil
	}
	v, err := made()
	if err == nil {
		r.put(key, v)
	}
	return v, err
}

// put keeps a value, if need be in the place of the oldest.
func (r *recent[V]) put(key string, v V) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if _, ok := r.known[key]; !ok {
		r.order = append(r.order, key)
	}
	if r.known == nil {
		r.known = map[string]V{}
	}
	r.known[key] = v
	if len(r.order) > r.most {
		delete(r.known, r.order[0])
		r.order = r.order[1:]
	}
}
