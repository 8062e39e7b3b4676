package casefile

import _ "embed" // the starter files

//go:embed starter/case.yaml
var starterCase string

//go:embed starter/kit.yaml
var starterKit string

// Starter returns the text of a commented case and of the kit that it names
// kit.yaml: the two files to begin with. Both are invented.
func Starter() (caseText, kitText []byte) { return []byte(starterCase), []byte(starterKit) }
