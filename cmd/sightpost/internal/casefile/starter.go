package casefile

import (
	"embed"
	"path"

	"sightpost/plots/units"
)

// The starters in each unit. Those in cm and in inches are made from those in mm;
// TestStarters says how.
//
//go:embed starter
var starters embed.FS

// EveryPart returns the text of an invented kit with one part of every kind, with lengths
// in units u.
func EveryPart(u units.Units) []byte { return starter(u, "every-part.yaml") }

// Starter returns the text of a commented case and of the kit that it names kit.yaml, with
// lengths in units u: the two files to begin with. Both are invented.
func Starter(u units.Units) (caseText, kitText []byte) {
	return starter(u, "case.yaml"), starter(u, "kit.yaml")
}

func starter(u units.Units, name string) []byte {
	text, _ := starters.ReadFile(path.Join("starter", u.String(), name)) // a test reads every one
	return text
}
