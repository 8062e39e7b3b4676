// Package parallel does work on all processors with the same result on any number.
package parallel

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
)

// Blocks does n pieces of work in blocks of a fixed size, on as many workers as given or,
// for zero, as there are processors. Every worker calls start once and then what it
// returned, with the number of a block and the pieces [from, to) in it. progress, when
// not nil, hears how many pieces are done; its calls never overlap and never go back.
//
// What a block yields must depend on its number alone. Then everything is the same to
// the bit on any number of workers. When ctx ends, no further block is begun and its
// error is returned. No worker outlives the call.
func Blocks(ctx context.Context, n, size, workers int, progress func(done int), start func() func(block, from, to int)) error {
	blocks := (n + size - 1) / size
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(workers, blocks) {
		wg.Go(func() {
			work := start()
			for ctx.Err() == nil {
				block := int(next.Add(1)) - 1
				if block >= blocks {
					return
				}
				from, to := block*size, min((block+1)*size, n)
				work(block, from, to)
				if progress != nil {
					mu.Lock()
					done += to - from
					progress(done)
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// Each does n pieces of work one by one, otherwise as [Blocks], and returns the errors of
// all.
func Each(ctx context.Context, n, workers int, do func(i int) error) error {
	failed := make([]error, n)
	err := Blocks(ctx, n, 1, workers, nil, func() func(block, from, to int) {
		return func(i, _, _ int) { failed[i] = do(i) }
	})
	if err != nil {
		return err
	}
	return errors.Join(failed...)
}
