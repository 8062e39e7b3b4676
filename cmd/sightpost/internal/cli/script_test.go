package cli_test

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"sightpost/cmd/sightpost/internal/cli"
)

//go:generate go test . -update

// update rewrites the goldens in the scripts: go test ./cmd/sightpost/internal/cli -update.
var update = flag.Bool("update", false, "rewrite the golden files in the scripts")

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // as the program has it
	testscript.Main(m, map[string]func(){"sightpost": func() { os.Exit(cli.Main()) }})
}

func TestScripts(t *testing.T) {
	in, err := filepath.Abs("testdata") // whatever folder exits is in
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(in, "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup:               func(env *testscript.Env) error { return setup(env, filepath.Join(in, "bench")) },
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// setup lays out the bench, which is in a folder: a case and its kit, and what differs from them
// in one thing: the side left open, more movement than the tracker's range of depth, two postures
// that must work, a person who sits lower, a screen too heavy for the tubes, spreads that cannot
// be, no mount, and kits with too short a post, with tubes like wire, and with a post whose pieces
// are longer than it.
func setup(env *testscript.Env, bench string) error {
	kit, err := os.ReadFile(filepath.Join(bench, "kit.yaml"))
	if err != nil {
		return err
	}
	whole, err := os.ReadFile(filepath.Join(bench, "case.yaml"))
	if err != nil {
		return err
	}
	text := string(whole)
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
		"odd/heavy.yaml":     odd("mass: 1.6 kg", "mass: 12 kg"),
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

// folder is held by who changes the folder of this process.
var folder sync.Mutex

// exits runs the program in this process, which is quicker than one of its own, and checks its
// exit code: exits 2 sightpost solve absent. With sightpost-interrupted it is as if interrupted
// before it could do anything. It has no standard input, nor the environment of the script.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	if args[1] == "sightpost-interrupted" {
		cancel()
	}
	folder.Lock()
	defer folder.Unlock()
	home, err := os.Getwd()
	ts.Check(err)
	ts.Check(os.Chdir(ts.MkAbs(".")))
	got := cli.Run(ctx, args[2:], cli.Streams{In: strings.NewReader(""), Out: ts.Stdout(), Err: ts.Stderr()})
	ts.Check(os.Chdir(home))
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}
