package mount_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"golang.org/x/sys/unix"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// TestRace prints the table of testdata/reference/race: forward pass and back-solve beside
// those of general libraries, which the program SIGHTPOST_RIVALS times on the same chains
// and the same targets in the same minute. To miss more than they do is an error; times
// are not.
func TestRace(t *testing.T) {
	rivals := os.Getenv("SIGHTPOST_RIVALS")
	if rivals == "" {
		t.Skip("testdata/reference/race runs it")
	}
	names := storedChains()
	chains := map[string]mount.Chain{}
	for _, name := range names {
		chains[name] = storedChain(t, name)
	}
	rng := rand.New(rand.NewPCG(41, 1))
	for len(names) < 6 {
		c := randomChain(rng)
		if n := len(c.Moving()); n >= 6 && !slices.ContainsFunc(c.Moving(), func(j mount.Joint) bool { return j.Indexed }) {
			name := fmt.Sprintf("random %d", len(names)-2)
			names, chains[name] = append(names, name), c
		}
	}
	t.Log("chain     settings  forward, ns (KDL)  back-solve, mean µs (boxLM, SLSQP)  95%, µs (boxLM)  missed of 2000 (boxLM, SLSQP)")
	for _, name := range names {
		c := chains[name]
		made := family(c, "rand")
		forward, took, missed := race(t, c, made)
		file := filepath.Join(t.TempDir(), "chain.txt")
		if err := os.WriteFile(file, forRivals(c, made), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.CommandContext(t.Context(), rivals, file).Output()
		if err != nil {
			t.Fatal(err)
		}
		var kdl, sum, mean, late, slsqp, slsqpLate float64
		var boxMissed, slsqpMissed int
		_, err = fmt.Sscanf(string(out), "forward %f %f\nboxLM %f %f %d\nSLSQP %f %f %d", &kdl, &sum, &mean, &late, &boxMissed, &slsqp, &slsqpLate, &slsqpMissed)
		if err != nil {
			t.Fatal(err)
		}
		own, ownLate := floats.Sum(took)/float64(len(took)), took[len(took)*95/100]
		t.Logf("%-9s %8d  %4.0f (%4.0f) %.2f   %5.1f (%5.1f, %5.1f) %12.2f   %5.1f (%5.1f) %.2f  %d (%d, %d)",
			name, len(c.Moving()), forward, kdl, forward/kdl, own, mean, slsqp, own/mean, ownLate, late, ownLate/late, missed, boxMissed, slsqpMissed)
		if missed > min(boxMissed, slsqpMissed) {
			t.Errorf("%s: more targets missed", name)
		}
	}
}

// race returns the time of a forward pass (ns), those of back-solving every target, sorted
// (µs), all of processor time, and how many targets were missed.
func race(t *testing.T, c mount.Chain, made []mount.Settings) (forward float64, took []float64, missed int) {
	t.Helper()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	k, err := c.Compile()
	if err != nil {
		t.Fatal(err)
	}
	solver, err := c.Solver()
	if err != nil {
		t.Fatal(err)
	}
	const rounds, repeats, solves = 30, 6, 3 // the same as in rivals.cpp
	sum := 0.0
	for round := range rounds {
		began := processorSeconds(t)
		for range repeats {
			for _, s := range made {
				sum += k.Pose(s).At.X
			}
		}
		if ns := (processorSeconds(t) - began) / float64(repeats*len(made)) * 1e9; round == 0 || ns < forward {
			forward = ns
		}
	}
	if sum == 0 {
		t.Error("nothing computed")
	}
	for _, s := range made {
		target, least := k.Pose(s), math.Inf(1)
		var got mount.Solution
		for range solves {
			began := processorSeconds(t)
			got, err = solver.Solve(target, mount.Options{})
			least = min(least, processorSeconds(t)-began)
		}
		took = append(took, least*1e6)
		if mm, rad := apart(k.Pose(got.Settings), target); err != nil || mm > 0.1 || rad > 0.01*deg {
			missed++
		}
	}
	slices.Sort(took)
	return forward, took, missed
}

// processorSeconds returns the processor time of this thread.
func processorSeconds(t *testing.T) float64 {
	t.Helper()
	var now unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &now); err != nil {
		t.Fatal(err)
	}
	return float64(now.Sec) + float64(now.Nsec)*1e-9
}

// forRivals writes a chain, its fixed joints joined to those that move, and the settings
// that make the targets as the rivals read them, in meters and radians.
func forRivals(c mount.Chain, made []mount.Settings) []byte {
	const meter = 1000
	var out bytes.Buffer
	vector := func(v r3.Vec) { fmt.Fprintf(&out, "%.17g %.17g %.17g ", v.X, v.Y, v.Z) }
	pose := func(p frame.Pose) {
		x, y, z := p.Rot.Apply(r3.Vec{X: 1}), p.Rot.Apply(r3.Vec{Y: 1}), p.Rot.Apply(r3.Vec{Z: 1})
		for _, row := range [3]r3.Vec{{X: x.X, Y: y.X, Z: z.X}, {X: x.Y, Y: y.Y, Z: z.Y}, {X: x.Z, Y: y.Z, Z: z.Z}} {
			vector(row)
		}
		vector(r3.Scale(1./meter, p.At))
	}
	unit := func(j mount.Joint) float64 {
		if j.Motion == mount.Slide {
			return meter
		}
		return 1
	}
	moving := c.Moving()
	fmt.Fprintln(&out, len(moving))
	origin := frame.Identity()
	for _, j := range c.Joints {
		origin = origin.Mul(j.Origin)
		if j.Motion == mount.Fixed {
			continue
		}
		fmt.Fprint(&out, j.Motion, " ")
		vector(j.Axis)
		pose(origin)
		fmt.Fprintf(&out, "%.17g %.17g\n", j.Low/unit(j), j.High/unit(j))
		origin = frame.Identity()
	}
	pose(origin.Mul(c.Tip))
	fmt.Fprintln(&out, len(made))
	for _, s := range made {
		for i, j := range moving {
			fmt.Fprintf(&out, "%.17g ", s[i]/unit(j))
		}
		fmt.Fprintln(&out)
	}
	return out.Bytes()
}
