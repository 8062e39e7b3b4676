package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"sightpost/cmd/sightpost/internal/answer"
)

// solve is the command "solve" with its own flags.
type solve struct {
	command
	resume bool
	prove  time.Duration
}

func newSolve() *cobra.Command {
	c := &solve{command: command{Command: described("solve CASE...", takes(func(n int) bool { return n > 0 }, "a case: name a file or a folder, or - for standard input", ""))}}
	c.RunE = c.run
	c.addAnswer("result")
	c.addSheet()
	c.addSide()
	c.Flags().BoolVar(&c.resume, "resume", false, "leave out cases that are written whole, overwrite the rest")
	addParsed(c.Flags(), &c.prove, "prove", "", "`time` for proving that a case cannot be met, such as 30s", func(text string) (time.Duration, error) {
		d, err := time.ParseDuration(text)
		if err != nil || d <= 0 || d > mostProof {
			return 0, fmt.Errorf("--prove %s: give a time above 0 and up to %.0f h, such as 30s", text, mostProof.Hours())
		}
		return d, nil
	})
	return &c.Command
}

// mostProof is how long a proof may take: a longer one is mistyped.
const mostProof = 24 * time.Hour

// run solves every case that args name, as many at a time as there are processors, writes
// the files of each as soon as it is solved, and prints the answers in order. What fails for one case is printed and does not stop the
// others; it decides the exit code in the end, before cases that are not met.
func (c *solve) run(_ *cobra.Command, args []string) error {
	names, err := expand(args)
	if err != nil {
		return err
	}
	folders, err := c.folders(names)
	if err != nil {
		return err
	}
	if c.resume {
		if names, folders, err = c.unfinished(names, folders); err != nil {
			return err
		}
	}
	set, wipe := c.progress("cases", len(names))
	var failed, unmet error
	n := 0
	for solved := range c.begin(names, folders) {
		out := <-solved
		if c.Context().Err() != nil {
			continue // what is being solved ends first
		}
		wipe()
		switch err := c.deliverOne(out, n > 0); {
		case errors.Is(err, errUnmet):
			unmet = errors.Join(errSaid, errUnmet)
		case err != nil:
			failed = errSaid
		}
		n++
		set(n)
	}
	wipe()
	return cmp.Or(c.Context().Err(), failed, unmet)
}

// begin solves cases on all processors, and hands out in their order where the outcome of each
// will be. None is begun after an interrupt.
func (c *solve) begin(names, folders []string) <-chan chan outcome {
	begun := make(chan chan outcome, mostAhead)
	go func() {
		defer close(begun)
		busy := make(chan struct{}, runtime.GOMAXPROCS(0))
		for i := range names {
			solved := make(chan outcome, 1)
			select {
			case begun <- solved:
			case <-c.Context().Done():
				return
			}
			busy <- struct{}{}
			go func() {
				solved <- c.solved(names[i], folders[i], len(names) > 1)
				<-busy
			}()
		}
	}()
	return begun
}

// mostAhead is how many cases may be solved, and written, while one above them still is:
// what is kept of them for printing stays small.
const mostAhead = 64

// deliverOne delivers the outcome of one of several cases and tells what failed. Words come
// apart from those above them.
func (c *solve) deliverOne(out outcome, below bool) error {
	if below && !c.json && len(out.text) > 0 {
		out.text = append([]byte("\n"), out.text...)
	}
	err := c.deliver(out)
	if err != nil {
		tell(c.ErrOrStderr(), err)
	}
	return err
}

// solved solves the case in the file called name, one of several or not. Files are made
// for the folder, unless it is empty.
func (c *solve) solved(name, folder string, several bool) outcome {
	p, err := c.place(name)
	if err != nil {
		return outcome{err: err}
	}
	if err := c.proveUnmet(p); err != nil {
		return outcome{err: err}
	}
	rep, err := p.Report(c.Context())
	if err != nil {
		return outcome{err: err}
	}
	words, err := c.render(rep, c.unitsOr(p.Units()), several)
	if err != nil {
		return outcome{err: err}
	}
	files, err := c.files(folder, p, rep)
	if err != nil {
		return outcome{err: fmt.Errorf("%s: %w", p.Label, err)}
	}
	return c.written(files, words, verdict(p.Label, p.Result.Works))
}

// proveUnmet bounds what a case that was not met can have for the time asked for, if any.
func (c *solve) proveUnmet(p *answer.Placed) error {
	if c.prove == 0 {
		return nil
	}
	timed, stop := context.WithTimeout(c.Context(), c.prove)
	defer stop()
	began := time.Now()
	set, end := c.progress("proof, seconds", int(c.prove.Seconds()))
	defer end()
	err := p.Prove(timed, math.MaxInt, func(float64) { set(int(time.Since(began).Seconds())) })
	return cmp.Or(c.Context().Err(), err)
}

// unfinished returns the cases that are not written whole, which may be overwritten.
func (c *solve) unfinished(names, folders []string) (left, into []string, err error) {
	if c.out == "" {
		return nil, nil, errors.New("--resume goes on with what was written: add --out with the same folder")
	}
	c.force = true
	for i, folder := range folders {
		if _, err := os.Stat(filepath.Join(folder, resultFile)); err != nil {
			left, into = append(left, names[i]), append(into, folder)
		}
	}
	if n := len(names) - len(left); n > 0 {
		note(&c.Command, "left out %d of %d cases, which are written whole", n, len(names))
	}
	return left, into, nil
}

// folders returns where the files of each case go: the folder itself for a single
// case, one folder each for several; empty when none are asked for.
func (c *solve) folders(names []string) ([]string, error) {
	folders := make([]string, len(names))
	if c.out == "" {
		return folders, nil
	}
	if len(names) == 1 {
		return []string{c.out}, nil
	}
	taken := make(map[string]string, len(names))
	for i, name := range names {
		base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
		if name == stdinName {
			base = "standard-input"
		}
		folder := filepath.Join(c.out, base)
		if other, ok := taken[folder]; ok {
			return nil, fmt.Errorf("%s and %s would both be written to %s: solve them one by one", other, name, folder)
		}
		folders[i], taken[folder] = folder, name
	}
	return folders, nil
}
