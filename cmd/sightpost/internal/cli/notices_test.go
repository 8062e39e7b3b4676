package cli_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// licensing matches the files and folders of a module that hold its licenses.
var licensing = regexp.MustCompile("^(licen[cs]e|third_party|notice)")

// TestNotices has the licenses of all modules of the program, as built for every system,
// and of the language's own library, in notices.txt.
func TestNotices(t *testing.T) {
	const list = `{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}{{end}}`
	goroot, err := exec.CommandContext(t.Context(), "go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	modules := []string{"the Go standard library|" + strings.TrimSpace(string(goroot))}
	for _, system := range []string{"linux", "windows", "darwin"} {
		cmd := exec.CommandContext(t.Context(), "go", "list", "-deps", "-f", list, "sightpost/cmd/sightpost")
		cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		modules = append(modules, strings.Fields(strings.ReplaceAll(string(out), " ", "@"))...)
	}
	slices.Sort(modules[1:])
	var want bytes.Buffer
	for _, module := range slices.Compact(modules) {
		name, dir, _ := strings.Cut(module, "|")
		found := false
		err := fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
			top, _, _ := strings.Cut(strings.ToLower(path), "/")
			switch {
			case err != nil || path == ".":
				return err
			case !licensing.MatchString(top):
				if e.IsDir() {
					return fs.SkipDir
				}
				return nil
			case e.IsDir():
				return nil
			}
			text, err := os.ReadFile(filepath.Join(dir, path))
			fmt.Fprintf(&want, "==== %s: %s\n\n%s\n\n", name, path, bytes.TrimSpace(text))
			found = true
			return err
		})
		if err != nil || !found {
			t.Errorf("%s: no license (%v)", name, err)
		}
	}
	const file = "notices.txt"
	if *update {
		if err := os.WriteFile(file, want.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil || !bytes.Equal(got, want.Bytes()) {
		t.Errorf("notices.txt is not what the modules give (%v); remake it with -update", err)
	}
}
