package pictures

import (
	"maps"
	"slices"
)

// Names returns the entries that have a picture of their own.
func Names() []string { return slices.Sorted(maps.Keys(pictures())) }
