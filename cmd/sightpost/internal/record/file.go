package record

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/goccy/go-yaml"

	"sightpost/cmd/sightpost/internal/disk"
)

// Permissions of what is made, less what the system's mask takes away. Who may see
// records at all is for the clinic's folder to say.
const (
	folderMode fs.FileMode = 0o770
	fileMode   fs.FileMode = 0o660
)

// File files r in the folder of its code, which it makes if need be, and returns
// the name it got: that of its day, or the next free one on that day. Nothing that
// exists is changed, and after an error no part of r is left. The error names the
// place and wraps [disk.ErrBusy], [disk.ErrLink], [disk.ErrAccess] or what the system
// says; ctx ends the wait for another writer.
func (f *Folder) File(ctx context.Context, r *Record) (Name, error) {
	text, err := Encode(r)
	if err != nil {
		return Name{}, err
	}
	var n Name
	err = f.writing(ctx, f.make, r.Code, func(sub *os.Root) error {
		if n, err = write(sub, r.Day, text); err != nil {
			return fmt.Errorf("%w; nothing was filed", disk.PathError(sub.Name(), err))
		}
		return nil
	})
	return n, err
}

// writing does what do does in the folder of a code, which open opens, while no other writes
// there.
func (f *Folder) writing(ctx context.Context, open func(code string) (*os.Root, error), code string, do func(sub *os.Root) error) error {
	sub, err := open(code)
	if err != nil {
		return err
	}
	defer sub.Close()
	unlock, err := lock(ctx, sub, cmp.Or(f.LockWait, usualWait))
	if err != nil {
		return err
	}
	defer unlock()
	return do(sub)
}

// Sweep removes what was left half written, but where another is writing.
func (f *Folder) Sweep() {
	codes, _ := f.Codes() // it only tidies
	for _, code := range codes {
		sub, err := f.open(code)
		if err != nil {
			continue
		}
		if unlock, err := lock(context.Background(), sub, time.Millisecond); err == nil {
			unlock()
		}
		_ = sub.Close() // nothing was written
	}
}

// usualWait is how long a writer waits for another.
const usualWait = 10 * time.Second

// lock keeps other writers out of the folder of a code and makes it as it was before one that
// was killed.
func lock(ctx context.Context, sub *os.Root, wait time.Duration) (unlock func(), err error) {
	unlock, err = disk.Lock(ctx, sub, wait)
	if err == nil {
		disk.Sweep(sub, 0) // those that live wait for the lock and have written nothing yet
	}
	return unlock, err
}

// make opens the folder of a code, and makes it if it is not there.
func (f *Folder) make(code string) (*os.Root, error) {
	sub, err := f.open(code)
	if !errors.Is(err, disk.ErrNone) {
		return sub, err
	}
	twin, err := f.twin(code)
	if err != nil {
		return nil, err
	}
	if twin != "" {
		return nil, fmt.Errorf("%s: the code %s already exists, and many systems cannot tell it from %s", f.path, twin, code)
	}
	err = disk.Try("mkdir", func() error { return f.root.Mkdir(code, folderMode) })
	if err == nil || errors.Is(err, fs.ErrExist) {
		err = disk.SyncFolder(f.root, ".")
	}
	if err != nil {
		return nil, fmt.Errorf("%w; nothing was filed", disk.PathError(filepath.Join(f.path, code), err))
	}
	return f.open(code)
}

// write writes a record of day d and returns its name.
func write(dir *os.Root, d Day, text []byte) (Name, error) {
	for n := (Name{Day: d, Nth: 1}); n.Nth <= maxNth; n.Nth++ {
		name := n.String() + ending
		if _, err := dir.Lstat(name); err == nil {
			continue
		}
		err := disk.Write(dir, disk.File{Name: name, Text: text, Mode: fileMode})
		if !errors.Is(err, fs.ErrExist) {
			return n, err
		}
	}
	return Name{}, fmt.Errorf("there are already %d records of %s", maxNth, d)
}

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

// Files returns the files of a code, records and their marks, as they are: CODE/NAME.
func (f *Folder) Files(code string) ([]disk.File, error) {
	names, sub, err := f.openNamed(code)
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
