package sheet

import "fmt"

// Paper is a size of paper, upright. The zero value is A4.
type Paper int

// The papers.
const (
	A4 Paper = iota
	Letter
)

// PaperNamed returns the paper called name: "a4" or "letter".
func PaperNamed(name string) (Paper, error) {
	switch name {
	case "a4":
		return A4, nil
	case "letter":
		return Letter, nil
	}
	return A4, fmt.Errorf("unknown paper %q: choose a4 or letter", name)
}

// String returns the name of the paper as style sheets have it.
func (p Paper) String() string {
	if p == Letter {
		return "letter"
	}
	return "A4"
}

// size returns width and height in mm: ISO 216 for A4, and 8 1/2 by 11 inches.
func (p Paper) size() (width, height float64) {
	if p == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// edge is the margin of the page on every side (mm): what common printers leave
// blank, and a little more.
const edge = 9
