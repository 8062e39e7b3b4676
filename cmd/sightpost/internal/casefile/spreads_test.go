package casefile_test

import (
	"bytes"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/fit/variation"
	"sightpost/plots/units"
)

// degreeRounding is what turning degrees into radians may miss.
const degreeRounding = 1e-12

func TestSpreads(t *testing.T) {
	caseText, _ := casefile.Starter(units.MM)
	given := append(caseText, `
uncertainty:
  eyes: {forward: {normal: 8 mm}, up: {uniform: 1/2 in}}
  head: {rotation: {uniform: 3 deg}}
  settings:
    - {name: post.height, length: {normal: 2 mm}}
    - {name: elbow.elevation, angle: {uniform: 0}}
`...)
	c, err := casefile.Read("case", bytes.NewReader(given), starterKit)
	if err != nil {
		t.Fatal(err)
	}
	r, err := fit.Solve(t.Context(), &c.Job)
	if err != nil {
		t.Fatal(err)
	}
	want := variation.DefaultBudget(r)
	want.Measures[variation.EyesForward] = variation.Uncertainty{Size: 8}
	want.Measures[variation.EyesUp] = variation.Uncertainty{Kind: variation.Uniform, Size: 12.7}
	want.Measures[variation.HeadRotation] = variation.Uncertainty{Kind: variation.Uniform, Size: 3 * frame.Degree.Radians()}
	named := 0
	for i, j := range r.Set.Chain.Moving() {
		switch j.Name {
		case "post.height":
			want.Settings[i], named = variation.Uncertainty{Size: 2}, named+1
		case "elbow.elevation":
			want.Settings[i], named = variation.Uncertainty{Kind: variation.Uniform}, named+1
		}
	}
	if named != 2 {
		t.Fatalf("the starter kit has %d of the two settings", named)
	}
	got, open := c.Uncertainty(r)
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, degreeRounding)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	var keys []string
	for _, a := range open {
		keys = append(keys, a.Key)
	}
	if slices.Contains(keys, "uncertainty.eyes.up") || !slices.Contains(keys, "uncertainty.eyes.left") || !slices.Contains(keys, "uncertainty.settings") {
		t.Errorf("assumed %s", strings.Join(keys, ", "))
	}
}

// TestSpreadsAssumed: without spreads in the case every one is assumed, and said
// to rest on no source.
func TestSpreadsAssumed(t *testing.T) {
	c := starter(t)
	got, open := c.Uncertainty(nil)
	if diff := cmp.Diff(variation.DefaultBudget(nil), got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	const measures = 15
	if len(open) != measures {
		t.Errorf("%d assumptions, want one for each of %d measures", len(open), measures)
	}
	at := slices.IndexFunc(open, func(a casefile.Assumption) bool { return a.Key == "uncertainty.seat_tilt" })
	want := casefile.Assumption{Key: "uncertainty.seat_tilt", What: "uncertainty of seat tilt", Value: "normal 1 deg", Values: []casefile.Part{{Name: "normal", Value: casefile.Value{Low: 1, High: 1, Unit: "deg"}}}, Source: "choice of this tool, no source"}
	if at < 0 || !reflect.DeepEqual(open[at], want) {
		t.Errorf("assumptions %v lack %v", open, want)
	}
	if tilt := got.Measures[variation.SeatTilt].Size; math.Abs(tilt-math.Pi/180) > degreeRounding {
		t.Errorf("seat tilt spreads by %v, want a degree", tilt)
	}
}
