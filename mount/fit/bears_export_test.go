package fit

import "sightpost/mount"

// Bears is SetMount.bears: the verdict without the margin.
func (m *SetMount) Bears(s mount.Settings) (bool, error) { return m.bears(s) }
