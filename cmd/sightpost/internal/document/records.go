package document

import (
	"math"
	"strconv"
	"strings"
)

// Records is what a folder holds: every code, or every record of one code.
type Records struct {
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
	Day string `json:"date"`
	// "solve" if the settings are those that were found, "check" if they are those
	// that were found on the mount.
	Kind Kind `json:"kind" jsonschema:"enum=solve,enum=check"`
	// True when every posture that must work did.
	Works bool `json:"works"`
	// Least margin over the postures that must work, and the posture that had it.
	MarginMM        float64 `json:"margin_mm"`
	LimitingPosture string  `json:"limiting_posture"`
	// True when the file is not as it was filed.
	Edited bool `json:"edited"`
}

// Document returns r in words.
func (r *Records) Document() *Document {
	s := Section{ID: "records", Title: "Assessments"}
	if r.Code == "" {
		s.Title, s.Head = "Codes", []string{"code", "assessments", "first", "latest"}
		for _, c := range r.Codes {
			s.row(c.Code, strconv.Itoa(c.Records), c.First, c.Latest)
		}
		return &Document{Label: "records", Works: true, Verdict: Say("%s", count(len(r.Codes), "code")), Sections: []Section{s}}
	}
	s.Head = []string{"name", "margin", "limiting posture", "filed"}
	for _, l := range r.Records {
		filed := "as solved"
		if l.Kind == Check {
			filed = "as found"
		}
		if !l.Works {
			filed += ", does NOT meet every requirement"
		}
		if l.Edited {
			filed += ", EDITED since"
		}
		s.row(l.Name, Margin(l.MarginMM), l.LimitingPosture, filed)
	}
	return &Document{Label: r.Code, Works: true, Verdict: Say("%s", count(len(r.Records), "assessment")), Sections: []Section{s}}
}

// Filing is how an assessment was filed.
type Filing struct {
	Name, Day, Tool, Note string // Tool is the version that filed it
	Kind                  Kind
	Mounted, Edited       bool    // with a mount; not as it was filed any more
	MarginMM, NowMM       float64 // as filed, and as it is evaluated again
}

// Section says how an assessment was filed and whether it can be relied on.
func (f *Filing) Section() Section {
	s := Section{ID: "filed", Title: "Filed", Brief: true}
	from := "settings as solved"
	switch {
	case !f.Mounted:
		from = "without a mount"
	case f.Kind == Check:
		from = "settings as found"
	}
	s.say("%s, %s, by version %s.", f.Day, from, f.Tool)
	for _, r := range f.Remarks() {
		s.say("%s.", r)
	}
	for line := range strings.Lines(f.Note) {
		s.say("Note: %s", strings.TrimSpace(line))
	}
	return s
}

// Remarks says what speaks against relying on a record.
func (f *Filing) Remarks() []Text {
	all := []Text{}
	if f.Edited {
		all = append(all, Say("%s was EDITED after it was filed: its checksum does not match", f.Name))
	}
	const rounding = 0.01 // mm: ten times what rounding for the file leaves open
	if math.Abs(f.NowMM-f.MarginMM) > rounding {
		all = append(all, Say("%s was filed with a margin of %s by version %s; from the same case and settings this version finds %s",
			f.Name, Fine(f.MarginMM), f.Tool, Fine(f.NowMM)))
	}
	return all
}
