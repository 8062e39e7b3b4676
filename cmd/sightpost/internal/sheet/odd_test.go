package sheet_test

import (
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// oddSources returns what sheets of cases are made from that are as full as any
// could be, as empty, or told in odd letters.
func oddSources(t *testing.T) map[string]sample {
	t.Helper()
	return map[string]sample{
		"two arms":           twoArms(t, ""),
		"two arms, long":     twoArms(t, "scale on its own axis, counted in degrees from the mark that the clinic has engraved on it, to the left"),
		"place only":         placeOnly(t, "upright-adult"),
		"place only, no use": noUse(t),
		"checked":            checked(t, "upright-adult"),
		"odd letters":        oddLetters(t),
	}
}

// twoArms returns a case on a mount with two elbows and two arms: 15 settings, of
// which two are read as the kit says if it says how.
func twoArms(t *testing.T, read string) sample {
	t.Helper()
	c := readCase(t, "upright-adult")
	if err := c.SetKit("kits/two-arms.yaml", twoArmKit(read)); err != nil {
		t.Fatal(err)
	}
	return solved(t, c)
}

// twoArmKit is an invented mount.
func twoArmKit(read string) mount.Kit {
	degree := frame.Degree.Radians()
	turn := func(low, high float64) mount.Range {
		return mount.Range{Low: low * degree, High: high * degree, Step: degree}
	}
	slide := func(low, high float64) mount.Range {
		return mount.Range{Low: low, High: high, Step: 1, Preferred: (low + high) / 2}
	}
	index := turn(-90, 180)
	index.Step, index.Indexed = 90*degree, true
	tube := mount.Section{OutsideMM: 25, WallMM: 2, Material: mount.Material{
		Name: "EN AW-6082-T6", YoungMPa: 70000, ShearMPa: 26300, DensityKGM3: 2700, YieldMPa: 260,
	}}
	elbow := func(name string) mount.Elbow {
		e := mount.Elbow{Name: name, Pan: turn(-170, 170), Elevation: turn(-60, 60)}
		e.Pan.Read = read
		return e
	}
	return mount.Kit{Name: "two arms, invented", RatedKG: 3, Parts: []mount.Part{
		mount.Clamp{Name: "clamp", Index: index},
		mount.Tube{Name: "post", Section: tube, Slide: slide(200, 600), Turn: turn(-180, 180)},
		elbow("elbow"),
		mount.Tube{Name: "arm", Runs: mount.Ahead, Section: tube, Slide: slide(120, 400), Turn: turn(-90, 90)},
		elbow("second_elbow"),
		mount.Tube{Name: "second_arm", Runs: mount.Ahead, Section: tube, Slide: slide(120, 400), Turn: turn(-90, 90)},
		mount.Turns{Name: "plate_joint", Pan: turn(-95, 95), Tilt: turn(-80, 80), Roll: turn(-45, 45)},
		mount.Plate{Name: "plate"},
	}}
}

// withoutMount returns a shipped case without its mount.
func withoutMount(t *testing.T, name string) *casefile.Case {
	t.Helper()
	c := readCase(t, name)
	c.Job.Mount = nil
	return c
}

func placeOnly(t *testing.T, name string) sample {
	t.Helper()
	return solved(t, withoutMount(t, name))
}

// noUse returns a case whose head moves farther than the tracker sees.
func noUse(t *testing.T) sample {
	t.Helper()
	c := withoutMount(t, "upright-adult")
	c.Job.Scene.Person.MovementMM.X = 200
	return solved(t, c)
}

// checked returns a case checked at settings between those that can be read.
func checked(t *testing.T, name string) sample {
	t.Helper()
	c := readCase(t, name)
	chain, err := c.Job.Mount.Kit.Chain(c.Job.Mount.Mountings[0])
	if err != nil {
		t.Fatal(err)
	}
	settings := make(mount.Settings, len(chain.Moving()))
	for i, j := range chain.Moving() {
		settings[i] = j.Clamp(j.Preferred + 0.4*j.Step)
	}
	r, err := fit.Check(t.Context(), &c.Job, 0, settings)
	if err != nil {
		t.Fatal(err)
	}
	return sourceOf(t, document.Check, c, r)
}

// oddLetters returns a case whose words are in letters that the font lacks, or mean
// something to a page.
func oddLetters(t *testing.T) sample {
	t.Helper()
	c := readCase(t, "upright-adult")
	c.Label, c.Note = "漢字 <b>&amp; \U0001F600", strings.Repeat("W", 300)+"\n</style><script>alert(1)</script>"
	c.KitNote = "\x00\xff\ufeff"
	c.Job.Postures[0].Name = "</title> ﷺ"
	return solved(t, c)
}
