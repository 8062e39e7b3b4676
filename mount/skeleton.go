package mount

import (
	"errors"
	"io"
)

var errSkeleton = errors.New("mount: not written yet")

// WriteURDF writes the chain in the Unified Robot Description Format.
func (c Chain) WriteURDF(w io.Writer, name string) error { return errSkeleton }
