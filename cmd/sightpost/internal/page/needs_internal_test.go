package page

import (
	"errors"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
)

// TestKitWithoutClampIsUnfinished: a kit that is chosen first asks for the clamp, and is
// not wrong.
func TestKitWithoutClampIsUnfinished(t *testing.T) {
	form := casefile.Fields()
	d, err := draft.Read("the case", draft.Empty+"\nmount:\n  kit: kit.yaml\n", &form)
	if err != nil {
		t.Fatal(err)
	}
	_, err = casefile.Read("the case", strings.NewReader(d.Text()), nil)
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
	v := &view{Sections: newMaker(d, 0, at).sections(&form)}
	v.note(at)
	if v.Wrong != 0 || len(v.Broken) != 0 || len(v.Missing) == 0 {
		t.Errorf("%d wrong, broken %q, missing %v; want only missing", v.Wrong, v.Broken, v.Missing)
	}
	t.Log(v.Missing)
}
