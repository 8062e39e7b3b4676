package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/plots/units"
)

// stdinName is the name that stands for standard input.
const stdinName = "-"

// errStdinTwice refuses standard input in two places.
var errStdinTwice = errors.New("standard input, -, can be read only once")

// place reads the case in the file called name and works it out. With settings the screen
// is where they hold it, without any where it should be.
func (c *command) place(name string) (*answer.Placed, error) {
	if name == stdinName && c.settings == stdinName {
		return nil, errors.New("the case and the settings cannot both come from standard input")
	}
	var earlier *casefile.Case
	if c.before != "" {
		before, err := c.readCase(c.before, nil)
		if err != nil {
			return nil, err
		}
		earlier = before.Case
	}
	read, err := c.readCase(name, earlier)
	if err != nil {
		return nil, err
	}
	found, err := c.asFound(c.unitsOr(read.Units()))
	if err != nil {
		return nil, err
	}
	p, err := read.Place(c.Context(), found)
	switch {
	case err != nil && c.given():
		return nil, withFlags(err)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", read.Label, err) // it may be one of several
	}
	return p, nil
}

// readCase reads the case in the file called name, or standard input for "-", which may
// have an earlier one. Kits are looked for beside the case.
func (c *command) readCase(name string, before *casefile.Case) (*answer.Case, error) {
	in, err := c.open(name)
	if err != nil {
		return nil, err
	}
	defer in.Close() // only read: nothing can be lost by closing
	return answer.ReadAfter(before, shown(name), in, func(kit string) (io.ReadCloser, error) {
		if !filepath.IsAbs(kit) {
			kit = filepath.Join(filepath.Dir(name), filepath.FromSlash(kit))
		}
		return openFile(kit)
	})
}

// asFound returns how the mount is set: the settings of the file and of the flags,
// which win, with lengths in bare units if they name none.
func (c *command) asFound(bare units.Units) (answer.AsFound, error) {
	found := answer.AsFound{Side: c.side}
	if c.settings != "" {
		in, err := c.open(c.settings)
		if err != nil {
			return found, err
		}
		defer in.Close() // only read: nothing can be lost by closing
		if found.Settings, err = answer.ReadSettings(in); err != nil {
			return found, fmt.Errorf("%s: %w", shown(c.settings), err)
		}
	}
	for _, text := range c.set {
		name, value, ok := strings.Cut(text, "=")
		if !ok {
			return found, fmt.Errorf("--set %q has no value: write it as post.height=412mm", text)
		}
		entry := answer.Entry{Name: strings.TrimSpace(name), Value: strings.TrimSpace(value), Units: bare}
		found.Settings = answer.Override(found.Settings, entry)
	}
	return found, nil
}

// withFlags returns an error about how a mount is set with the flags that help.
func withFlags(err error) error {
	var unset *answer.UnsetError
	switch {
	case errors.Is(err, answer.ErrWhichSide):
		return withHint(err, "add --side left or --side right")
	case errors.As(err, &unset): // the last of all that is wrong
		return fmt.Errorf("%w; give them with --set or in the file of --settings", err)
	}
	return err
}

// shown returns what messages call an input.
func shown(name string) string {
	if name == stdinName {
		return "standard input"
	}
	return name
}

// open opens the file called name, or standard input for "-".
func (c *command) open(name string) (io.ReadCloser, error) {
	if name == stdinName {
		return io.NopCloser(c.InOrStdin()), nil
	}
	return openFile(name)
}

// openFile opens a file for reading, and nothing else.
func openFile(name string) (io.ReadCloser, error) {
	f, err := disk.Open(disk.Anywhere, name)
	if errors.Is(err, disk.ErrNotFile) {
		return nil, withHint(disk.PathError(name, err), "give what it holds on standard input, as -")
	}
	return f, disk.PathError(name, err)
}

// expand returns the cases that args name, in order: a folder stands for the case
// files in it, by name, and not for those in folders below.
func expand(args []string) ([]string, error) {
	var names []string
	for _, arg := range args {
		in := []string{arg}
		info, err := os.Stat(arg)
		switch {
		case arg == stdinName && slices.Contains(names, stdinName):
			return nil, errStdinTwice
		case arg == stdinName:
		case err != nil:
			return nil, disk.PathError(arg, err)
		case info.IsDir():
			if in, err = casesIn(arg); err != nil {
				return nil, err
			}
		}
		names = append(names, in...)
	}
	return names, nil
}

// casesIn returns the case files in a folder, by name.
func casesIn(folder string) ([]string, error) {
	entries, err := disk.List(disk.Anywhere, folder)
	if err != nil {
		return nil, disk.PathError(folder, err)
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
	return names, nil
}

// isCase reports whether a file in a folder is taken for a case: YAML that is not
// a kit.
func isCase(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return (ext == ".yaml" || ext == ".yml") && !isKit(name)
}

// isKit reports whether a file is taken for a kit. Reading it as a case will say what is
// wrong with one that cannot be read.
func isKit(name string) bool {
	in, err := openFile(name)
	if err != nil {
		return false
	}
	defer in.Close() // only read: nothing can be lost by closing
	text, err := casefile.ReadText(in, casefile.MaxBytes)
	return err == nil && strings.Contains("\n"+text, "\nsightpost_kit:")
}
