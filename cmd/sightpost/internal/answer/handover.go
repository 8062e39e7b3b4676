package answer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/record"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots"
)

// Names within a hand-over file.
const (
	caseName, kitName       = "case.yaml", "kit.yaml"
	settingsName, sheetName = "settings.csv", "sheet.pdf"
)

// RecordsFolder holds the records within a hand-over file.
const RecordsFolder = "records"

// HandOverName returns the name of a hand-over file of a code made on a day.
func HandOverName(code string, d record.Day) string { return fmt.Sprintf("%s %s.zip", code, d) }

// HandOver returns one file with everything about p: the case and its kit, the settings, the
// sheet, the figures and the records, of which there may be none. The text is that of the case,
// with what comments say of it.
func (p *Placed) HandOver(ctx context.Context, text string, look Look, paper sheet.Paper, version string, records []disk.File) ([]byte, error) {
	form := casefile.Fields()
	d, err := draft.Read(p.File(), text, &form)
	if err == nil && len(p.KitText) > 0 {
		d, err = d.Set("mount.kit", kitName)
	}
	if err != nil {
		return nil, err
	}
	files := []disk.File{{Name: caseName, Text: []byte(d.Text())}}
	add := func(name string, text []byte) { files = append(files, disk.File{Name: name, Text: text}) }
	if len(p.KitText) > 0 {
		add(kitName, p.KitText)
	}
	rep, err := p.Report(ctx)
	if err != nil {
		return nil, err
	}
	if rep.Mount != nil {
		add(settingsName, rep.SettingsCSV())
	}
	var pdf bytes.Buffer
	if err := p.Sheet(rep.Document(), look.Units, version).WritePDF(&pdf, paper); err != nil {
		return nil, err
	}
	add(sheetName, pdf.Bytes())
	for _, f := range p.Figures(ctx, look) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		svg, err := f.Drawn("svg")
		if errors.Is(err, plots.ErrFigure) {
			continue // everything else is still there
		}
		if err != nil {
			return nil, err
		}
		add("figures/"+f.Name+".svg", svg[0])
	}
	for _, r := range records {
		add(path.Join(RecordsFolder, r.Name), r.Text)
	}
	return disk.Zip(files)
}

// HandedOver is what a hand-over file holds, to go on with.
type HandedOver struct {
	Case, Kit []byte // no kit if the case holds it or has none
	// Code is that of the records; there may be none. [record.Folder.Take] checks them.
	Code    string
	Records []disk.File
	Files   []disk.File // the case first, and all but the records
}

// OpenHandOver reads a hand-over file.
func OpenHandOver(data []byte) (*HandedOver, error) {
	files, err := disk.Unzip(data)
	if err != nil {
		return nil, err
	}
	h := &HandedOver{}
	for _, f := range files {
		name, filed := strings.CutPrefix(f.Name, RecordsFolder+"/")
		at := len(h.Files)
		switch {
		case filed:
			h.Code = path.Dir(name)
			h.Records = append(h.Records, disk.File{Name: name, Text: f.Text})
			continue
		case f.Name == caseName:
			h.Case, at = f.Text, 0
		case f.Name == kitName:
			h.Kit = f.Text
		case f.Name == settingsName, f.Name == sheetName, path.Dir(f.Name) == "figures" && path.Ext(f.Name) == ".svg":
		default:
			return nil, fmt.Errorf("%q: a hand-over file holds no such file", f.Name)
		}
		h.Files = slices.Insert(h.Files, at, f)
	}
	if h.Case == nil {
		return nil, errors.New("the archive has no case.yaml: it is no hand-over file")
	}
	return h, nil
}
