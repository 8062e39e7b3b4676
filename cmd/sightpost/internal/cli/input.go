package cli

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
)

// stdinName is the name that stands for standard input.
const stdinName = "-"

// readCase reads the case in the file called name, or standard input for "-". Kits
// are looked for beside the case.
func readCase(s Streams, name string) (*answer.Case, error) {
	in, err := openInput(s, name)
	if err != nil {
		return nil, err
	}
	defer in.Close() // only read: nothing can be lost by closing
	return answer.Read(shown(name), in, openBeside(filepath.Dir(name)))
}

// shown returns what messages call an input.
func shown(name string) string {
	if name == stdinName {
		return "standard input"
	}
	return name
}

// openInput opens the file called name, or standard input for "-".
func openInput(s Streams, name string) (io.ReadCloser, error) {
	if name == stdinName {
		return io.NopCloser(s.In), nil
	}
	return openFile(name)
}

// openBeside returns a function that opens files named relative to a folder.
func openBeside(folder string) answer.Opener {
	return func(name string) (io.ReadCloser, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(folder, filepath.FromSlash(name))
		}
		return openFile(name)
	}
}

// openFile opens a file for reading; a folder is an error.
func openFile(name string) (io.ReadCloser, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, plainPathError(name, err)
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = errors.New("is a folder; name a file in it")
	}
	if err != nil {
		return nil, errors.Join(plainPathError(name, err), f.Close())
	}
	return f, nil
}

// plainPathError says what is wrong with a file in the same words everywhere.
func plainPathError(name string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: %w", name, errNoFile)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %w", name, errNoAccess)
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("%s: %w", name, err)
}

var (
	errNoFile   = errors.New("no such file")
	errNoAccess = errors.New("not allowed to open it")
)

// expand returns the cases that args name, in order: a folder stands for the case
// files in it, by name, and not for those in folders below.
func expand(args []string) ([]string, error) {
	var names []string
	for _, arg := range args {
		info, err := os.Stat(arg)
		switch {
		case arg == stdinName && slices.Contains(names, stdinName):
			return nil, errors.New("standard input, -, can be read only once")
		case arg == stdinName:
			names = append(names, arg)
		case err != nil:
			return nil, plainPathError(arg, err)
		case !info.IsDir():
			names = append(names, arg)
		default:
			in, err := casesIn(arg)
			if err != nil {
				return nil, err
			}
			names = append(names, in...)
		}
	}
	return names, nil
}

// casesIn returns the case files in a folder, by name.
func casesIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, plainPathError(folder, err)
	}
	var names []string
	for _, e := range entries {
		if name := filepath.Join(folder, e.Name()); !e.IsDir() && isCase(name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s: no case file in this folder", folder)
	}
	slices.SortFunc(names, cmp.Compare[string])
	return names, nil
}

// isCase reports whether a file in a folder is taken for a case: YAML that is not
// a kit.
func isCase(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".yaml", ".yml":
	default:
		return false
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return true // reading it as a case will say what is wrong
	}
	for line := range bytes.Lines(text) {
		if bytes.HasPrefix(line, []byte("sightpost_kit:")) {
			return false
		}
	}
	return true
}
