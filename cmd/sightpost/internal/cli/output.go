package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/moby/sys/atomicwriter"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// render returns the answer as it is printed: JSON, or its document in words. Of several
// answers in JSON each takes one line.
func (o *answerOptions) render(r any, several bool) ([]byte, error) {
	if o.json {
		return answer.JSON(r, !several)
	}
	var d *document.Document
	switch r := r.(type) {
	case *document.Document:
		d = r
	case interface{ Document() *document.Document }:
		d = r.Document()
	}
	var words bytes.Buffer
	err := text.Write(&words, d, text.Options{Units: o.units, Full: o.full})
	return words.Bytes(), err
}

// print prints one answer.
func (o *answerOptions) print(ctx context.Context, s Streams, a any) error {
	words, err := o.render(a, false)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	_, err = s.Out.Write(words)
	return err
}

// conclude prints an answer about a case, and returns an error if that is not met.
func (o *answerOptions) conclude(ctx context.Context, s Streams, a any, label string, met bool) error {
	if err := o.print(ctx, s, a); err != nil {
		return err
	}
	return verdict(label, met)
}

// file is a file to be written.
type file struct {
	name string // with its folder
	data []byte
}

// write writes the files of one case and says so.
func (o *saveOptions) write(s Streams, files []file) error {
	if len(files) == 0 {
		return nil
	}
	if err := writeAll(files, o.force); err != nil {
		return err
	}
	say(s.Err, "wrote %d files into %s", len(files), filepath.Dir(files[0].name))
	return nil
}

// writeAll writes files whole, making their folders. Unless force is set it writes
// none at all when one of them exists.
func writeAll(files []file, force bool) error {
	if err := refuseExisting(files, force); err != nil {
		return err
	}
	for _, f := range files {
		if err := os.MkdirAll(filepath.Dir(f.name), 0o755); err != nil {
			return plainPathError(filepath.Dir(f.name), err)
		}
		if err := atomicwriter.WriteFile(f.name, f.data, 0o644); err != nil {
			return plainPathError(f.name, err)
		}
	}
	return nil
}

// refuseExisting returns an error that names the files that exist, unless force
// is set.
func refuseExisting(files []file, force bool) error {
	if force {
		return nil
	}
	var there []error
	for _, f := range files {
		if _, err := os.Lstat(f.name); !errors.Is(err, fs.ErrNotExist) {
			if err != nil {
				return plainPathError(f.name, err)
			}
			there = append(there, fmt.Errorf("%s: exists already", f.name))
		}
	}
	if len(there) == 0 {
		return nil
	}
	return withHint(errors.Join(there...), "nothing was written; add --force to overwrite, or choose another place")
}

// drawn returns figures as files in the folder, in every format.
func (o *saveOptions) drawn(all []answer.Figure) ([]file, error) {
	formats := o.format
	if len(formats) == 0 {
		formats = []string{"svg"}
	}
	var files []file
	for _, fig := range all {
		texts, err := fig.Drawn(formats...)
		if err != nil {
			return nil, err
		}
		for i, text := range texts {
			files = append(files, file{filepath.Join(o.out, fig.Name+"."+formats[i]), text})
		}
	}
	return files, nil
}

// withObject returns figures as files in the folder, and an answer as an object beside
// them.
func (o *saveOptions) withObject(all []answer.Figure, name string, a any) ([]file, error) {
	object, err := answer.JSON(a, true)
	if err != nil {
		return nil, err
	}
	files, err := o.drawn(all)
	return append(files, file{filepath.Join(o.out, name), object}), err
}

// solved returns everything that is written for one case that was solved.
func (o *saveOptions) solved(p *answer.Placed, rep *document.Report, u units.Units, paper sheet.Paper) ([]file, error) {
	var pdf, page bytes.Buffer
	c := p.Sheet(rep, u, version())
	if err := errors.Join(c.WritePDF(&pdf, paper), c.WriteHTML(&page, paper)); err != nil {
		return nil, err
	}
	files := []file{{filepath.Join(o.out, "sheet.pdf"), pdf.Bytes()}, {filepath.Join(o.out, "sheet.html"), page.Bytes()}}
	more, err := o.withObject(p.Figures(u), "result.json", rep)
	if err != nil {
		return nil, err
	}
	files = append(files, more...)
	if rep.Mount != nil {
		table, err := rep.Mount.SettingsCSV()
		if err != nil {
			return nil, err
		}
		files = append(files, file{filepath.Join(o.out, "settings.csv"), table})
	}
	return files, nil
}
