package cli_test

import (
	"bytes"
	"context"
	"io"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/cli"
)

// TestInterruptWhileReading interrupts a command that waits for its standard input.
func TestInterruptWhileReading(t *testing.T) {
	const interrupted, soon = 130, time.Second
	never, writer := io.Pipe()
	defer writer.Close()
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(50*time.Millisecond, cancel)
	began := time.Now()
	var out, err bytes.Buffer
	if code := cli.Run(ctx, []string{"solve", "-"}, cli.Streams{In: never, Out: &out, Err: &err}); code != interrupted {
		t.Errorf("exit code %d, want %d: %s", code, interrupted, err.String())
	}
	if took := time.Since(began); took > soon {
		t.Errorf("ended %v after the interrupt", took)
	}
}
