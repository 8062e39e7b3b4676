package record

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"

	"github.com/goccy/go-yaml"

	"sightpost/cmd/sightpost/internal/disk"
)

// Mark is what is said of a record after it was filed, in a file beside it: the record stays
// as it is.
type Mark struct {
	// Withdrawn says that it was filed by mistake: it is kept and counts no longer.
	Withdrawn bool `yaml:"withdrawn"`
	// Note takes the place of the one that was filed.
	Note string `yaml:"note"`
}

// marked ends the name of the file of a mark.
const marked = ".mark.yaml"

// Mark marks a record. The error is like that of [Folder.File].
func (f *Folder) Mark(ctx context.Context, code string, n Name, m Mark) error {
	if _, err := f.Read(code, n); err != nil {
		return err
	}
	text, err := yaml.Marshal(m)
	if err == nil {
		_, err = decodeMark(text) // what cannot be read would hide the record
	}
	if err != nil {
		return fmt.Errorf("record: %w", err)
	}
	return f.writing(ctx, f.open, code, func(sub *os.Root) error {
		return disk.PathError(sub.Name(), disk.Write(sub, disk.File{Name: n.String() + marked, Text: text, Mode: fileMode, Replace: true}))
	})
}

// mark reads the mark of a record into r, if there is one.
func (r *Record) mark(sub *os.Root, n Name) error {
	text, err := readFile(sub, n.String()+marked)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	m := Mark{}
	if err == nil {
		m, err = decodeMark(text)
	}
	if err == nil {
		r.Withdrawn, r.Note = m.Withdrawn, m.Note
	}
	return err
}

// decodeMark returns the mark in a file.
func decodeMark(text []byte) (m Mark, err error) {
	err = unmarshal("mark", string(text), &m)
	return m, err
}

// Standing returns the records of a code that were not withdrawn, oldest first.
func (f *Folder) Standing(code string) ([]Name, error) {
	names, err := f.Names(code)
	if err != nil {
		return nil, err
	}
	sub, err := f.open(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close()
	return slices.DeleteFunc(names, func(n Name) bool {
		r := Record{}
		return r.mark(sub, n) == nil && r.Withdrawn // one that cannot be read stands
	}), nil
}
