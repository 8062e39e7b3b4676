package cli

import (
	"bytes"
	"encoding/json"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/report"
)

// answerOptions are the flags of every command that computes.
type answerOptions struct {
	json  bool
	units string
}

func (o *answerOptions) addFlags(f *pflag.FlagSet) {
	f.BoolVar(&o.json, "json", false, "print one JSON object, see \"sightpost schema result\"")
	f.StringVar(&o.units, "units", "mm", "`unit` of the lengths in the text: mm, cm or in")
}

// parsedUnits returns the units that were asked for.
func (o *answerOptions) parsedUnits() (report.Units, error) { return report.UnitsNamed(o.units) }

// render returns the report as it is printed. Of several reports in JSON each
// takes one line.
func (o *answerOptions) render(r *report.Report, several bool) ([]byte, error) {
	if o.json {
		return asJSON(r, !several)
	}
	u, err := o.parsedUnits()
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	err = r.WriteText(&text, u)
	return text.Bytes(), err
}

// asJSON returns the object, indented or on one line.
func asJSON(r *report.Report, indented bool) ([]byte, error) {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	if indented {
		enc.SetIndent("", "  ")
	}
	err := enc.Encode(r)
	return text.Bytes(), err
}
