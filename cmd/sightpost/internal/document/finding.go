package document

import "sightpost/plots/units"

// Finding is something that fails, that would help, or that needs attention.
type Finding struct {
	// What kind of finding it is.
	Kind string `json:"kind"`
	// Name of the posture concerned, if any.
	Posture string `json:"posture,omitempty"`
	// The part of the mount, the setting, or "housing", if any.
	Part string `json:"part,omitempty"`
	// Name of the keep-clear zone, if any.
	Space string `json:"space,omitempty"`
	// Its numbers, by name and unit.
	Values map[string]float64 `json:"values,omitempty"`
	// The same in words, lengths in mm.
	Text Text `json:"text"`

	plain Text // without what to try next, where that is being tried
}

// found returns a finding.
func found(kind string, t Text) Finding { return Finding{Kind: kind, Text: t} }

// Texts returns findings in words.
func Texts(all []Finding, u units.Units) []string {
	words := make([]string, len(all))
	for i := range all {
		words[i] = all[i].Text.In(u)
	}
	return words
}
