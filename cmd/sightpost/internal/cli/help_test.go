package cli_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"sightpost/cmd/sightpost/internal/cli"
)

// TestHelp asks for the help of every command, found by walking the help itself,
// and checks that it ends with an example and the exit codes.
func TestHelp(t *testing.T) {
	commands := commandsIn(help(t))
	if len(commands) < 7 {
		t.Fatalf("the help lists only %q", commands)
	}
	for _, name := range commandsIn(help(t, "record")) {
		commands = append(commands, "record "+name)
	}
	for _, args := range append(commands, "") {
		t.Run("sightpost "+args, func(t *testing.T) {
			text := help(t, strings.Fields(args)...)
			_, end, ok := strings.Cut(text, "\nExit codes:\n")
			if !ok || strings.Count(end, "\n") != 4 || !strings.Contains(end, "130  interrupted\n") {
				t.Errorf("the help does not end with the exit codes:\n%s", text)
			}
			if args != "help" && args != "completion" && !strings.Contains(text, "\nExample:\n  sightpost ") {
				t.Errorf("the help has no example:\n%s", text)
			}
			const width = 100 // as the answers have it
			for line := range strings.Lines(text) {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
					t.Errorf("%d characters in %q", n, line)
				}
			}
		})
	}
}

// help returns what "sightpost args --help" prints.
func help(t *testing.T, args ...string) string {
	t.Helper()
	var out, err bytes.Buffer
	code := cli.Run(context.Background(), append(args, "--help"), cli.Streams{In: strings.NewReader(""), Out: &out, Err: &err})
	if code != 0 || err.Len() != 0 {
		t.Fatalf("help of %q: exit code %d, %s", args, code, err.String())
	}
	return out.String()
}

// commandsIn returns the names of the commands that a help text lists.
func commandsIn(text string) []string {
	_, list, _ := strings.Cut(text, "\nCommands:\n")
	list, _, _ = strings.Cut(list, "\n\n")
	var names []string
	for line := range strings.Lines(list) {
		names = append(names, strings.Fields(line)[0])
	}
	return names
}

// full refuses every write.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

// TestOutputThatFails: what cannot be printed is an error of every command, help too.
func TestOutputThatFails(t *testing.T) {
	for _, args := range [][]string{
		{"--help"},
		{"solve", "--help"},
		{"--version"},
		{"schema", "case"},
		{"completion", "bash"},
		{"solve", "testdata/bench/case.yaml"},
		{"export", "testdata/bench/case.yaml", "--as", "csv"},
	} {
		var said bytes.Buffer
		if code := cli.Run(t.Context(), args, cli.Streams{Out: full{}, Err: &said}); code != 2 || !strings.Contains(said.String(), "no space left") {
			t.Errorf("%v: exit code %d, said %q", args, code, said.String())
		}
	}
}
