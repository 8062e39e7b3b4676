package cli

import (
	"errors"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/plots/units"
)

// parsed is a flag whose value is read as soon as it is given.
type parsed[T any] struct {
	into  *T
	text  string
	parse func(string) (T, error)
}

func (p *parsed[T]) String() string { return p.text }
func (p *parsed[T]) Type() string   { return "string" }

// Set reads the value. What parse says of it is the whole message.
func (p *parsed[T]) Set(text string) error {
	value, err := p.parse(text)
	if err != nil {
		return &badValue{err}
	}
	*p.into, p.text = value, text
	return nil
}

// badValue is an error that names its flag, or needs none named.
type badValue struct{ error }

// addParsed adds a flag that parse reads; text is what it is if left out, which is the
// value of into already.
func addParsed[T any](f *pflag.FlagSet, into *T, name, text, usage string, parse func(string) (T, error)) {
	f.Var(&parsed[T]{into, text, parse}, name, usage)
}

// answerOptions are the flags of every command that computes.
type answerOptions struct {
	json  bool
	full  bool
	units units.Units
}

// addFlags adds the flags of a command whose object has the schema of the given name.
func (o *answerOptions) addFlags(f *pflag.FlagSet, schema string) {
	f.BoolVar(&o.json, "json", false, "print one JSON object; see \"sightpost schema "+schema+"\"")
	addUnits(f, &o.units)
	f.BoolVar(&o.full, "full", false, "print everything, with sources")
}

// addUnits adds the flag of the units.
func addUnits(f *pflag.FlagSet, into *units.Units) {
	addParsed(f, into, "units", "mm", "`unit` of lengths in text and figures: mm, cm or in", units.Named)
}

// saveOptions are the flags of commands that write a folder of files.
type saveOptions struct {
	out    string
	format []string // svg if empty
	force  bool
}

func (o *saveOptions) addFlags(f *pflag.FlagSet, folder string) {
	f.StringVar(&o.out, "out", folder, "write figures and results into this `folder`")
	addParsed(f, &o.format, "format", "svg", "`formats` of the figures: svg, pdf, png", o.readFormats)
	f.BoolVar(&o.force, "force", false, "overwrite files that exist")
}

// readFormats returns the formats of figures with those in text, with commas between.
func (o *saveOptions) readFormats(text string) ([]string, error) {
	formats := append(o.format, strings.Split(text, ",")...)
	for _, f := range formats {
		if _, err := answer.FigureWriter(f); err != nil {
			return nil, err
		}
	}
	return formats, nil
}

// addSide adds the flag of the side of the mount.
func addSide(f *pflag.FlagSet, side *string) {
	f.StringVar(side, "side", "", "`side` to clamp the mount on, if the case leaves it open: left or right")
}

// addSimulations adds the flags of simulations, whose number and seed have their values
// already.
func addSimulations(f *pflag.FlagSet, count *int, seed *uint64, usage string) {
	usual := strconv.Itoa(*count)
	addParsed(f, count, "simulations", usual, usage, func(text string) (int, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return 0, withHint(errors.New("--simulations must be at least 1"), "leave it out for %s", usual)
		}
		return n, nil
	})
	f.Uint64Var(seed, "seed", 1, "`number` that the simulations start from")
}
