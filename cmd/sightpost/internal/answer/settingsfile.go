package answer

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
)

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
