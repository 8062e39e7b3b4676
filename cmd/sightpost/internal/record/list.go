package record

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// List is what a folder holds: every code, or every record of one code.
type List struct {
	// Version of this form.
	Version int `json:"sightpost_records" jsonschema:"const=1"`
	// Every code that has a folder, in order; absent when one was asked for.
	Codes []ListedCode `json:"codes,omitempty"`
	// The code that was asked for.
	Code string `json:"code,omitempty"`
	// Its records, oldest first.
	Records []Listed `json:"records,omitempty"`
}

// ListedCode is how much is filed under a code.
type ListedCode struct {
	// The clinic's code for a person.
	Code string `json:"code"`
	// How many records there are.
	Records int `json:"records"`
	// Names of the oldest and of the newest; absent when there are none.
	First  string `json:"first,omitempty"`
	Latest string `json:"latest,omitempty"`
}

// Listed is a record in short.
type Listed struct {
	// Name of the file, without its ending.
	Name string `json:"name"`
	// Day of the assessment.
	Day Day `json:"date"`
	// "solve" if the settings are those that were found, "check" if they are those
	// that stood on the mount.
	Kind document.Kind `json:"kind" jsonschema:"enum=solve,enum=check"`
	// True when every posture that must work did.
	Works bool `json:"works"`
	// Least margin over the postures that must work, and the posture that had it.
	MarginMM        float64 `json:"margin_mm"`
	TightestPosture string  `json:"limiting_posture"`
	// True when the file is not as it was filed.
	Edited bool `json:"edited"`
}

// ListCodes lists every code of the folder. The errors name the folders that cannot
// be read; the list is that of the others.
func (f *Folder) ListCodes() (*List, []error) {
	l := &List{Version: 1}
	codes, err := f.Codes()
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, code := range codes {
		names, err := f.Names(code)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		c := ListedCode{Code: code, Records: len(names)}
		if len(names) > 0 {
			c.First, c.Latest = names[0].String(), names[len(names)-1].String()
		}
		l.Codes = append(l.Codes, c)
	}
	return l, failed
}

// List lists the records of a code. The errors name those that cannot be read; the
// list is that of the others.
func (f *Folder) List(code string) (*List, []error) {
	l := &List{Version: 1, Code: code}
	names, err := f.Names(code)
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, n := range names {
		r, err := f.Read(code, n)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		l.Records = append(l.Records, Listed{
			Name: r.Name, Day: r.Day, Kind: r.Kind, Works: r.Result.Works,
			MarginMM: r.Result.MarginMM, TightestPosture: r.Result.LimitingPosture, Edited: r.Edited,
		})
	}
	return l, failed
}

// WriteText writes the list as a table. The error is the writer's.
func (l *List) WriteText(w io.Writer, u units.Units) error {
	rows := [][]string{{"code", "assessments", "first", "latest"}}
	for _, c := range l.Codes {
		rows = append(rows, []string{c.Code, strconv.Itoa(c.Records), c.First, c.Latest})
	}
	if l.Code != "" {
		rows = [][]string{{l.Code, "margin", "least in", "filed"}}
		for i := range l.Records {
			rows = append(rows, l.Records[i].row(u))
		}
	}
	t := tabwriter.NewWriter(w, 0, 0, 3, ' ', tabwriter.TabIndent)
	for _, row := range rows {
		if _, err := fmt.Fprintln(t, strings.TrimRight(strings.Join(row, "\t"), "\t")); err != nil {
			return err
		}
	}
	return t.Flush()
}

// row returns the record in a line.
func (l *Listed) row(u units.Units) []string {
	filed := "as solved"
	if l.Kind == document.Check {
		filed = "as it stood"
	}
	if !l.Works {
		filed += ", did NOT work"
	}
	if l.Edited {
		filed += ", EDITED since"
	}
	return []string{l.Name, u.Fine(l.MarginMM, 1), l.TightestPosture, filed}
}
