package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Streams are the standard streams of one run.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// The exit codes, as every command's help lists them.
const (
	exitOK          = 0
	exitInput       = 2
	exitUnmet       = 3
	exitInterrupted = 130
)

// exitCodes ends the help of every command.
const exitCodes = `Exit codes:
  0    done; the case works in every required posture
  2    wrong usage or input, or a file that cannot be read or written
  3    a valid case whose requirements are not met; the closest result is printed
  130  interrupted`

// errUnmet says that a case is valid and its requirements are not met. What was found is already
// printed when it comes back.
var errUnmet = errors.New("requirements not met")

// verdict returns an error if the case of that label is not met.
func verdict(label string, met bool) error {
	if met {
		return nil
	}
	return fmt.Errorf("%s: %w; \"solve\" or \"check\" says why", label, errUnmet)
}

// errSaid goes with the error of a run whose errors have been printed one by one.
var errSaid = errors.New("printed already")

// hinted is an error with what to do about it.
type hinted struct {
	error
	hint string
}

// Unwrap returns the error without the hint.
func (h *hinted) Unwrap() error { return h.error }

// withHint returns err with what to do about it.
func withHint(err error, format string, args ...any) error {
	return &hinted{error: err, hint: fmt.Sprintf(format, args...)}
}

// Run runs the command that args name and returns the exit code.
func Run(ctx context.Context, args []string, s Streams) int {
	root := newRoot(s)
	root.SetArgs(args)
	root.SetIn(s.In)
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	err := root.ExecuteContext(ctx)
	if ctx.Err() != nil {
		say(s.Err, "interrupted; no file was left half written")
		return exitInterrupted
	}
	return conclude(s.Err, err)
}

// conclude tells err and returns its exit code.
func conclude(w io.Writer, err error) int {
	switch {
	case err == nil:
		return exitOK
	case !errors.Is(err, errSaid):
		tell(w, err)
	}
	if errors.Is(err, errUnmet) {
		return exitUnmet
	}
	return exitInput
}

// tell writes err, a message for each of its lines, and what to do about it to
// standard error.
func tell(w io.Writer, err error) {
	for line := range strings.Lines(err.Error()) {
		say(w, "%s", strings.TrimPrefix(strings.TrimRight(line, "\n"), "record: ")) // it needs no naming
	}
	var h *hinted
	if errors.As(err, &h) {
		say(w, "%s", h.hint)
	}
}

// say writes one message to standard error. Nothing can be done when that fails.
func say(w io.Writer, format string, args ...any) {
	_, _ = fmt.Fprintf(w, "sightpost: "+format+"\n", args...)
}
