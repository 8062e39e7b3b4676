package fit_test

import (
	"testing"
	"fmt"

	"sightpost/mount"
	"sightpost/mount/fit"
)

func short() *fit.Job {
	job := adult()
	job.Mount.Kit.Parts[1] = func() mount.Tube { t := job.Mount.Kit.Parts[1].(mount.Tube); t.Slide = slide(340, 420); return t }()
	job.Mount.Kit.Parts[2] = func() mount.Elbow { t := job.Mount.Kit.Parts[2].(mount.Elbow); t.Rise = mount.Range{}; return t }()
	return job
}

func TestTmp(t *testing.T) {
	for _, job := range []*fit.Job{adult(), short()} {
	r, err := fit.Solve(job)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Printf("target %+v\nscore %.2f margin %.2f\n", r.Target.Aim, r.Target.Score, r.Target.MarginMM)
	fmt.Println(r.Works, r.Why, r.Set.Reached, r.Set.OffMM, r.Set.Off.Degrees(), r.MarginMM(), r.Postures[0].Share)
	for i, j := range r.Set.Chain.Moving() {
		fmt.Println(j.Name, j.Format(r.Set.Settings[i]), r.Set.Exact[i])
	}
	for _, h := range r.Set.Held {
		fmt.Println(h.Joint.Name, h.High, h.NeedMM, h.Need, h.Gain)
	}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, job := range []*fit.Job{adult(), short()} {
		b.Run("", func(b *testing.B) {
	for b.Loop() {
		fit.Solve(job)
	}
	})
	}
}
