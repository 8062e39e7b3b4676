package record

import (
	_ "embed" // for the schema
	"errors"
	"fmt"
	"math"

	"sightpost/cmd/sightpost/internal/document"
)

// Version is the version of the form in which records are filed.
const Version = 2

// Record is one assessment. Keys are the same in the file and in JSON.
type Record struct {
	// Version of the form.
	Version int `json:"sightpost_record" yaml:"sightpost_record" jsonschema:"const=2"`
	// Version of the tool that filed it.
	Tool string `json:"tool" yaml:"tool"`
	// The clinic's code for the person.
	Code string `json:"code" yaml:"code"`
	// Day of the assessment.
	Day Day `json:"date" yaml:"date"`
	// "solve" if the settings are those that were found, "check" if they are those
	// that were found on the mount.
	Kind document.Kind `json:"kind" yaml:"kind" jsonschema:"enum=solve,enum=check"`
	// Side of the chair on which the mount is clamped; empty without a mount.
	Side string `json:"side,omitempty" yaml:"side,omitempty"`
	// The settings from the clamp outward.
	Settings []Setting `json:"settings" yaml:"settings"`
	// The result at these settings.
	Result Result `json:"result" yaml:"result"`
	// What was noted.
	Note string `json:"note,omitempty" yaml:"note,omitempty"`
	// The case file, word for word.
	Case string `json:"case" yaml:"case,omitempty"`
	// The file of its kit, word for word; empty if the case holds it or has none.
	Kit string `json:"kit,omitempty" yaml:"kit,omitempty"`
	// Name of the file, without its ending; empty before it is filed.
	Name string `json:"name" yaml:"-"`
	// True when the file is not as it was filed: its checksum tells.
	Edited bool `json:"edited" yaml:"-"`
	// True when it was filed by mistake and is only kept.
	Withdrawn bool `json:"withdrawn" yaml:"-"`
}

// Setting is one number that the mount is set to.
type Setting struct {
	// Part, dot, what moves.
	Name string `json:"name" yaml:"name"`
	// What it was set to.
	Value float64 `json:"value" yaml:"value"`
	// Unit of the value.
	Unit string `json:"unit" yaml:"unit" jsonschema:"enum=mm,enum=deg"`
}

// Result is what was found.
type Result struct {
	// True when every posture that must work does and nothing is touched.
	Works bool `json:"works" yaml:"works"`
	// Least margin over the postures that must work, the posture that has it and the
	// limiting condition there.
	MarginMM        float64 `json:"margin_mm" yaml:"margin_mm"`
	LimitingPosture string  `json:"limiting_posture" yaml:"limiting_posture"`
	Limiting        string  `json:"limiting" yaml:"limiting"`
	// Where the screen is in the posture that leads.
	Screen Screen `json:"screen" yaml:"screen"`
	// Every posture of the case, in its order.
	Postures []PostureResult `json:"postures" yaml:"postures"`
}

// Screen is where a screen is, in chair axes, and how it is turned.
type Screen struct {
	// Name of the posture.
	Posture string `json:"posture" yaml:"posture"`
	// Middle of the display area.
	ForwardMM float64 `json:"forward_mm" yaml:"forward_mm"`
	LeftMM    float64 `json:"left_mm" yaml:"left_mm"`
	UpMM      float64 `json:"up_mm" yaml:"up_mm"`
	// Tilt, the upper edge away from the viewer, as an inclinometer on the glass shows it.
	TiltDeg float64 `json:"tilt_deg" yaml:"tilt_deg"`
	// Rotation of the lower edge toward the person's left, as a square shows it from above.
	RotationDeg float64 `json:"rotation_deg" yaml:"rotation_deg"`
	// Roll, the viewer's right end of the upper edge raised.
	RollDeg float64 `json:"roll_deg" yaml:"roll_deg"`
	// From the point midway between the eyes to the middle of the display area.
	FromEyesMM float64 `json:"from_eyes_mm" yaml:"from_eyes_mm"`
}

// PostureResult is the result in one posture.
type PostureResult struct {
	// Name of the posture.
	Posture string `json:"posture" yaml:"posture"`
	// True when the case cannot do without it.
	MustWork bool `json:"must_work" yaml:"must_work"`
	// Least margin of all conditions; right in sign only when negative.
	MarginMM float64 `json:"margin_mm" yaml:"margin_mm"`
	// The limiting condition, in plain words.
	Limiting string `json:"limiting" yaml:"limiting"`
}

// Source is what an assessment was made from.
type Source struct {
	Case, Kit string // texts of the files; no kit if the case holds it or has none
	Note      string
}

// New returns the record of an assessment: of the report that tool made from src on
// day d, for the person of that code.
func New(code string, d Day, tool string, src Source, rep *document.Report) *Record {
	r := &Record{
		Version: Version, Tool: tool, Code: code, Day: d, Kind: rep.Kind,
		Settings: []Setting{}, Result: newResult(rep),
		Note: src.Note, Case: src.Case, Kit: src.Kit,
	}
	if m := rep.Mount; m != nil {
		r.Side = m.Side
		for i := range m.Settings {
			s := &m.Settings[i]
			r.Settings = append(r.Settings, Setting{Name: s.Name, Value: document.Rounded(s.Value, 1e9), Unit: s.Unit})
		}
	}
	return r
}

func newResult(rep *document.Report) Result {
	lead := rep.Lead()
	res := Result{
		Works: rep.Works, MarginMM: micrometer(rep.MarginMM), LimitingPosture: rep.LimitingPosture, Limiting: rep.Limiting,
		Screen: Screen{
			Posture:     lead.Name,
			ForwardMM:   micrometer(lead.Screen.Middle.ForwardMM),
			LeftMM:      micrometer(lead.Screen.Middle.LeftMM),
			UpMM:        micrometer(lead.Screen.Middle.UpMM),
			TiltDeg:     micrometer(lead.Attitude.TiltDeg),
			RotationDeg: micrometer(lead.Attitude.RotationDeg),
			RollDeg:     micrometer(lead.Attitude.RollDeg),
			FromEyesMM:  micrometer(lead.Aim.DistanceMM),
		},
	}
	for i := range rep.Postures {
		f := &rep.Postures[i]
		res.Postures = append(res.Postures, PostureResult{Posture: f.Name, MustWork: f.MustWork, MarginMM: micrometer(f.MarginMM), Limiting: f.Limiting})
	}
	return res
}

// micrometer rounds what was computed to three decimals, which is beyond any use
// and keeps the file legible.
func micrometer(v float64) float64 { return document.Rounded(v, 1e3) }

// check returns an error unless r makes sense.
func (r *Record) check() error {
	if _, err := ParseDay(string(r.Day)); err != nil {
		return err
	}
	if err := CheckCode(r.Code); err != nil {
		return err
	}
	switch {
	case r.Kind != document.Solve && r.Kind != document.Check:
		return fmt.Errorf("record: there is no kind %q of assessment", r.Kind)
	case r.Case == "":
		return errors.New("record: it holds no case")
	case len(r.Result.Postures) == 0:
		return errors.New("record: it holds no posture")
	}
	for _, v := range numbersIn(r) {
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return errors.New("record: one of its numbers is not finite")
		}
	}
	return nil
}

// The schema is made from the types of this package; TestSchema says how.
//
//go:embed schema-record.json
var schema string

// Schema returns the JSON Schema of a [Record].
func Schema() []byte { return []byte(schema) }
