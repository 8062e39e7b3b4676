package mount_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// costSlack is by what part two costs may differ that should be the same: a pose
// 0.001 mm and 3e-6 rad off its target, which the search leaves, can save that.
const costSlack = 1e-5

// costOf is the cost written again from its definition.
func costOf(t *testing.T, c mount.Chain, s mount.Settings, lever float64) float64 {
	t.Helper()
	frames, err := c.Frames(s)
	if err != nil {
		t.Fatal(err)
	}
	screen := frames[len(c.Joints)].At
	sum, i := 0.0, 0
	for k, j := range c.Joints {
		if j.Motion == mount.Fixed {
			continue
		}
		unit := 100.0
		if j.Motion == mount.Turn {
			unit = 15 * deg
			at := frames[k].At // a turn does not move its own origin
			sum += lever * (math.Pow(at.X-screen.X, 2) + math.Pow(at.Y-screen.Y, 2)) / 1e4
		}
		sum += j.Effort * math.Pow((s[i]-j.Preferred)/unit, 2)
		i++
	}
	return sum
}

// The pose of the preferred settings is best reached by the preferred settings.
func TestPreferStaysAtPreferred(t *testing.T) {
	for _, name := range storedChains() {
		c := storedChain(t, name)
		got, err := c.Prefer(mustForward(t, c, c.Preferred()), nil, mount.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got.Cost > 1e-6 {
			t.Errorf("%s: cost %v at %v, want 0", name, got.Cost, got.Settings)
		}
	}
}

// Nothing found by any of 150 other starts, nor the settings the target was made
// from, is cheaper; and the cost is what its definition says.
func TestPreferIsCheapest(t *testing.T) {
	// The search ends when a step gains less than it can see; poses differ by the
	// 0.001 mm that it leaves. Both are far below a thousandth of the cost.
	const slack = 1.001
	rng := rand.New(rand.NewPCG(8, 1))
	for _, name := range storedChains() {
		c := storedChain(t, name)
		for _, lever := range []float64{0, 0.3} {
			for range 25 {
				made := randomSettings(rng, c)
				target := mustForward(t, c, made)
				got, err := c.Prefer(target, nil, mount.Options{Lever: lever})
				if err != nil {
					t.Fatal(err)
				}
				if mm, rad := apart(mustForward(t, c, got.Settings), target); mm > 0.1 || rad > 0.01*deg {
					t.Fatalf("%s: off by %v mm, %v rad", name, mm, rad)
				}
				if want := costOf(t, c, got.Settings, lever); math.Abs(got.Cost-want) > costSlack*want {
					t.Fatalf("%s: cost %v, by definition %v", name, got.Cost, want)
				}
				if other := costOf(t, c, made, lever); got.Cost > other*slack {
					t.Fatalf("%s: cost %v, but the target was made at %v", name, got.Cost, other)
				}
				more, err := c.Prefer(target, made, mount.Options{Lever: lever, Starts: 150})
				if err != nil {
					t.Fatal(err)
				}
				if got.Cost > more.Cost*slack {
					t.Errorf("%s: cost %v, 150 starts find %v", name, got.Cost, more.Cost)
				}
			}
		}
	}
}

// Along the settings that keep the pose nothing near is cheaper: neighbors are
// made by pinning one setting a little away and solving for the others.
func TestPreferIsALocalMinimum(t *testing.T) {
	c := storedChain(t, "bent")
	rng := rand.New(rand.NewPCG(8, 2))
	for range 30 {
		target := mustForward(t, c, randomSettings(rng, c))
		best, err := c.Prefer(target, nil, mount.Options{Lever: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		for i, j := range c.Moving() {
			for _, part := range []float64{-0.02, 0.02} {
				v := best.Settings[i] + part*(j.High-j.Low)
				if v < j.Low || v > j.High {
					continue
				}
				got, err := pinned(c, j.Name, v).Prefer(target, nil, mount.Options{Lever: 0.1})
				if err != nil {
					continue // the others cannot make up for it
				}
				if cost := costOf(t, c, got.Settings, 0.1); cost < best.Cost*(1-costSlack) {
					t.Errorf("%s at %s lowers the cost from %v to %v", j.Name, j.Format(v), best.Cost, cost)
				}
			}
		}
	}
}

// pinned returns c with one joint at a stop.
func pinned(c mount.Chain, name string, v float64) mount.Chain {
	joints := append([]mount.Joint{}, c.Joints...)
	for i := range joints {
		if j := &joints[i]; j.Name == name {
			j.Low, j.High, j.Preferred, j.Indexed = v, v, v, true
		}
	}
	c.Joints = joints
	return c
}

// TestLimitIsThatOfAChain: a solver with a setting limited reaches what that of a chain with
// that limit reaches, at no greater cost, whatever it has solved before.
func TestLimitIsThatOfAChain(t *testing.T) {
	c := storedChain(t, "bent")
	rng := rand.New(rand.NewPCG(8, 3))
	s, err := c.Solver()
	if err != nil {
		t.Fatal(err)
	}
	moving, places := c.Moving(), c.MovingPlaces()
	reached := 0
	for trial := range 60 {
		i := trial % len(moving)
		j := moving[i]
		low := j.Low + rng.Float64()*(j.Preferred-j.Low)
		high := j.Preferred + rng.Float64()*(j.High-j.Preferred)
		limited := c
		limited.Joints = slices.Clone(c.Joints)
		k := &limited.Joints[places[i]]
		k.Low, k.High = low, high
		target := mustForward(t, c, randomSettings(rng, c))
		want, wantErr := limited.Prefer(target, nil, mount.Options{})
		s.Limit(i, low, high)
		got, err := s.Prefer(target, nil, mount.Options{})
		s.Limit(i, j.Low, j.High)
		if !errors.Is(err, wantErr) || err == nil && got.Cost > want.Cost*(1+costSlack) {
			t.Errorf("%s from %v to %v: %v (%v), of a chain %v (%v)", j.Name, low, high, got, err, want, wantErr)
		}
		if v := got.Settings[i]; !(v >= low-1e-9 && v <= high+1e-9) {
			t.Errorf("%s is %v, from %v to %v", j.Name, v, low, high)
		}
		if err == nil {
			reached++
		}
	}
	if reached < 10 || reached > 57 {
		t.Errorf("%d of 60 reached: too few or many to show anything", reached)
	}
}

// Settings that are not allowed are passed over.
func TestPreferKeepsToWhatIsAllowed(t *testing.T) {
	c := storedChain(t, "bent")
	rng := rand.New(rand.NewPCG(8, 3))
	dearer := 0
	for range 40 {
		made := randomSettings(rng, c)
		target := mustForward(t, c, made)
		free, err := c.Prefer(target, nil, mount.Options{})
		if err != nil {
			t.Fatal(err)
		}
		const swing = 1
		edge := (free.Settings[swing] + made[swing]) / 2
		allowed := func(s mount.Settings) bool { return (s[swing] > edge) == (made[swing] > edge) }
		got, err := c.Prefer(target, nil, mount.Options{Allowed: allowed})
		if errors.Is(err, mount.ErrNotAllowed) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if !allowed(got.Settings) {
			t.Fatalf("settings %v are not allowed", got.Settings)
		}
		if got.Cost < free.Cost*(1-costSlack) {
			t.Fatalf("cost %v is below the free one, %v", got.Cost, free.Cost)
		}
		dearer++
	}
	if dearer < 30 {
		t.Errorf("only %d of 40 found an allowed solution", dearer)
	}
	target := mustForward(t, c, c.Preferred())
	none := mount.Options{Allowed: func(mount.Settings) bool { return false }}
	got, err := c.Prefer(target, nil, none)
	if mm, _ := apart(mustForward(t, c, got.Settings), target); !errors.Is(err, mount.ErrNotAllowed) || mm > 0.1 {
		t.Errorf("error %v, off by %v mm; want ErrNotAllowed at the target", err, mm)
	}
	if _, err := solve(c, target, none); !errors.Is(err, mount.ErrNotAllowed) {
		t.Errorf("error %v, want ErrNotAllowed", err)
	}
}

// Effort decides who moves: of two slides on one axis the easy one does the work,
// in the ratio of the efforts.
func TestPreferSharesByEffort(t *testing.T) {
	slide := func(name string, effort float64) mount.Joint {
		j := ranged(mount.Joint{Name: name, Origin: frame.Identity()}, mount.Slide, r3.Vec{Z: 1}, -500, 500)
		j.Effort = effort
		return j
	}
	c := mount.Chain{Joints: []mount.Joint{slide("easy", 1), slide("hard", 3)}, Tip: frame.Identity()}
	got, err := c.Prefer(frame.Translate(r3.Vec{Z: 100}), nil, mount.Options{})
	if err != nil {
		t.Fatal(err)
	}
	const tol = 0.01 // mm: the search ends with steps of 0.001 mm
	if math.Abs(got.Settings[0]-75) > tol || math.Abs(got.Settings[1]-25) > tol {
		t.Errorf("settings %v, want 75 and 25", got.Settings)
	}
}

func BenchmarkPrefer(b *testing.B) {
	for _, name := range storedChains() {
		b.Run(name, func(b *testing.B) {
			c := storedChain(b, name)
			var targets []frame.Pose
			for _, made := range family(c, "rand") {
				targets = append(targets, mustForward(b, c, made))
			}
			b.ResetTimer()
			for i := range b.N {
				if _, err := c.Prefer(targets[i%targetCount], nil, mount.Options{Lever: 0.1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
