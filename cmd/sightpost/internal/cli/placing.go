package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
)

// settingsOptions are the flags of commands that take a mount as it is set.
type settingsOptions struct {
	set  []string
	file string
	side string
}

func (o *settingsOptions) addFlags(f *pflag.FlagSet) {
	f.StringArrayVar(&o.set, "set", nil, "a setting as found: `name=value`, such as post.height=412mm")
	f.StringVar(&o.file, "settings", "", "read settings from this `file`: CSV, or YAML with a line for each")
	addSide(f, &o.side)
}

// given reports whether any setting was given.
func (o *settingsOptions) given() bool { return len(o.set) > 0 || o.file != "" }

// needed returns an error if no setting was given to a command that needs them.
func (o *settingsOptions) needed(command string) error {
	if o.given() {
		return nil
	}
	return withHint(fmt.Errorf("%s needs the settings as found on the mount", command),
		"give each by --set NAME=VALUE, or all by --settings FILE")
}

// place reads the case in the file called name. With settings the screen is
// where they hold it, without any where it should be.
func place(ctx context.Context, s Streams, o settingsOptions, name string) (*answer.Placed, error) {
	if name == stdinName && o.file == stdinName {
		return nil, errors.New("the case and the settings cannot both come from standard input")
	}
	c, err := readCase(s, name)
	if err != nil {
		return nil, err
	}
	found, err := o.asFound(s)
	if err != nil {
		return nil, err
	}
	p, err := c.Place(ctx, found)
	switch {
	case err != nil && o.given():
		return nil, withFlags(err)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", c.Label, err) // it may be one of several
	}
	return p, nil
}

// asFound returns how the mount is set: the settings of the file and of the flags,
// which win.
func (o *settingsOptions) asFound(s Streams) (answer.AsFound, error) {
	found := answer.AsFound{Side: o.side}
	if o.file != "" {
		from, err := readSettings(s, o.file)
		if err != nil {
			return found, err
		}
		found.Settings = from
	}
	for _, text := range o.set {
		name, value, ok := strings.Cut(text, "=")
		if !ok {
			return found, fmt.Errorf("--set %q has no value: write it as post.height=412mm", text)
		}
		entry := answer.Entry{Name: strings.TrimSpace(name), Value: strings.TrimSpace(value)}
		found.Settings = answer.Override(found.Settings, entry)
	}
	return found, nil
}

// readSettings reads a file of settings, or standard input for "-".
func readSettings(s Streams, name string) ([]answer.Entry, error) {
	in, err := openInput(s, name)
	if err != nil {
		return nil, err
	}
	defer in.Close() // only read: nothing can be lost by closing
	entries, err := answer.ReadSettings(in)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), err)
	}
	return entries, nil
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
