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

// update rewrites the goldens in the scripts: go test ./cmd/sightpost/internal/cli -update.
var update = flag.Bool("update", false, "rewrite the golden files in the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"sightpost": func() {
			os.Exit(cli.Run(context.Background(), os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
		},
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

// setup lays out the bench: a case and its kit, the case with the side left open,
// and the case with more movement than the tracker's range of depth.
func setup(env *testscript.Env) error {
	kit, err := os.ReadFile("testdata/bench/kit.yaml")
	if err != nil {
		return err
	}
	bench, err := os.ReadFile("testdata/bench/case.yaml")
	if err != nil {
		return err
	}
	text := string(bench)
	for name, text := range map[string]string{
		"kit.yaml":          string(kit),
		"case.yaml":         text,
		"odd/either.yaml":   strings.NewReplacer("side: left", "side: either", "kit: ", "kit: ../").Replace(text),
		"odd/restless.yaml": strings.NewReplacer("forward: 30 mm", "forward: 200 mm", "kit: ", "kit: ../").Replace(text),
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
