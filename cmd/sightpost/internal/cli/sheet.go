package cli

import (
	"bytes"
	"fmt"
	"path/filepath"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// sheets returns the setup sheet of p, as PDF and as a page, for a folder.
func sheets(p *answer.Placed, folder string, rep *document.Report, u units.Units, paper sheet.Paper) ([]file, error) {
	c := p.Sheet(rep, u, version())
	var pdf, page bytes.Buffer
	if err := c.WritePDF(&pdf, paper); err != nil {
		return nil, fmt.Errorf("%s: %w", p.Label, err)
	}
	if err := c.WriteHTML(&page, paper); err != nil {
		return nil, fmt.Errorf("%s: %w", p.Label, err)
	}
	return []file{{filepath.Join(folder, "sheet.pdf"), pdf.Bytes()}, {filepath.Join(folder, "sheet.html"), page.Bytes()}}, nil
}
