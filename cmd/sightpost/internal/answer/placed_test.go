package answer_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
	"sightpost/testdata/trials"
)

func TestMain(m *testing.M) { trials.Main(m) }

// TestReportsTogether: several ask for the report of one refusal at the same time, as
// windows of the page do. Each is told what is proved, and none of one that was given up.
func TestReportsTogether(t *testing.T) {
	caseText, kitText := casefile.Starter(units.MM)
	demanding := strings.Replace(string(caseText), "  margin: 20 mm", "  margin: 400 mm", 1)
	c, err := answer.Read("case", strings.NewReader(demanding), func(string) (io.ReadCloser, error) {
		return io.NopCloser(bytes.NewReader(kitText)), nil
	})
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Place(t.Context(), answer.AsFound{})
	if err != nil {
		t.Fatal(err)
	}
	given, giveUp := context.WithCancel(t.Context())
	giveUp()
	if _, err := p.Report(given); !errors.Is(err, context.Canceled) {
		t.Errorf("a report that was given up: %v", err)
	}
	var bounds [2]float64
	var both sync.WaitGroup
	for i := range bounds {
		both.Go(func() {
			rep, err := p.Report(t.Context())
			if err != nil || rep.BoundMM == nil {
				t.Errorf("%v, without a bound", err)
				return
			}
			bounds[i] = *rep.BoundMM
		})
	}
	both.Wait()
	if bounds[0] != bounds[1] || bounds[0] >= p.Job.Preferences.MarginMM || p.Result.Bound != nil {
		t.Errorf("bounds %v of %v mm, result %v", bounds, p.Job.Preferences.MarginMM, p.Result.Bound)
	}
}
