package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strings"
	"unicode"
)

// device matches the names that Windows keeps for devices, whatever follows a dot.
var device = regexp.MustCompile(`(?i)^(CON|PRN|AUX|NUL|(COM|LPT)[0-9])(\.|$)`)

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
		if device.MatchString(part) {
			return fmt.Errorf("%q: some systems keep the name %s for a device", name, part)
		}
		if strings.TrimRight(part, ". ") != part {
			return fmt.Errorf("%q: a name must not end with a period or a space", name)
		}
	}
	return nil
}
