package document

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
)

// TestSettingsRunNothing: no cell that someone wrote is taken for a formula by a
// spreadsheet, and numbers stay numbers.
//
// Reference: OWASP, "CSV Injection", which names the first letters = + - @, tab and
// carriage return; from memory.
func TestSettingsRunNothing(t *testing.T) {
	m := &Mount{}
	for _, text := range []string{"=1+1", "+1", "-x", "@sum", "\tx", "tape = 3", ""} {
		m.Settings = append(m.Settings, Setting{SettingValue: SettingValue{Told: Told{Name: text, Unit: "mm", Value: -3.5}}, Read: Quote(text)})
	}
	rows, err := csv.NewReader(bytes.NewReader((&Report{Works: true, Mount: m}).SettingsCSV())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range rows[1:] {
		for _, k := range []int{0, 6} {
			if bare := strings.TrimPrefix(row[k], "'"); Formula(row[k]) || bare != m.Settings[i].Told.Name || Formula(bare) != (bare != row[k]) {
				t.Errorf("%q is written as %q", m.Settings[i].Told.Name, row[k])
			}
		}
		if row[2] != "-3.5" {
			t.Errorf("the number is %q", row[2])
		}
	}
}
