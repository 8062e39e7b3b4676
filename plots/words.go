package plots

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/plot/vg"

	"sightpost/gaze"
	"sightpost/mount"
	"sightpost/plots/units"
)

// spoken returns a name of a part or a posture as people read it: files join
// words by underscores.
func spoken(name string) string { return plain(strings.ReplaceAll(name, "_", " ")) }

// legible returns a text as a figure can show it: on one line, without characters that
// a drawing cannot hold.
func legible(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r >= utf8.RuneError {
			return ' '
		}
		return r
	}, text))
}

// plain returns a name as a figure can show it, and no longer than a margin has space
// for.
func plain(name string) string { return shortened(legible(name), 32) }

// shortened returns text of longest characters at most.
func shortened(text string, longest int) string {
	if r := []rune(text); len(r) > longest {
		text = string(r[:longest-1]) + "…"
	}
	return strings.TrimSpace(text)
}

// jointWords returns the name of a joint in words: "plate_joint.pan" is "plate
// joint pan". One of the turns of a ball is called by the ball. Of a long name the part is
// cut, not what moves.
func jointWords(j mount.Joint) string {
	part, moves, _ := strings.Cut(j.Name, ".")
	if moves == "lean_toward" || moves == "lean" || moves == "spin" {
		moves = ""
	}
	part, moves = spoken(part), spoken(moves)
	const longest = 30
	return strings.TrimSpace(shortened(part, max(8, longest-len([]rune(moves)))) + " " + moves)
}

// settingWords returns a value of a joint as it is read: an angle in degrees to the digits of the
// joint's step, a length in units: between whole mm to what its step needs.
func settingWords(u units.Units, j mount.Joint, v float64) string {
	if j.Motion == mount.Turn || j.Counted() {
		if j.Stiffness.AnyAxis {
			j.Step = 0 // a plate between its steps, to a tenth of a degree
		}
		return j.Format(v)
	}
	v = j.Scale.Shown(v)
	if u == units.Inch || whole(v) || !whole(10*j.Step) { // a tape in mm shows no step in inches
		return u.Length(v)
	}
	return units.UpTo(u.Of(v), 3) + " " + u.String()
}

// whole reports whether v is a whole number, but for rounding.
func whole(v float64) bool { return math.Abs(math.Round(v)-v) < 1e-6 }

// axisName returns the name of an axis, if it has one, with its units.
func axisName(name string, u units.Units) string {
	if name == "" {
		return ""
	}
	return name + " (" + u.String() + ")"
}

// endWords say in a few words which condition limits the eyes.
var endWords = [...]string{
	gaze.TooNear: "too near", gaze.TooFar: "too far",
	gaze.PastLeft: "tracking volume, left", gaze.PastRight: "tracking volume, right",
	gaze.PastTop: "tracking volume, top", gaze.PastBottom: "tracking volume, bottom",
	gaze.GazeLimit:  "gaze-angle limit",
	gaze.BeyondLeft: "gaze range, left", gaze.BeyondRight: "gaze range, right",
	gaze.BeyondUp: "gaze range, up", gaze.BeyondDown: "gaze range, down",
}

// fitted returns text no wider than width: cut, with an ellipsis, where it is.
func fitted(text string, width vg.Length) string {
	if lettering.Width(text) <= width {
		return text
	}
	r := []rune(text)
	for n := len(r) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(r[:n]), " ,") + "…"; lettering.Width(cut) <= width {
			return cut
		}
	}
	return ""
}

// wrapped returns text in lines no wider than width, most of them at most. What
// does not fit into the last is cut.
func wrapped(text string, width vg.Length, most int) []string {
	if lettering.Width(text) <= width {
		return []string{text}
	}
	var lines []string
	line := ""
	words := strings.Fields(text)
	for i, word := range words {
		longer := strings.TrimSpace(line + " " + word)
		if line == "" || lettering.Width(longer) <= width {
			line = longer
			continue
		}
		if len(lines) == most-1 {
			return append(lines, fitted(line+" "+strings.Join(words[i:], " "), width))
		}
		lines = append(lines, fitted(line, width))
		line = word
	}
	return append(lines, fitted(line, width))
}
