package cli_test

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
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

// canceling cancels at the first write.
type canceling struct {
	context.CancelFunc
}

func (c canceling) Write(p []byte) (int, error) {
	c.CancelFunc()
	return len(p), nil
}

// TestInterruptKeepsWhatIsDone interrupts a folder of cases once the first is answered: its
// files are there, and the last is not begun.
func TestInterruptKeepsWhatIsDone(t *testing.T) {
	const interrupted = 130
	out := t.TempDir()
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	args := []string{"solve", "--out", out}
	for _, name := range []string{"child", "upright-adult", "bed-rail", "floor-stand"} {
		args = append(args, filepath.Join("../../../../testdata/cases", name+".yaml"))
	}
	if code := cli.Run(ctx, args, cli.Streams{Out: canceling{cancel}, Err: io.Discard}); code != interrupted {
		t.Errorf("exit code %d, want %d", code, interrupted)
	}
	for name, want := range map[string]bool{"child": true, "upright-adult": false, "floor-stand": false} {
		if _, err := os.Stat(filepath.Join(out, name, "result.json")); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}
