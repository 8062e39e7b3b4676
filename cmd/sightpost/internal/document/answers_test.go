package document_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// answers returns made-up objects of every shape, and the schema of each.
func answers() map[string]struct {
	object documented
	schema string
} {
	type row = struct {
		object documented
		schema string
	}
	still := madeRefit()
	still.Needed, still.Restored, still.MarginMM = false, true, 88
	still.Reasons, still.Changes, still.Steps, still.Tried = []document.Finding{}, []document.Change{}, []document.Step{}, []document.Attempt{}
	still.Told, still.FullSetup.Told = []document.ToldChange{}, []document.ToldChange{}
	still.FullSetup.Changes, still.Losses[0].BeforeMM = []document.Change{}, nil
	lost := madeRefit()
	lost.Restored, lost.Left, lost.Remedies = false, finding("The margin is %s in upright.", document.Length(4)), finding("Use another post.")
	unmet := madeVary()
	unmet.Works, unmet.Reasons, unmet.Together.Tracks = false, finding("upright does not track."), 0
	for i := range unmet.Ranges {
		unmet.Ranges[i].OnSeat = &document.Range{From: document.RangeEnd{EndedBy: document.Say("left eye too near")}, To: document.RangeEnd{EndedBy: document.Say("left eye too near")}}
		unmet.Ranges[i].OnBase = unmet.Ranges[i].OnSeat
	}
	none := madeMatch()
	none.Works, none.Ranking = false, none.Ranking[1:]
	return map[string]row{
		"vary": {madeVary(), "vary"}, "vary-unmet": {unmet, "vary"},
		"refit": {madeRefit(), "refit"}, "refit-none": {still, "refit"}, "refit-lost": {lost, "refit"},
		"match": {madeMatch(), "match"}, "match-none": {none, "match"},
	}
}

// finding returns one finding.
func finding(format string, args ...any) []document.Finding {
	return []document.Finding{{Kind: "made", Text: document.Say(format, args...)}}
}

func madeTally(tracks float64) document.Tally {
	return document.Tally{
		Tracks: tracks, TracksLow: tracks - 0.001, TracksHigh: tracks + 0.0004,
		MeanMM: 40, SDMM: 12, LeastMM: -8, P5MM: 12, P25MM: 30.25, P50MM: 41, P75MM: 52, P95MM: 60, MostMM: 71,
	}
}

func madeVary() *document.Vary {
	works := func(from, to float64, why string) *document.Range {
		return &document.Range{Works: true, From: document.RangeEnd{Value: from}, To: document.RangeEnd{Value: to, EndedBy: document.Quote(why)}}
	}
	return &document.Vary{
		Version: 2, Kind: "vary", Label: "made-1", Works: true, Reasons: []document.Finding{}, MarginMM: 62.5,
		Settings:    []document.SettingValue{{Name: "post.height", Unit: "mm", Value: 412, Told: toldHeight(412)}},
		Simulations: 10000, Seed: 1, Together: madeTally(0.9971), SDMM: 12,
		Postures: []document.PostureTally{
			{Posture: "upright", MustWork: true, MarginMM: 62.5, Tally: madeTally(0.99999)},
			{Posture: "rested", MarginMM: 70, Tally: madeTally(0.9996)},
		},
		Errors: []document.ErrorShare{
			{Name: "head flexion", Kind: "normal", Unit: "deg", Size: 2, First: 0.5, FirstSE: 0.03, Total: 0.61, TotalSE: 0.02},
			{Name: "post.height", Kind: "uniform", Unit: "mm", Size: 2.5, First: -0.001, FirstSE: 0.002, Total: 0.004, TotalSE: 0.001},
			{Name: "slump", Kind: "normal", Unit: "mm", Size: 5},
		},
		Ranges: []document.PostureRange{
			{Posture: "upright", Varies: "seat tilt", Unit: "deg", CarriedBy: "seat", OnSeat: works(-30, 60, ""), OnBase: works(-30, 8.75, "left eye too far")},
			{Posture: "upright", Varies: "slump", Unit: "mm", CarriedBy: "seat", OnSeat: works(-100, 111, "left eye too near"), OnBase: works(-100, 111, "left eye too near")},
			{Posture: "rested", Varies: "back angle", Unit: "deg", Now: 100, CarriedBy: "seat", Unknown: document.Say("the case gives no recline axis of the back support")},
		},
		Setups: []document.SinglePostureSetup{
			{Posture: "upright", TogetherMM: 62.5, AloneMM: 80, Moved: []document.Moved{{Name: "post.height", Unit: "mm", From: 412, To: 430.5, Step: 1}, {Name: "elbow.elevation", Unit: "deg", From: 0, To: -7.5, Step: 0.5}}, Told: []document.ToldChange{
				{Told: toldHeight(430.5), From: 412}, {Told: document.Told{Name: "elbow.elevation", Unit: "deg", Value: -7.5, Step: 0.5}},
			}},
			{Posture: "rested", TogetherMM: 70, AloneMM: 71, Elsewhere: true, Moved: []document.Moved{}, Told: []document.ToldChange{}},
			{Posture: "asleep", TogetherMM: 70, AloneMM: 70, Moved: []document.Moved{}, Told: []document.ToldChange{}},
		},
		Assumptions: []casefile.Assumption{{Key: "uncertainty.slump", What: "spread of slump", Value: "half a step", Source: "no source", Values: []casefile.Part{{Value: casefile.Value{Word: "half a step"}}}}},
	}
}

// toldHeight returns the height of the post as it is told.
func toldHeight(mm float64) document.Told {
	return document.Told{Name: "post.height", Unit: "mm", Value: mm, Step: 1}
}

func madeRefit() *document.Refit {
	before := 71.0
	tight := []document.Stop{{Posture: "upright", Condition: "left eye too far", MarginMM: -14.8}, {Posture: "upright", Condition: "right eye too far", MarginMM: -14.2}}
	height := document.Change{Moved: document.Moved{Name: "post.height", Unit: "mm", From: 472, To: 351.5, Step: 0.5}, Effort: 1}
	rise := document.Change{Moved: document.Moved{Name: "elbow.elevation", Unit: "deg", From: 0, To: -10, Step: 1}, Effort: 4}
	told := []document.ToldChange{
		{Told: toldHeight(351.5), From: 472}, {Told: document.Told{Name: "elbow.elevation", Unit: "deg", Value: -10, Step: 1}},
	}
	return &document.Refit{
		Version: 2, Kind: "refit", Label: "made-2", RequiredMM: 20, RequiredFrom: "before", Needed: true, Restored: true, MarginMM: -14.8, AfterMM: 88,
		Reasons: finding("upright does not track."), Left: []document.Finding{}, Remedies: []document.Finding{},
		Warnings: finding("measured.head: same as before."),
		Losses:   []document.Loss{{Posture: "upright", MustWork: true, MarginMM: -14.8, BeforeMM: &before, Limiting: tight}},
		Settings: []document.SettingValue{
			{Name: "post.height", Unit: "mm", Value: 472, Told: toldHeight(472)},
			{Name: "elbow.elevation", Unit: "deg", Value: 0, Told: document.Told{Name: "elbow.elevation", Unit: "deg", Step: 1}},
		},
		Changes: []document.Change{height, rise}, Told: told, Effort: 5,
		Steps: []document.Step{
			{Action: "adjust", Words: document.Say("post height: one person holds the device, one loosens."), Setting: "post.height", Cautions: []document.Text{document.Say("Once loose, it slides down: the load pulls with %s.", document.Force(30))}},
			{Action: "measure", Words: document.Say("Check by tape."), Cautions: []document.Text{}},
		},
		Tried: []document.Attempt{
			{Settings: []string{"post.swing", "arm.extension"}, Effort: 3, MarginMM: -5, Against: tight, AtLimit: []string{"arm.extension"}},
			{Settings: []string{"post.height"}, Effort: 1, MarginMM: 19.75, Unreadable: true, Against: []document.Stop{}, AtLimit: []string{}},
			{Settings: []string{"elbow.elevation"}, Effort: 4, MarginMM: 30, Against: []document.Stop{}, Kept: document.Say("housing at least %s from tray", document.Length(20)), AtLimit: []string{}},
		},
		FullSetup: document.FullSetup{Works: true, MarginMM: 90, Changes: []document.Change{height}, Told: told[:1], Effort: 1},
		Cautions:  []document.Line{{Text: document.Say("Hold the device before you loosen any joint.")}},
	}
}

func madeMatch() *document.Match {
	ranked := func(kit, side string, works bool) document.Ranked {
		return document.Ranked{
			KitFile: "kits/" + kit + ".yaml", Kit: kit, Side: side, Clamp: document.Point{ForwardMM: 380, LeftMM: 260, UpMM: 480},
			Works: works, Reached: works, OffMM: 3, MarginMM: 62.5, Tracks: 0.98, Touch: 4, CarriedKG: 2.9, DropMM: 3.25,
			Settings: []document.SettingValue{}, Reasons: finding("margin %s against %s", document.Length(62), document.Length(5)),
			Fails: []document.Finding{}, Remedies: []document.Finding{},
		}
	}
	short := ranked("short", "right", false)
	short.Fails, short.Remedies, short.Reasons = finding("upright does not track."), finding("A post that goes %s further.", document.Length(236)), []document.Finding{}
	short.MarginMM, short.ShortMM, short.Tracks, short.OffMM = -15, 15, 0, 233
	first, holds, part := ranked("offset", "left", true), 20.0, 0.925
	first.WeakestJoint = &document.JointLoad{Joint: "elbow.elevation", Posture: "upright", Unit: "N m", Load: 12.3, SlipLoad: &holds, Used: &part}
	first.LeastClearance = &document.Clearance{Zone: "knees", Part: "post", Posture: "upright", ClearanceMM: 41.5, RequiredMM: 30}
	return &document.Match{
		Version: 2, Kind: "match", Label: "made-3", Works: true, Simulations: 5000, Seed: 1, Ranking: []document.Ranked{first, short},
		Unjudged:    []document.Unjudged{{KitFile: "kits/bad.yaml", Why: []string{"kits/bad.yaml:3:1: no parts", "kits/bad.yaml:4:1: 100% wrong"}}},
		Cautions:    []document.Line{{Text: document.Say("Hold the device before you loosen any joint.")}},
		Assumptions: []casefile.Assumption{{Key: "uncertainty.slump", What: "spread of slump", Value: "half a step", Source: "no source", Values: []casefile.Part{{Value: casefile.Value{Word: "half a step"}}}}},
	}
}

func TestAnswerText(t *testing.T) {
	for name, row := range answers() {
		t.Run(name, func(t *testing.T) {
			for suffix, u := range map[string]units.Units{"": units.MM, "-in": units.Inch, "-cm": units.CM} {
				words := written(t, row.object, text.Options{Units: u, Full: true})
				fitsPaper(t, words)
				if suffix == "" || name == "vary" || name == "refit" {
					file := filepath.Join("testdata", name+suffix+".txt")
					held, _ := os.ReadFile(file) // a missing file differs
					golden(t, file, held, []byte(words))
				}
			}
		})
	}
}

// fitsPaper keeps text within the width of a sheet.
func fitsPaper(t *testing.T, text string) {
	t.Helper()
	const width = 100
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if n := utf8.RuneCountInString(line); n > width || strings.TrimRight(line, " ") != line {
			t.Errorf("%d characters, or blanks at the end, in %q", n, line)
		}
	}
}

func TestAnswersFitSchemas(t *testing.T) {
	for name, row := range answers() {
		t.Run(name, func(t *testing.T) {
			plain, err := json.Marshal(row.object)
			if err != nil {
				t.Fatal(err)
			}
			object, err := jsonschema.UnmarshalJSON(bytes.NewReader(plain))
			if err != nil {
				t.Fatal(err)
			}
			schema := compiledFrom(t, row.schema)
			if err := schema.Validate(object); err != nil {
				t.Error(err)
			}
			object.(map[string]any)["label"] = 5
			if schema.Validate(object) == nil {
				t.Error("the schema accepts a number for a label")
			}
		})
	}
}
