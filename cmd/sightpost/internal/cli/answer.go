package cli

import (
	"bytes"
	"context"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// answerOptions are the flags of every command that computes.
type answerOptions struct {
	json  bool
	full  bool
	units string
}

func (o *answerOptions) addFlags(f *pflag.FlagSet) { o.addFlagsFor(f, "result") }

// addFlagsFor adds the flags of a command whose object has the schema of the given
// name.
func (o *answerOptions) addFlagsFor(f *pflag.FlagSet, schema string) {
	f.BoolVar(&o.json, "json", false, "print one JSON object; see \"sightpost schema "+schema+"\"")
	addUnits(f, &o.units)
	f.BoolVar(&o.full, "full", false, "print everything, with sources")
}

// addUnits adds the flag of the units.
func addUnits(f *pflag.FlagSet, units *string) {
	f.StringVar(units, "units", "mm", "`unit` of lengths in text and figures: mm, cm or in")
}

// parsedUnits returns the units that were asked for.
func (o *answerOptions) parsedUnits() (units.Units, error) { return units.Named(o.units) }

// render returns the answer as it is printed: JSON, or its document in words. Of several
// answers in JSON each takes one line.
func (o *answerOptions) render(r any, several bool) ([]byte, error) {
	if o.json {
		return answer.JSON(r, !several)
	}
	u, err := o.parsedUnits()
	if err != nil {
		return nil, err
	}
	var d *document.Document
	switch r := r.(type) {
	case *document.Document:
		d = r
	case interface{ Document() *document.Document }:
		d = r.Document()
	}
	var words bytes.Buffer
	err = text.Write(&words, d, text.Options{Units: u, Full: o.full})
	return words.Bytes(), err
}

// print prints one answer.
func (o *answerOptions) print(ctx context.Context, s Streams, a any) error {
	words, err := o.render(a, false)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	_, err = s.Out.Write(words)
	return err
}
