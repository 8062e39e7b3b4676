package cli

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// command is a command with the values of the flags that several commands share.
type command struct {
	cobra.Command

	json, full bool        // with addAnswer
	units      units.Units // with addAnswer or addUnits; see unitsOr

	out     string   // with addSave
	formats []string // with addSave; svg if empty
	force   bool     // with addSave or by itself

	paper sheet.Paper // with addSheet

	set      []string // with addSettings
	settings string   // with addSettings
	side     string   // with addSettings or addSide

	before string // of refit

	in     string // with addRecords
	anyway bool   // with addAnyway
}

// onCase is a run of a command on the case that its argument names, worked out.
func (c *command) onCase(do func(p *answer.Placed) error) func(*cobra.Command, []string) error {
	return func(_ *cobra.Command, args []string) error {
		p, err := c.place(args[0])
		if err != nil {
			return err
		}
		return do(p)
	}
}

// addAnswer adds the flags of a command that prints an answer, whose object has the
// schema of that name.
func (c *command) addAnswer(schema string) {
	c.Flags().BoolVar(&c.json, "json", false, "print one JSON object; see \"sightpost schema "+schema+"\"")
	c.addUnits()
	c.Flags().BoolVar(&c.full, "full", false, "print everything, with sources")
}

// addUnits adds the flag of the units.
func (c *command) addUnits() {
	addParsed(c.Flags(), &c.units, "units", "", "`unit` of lengths, bare numbers too: mm, cm or in; else as case or kit", units.Named)
}

// unitsOr returns the units that were asked for, or else own.
func (c *command) unitsOr(own units.Units) units.Units {
	if c.Flags().Changed("units") {
		return c.units
	}
	return own
}

// addSave adds the flags of a command that writes a folder of files, into that one if
// none is given.
func (c *command) addSave(folder string) {
	c.addOut(folder, "write figures and results into this `folder`")
	addParsed(c.Flags(), &c.formats, "format", "svg", "`formats` of the figures: svg, pdf, png", func(text string) ([]string, error) {
		formats := append(c.formats, strings.Split(text, ",")...)
		for _, f := range formats {
			if _, err := answer.FigureWriter(f); err != nil {
				return nil, err
			}
		}
		return formats, nil
	})
}

// addOut adds those of the folder alone.
func (c *command) addOut(folder, usage string) {
	c.Flags().StringVar(&c.out, "out", folder, usage)
	c.Flags().BoolVar(&c.force, "force", false, "overwrite files that exist")
}

// addSheet adds those of a command that also writes a sheet.
func (c *command) addSheet() {
	c.addSave("")
	addParsed(c.Flags(), &c.paper, "paper", "", "`paper` of the sheet: a4 or letter (a4; letter beside inches)", sheet.PaperNamed)
}

// addSettings adds the flags of a command that takes a mount as it is set.
func (c *command) addSettings() {
	c.Flags().StringArrayVar(&c.set, "set", nil, "a setting as found: `name=value`, such as post.height=412mm")
	c.Flags().StringVar(&c.settings, "settings", "", "read settings from this `file`: CSV, or YAML with a line for each")
	c.addSide()
}

// needSettings does the same for a command that needs them.
func (c *command) needSettings() {
	c.addSettings()
	c.PreRunE = func(cmd *cobra.Command, _ []string) error {
		if c.given() {
			return nil
		}
		return withHint(fmt.Errorf("%s needs the settings as found on the mount", cmd.Name()),
			"give each by --set NAME=VALUE, or all by --settings FILE")
	}
}

// given reports whether any setting was given.
func (c *command) given() bool { return len(c.set) > 0 || c.settings != "" }

// addSide adds the flag of the side of the mount.
func (c *command) addSide() {
	c.Flags().StringVar(&c.side, "side", "", "`side` to clamp the mount on, if the case leaves it open: left or right")
}

// addRecords adds the flag of the folder of records.
func (c *command) addRecords() {
	c.Flags().StringVar(&c.in, "in", "", "`folder` that the clinic keeps its records in")
}

// addAnyway adds the flag of a command that relies on what one record holds.
func (c *command) addAnyway() {
	c.Flags().BoolVar(&c.anyway, "anyway", false, "accept a record that was edited after it was filed")
}

// addSimulations adds the flags of simulations, with their usual number.
func (c *command) addSimulations(count *int, seed *uint64, usual int, usage string) {
	*count = usual
	addParsed(c.Flags(), count, "simulations", strconv.Itoa(usual), usage, func(text string) (int, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return 0, withHint(errors.New("--simulations must be a whole number above 0"), "leave it out for %d", usual)
		}
		return n, nil
	})
	c.Flags().Uint64Var(seed, "seed", 1, "`number` that the simulations start from")
}

// addParsed adds a flag that parse reads; text is what it is if left out, which is the
// value of into already.
func addParsed[T any](f *pflag.FlagSet, into *T, name, text, usage string, parse func(string) (T, error)) {
	f.Var(&parsed[T]{into, text, parse}, name, usage)
}

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
