package document

import (
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestMeasureFirst: what is in the way with an assumed size is to be measured before anything
// else is tried, and is named before the values assumed of it.
func TestMeasureFirst(t *testing.T) {
	r := &Report{result: &fit.Result{}, Reasons: []Finding{{Zone: "knee"}, {Zone: "tray"}}, Clearances: []Clearance{
		{Zone: "knee", TooClose: true}, {Zone: "face", Assumed: true}, {Zone: "tray", TooClose: true, Assumed: true},
	}}
	if help := r.remedies(); len(help) != 1 || help[0].Text.In(units.MM) != "Measure the tray: its size is assumed." {
		t.Errorf("help %+v, want the tray measured", help)
	}
	as := []casefile.Assumption{{Key: "person.rest_gaze"}, {Key: "chair.tray"}, {Key: "chair.armrests"}, {Key: "chair.tray", Source: "another"}}
	if got := assumed(as).Lines[0].In(units.MM); got != "Measure the armrests and tray first." {
		t.Errorf("assumed values begin with %q", got)
	}
}

// TestBesideItsLimit: a number that rounds to its limit is said to be under or over it.
func TestBesideItsLimit(t *testing.T) {
	for _, row := range []struct {
		is, limit float64
		want      string
	}{
		{46.6, 47, "just under 47 mm"},
		{47.4, 47, "just over 47 mm"},
		{46.4, 47, "46 mm"},
		{48, 47, "48 mm"},
	} {
		if got := (beside{row.is < row.limit, Length(row.is), Length(row.limit)}).In(units.MM); got != row.want {
			t.Errorf("%g beside %g: %q, want %q", row.is, row.limit, got, row.want)
		}
	}
}

// TestLimitsThatNoPartHas: no remedy asks for a tube shorter than nothing, or for a hinge that
// turns past half a turn.
func TestLimitsThatNoPartHas(t *testing.T) {
	for _, row := range []struct {
		limit BindingLimit
		want  bool
	}{
		{BindingLimit{Setting: "arm.extension", Unit: "mm", Limit: "low", At: 250, Need: 644}, false},
		{BindingLimit{Setting: "arm.extension", Unit: "mm", Limit: "low", At: 250, Need: 240}, true},
		{BindingLimit{Setting: "arm.extension", Unit: "mm", Limit: "high", At: 570, Need: 0.2}, false},
		{BindingLimit{Setting: "clamp.position", Unit: "mm", Limit: "low", At: -60, Need: 30}, true},
		{BindingLimit{Setting: "elbow.elevation", Unit: "deg", Limit: "high", At: 120, Need: 83}, false},
		{BindingLimit{Setting: "elbow.elevation", Unit: "deg", Limit: "low", At: -40, Need: 83}, true},
		{BindingLimit{Setting: "post.swing", Unit: "deg", Limit: "high", At: 270, Need: 20}, true},
	} {
		if got := row.limit.helps(); got != row.want {
			t.Errorf("%+v: helps %v, want %v", row.limit, got, row.want)
		}
	}
}
