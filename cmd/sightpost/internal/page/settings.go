package page

import (
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// mounted is what the form of the settings as found says.
type mounted struct {
	// Settings are by their names. What is assumed of one is what was found, if it was
	// looked for.
	Settings []*entry
	// Either says that the case leaves the side open.
	Either  bool
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
	m := &mounted{Either: len(job.Mountings) > 1}
	var found []answer.Entry
	at := chain.Preferred()
	if w.placed != nil && w.placed.Result.Set != nil && len(w.placed.Result.Set.Settings) == len(at) {
		at = w.placed.Result.Set.Settings
	}
	if w.placed != nil {
		found = answer.Typed(w.placed.Result, st.Units).Settings
	}
	for i, j := range chain.Told() {
		e := &entry{
			Path: j.Name, ID: "s-" + dashed.Replace(j.Name),
			Label: wordsOf.Replace(j.Name),
		}
		words, low, high := document.SettingRange(chain, at, i)
		e.Range, e.UnitName, e.Ways = words.In(st.Units), low.Unit, low.Ways()
		size := 1.0
		if low.Unit == "mm" {
			size, e.UnitName = st.Units.MM(), st.Units.String()
		}
		const sixteenth = 1. / 16
		if e.Step = units.UpTo(low.Step/size, 3); e.UnitName == "in" && low.Step/size < sixteenth+1e-9 {
			e.Step = "0.0625" // what a tape shows, and the field says
		}
		if !low.Plate { // whose limit is that of its stem
			e.Low, e.High = units.UpTo(low.Value/size, 3), units.UpTo(high.Value/size, 3)
		}
		for _, typed := range st.Settings {
			if typed.Name == j.Name {
				e.Value = typed.Value
			}
		}
		bare := isNumber(e.Value) && low.Unit == "mm" && st.Shown != st.Units
		switch {
		case len(found) > i && !st.AsFound:
			e.Assumed = found[i].Value + " computed"
		case len(found) > i && (st.Shown != st.Units || inFull().MatchString(e.Value)):
			e.Value = found[i].Value
		case bare: // typed beside another unit
			e.Value += " " + st.Shown.String()
		}
		m.Settings = append(m.Settings, e)
	}
	if w.err != nil && st.AsFound {
		m.note(w.err)
	}
	return m
}

// inFull matches a setting as a file has it.
var inFull = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^-?[0-9.]+ (mm|deg|stop)$`) })

// isNumber reports whether a text is a number without a unit.
func isNumber(text string) bool {
	_, err := strconv.ParseFloat(text, 64)
	return err == nil
}

// note puts what is wrong with the settings beside them, and what is wrong with none in
// particular under all.
func (m *mounted) note(err error) {
	unset := &answer.UnsetError{}
	_ = errors.As(err, &unset) // or all are set
	for _, e := range m.Settings {
		if slices.Contains(unset.Names, e.Path) {
			e.Problem = "not set"
		}
	}
	var others []string
	for line := range strings.Lines(err.Error()) {
		line = strings.TrimSpace(line)
		words := answer.Plain(line)
		at := slices.IndexFunc(m.Settings, func(e *entry) bool {
			return strings.HasPrefix(line, e.Path+": ") || strings.Contains(line, `"`+e.Path+`"`)
		})
		switch {
		case at >= 0:
			m.Settings[at].Problem = words
		case !strings.HasPrefix(line, "not set: "):
			others = append(others, words)
		}
	}
	m.Problem = strings.Join(others, "; ")
}

// Unseen returns the settings as found by their names, and those that nothing is said of, while
// a measure is not valid.
func (v *view) Unseen() map[string]string {
	all := map[string]string{}
	for _, name := range settingNames(v.Form) {
		all[name] = ""
	}
	for _, e := range v.Settings {
		all[e.Name] = e.Value
	}
	return all
}

// otherSettings reports whether the form of how the mount is set has other fields than on
// the page that asked. What was said of the mount outlasts an invalid measure.
func (q *request) otherSettings(m *mounted) bool {
	if m == nil {
		return false
	}
	for _, e := range m.Settings {
		if !q.Form.Has(settingField + e.Path) {
			return true
		}
	}
	return len(settingNames(q.Form)) != len(m.Settings) || m.Either != q.Form.Has("side")
}
