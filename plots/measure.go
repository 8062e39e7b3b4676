package plots

import (
	"slices"
	"strings"
)

// measure is a drawing of what an entry of a case file means.
type measure struct {
	key   string // with points between its parts and without places in lists
	where string // from where to where the arrow leads
	draw  func() *sketch
}

// Measure returns the small drawing of what an entry of a case file measures, by
// the entry's key with points between its parts, as in "measured.eyes.up" or
// "postures.2.head.flexion"; places in lists do not matter. It returns false for an
// entry that is no measure.
//
// The drawings are of invented people and things, not to scale, and black on white.
func Measure(key string) (Figure, bool) {
	key = measureKey(key)
	for _, m := range allMeasures() {
		if m.key == key {
			f, err := m.draw().figure(m.where)
			return f, err == nil
		}
	}
	return Figure{}, false
}

// Measured returns the keys of all entries that have a drawing, sorted, without
// places in lists.
func Measured() []string {
	var keys []string
	for _, m := range allMeasures() {
		keys = append(keys, m.key)
		if rest, ok := strings.CutPrefix(m.key, "measured."); ok {
			keys = append(keys, "postures."+rest)
		}
	}
	slices.Sort(keys)
	return keys
}

// allMeasures returns the drawings of all measures.
func allMeasures() []measure {
	return slices.Concat(
		sittingMeasures(), headMeasures(), personMeasures(), bodyMeasures(), chairMeasures(), chairPartMeasures(),
		trackerMeasures(), screenMeasures(), preferencesMeasures(), keepMeasures(), clampMeasures(), passageMeasures(),
	)
}

// measureKey returns a key without places in lists, and with the entries of a
// posture as those of the measured sitting, which mean the same.
func measureKey(key string) string {
	var parts []string
	for part := range strings.SplitSeq(strings.NewReplacer("[", ".", "]", "").Replace(key), ".") {
		if strings.Trim(part, "0123456789") != "" {
			parts = append(parts, part)
		}
	}
	key = strings.Join(parts, ".")
	if rest, ok := strings.CutPrefix(key, "postures."); ok && rest != "slump" {
		return "measured." + rest
	}
	return key
}
