package record

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/disk"
)

// Files returns the files of a code, records and their marks, as they are: CODE/NAME.
func (f *Folder) Files(code string) ([]disk.File, error) {
	names, err := f.Names(code)
	if err != nil {
		return nil, err
	}
	sub, err := f.open(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close() // only read
	var files []disk.File
	for _, n := range names {
		for _, name := range []string{n.String() + ending, n.String() + marked} {
			text, err := readFile(sub, name)
			switch {
			case err == nil:
				files = append(files, disk.File{Name: path.Join(code, name), Text: text})
			case name == n.String()+ending || !errors.Is(err, fs.ErrNotExist): // most have no mark
				return nil, disk.PathError(filepath.Join(f.path, code, name), err)
			}
		}
	}
	return files, nil
}

// Take adds the files that [Folder.Files] gave elsewhere, all or none, and returns how many
// records are new. What is there already stays; the error is of a record of the same name
// that is another.
func (f *Folder) Take(ctx context.Context, code string, files []disk.File) (int, error) {
	for _, file := range files {
		if err := checkTaken(code, file, files); err != nil {
			return 0, fmt.Errorf("%s: %w", file.Name, err)
		}
	}
	taken := 0
	err := f.writing(ctx, f.make, code, func(sub *os.Root) error {
		var fresh []disk.File
		for _, file := range files {
			name := path.Base(file.Name)
			_, isRecord := nameOf(name)
			was, err := readFile(sub, name)
			switch {
			case errors.Is(err, fs.ErrNotExist):
				if fresh = append(fresh, disk.File{Name: name, Text: file.Text, Mode: fileMode}); isRecord {
					taken++
				}
			case err != nil:
				return disk.PathError(filepath.Join(sub.Name(), name), err)
			case isRecord && !bytes.Equal(was, file.Text):
				return fmt.Errorf("%s: there is already another assessment of that name", filepath.Join(sub.Name(), name))
			}
		}
		return disk.PathError(sub.Name(), disk.Write(sub, fresh...))
	})
	return taken, err
}

// checkTaken returns an error unless a file among those taken over is a record of a code, or
// the mark of one of them.
func checkTaken(code string, file disk.File, files []disk.File) error {
	in, name := path.Split(file.Name)
	if in != code+"/" {
		return fmt.Errorf("is no assessment of %s", code)
	}
	if n, ok := nameOf(name); ok {
		_, err := decodeAs(code, n, file.Text)
		return err
	}
	record, ok := strings.CutSuffix(name, marked)
	if _, err := ParseName(record); !ok || err != nil {
		return errors.New("is not the name of an assessment, nor of its mark")
	}
	of := path.Join(code, record+ending)
	if !slices.ContainsFunc(files, func(f disk.File) bool { return f.Name == of }) {
		return fmt.Errorf("there is no %s to mark", of)
	}
	_, err := decodeMark(file.Text)
	return err
}
