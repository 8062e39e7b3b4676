package cli

import (
	"bytes"
	"fmt"
	"path/filepath"

	"sightpost/cmd/sightpost/internal/report"
	"sightpost/cmd/sightpost/internal/sheet"
)

// sumDigits is how much of a checksum the sheet shows: enough to tell the states of
// one case apart, and short enough to compare by eye.
const sumDigits = 12

// sheet returns the setup sheet of p, as PDF and as a page, for a folder.
func (p *placed) sheet(folder string, rep *report.Report, u report.Units, paper sheet.Paper) ([]file, error) {
	c, err := sheet.New(sheet.Source{
		Report: rep, Job: &p.given.Job, Result: p.result, Units: u,
		Version: version(), Checksum: p.sum[:sumDigits],
	})
	if err != nil {
		return nil, err
	}
	var pdf, page bytes.Buffer
	if err := c.WritePDF(&pdf, paper); err != nil {
		return nil, fmt.Errorf("%s: %w", p.given.Label, err)
	}
	if err := c.WriteHTML(&page, paper); err != nil {
		return nil, fmt.Errorf("%s: %w", p.given.Label, err)
	}
	return []file{{filepath.Join(folder, "sheet.pdf"), pdf.Bytes()}, {filepath.Join(folder, "sheet.html"), page.Bytes()}}, nil
}
