package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"
)

// isDevice reports whether Windows keeps a name for a device, whatever follows a dot.
func isDevice(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	port := len(stem) == 4 && unicode.IsDigit(rune(stem[3])) && slices.Contains([]string{"COM", "LPT"}, stem[:3])
	return port || slices.Contains([]string{"CON", "PRN", "AUX", "NUL"}, stem)
}

// CheckName returns an error unless every system takes a path for that of a file within a
// folder, and shows it as it is.
func CheckName(name string) error {
	hidden := func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }
	if name == "" || name == "." {
		return errors.New("a file has no name")
	}
	if !fs.ValidPath(name) || strings.ContainsAny(name, `\:*?"<>|`) || strings.ContainsFunc(name, hidden) {
		return fmt.Errorf("%q: not a valid name; use letters, digits, - and _, with / between folders", name)
	}
	for part := range strings.SplitSeq(name, "/") {
		if isDevice(part) {
			return fmt.Errorf("%q: some systems keep the name %s for a device", name, part)
		}
		if strings.TrimRight(part, ". ") != part {
			return fmt.Errorf("%q: a name must not end with a period or a space", name)
		}
	}
	return nil
}
