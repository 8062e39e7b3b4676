package page

import (
	"errors"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/mount"
)

// standing is a setting of the mount as found, for the form.
type standing struct {
	Name, ID, Label string
	Value           string
	// Found is the value that was found, "" if none was looked for.
	Found          string
	Unit, UnitName string
	Range, Problem string
}

// mounted is what the form of the settings as found says.
type mounted struct {
	Settings []standing
	// Stands says that the settings are those on the mount, and are not to be found.
	Stands bool
	// Either says that the case leaves the side open; Side is the one chosen.
	Either  bool
	Side    string
	Problem string
}

// mounted returns the form of the settings as found, or nil if the case has no mount
// that is sound.
func (st *state) mounted(w worked) *mounted {
	if w.given == nil || w.given.Job.Mount == nil {
		return nil
	}
	job := w.given.Job.Mount
	chain, err := job.Kit.Chain(job.Mountings[0])
	if err != nil {
		return nil // the case would not have been read
	}
	m := &mounted{Stands: st.Stands, Either: len(job.Mountings) > 1, Side: st.Side}
	typed := map[string]string{}
	for _, e := range st.Settings {
		typed[e.Name] = e.Value
	}
	found := st.found(w)
	for _, j := range chain.Moving() {
		s := standing{
			Name: j.Name, ID: "s-" + strings.NewReplacer(".", "-", "_", "-").Replace(j.Name),
			Label: strings.NewReplacer(".", " ", "_", " ").Replace(j.Name), Value: typed[j.Name], Found: found[j.Name],
			Unit: "mm", UnitName: "mm", Range: j.Format(j.Low) + " to " + j.Format(j.High),
		}
		if j.Motion == mount.Turn {
			s.Unit, s.UnitName = "°", "deg"
		}
		m.Settings = append(m.Settings, s)
	}
	m.problems(w.err)
	return m
}

// found returns the settings that were found, as they would be typed.
func (st *state) found(w worked) map[string]string {
	all := map[string]string{}
	if w.placed == nil || w.placed.Result.Set == nil || st.Stands {
		return all
	}
	set := w.placed.Result.Set
	for i, j := range set.Chain.Moving() {
		all[j.Name] = strings.TrimSuffix(strings.TrimSuffix(j.Format(set.Settings[i]), " mm"), "°")
	}
	return all
}

// problems puts what is wrong with the settings beside them, and what is wrong with
// none in particular under all.
func (m *mounted) problems(err error) {
	if err == nil || !m.Stands {
		return
	}
	var unset *answer.UnsetError
	if errors.As(err, &unset) {
		for i := range m.Settings {
			for _, name := range unset.Names {
				if m.Settings[i].Name == name {
					m.Settings[i].Problem = "not set"
				}
			}
		}
	}
	var others []string
	for line := range strings.Lines(err.Error()) {
		line = strings.TrimSpace(line)
		at := m.named(line)
		switch {
		case at >= 0:
			m.Settings[at].Problem = plainWords(errors.New(line))
		case !strings.HasPrefix(line, "not set: "):
			others = append(others, plainWords(errors.New(line)))
		}
	}
	m.Problem = strings.Join(others, "; ")
}

// named returns the place of the setting that a message is about, -1 if it is about
// none.
func (m *mounted) named(line string) int {
	for i, s := range m.Settings {
		if strings.HasPrefix(line, s.Name+": ") || strings.Contains(line, `"`+s.Name+`"`) {
			return i
		}
	}
	return -1
}

// restands reports whether the form of how the mount is set has other fields than on
// the page that asked. What was said of the mount outlasts a slip in the measures.
func (q *request) restands(m *mounted) bool {
	if m == nil {
		return false
	}
	asked := 0
	for name := range q.Form {
		if strings.HasPrefix(name, settingField) {
			asked++
		}
	}
	for _, s := range m.Settings {
		if !q.Form.Has(settingField + s.Name) {
			return true
		}
	}
	return asked != len(m.Settings) || m.Either != q.Form.Has("side")
}
