package answer

import (
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// TestWordsAreAccepted sets the mount of every shipped case at random, writes the settings down
// in words, left, right and so on for their signs, and types them back.
func TestWordsAreAccepted(t *testing.T) {
	const halfDegree = 0.009 // rad: to what the turns of a plate on a ball are read
	files, err := filepath.Glob("../../../../testdata/cases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	rng := rand.New(rand.NewPCG(20, 6))
	below := map[string]int{}
	for _, file := range files {
		text, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := Read(file, text, func(kit string) (io.ReadCloser, error) { return os.Open(filepath.Join(filepath.Dir(file), kit)) })
		if err != nil {
			t.Fatal(err)
		}
		for range 5 {
			at := rng.IntN(len(c.Job.Mount.Mountings))
			chain, err := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[at])
			if err != nil {
				t.Fatal(err)
			}
			var set mount.Settings
			for _, j := range chain.Moving() {
				set = append(set, j.Round(j.Low+(j.High-j.Low)*rng.Float64()))
			}
			r, err := fit.Check(t.Context(), &c.Job, at, set)
			if err != nil {
				t.Fatal(err)
			}
			for _, u := range []units.Units{units.MM, units.CM, units.Inch} {
				var found AsFound
				for _, told := range document.SettingsTold(r) {
					words := told.Words().In(u)
					found.Settings = append(found.Settings, Entry{Name: told.Name, Value: words})
					if told.Value < 0 {
						below[told.Plus]++
					}
				}
				back, err := settingsOf(&c.Job, chain, found)
				if err != nil {
					t.Errorf("%s: %v: %v", file, found.Settings, err)
					continue
				}
				if first := chain.LastBall(); first >= 0 {
					was, is := chain.AppendFrames(nil, set), chain.AppendFrames(nil, back)
					if off := was[len(was)-1].Rot.Inverse().Mul(is[len(is)-1].Rot).Angle().Radians(); !(off <= 2*halfDegree) {
						t.Errorf("%s: %v turns the plate by %.4f rad", file, found.Settings, off)
					}
					copy(back[first:first+3], set[first:])
				}
				for i, j := range chain.Moving() {
					if u == units.Inch && j.Motion == mount.Slide {
						j.Step = units.Inch.MM() / 16
					}
					if diff := back[i] - set[i]; !(diff <= j.Step/2+1e-9 && diff >= -j.Step/2-1e-9) {
						t.Errorf("%s: %s: %v becomes %v by %q", file, j.Name, set[i], back[i], found.Settings[i].Value)
					}
				}
			}
		}
	}
	for _, plus := range []string{"left", "up", "back", "forward", "right up"} {
		if below[plus] == 0 {
			t.Errorf("nothing is set the other way than %s: the test tries too little", plus)
		}
	}
}
