package document

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"

	"sightpost/plots/units"
)

// SettingsCSV returns the settings as a table: one line each, the unit beside the
// value. The columns "setting", "unit" and "value" can be read back; the last column
// says in every line whether this is to be set at all, because a table goes where no
// report goes with it.
func (m *Mount) SettingsCSV() ([]byte, error) {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	rows := [][]string{{"setting", "unit", "value", "low", "high", "step", "read", "works"}}
	works := "yes"
	if !m.works {
		works = "NO: do not set"
	}
	for _, s := range m.Settings {
		rows = append(rows, []string{s.Name, s.Unit, cell(s.Value), cell(s.Low), cell(s.High), cell(s.Step), s.Read.In(units.MM), works})
	}
	err := w.WriteAll(rows)
	return text.Bytes(), err
}

// cell returns v without the last digits, which turning degrees into radians and
// back leaves behind.
func cell(v float64) string {
	const digits = 1e9
	return strconv.FormatFloat(plain(math.Round(v*digits)/digits), 'f', -1, 64)
}
