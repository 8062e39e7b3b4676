package cli

import (
	"bytes"
	"context"
	"io"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
)

// answerOptions are the flags of every command that computes.
type answerOptions struct {
	json  bool
	units string
}

func (o *answerOptions) addFlags(f *pflag.FlagSet) { o.addFlagsFor(f, "result") }

// addFlagsFor adds the flags of a command whose object has the schema of the given
// name.
func (o *answerOptions) addFlagsFor(f *pflag.FlagSet, schema string) {
	f.BoolVar(&o.json, "json", false, "print one JSON object, see \"sightpost schema "+schema+"\"")
	f.StringVar(&o.units, "units", "mm", "`unit` of the lengths in the text: mm, cm or in")
}

// parsedUnits returns the units that were asked for.
func (o *answerOptions) parsedUnits() (document.Units, error) { return document.UnitsNamed(o.units) }

// answerer is an answer: an object that can be printed as JSON and as text.
type answerer interface {
	WriteText(w io.Writer, u document.Units) error
}

// render returns the answer as it is printed. Of several answers in JSON each
// takes one line.
func (o *answerOptions) render(r answerer, several bool) ([]byte, error) {
	if o.json {
		return answer.JSON(r, !several)
	}
	u, err := o.parsedUnits()
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	err = r.WriteText(&text, u)
	return text.Bytes(), err
}

// print prints one answer.
func (o *answerOptions) print(ctx context.Context, s Streams, a answerer) error {
	text, err := o.render(a, false)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	_, err = s.Out.Write(text)
	return err
}
