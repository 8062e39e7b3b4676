package record

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Folder is a folder of records, open. Everything in it is reached from within.
type Folder struct {
	// LockWait is how long a writer waits for another to end; zero means 10 s.
	LockWait time.Duration

	path string
	root *os.Root
}

// What can be wrong with a place where a record should be.
var (
	ErrNone   = errors.New("no such file or folder")
	ErrLink   = errors.New("is a link; records are only read and written in the folder itself")
	ErrAccess = errors.New("not allowed to open it")
)

// Open opens the folder of records at path, which may be a link: where records are
// kept is the clinic's choice. A folder that is not there is an error, as a name
// misspelt would otherwise begin a second set of records.
func Open(path string) (*Folder, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, PathError(path, err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s: is a file; name the folder that records are kept in", path)
	}
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, PathError(path, err)
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
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return nil, PathError(f.path, err)
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
	entries, err := fs.ReadDir(sub.FS(), ".")
	if err != nil {
		return nil, PathError(filepath.Join(f.path, code), err)
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
// error wraps [ErrNone] if there is none.
func (f *Folder) Find(code, text string) (Name, error) {
	names, err := f.Names(code)
	if err != nil {
		return Name{}, err
	}
	if len(names) == 0 {
		return Name{}, fmt.Errorf("%s: %w: there are no records in this folder", filepath.Join(f.path, code), ErrNone)
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
		err = fmt.Errorf("%s: %w; the latest is %s", f.Path(code, n), ErrNone, names[len(names)-1])
	}
	return n, err
}

// Read returns a record. The error names the file and wraps [ErrNone], [ErrLink],
// [ErrAccess] or an error of [Decode].
func (f *Folder) Read(code string, n Name) (*Record, error) {
	sub, err := f.open(code)
	if err != nil {
		return nil, err
	}
	defer sub.Close()
	path := f.Path(code, n)
	text, err := readFile(sub, n.String()+ending)
	if err != nil {
		return nil, PathError(path, err)
	}
	r, err := Decode(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if r.Code != code || r.Day != n.Day {
		return nil, fmt.Errorf("%s: holds the record of %s of %s; it was moved or renamed", path, r.Code, r.Day)
	}
	r.Name = n.String()
	if err := r.mark(sub, n); err != nil {
		return nil, PathError(path, err)
	}
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
		return nil, PathError(path, err)
	}
	if info.Mode().Type() == fs.ModeSymlink {
		return nil, fmt.Errorf("%s: %w", path, ErrLink)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s: is a file; the folder of a code's records was expected", path)
	}
	sub, err := f.root.OpenRoot(code)
	return sub, PathError(path, err)
}

// readFile reads a file of bounded size. What is no file is not even opened: a
// pipe would block.
func readFile(sub *os.Root, name string) ([]byte, error) {
	if err := regular(sub, name); err != nil {
		return nil, err
	}
	file, err := sub.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close() // only read: nothing can be lost by closing
	return io.ReadAll(io.LimitReader(file, maxBytes+1))
}

// regular returns an error unless name is a file in its own right.
func regular(sub *os.Root, name string) error {
	info, err := sub.Lstat(name)
	switch {
	case err != nil:
		return err
	case info.Mode().Type() == fs.ModeSymlink:
		return ErrLink
	case !info.Mode().IsRegular():
		return fmt.Errorf("%w: it is not a file", ErrNoRecord)
	}
	return nil
}

// PathError says in plain words what is wrong with a path; nil for nil.
func PathError(path string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: %w", path, ErrNone)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %w", path, ErrAccess)
	}
	var in *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &in):
		err = in.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("%s: %w", path, err)
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
