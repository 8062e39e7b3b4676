package cli_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/cli"
)

// canceling cancels at the first write.
type canceling struct {
	context.CancelFunc
}

func (c canceling) Write(p []byte) (int, error) {
	c.CancelFunc()
	return len(p), nil
}

// TestInterruptKeepsWhatIsDone interrupts a folder of cases once the first is answered: its
// files are there, and the last is not begun, which waits until the first is answered.
func TestInterruptKeepsWhatIsDone(t *testing.T) {
	const interrupted, cases = 130, 70
	in, out := t.TempDir(), t.TempDir()
	for _, name := range append([]string{"kit"}, slices.Repeat([]string{"case"}, cases)...) {
		text, err := os.ReadFile("testdata/bench/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		if name == "case" {
			entries, _ := os.ReadDir(in)
			name = fmt.Sprintf("case-%02d", len(entries))
		}
		if err := os.WriteFile(filepath.Join(in, name+".yaml"), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	if code := cli.Run(ctx, []string{"solve", in, "--out", out}, cli.Streams{Out: canceling{cancel}, Err: io.Discard}); code != interrupted {
		t.Errorf("exit code %d, want %d", code, interrupted)
	}
	for name, want := range map[string]bool{"case-01": true, "case-70": false} {
		if _, err := os.Stat(filepath.Join(out, name, "result.json")); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestInterrupted interrupts whatever takes long or waits: for its input, for a reader of its
// output, for nothing.
func TestInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no signals there")
	}
	const interrupted = 130
	bench, err := filepath.Abs("testdata/bench")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(bench + "/case.yaml")
	if err != nil {
		t.Fatal(err)
	}
	unmet := filepath.Join(t.TempDir(), "unmet.yaml")
	refused := strings.NewReplacer("forward: 30 mm", "forward: 200 mm", "kit: ", "kit: "+bench+"/")
	if err := os.WriteFile(unmet, []byte(refused.Replace(string(text))), 0o600); err != nil {
		t.Fatal(err)
	}
	for i, args := range [][]string{
		{"solve", "-"},
		{"vary", bench + "/case.yaml", "--simulations", "10000000"},
		{"match", bench + "/case.yaml", bench + "/kit.yaml", "--simulations", "10000000"},
		{"solve", unmet, "--prove", "1h"},
		{"notices"},
		{"serve", t.TempDir(), "--no-open"},
	} {
		signal := []os.Signal{os.Interrupt, syscall.SIGTERM}[i%2]
		t.Run(strings.Join(args[:1], " "), func(t *testing.T) {
			t.Parallel()
			code := -1 // of a process that had not begun to listen
			for after := 300 * time.Millisecond; code < 0 && after < time.Minute; after *= 4 {
				code = interruptedAfter(t, after, signal, args)
			}
			if code != interrupted {
				t.Errorf("%v: exit code %d, want %d", args, code, interrupted)
			}
		})
	}
}

// interruptedAfter runs a command, whose input never ends and whose output nobody reads, and
// returns its exit code, or -1 if it was killed: by the signal, or because it goes on.
func interruptedAfter(t *testing.T, after time.Duration, signal os.Signal, args []string) int {
	t.Helper()
	const patience = 20 * time.Second
	cmd := exec.Command(os.Args[0])
	cmd.Args = append([]string{"sightpost"}, args...)
	in, errIn := cmd.StdinPipe()
	out, errOut := cmd.StdoutPipe()
	if err := errors.Join(errIn, errOut, cmd.Start()); err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	defer in.Close()
	time.AfterFunc(after, func() { _ = cmd.Process.Signal(signal) })
	defer time.AfterFunc(after+patience, func() { _ = cmd.Process.Kill() }).Stop()
	state, err := cmd.Process.Wait()
	if err != nil {
		t.Fatal(err)
	}
	return state.ExitCode()
}
