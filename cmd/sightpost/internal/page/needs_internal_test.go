package page

import (
	"errors"
	"net/url"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/plots/units"
)

// TestKitWithoutClampIsUnfinished: a kit that is chosen first asks for the clamp, and is
// not wrong.
func TestKitWithoutClampIsUnfinished(t *testing.T) {
	form := casefile.Fields()
	q, err := requestOf(url.Values{"text": {draft.Empty + "\nmount:\n  kit: kit.yaml\n"}}, &form)
	if err = errors.Join(err, q.wrong); err != nil {
		t.Fatal(err)
	}
	_, err = casefile.Read("the case", strings.NewReader(q.Text), nil)
	var problems casefile.Errors
	if !errors.As(err, &problems) {
		t.Fatal(err)
	}
	var at casefile.Errors // of the mount alone
	for _, p := range problems {
		if strings.HasPrefix(p.Entry(), "mount.") && p.Entry() != "mount.kit" {
			at = append(at, p)
		}
	}
	v := &view{request: q, Sections: q.sections(nil, at, nil)}
	v.note(at)
	if len(v.Faults) != 0 || len(v.Broken) != 0 || len(v.Missing) == 0 {
		t.Errorf("%d wrong, broken %q, missing %v; want only missing", len(v.Faults), v.Broken, v.Missing)
	}
	t.Log(v.Missing)
}

// TestAssumedInInches: what is assumed is shown as a tape reads it.
func TestAssumedInInches(t *testing.T) {
	form := casefile.Fields()
	for path, want := range map[string][2]string{
		"chair.seat_height": {"as the back hinge, or 495", "as the back hinge, or 19 1/2"},
		"passage.doorway":   {"812.8 assumed", "32 assumed"},
	} {
		for i, u := range []units.Units{units.MM, units.Inch} {
			if got := assumed(form.At(path), u); got != want[i] {
				t.Errorf("%s: %q, want %q", path, got, want[i])
			}
		}
	}
}
