package fit

import (
	"context"

	"sightpost/mount/fit/internal/parallel"
)

// inBlocks is [parallel.Blocks] without an end before all is done.
func inBlocks(n, size, workers int, progress func(done int), start func() func(block, from, to int)) {
	_ = parallel.Blocks(context.Background(), n, size, workers, progress, start) // never ends early
}

// ended returns why work is to be given up, which stopped says if there is one.
func ended(stopped func() error) error {
	if stopped == nil {
		return nil
	}
	return stopped()
}
