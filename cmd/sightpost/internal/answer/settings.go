package answer

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots/units"
)

// Entry is one setting as someone wrote it.
type Entry struct{ Name, Value string }

// Override puts e in the place of the entry of the same name, or at the end.
func Override(entries []Entry, e Entry) []Entry {
	for i := range entries {
		if entries[i].Name == e.Name {
			entries[i] = e
			return entries
		}
	}
	return append(entries, e)
}

// UnsetError names the settings of a mount that were not given.
type UnsetError struct{ Names []string }

func (e *UnsetError) Error() string { return "not set: " + strings.Join(e.Names, ", ") }

// settingsOf returns the settings of a chain from entries, one for every joint
// that moves. The error names everything that is wrong with them, an [UnsetError]
// last.
func settingsOf(c mount.Chain, entries []Entry) (mount.Settings, error) {
	moving := c.Moving()
	given := make(map[string]string, len(entries))
	var wrong []error
	for _, e := range entries {
		given[e.Name] = e.Value
		if !slices.ContainsFunc(moving, func(j mount.Joint) bool { return j.Name == e.Name }) {
			wrong = append(wrong, unknownSetting(e.Name, moving))
		}
	}
	settings := make(mount.Settings, len(moving))
	var missing []string
	for i, j := range moving {
		text, ok := given[j.Name]
		if !ok {
			missing = append(missing, j.Name)
			continue
		}
		var err error
		if settings[i], err = settingOf(j, text); err != nil {
			wrong = append(wrong, err)
		}
	}
	if len(missing) > 0 {
		wrong = append(wrong, &UnsetError{missing})
	}
	return settings, errors.Join(wrong...)
}

// SettingNames returns the names of the settings of the case's mount, clamped on that side
// if it may be on either; none without a mount or a side.
func (c *Case) SettingNames(side string) []string {
	var unset *UnsetError
	if _, err := checked(context.Background(), AsFound{Side: side}, &c.Job); errors.As(err, &unset) {
		return unset.Names
	}
	return nil
}

// unknownSetting says that there is no setting of that name, and which is near.
func unknownSetting(name string, moving []mount.Joint) error {
	names := make([]string, 0, len(moving))
	for _, j := range moving {
		names = append(names, j.Name)
	}
	if near := casefile.Nearest(name, names); near != "" {
		return fmt.Errorf("unknown setting %q: did you mean %s?", name, near)
	}
	return fmt.Errorf("unknown setting %q: this mount has %s", name, strings.Join(names, ", "))
}

// writtenTo is how near to a limit or a stop a written value counts as that: what
// six decimals of mm or of degrees leave open.
const writtenTo = 1e-6

// writtenAs reports whether v is how a limit or stop of j is written: in full, or rounded
// as people are told it, to decimals of a mm or degree, half degrees or sixteenths of an
// inch.
func writtenAs(j mount.Joint, v, at float64) bool {
	unit, scale := 1.0, units.Inch.MM()/16
	if j.Motion == mount.Turn {
		unit, scale = frame.Degree.Radians(), 0.5
	}
	for _, fine := range [...]float64{1, scale, 0.1, 0.01, 0.001} {
		fine *= unit
		if math.Abs(math.Round(at/fine)*fine-v) <= writtenTo {
			return true
		}
	}
	return math.Abs(at-v) <= writtenTo
}

// settingOf returns the setting of j written in text, in mm or radians.
func settingOf(j mount.Joint, text string) (float64, error) {
	v, err := quantity(j, text)
	if err != nil {
		return 0, fmt.Errorf("%s: %s", j.Name, strings.TrimPrefix(err.Error(), "casefile: "))
	}
	if held := j.Clamp(v); held != v {
		if !writtenAs(j, v, held) {
			return 0, fmt.Errorf("%s: %s is outside %s to %s", j.Name, text, written(j, j.Low, text), written(j, j.High, text))
		}
		v = held
	}
	if stop := j.Round(v); j.Indexed {
		if !writtenAs(j, v, stop) {
			below, above := j.Neighbours(v)
			return 0, fmt.Errorf("%s: %s is not a stop; the nearest are %s and %s", j.Name, text, written(j, below, text), written(j, above, text))
		}
		v = stop
	}
	return v, nil
}

// written returns v, a value of j, for whoever wrote text: in its unit.
func written(j mount.Joint, v float64, text string) string {
	text = strings.TrimSpace(text)
	switch {
	case j.Motion == mount.Turn:
	case strings.HasSuffix(text, "in"), strings.HasSuffix(text, `"`):
		return units.Inch.Length(v)
	case strings.HasSuffix(text, "cm"):
		return units.CM.Length(v)
	}
	return j.Format(v)
}

// quantity returns the length (mm) or angle (radians) written in text.
func quantity(j mount.Joint, text string) (float64, error) {
	if j.Motion == mount.Turn {
		a, err := casefile.ParseTurn(text)
		return a.Radians(), err
	}
	return casefile.ParseLength(text)
}
