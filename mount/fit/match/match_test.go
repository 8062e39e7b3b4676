package match_test

import (
	"context"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/fit/internal/fittest"
	"sightpost/mount/fit/match"
)

// sides are two places on the adult's chair, mirror images of each other.
func sides() []mount.Mounting {
	return []mount.Mounting{
		{ClampMM: r3.Vec{X: 380, Y: 260, Z: 430}},
		{ClampMM: r3.Vec{X: 380, Y: -260, Z: 430}, Side: mount.OnRight},
	}
}

// stunted is the offset kit with a post too short for the adult and no hinge to
// make up for it.
func stunted() mount.Kit {
	k := fittest.OffsetKit()
	k.Name = "stunted"
	post := k.Parts[1].(mount.Tube)
	post.Slide = fittest.Slide(340, 350)
	k.Parts[1] = post
	k.Parts[2] = mount.Elbow{Name: "elbow", Pan: fittest.Turn(-170, 170, 1), ElevationToEndMM: r3.Vec{X: 40}}
	return k
}

// heavy is the offset kit with an elbow of half a kilogram.
func heavy() mount.Kit {
	k := fittest.OffsetKit()
	k.Name = "heavy"
	elbow := k.Parts[2].(mount.Elbow)
	elbow.MassKG = 0.5
	k.Parts[2] = elbow
	return k
}

func TestRankRanks(t *testing.T) {
	job := fittest.Adult()
	job.Preferences.MarginMM = 90
	candidates := []match.Candidate{
		{Kit: stunted(), Places: sides()},
		{Kit: heavy(), Places: sides()[:1]},
		{Kit: fittest.OffsetKit(), Places: sides()},
	}
	got, _, err := match.Rank(t.Context(), job, candidates, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 5 {
		t.Fatalf("%d ranked, want 5", len(got))
	}
	var order []string
	for i, r := range got {
		order = append(order, candidates[r.Candidate].Kit.Name)
		alone := *job
		alone.Mount = &fit.MountJob{Kit: candidates[r.Candidate].Kit, Mountings: candidates[r.Candidate].Places[r.Place : r.Place+1]}
		if want := fittest.Solve(t, &alone).MarginMM(); r.MarginMM != want {
			t.Errorf("%s, place %d: margin %v, alone %v", order[i], r.Place, r.MarginMM, want)
		}
		if last := i == len(got)-1; (len(r.Reasons) == 0) != last {
			t.Errorf("%s, place %d: reasons %v", order[i], r.Place, r.Reasons)
		}
	}
	if want := []string{"offset two-tube", "offset two-tube", "heavy", "stunted", "stunted"}; !cmp.Equal(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
	if got[1].Reasons[0] != (match.Reason{Criterion: match.Lighter}) {
		t.Errorf("reasons %v for the lighter of two kits", got[1].Reasons)
	}
	if r := got[2].Reasons[0]; r != (match.Reason{Criterion: match.Works}) {
		t.Errorf("reason %v", r)
	}
	if last := got[4]; last.Result.Works || last.ShortMM <= 0 || len(last.Result.Set.BindingLimits) == 0 {
		t.Errorf("the short kit works %v, is short of %v mm and is held by %v", last.Result.Works, last.ShortMM, last.Result.Set.BindingLimits)
	}
	const wantKG, tolerance = 0.5, 0.01 // it sags more, which may take a longer arm
	if more := got[2].CarriedKG - got[0].CarriedKG; math.Abs(more-wantKG) > tolerance {
		t.Errorf("the heavy elbow adds %v kg, want %v kg", more, wantKG)
	}
}

func TestRankIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	candidates := []match.Candidate{
		{Kit: fittest.OffsetKit(), Places: sides()}, {Kit: stunted(), Places: sides()},
	}
	var first []float64
	for _, workers := range []int{1, 3, runtime.GOMAXPROCS(0)} {
		got, _, err := match.Rank(t.Context(), fittest.Adult(), candidates, match.Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		var all []float64
		for _, r := range got {
			all = append(all, float64(r.Candidate), float64(r.Place), r.MarginMM, r.CarriedKG, float64(r.Touch))
			all = append(all, r.Result.Set.Settings...)
		}
		if first == nil {
			first = all
		} else if !cmp.Equal(first, all) {
			t.Errorf("%d workers: %v\n1 worker: %v", workers, all, first)
		}
	}
}

// TestRankRanksByShare lets the share of simulations decide between mirror images.
func TestRankRanksByShare(t *testing.T) {
	share := func(_ context.Context, r *fit.Result) (float64, error) {
		if r.Set.Side == mount.OnRight {
			return 0.97, nil
		}
		return 0.93, nil
	}
	got, _, err := match.Rank(t.Context(), fittest.Adult(), []match.Candidate{{Kit: fittest.OffsetKit(), Places: sides()}}, match.Options{Share: share})
	if err != nil {
		t.Fatal(err)
	}
	if got[0].Place != 1 || *got[0].Share != 0.97 || got[0].Reasons[0] != (match.Reason{Criterion: match.TracksMore}) {
		t.Errorf("first at place %d with %v: %v", got[0].Place, *got[0].Share, got[0].Reasons)
	}
}

func TestRankEndsWhenCanceled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	candidates := []match.Candidate{{Kit: fittest.OffsetKit(), Places: sides()}}
	if _, _, err := match.Rank(ctx, fittest.Adult(), candidates, match.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want %v", err, context.Canceled)
	}
}

// TestRankTellsWhatItCannotJudge: what cannot be judged does not keep the others from being
// ranked, and is told with its place and why.
func TestRankTellsWhatItCannotJudge(t *testing.T) {
	noShare := errors.New("no share")
	share := func(_ context.Context, r *fit.Result) (float64, error) {
		if r.Set.Side == mount.OnRight {
			return 0, noShare
		}
		return 1, nil
	}
	candidates := []match.Candidate{
		{Kit: mount.Kit{Name: "nothing"}, Places: sides()},
		{Kit: fittest.OffsetKit(), Places: sides()},
	}
	ranked, unjudged, err := match.Rank(t.Context(), fittest.Adult(), candidates, match.Options{Share: share})
	if err != nil || len(ranked) != 1 || ranked[0].Candidate != 1 || ranked[0].Place != 0 || len(ranked[0].Reasons) != 0 {
		t.Fatalf("error %v; ranked %+v, want the offset kit on the left alone", err, ranked)
	}
	want := []struct {
		candidate, place int
		err              error
	}{{0, 0, fit.ErrJob}, {0, 1, fit.ErrJob}, {1, 1, noShare}}
	if len(unjudged) != len(want) {
		t.Fatalf("unjudged %+v, want %d", unjudged, len(want))
	}
	for i, w := range want {
		if u := unjudged[i]; u.Candidate != w.candidate || u.Place != w.place || !errors.Is(u.Err, w.err) {
			t.Errorf("unjudged %+v, want %+v", u, w)
		}
	}
}

func TestRankRefuses(t *testing.T) {
	for name, candidates := range map[string][]match.Candidate{
		"no candidate": nil,
		"no place":     {{Kit: fittest.OffsetKit()}},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, err := match.Rank(t.Context(), fittest.Adult(), candidates, match.Options{})
			if !errors.Is(err, fit.ErrJob) || !strings.Contains(err.Error(), "no candidate") {
				t.Errorf("error %v; want %v that says there is none", err, fit.ErrJob)
			}
		})
	}
}
