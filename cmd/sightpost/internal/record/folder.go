package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
)

// Folder is a folder of records, open. Everything in it is reached from within.
type Folder struct {
	// LockWait is how long a writer waits for another to end; zero means 10 s.
	LockWait time.Duration

	path string
	root *os.Root
}

// Open opens the folder of records at path, which may be a link: where records are
// kept is the clinic's choice. A folder that is not there is an error, as a name
// misspelt would otherwise begin a second set of records.
func Open(path string) (*Folder, error) {
	root, err := disk.OpenFolder(path)
	if err != nil {
		return nil, err
	}
	return &Folder{path: path, root: root}, nil
}

// Close closes the folder.
func (f *Folder) Close() error { return f.root.Close() }

// Path returns where the record of that code and name is.
func (f *Folder) Path(code string, n Name) string {
	return filepath.Join(f.path, code, n.String()+ending)
}

// Codes returns every code that has a folder, in order. Folders whose names are no
// codes, and files, are left alone.
func (f *Folder) Codes() ([]string, error) {
	entries, err := disk.List(f.root, ".")
	if err != nil {
		return nil, disk.PathError(f.path, err)
	}
	var codes []string
	for _, e := range entries {
		if e.IsDir() && CheckCode(e.Name()) == nil {
			codes = append(codes, e.Name())
		}
	}
	return codes, nil
}

// Names returns the records of a code, oldest first. A file that a writer left
// half written is none of them.
func (f *Folder) Names(code string) ([]Name, error) {
	sub, err := f.open(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close()
	entries, err := disk.List(sub, ".")
	if err != nil {
		return nil, disk.PathError(filepath.Join(f.path, code), err)
	}
	var names []Name
	for _, e := range entries {
		if n, ok := nameOf(e.Name()); ok {
			names = append(names, n)
		}
	}
	slices.SortFunc(names, compareNames)
	return names, nil
}

// Latest is the word for the newest record of a code, of those that were not withdrawn if
// there are any.
const Latest = "latest"

// Find returns the name of the record that text names, which may be [Latest]. The
// error wraps [disk.ErrNone] if there is none.
func (f *Folder) Find(code, text string) (Name, error) {
	names, err := f.Names(code)
	if err != nil {
		return Name{}, err
	}
	if len(names) == 0 {
		return Name{}, fmt.Errorf("%s: %w: there are no records in this folder", filepath.Join(f.path, code), disk.ErrNone)
	}
	if text == Latest {
		standing, err := f.Standing(code)
		if err != nil || len(standing) == 0 {
			return names[len(names)-1], err
		}
		return standing[len(standing)-1], nil
	}
	n, err := ParseName(text)
	if err == nil && !slices.Contains(names, n) {
		err = fmt.Errorf("%s: %w; the latest is %s", f.Path(code, n), disk.ErrNone, names[len(names)-1])
	}
	return n, err
}

// Read returns a record. The error names the file and wraps [disk.ErrNone], [disk.ErrLink],
// [disk.ErrAccess] or an error of [Decode].
func (f *Folder) Read(code string, n Name) (*Record, error) {
	sub, err := f.open(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close()
	path := f.Path(code, n)
	text, err := readFile(sub, n.String()+ending)
	if err != nil {
		return nil, disk.PathError(path, err)
	}
	r, err := decodeAs(code, n, text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return r, disk.PathError(filepath.Join(f.path, code, n.String()+marked), r.mark(sub, n))
}

// decodeAs returns the record in the file of that code and name.
func decodeAs(code string, n Name, text []byte) (*Record, error) {
	r, err := Decode(text)
	if err == nil && (r.Code != code || r.Day != n.Day) {
		err = fmt.Errorf("holds the record of %s of %s; it was moved or renamed", r.Code, r.Day)
	}
	if err != nil {
		return nil, err
	}
	r.Name = n.String()
	return r, nil
}

// open opens the folder of a code.
func (f *Folder) open(code string) (*os.Root, error) {
	if err := CheckCode(code); err != nil {
		return nil, err
	}
	path := filepath.Join(f.path, code)
	info, err := f.root.Lstat(code)
	if err != nil {
		err = disk.PathError(path, err)
		codes, _ := f.Codes() // only to help
		if near := casefile.Nearest(code, codes); near != "" && errors.Is(err, disk.ErrNone) {
			err = fmt.Errorf("%w; did you mean %s?", err, near)
		}
		return nil, err
	}
	if info.Mode().Type() == fs.ModeSymlink {
		return nil, fmt.Errorf("%s: %w", path, disk.ErrLink)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s: is a file; the folder of a code's records was expected", path)
	}
	sub, err := f.root.OpenRoot(code)
	return sub, disk.PathError(path, err)
}

// readFile reads a file of the folder itself.
func readFile(sub *os.Root, name string) ([]byte, error) {
	if info, err := sub.Lstat(name); err == nil && info.Mode().Type() == fs.ModeSymlink {
		return nil, disk.ErrLink
	}
	return disk.Read(sub, name, maxBytes)
}

// twin returns a code in the folder that differs from code in capitals only, or
// "": many systems would take the two for the same folder.
func (f *Folder) twin(code string) (string, error) {
	codes, err := f.Codes()
	for _, c := range codes {
		if c != code && strings.EqualFold(c, code) {
			return c, nil
		}
	}
	return "", err
}

// openNamed opens the folder of a code, whose records have the names returned.
func (f *Folder) openNamed(code string) ([]Name, *os.Root, error) {
	names, err := f.Names(code)
	if err != nil {
		return nil, nil, err
	}
	sub, err := f.open(code)
	return names, sub, err
}

// Standing returns the records of a code that were not withdrawn, oldest first.
func (f *Folder) Standing(code string) ([]Name, error) {
	names, sub, err := f.openNamed(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close() // only read
	return slices.DeleteFunc(names, func(n Name) bool {
		r := Record{}
		return r.mark(sub, n) == nil && r.Withdrawn // one that cannot be read stands
	}), nil
}

// ListCodes lists every code of the folder. The errors name the folders that cannot
// be read; the list is that of the others.
func (f *Folder) ListCodes() (*document.Records, []error) {
	l := &document.Records{Version: 1}
	codes, err := f.Codes()
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, code := range codes {
		names, err := f.Names(code)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		c := document.ListedCode{Code: code, Records: len(names)}
		if len(names) > 0 {
			c.First, c.Latest = names[0].String(), names[len(names)-1].String()
		}
		l.Codes = append(l.Codes, c)
	}
	return l, failed
}

// List lists the records of a code. The errors name those that cannot be read; the
// list is that of the others.
func (f *Folder) List(code string) (*document.Records, []error) {
	l := &document.Records{Version: 1, Code: code}
	names, err := f.Names(code)
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, n := range names {
		r, err := f.Read(code, n)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		l.Records = append(l.Records, document.Listed{
			Name: r.Name, Day: string(r.Day), Kind: r.Kind, Works: r.Result.Works,
			MarginMM: r.Result.MarginMM, LimitingPosture: r.Result.LimitingPosture, Edited: r.Edited, Withdrawn: r.Withdrawn, Note: r.Note,
		})
	}
	return l, failed
}
