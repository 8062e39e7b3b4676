package answer

import (
	"cmp"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Entry is one setting as someone wrote it.
type Entry struct {
	Name, Value string
	Units       units.Units // of a length that has none
}

// Override puts e in the place of the entry of the same name, or at the end.
func Override(entries []Entry, e Entry) []Entry {
	for i := range entries {
		if entries[i].Name == e.Name {
			entries[i] = e
			return entries
		}
	}
	return append(entries, e)
}

// UnsetError names the settings of a mount that were not given.
type UnsetError struct{ Names []string }

func (e *UnsetError) Error() string { return "not set: " + strings.Join(e.Names, ", ") }

// settingsOf returns the settings of a chain of the job's kit as found, one for every
// joint that moves. The error names everything that is wrong with them, an [UnsetError]
// last.
func settingsOf(job *fit.Job, c mount.Chain, found AsFound) (mount.Settings, error) {
	moving := c.Told()
	if found.Inner {
		moving = c.Moving()
		for i := range moving {
			moving[i].Scale = mount.Scale{}
		}
	}
	given := make(map[string]Entry, len(found.Settings))
	var wrong []error
	for _, e := range found.Settings {
		given[e.Name] = e
		if !slices.ContainsFunc(moving, func(j mount.Joint) bool { return j.Name == e.Name }) {
			wrong = append(wrong, unknownSetting(e.Name, moving))
		}
	}
	settings := make(mount.Settings, len(moving))
	var missing []string
	carrier := job.Scene.InCarrier(job.Postures[max(job.Leading(), 0)]).Carrier.Rot
	for i, j := range moving {
		e, ok := given[j.Name]
		if !ok {
			missing = append(missing, j.Name)
			continue
		}
		sign := document.Sign{}
		if !found.Inner {
			sign = document.Signs(c, settings, carrier)[i] // goes by those before it alone
		}
		var err error
		if settings[i], err = settingOf(j, sign, e); err != nil {
			wrong = append(wrong, err)
		}
	}
	if len(missing) > 0 {
		wrong = append(wrong, &UnsetError{missing})
	}
	if first := c.LastBall(); len(wrong) == 0 && first >= 0 && moving[first].Stiffness.AnyAxis {
		return turned(job, c, settings, first)
	}
	return settings, errors.Join(wrong...)
}

// SettingNames returns the names of the settings of the case's mount, clamped on that side
// if it may be on either; none without a mount or a side.
func (c *Case) SettingNames(side string) []string {
	var unset *UnsetError
	if _, err := checked(context.Background(), AsFound{Side: side}, &c.Job); errors.As(err, &unset) {
		return unset.Names
	}
	return nil
}

// turned returns settings in which the three of a ball, so far tilt, rotation and roll of
// its plate, are those of the ball itself.
func turned(job *fit.Job, c mount.Chain, settings mount.Settings, first int) (mount.Settings, error) {
	loaded, err := fit.NewLoadedMount(job, c, true)
	if err != nil {
		return nil, err
	}
	settings, err = loaded.TurnPlate(settings, mount.AttitudeAt([3]float64(settings[first:first+3])), max(job.Leading(), 0))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Told()[first].Name, err)
	}
	return settings, nil
}

// Told returns how the mount of a result is set, as a person would write it in full.
func Told(r *fit.Result) AsFound {
	s := AsFound{}
	if r.Set != nil {
		s.Side = r.Set.Side.String()
	}
	for _, set := range document.SettingsTold(r) {
		s.Settings = append(s.Settings, Entry{Name: set.Name, Value: set.Exact()})
	}
	return s
}

// Typed returns the same as a person types it, with lengths in units u.
func Typed(r *fit.Result, u units.Units) AsFound {
	s := Told(r)
	for i, set := range document.SettingsTold(r) {
		s.Settings[i].Value = set.Typed(u)
	}
	return s
}

// unknownSetting says that there is no setting of that name, and which is near.
func unknownSetting(name string, moving []mount.Joint) error {
	var names []string
	for _, j := range moving {
		names = append(names, j.Name)
	}
	if near := casefile.Nearest(name, names); near != "" {
		return fmt.Errorf("unknown setting %q: did you mean %s?", name, near)
	}
	return fmt.Errorf("unknown setting %q: this mount has %s", name, strings.Join(names, ", "))
}

// writtenTo is how near to a limit or a stop a written value counts as that: what
// six decimals of mm or of degrees leave open.
const writtenTo = 1e-6

// writtenAs reports whether v is how a limit or stop of j is written: in full, or rounded
// as people are told it, to decimals of a mm or degree, half degrees or sixteenths of an
// inch.
func writtenAs(j mount.Joint, v, at float64) bool {
	unit, scale := 1.0, units.Inch.MM()/16
	if j.Motion == mount.Turn {
		unit, scale = frame.Degree.Radians(), 0.5
	}
	at, v = j.Scale.Shown(at), j.Scale.Shown(v)
	for _, fine := range [...]float64{1, scale, 0.1, 0.01, 0.001} {
		fine *= unit
		if math.Abs(math.Round(at/fine)*fine-v) <= writtenTo {
			return true
		}
	}
	return math.Abs(at-v) <= writtenTo
}

// settingOf returns the setting of j that e says, in mm or radians, its sign as a number's or in
// words.
func settingOf(j mount.Joint, sign document.Sign, e Entry) (float64, error) {
	if j.Counted() {
		if v, err := stopIn(j, e); v != nil || err != nil {
			return *cmp.Or(v, new(float64)), err
		}
	}
	number := e // without the word for its way
	number.Value = sign.Unworded(e.Value)
	v, err := quantity(j, number.Value, e.Units)
	if err != nil {
		ways := ""
		if sign.Plus != "" {
			ways = "; ways: " + sign.Plus + ", " + sign.Minus
		}
		return 0, fmt.Errorf("%s: %w%s", j.Name, err, ways)
	}
	v = j.Scale.Setting(v)
	if held := j.Clamp(v); held != v {
		if !writtenAs(j, v, held) {
			low, high := j.Low, j.High
			if j.Scale.Falls {
				low, high = high, low
			}
			return 0, fmt.Errorf("%s: %s is outside %s to %s", j.Name, e.Value, written(j, low, number), written(j, high, number))
		}
		v = held
	}
	if stop := j.Round(v); j.Indexed {
		if !writtenAs(j, v, stop) {
			below, above := j.Neighbors(v)
			return 0, fmt.Errorf("%s: %s is not a stop; the nearest are %s and %s", j.Name, e.Value, written(j, below, number), written(j, above, number))
		}
		v = stop
	}
	return v, nil
}

// stopIn returns the stop of j that e says, as "stop 3", "3 stop" or, unless it could
// as well be a length or an angle, "3"; nil if it says none.
func stopIn(j mount.Joint, e Entry) (*float64, error) {
	bare := strings.TrimSpace(strings.Replace(e.Value, "stop", "", 1))
	n, err := strconv.Atoi(bare)
	said, stops := strings.Contains(e.Value, "stop"), j.Stops()
	switch v, wrong := quantity(j, bare, e.Units); {
	case err != nil && said:
		return nil, fmt.Errorf("%s: expected a stop such as stop 3, found %q", j.Name, e.Value)
	case err != nil:
		return nil, nil
	case said && (n < 1 || n > len(stops)):
		return nil, fmt.Errorf("%s: there is no stop %d; it has stops 1 to %d", j.Name, n, len(stops))
	case n < 1 || n > len(stops):
		return nil, nil
	case !said && wrong == nil && !j.Same(v, stops[n-1]) && j.Same(v, j.Round(v)):
		where := j
		where.Indexed = false
		return nil, fmt.Errorf("%s: %s could be stop %d or %s: write one of the two", j.Name, e.Value, n, written(where, v, e))
	}
	return &stops[n-1], nil
}

// written returns v, a value of j, for whoever wrote e: in its unit.
func written(j mount.Joint, v float64, e Entry) string {
	text := strings.TrimSpace(e.Value)
	if j.Counted() { // a stop, and where it is
		where := j
		where.Indexed = false
		return j.Format(v) + " (" + written(where, v, e) + ")"
	}
	u := e.Units
	if strings.ContainsFunc(text, unicode.IsLetter) || strings.HasSuffix(text, `"`) {
		u = casefile.UnitsOf(text)
	}
	if u == units.MM || j.Motion == mount.Turn {
		return j.Format(v)
	}
	return u.Length(j.Scale.Shown(v))
}

// quantity returns the length (mm), in bare units if it has none, or angle (radians) written in
// text.
func quantity(j mount.Joint, text string, bare units.Units) (float64, error) {
	if j.Motion == mount.Turn {
		a, err := casefile.ParseTurn(text)
		return a.Radians(), err
	}
	return casefile.ParseLength(text, bare)
}

// maxSettingsBytes bounds a file of settings, far above what any mount needs.
const maxSettingsBytes = 256 << 10

// ReadSettings reads settings in CSV, told by its heading, or in YAML: a line for
// each. YAML is bounded as that of a case is.
func ReadSettings(r io.Reader) ([]Entry, error) {
	text, err := casefile.ReadText(r, maxSettingsBytes) // spreadsheets put a byte order mark in front
	var control *casefile.ControlError
	switch {
	case errors.Is(err, disk.ErrTooLarge):
		return nil, errors.New("too large for a file of settings")
	case errors.Is(err, casefile.ErrNotText), errors.As(err, &control):
		return nil, errors.New("not text; it should be settings.csv as written by solve or export, or name: value lines")
	case err != nil:
		return nil, err
	case strings.TrimSpace(text) == "":
		return nil, errors.New("the file is empty; it should hold a line for each setting")
	}
	first, _, _ := strings.Cut(text, "\n")
	for _, comma := range ",;" {
		if strings.HasPrefix(first, "setting"+string(comma)) {
			return parseSettingsCSV(strings.NewReader(text), comma)
		}
	}
	return parseSettingsYAML(text)
}

// parseSettingsCSV reads the columns setting, unit and value; others are left
// alone.
func parseSettingsCSV(r io.Reader, comma rune) ([]Entry, error) {
	in := csv.NewReader(r)
	in.Comma = comma
	rows, err := in.ReadAll()
	if err != nil {
		return nil, err
	}
	unit, value := slices.Index(rows[0], "unit"), slices.Index(rows[0], "value")
	if unit < 0 || value < 0 {
		return nil, errors.New(`its heading lacks a column: it needs "setting", "unit" and "value"`)
	}
	entries := make([]Entry, 0, len(rows)-1)
	for _, row := range rows[1:] {
		name := row[0]
		if bare, quoted := strings.CutPrefix(name, "'"); quoted && document.Formula(bare) {
			name = bare
		}
		entries = append(entries, Entry{Name: name, Value: strings.TrimSpace(row[value] + " " + row[unit])})
	}
	return entries, nil
}

// parseSettingsYAML reads a mapping from setting to value.
func parseSettingsYAML(text string) ([]Entry, error) {
	tree, err := casefile.Tree("the settings", text)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errSettings, err)
	}
	mapping, ok := tree.(ast.MapNode)
	if !ok {
		return nil, errSettings
	}
	var entries []Entry
	for pairs := mapping.MapRange(); pairs.Next(); {
		e, err := settingIn(pairs.KeyValue())
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(entries, func(o Entry) bool { return o.Name == e.Name }) {
			return nil, fmt.Errorf("%s: it is set twice", e.Name)
		}
		entries = append(entries, e)
	}
	return entries, nil
}

// errSettings reports a file of settings that is neither of the two.
var errSettings = errors.New(`neither CSV with the heading "setting,unit,value" nor YAML with a line such as "post.height: 412 mm"`)

// settingIn returns the setting of a pair.
func settingIn(p *ast.MappingValueNode) (Entry, error) {
	e := Entry{Name: p.Key.GetToken().Value}
	switch v := p.Value.(type) {
	case *ast.StringNode:
		e.Value = v.Value
	case *ast.IntegerNode, *ast.FloatNode:
		e.Value = v.GetToken().Value
	default:
		return e, fmt.Errorf("%s: expected one value, such as 412 mm", e.Name)
	}
	return e, nil
}
