package cli_test

import (
	"context"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"sightpost/cmd/sightpost/internal/cli"
)

//go:generate go test . -update

// update rewrites the goldens in the scripts: go test ./cmd/sightpost/internal/cli -update.
var update = flag.Bool("update", false, "rewrite the golden files in the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"sightpost": func() { os.Exit(cli.Main()) },
		// As if interrupted before it could do anything.
		"sightpost-interrupted": func() {
			ctx, cancel := context.WithCancel(context.Background())
			cancel()
			os.Exit(cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
		},
	})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup:               setup,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// setup lays out the bench: a case and its kit, and what differs from them in one
// thing: the side left open, more movement than the tracker's range of depth, two
// postures that must work, a person who sits lower, spreads that cannot be, no
// mount, and kits with too short a post, with tubes like wire, and with a post whose
// pieces are longer than it.
func setup(env *testscript.Env) error {
	env.Setenv("GOGC", "400") // as the program has it
	kit, err := os.ReadFile("testdata/bench/kit.yaml")
	if err != nil {
		return err
	}
	bench, err := os.ReadFile("testdata/bench/case.yaml")
	if err != nil {
		return err
	}
	text := string(bench)
	odd := func(change ...string) string {
		return strings.NewReplacer(append(change, "kit: ", "kit: ../")...).Replace(text)
	}
	mountless, _, _ := strings.Cut(text, "mount:\n")
	for name, text := range map[string]string{
		"kit.yaml":           string(kit),
		"case.yaml":          text,
		"odd/either.yaml":    odd("side: left", "side: either"),
		"odd/restless.yaml":  odd("forward: 30 mm", "forward: 200 mm"),
		"odd/two.yaml":       odd(", must_work: no", "") + "uncertainty: {clamp: {up: {uniform: 1 cm}}}\n",
		"odd/lower.yaml":     odd("up: 1180 mm", "up: 1060 mm"),
		"odd/absurd.yaml":    odd() + "uncertainty: {eyes: {up: {normal: -5 mm}}}\n",
		"odd/mountless.yaml": mountless,
		"odd/stub.yaml":      strings.Replace(string(kit), "to: 620 mm, step: 1 mm, preferred: 560 mm", "to: 130 mm, step: 1 mm, preferred: 125 mm", 1),
		"odd/bent.yaml":      strings.Replace(string(kit), "total: 660 mm", "total: 7 in\n      bends: [{straight: 300 mm, rotation: 0 deg, angle: 60 deg}]\n      bend_radius: 100 mm", 1),
		"odd/limp.yaml":      strings.ReplaceAll(string(kit), "outside: 25 mm, wall: 2 mm", "outside: 4 mm, wall: 1 mm"),
	} {
		name = filepath.Join(env.WorkDir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// exits runs a command and checks its exit code: exits 2 sightpost solve absent.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}
