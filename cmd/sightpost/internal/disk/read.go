package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"syscall"
)

// What can be wrong with a place.
var (
	ErrNone     = errors.New("no such file or folder")
	ErrAccess   = errors.New("not allowed to open it")
	ErrFolder   = errors.New("is a folder; name a file in it")
	ErrNotFile  = errors.New("is not a file")
	ErrTooLarge = errors.New("too large")
)

// Place is where files are named: an [os.Root], or [Anywhere].
type Place interface {
	Stat(name string) (fs.FileInfo, error)
	OpenFile(name string, flag int, mode fs.FileMode) (*os.File, error)
}

// Anywhere is the place of paths of the whole machine.
var Anywhere Place = anywhere{}

type anywhere struct{}

func (anywhere) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

func (anywhere) OpenFile(name string, flag int, mode fs.FileMode) (*os.File, error) {
	return os.OpenFile(name, flag, mode)
}

// Open opens a file for reading. Anything else is [ErrFolder] or [ErrNotFile]: what may never
// end is not even opened, and what takes the file's place meanwhile keeps nobody waiting.
func Open(in Place, name string) (*os.File, error) {
	info, err := in.Stat(name)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, ErrFolder
	case !info.Mode().IsRegular():
		return nil, ErrNotFile
	}
	return in.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
}

// OpenFolder opens the folder at path, and nothing else.
func OpenFolder(path string) (*os.Root, error) {
	info, err := os.Stat(path)
	if err == nil && !info.IsDir() {
		err = errors.New("is not a folder")
	}
	if err != nil {
		return nil, PathError(path, err)
	}
	root, err := os.OpenRoot(path)
	return root, PathError(path, err)
}

// Read returns what a file of at most so many bytes holds; see [Open] and [All].
func Read(in Place, name string, most int) ([]byte, error) {
	f, err := Open(in, name)
	if err != nil {
		return nil, err
	}
	defer f.Close() // only read: nothing can be lost by closing
	return All(f, most)
}

// All reads r to its end. More than so many bytes are [ErrTooLarge].
func All(r io.Reader, most int) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, int64(most)+1))
	if err == nil && len(text) > most {
		return nil, fmt.Errorf("%w: more than %d bytes", ErrTooLarge, most)
	}
	return text, err
}

// List returns what is in a folder, in the order of names. A folder of more than a hundred
// thousand is [ErrTooLarge].
func List(in Place, name string) ([]fs.DirEntry, error) {
	const most = 100_000
	f, err := in.OpenFile(name, os.O_RDONLY, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close() // likewise
	entries, err := f.ReadDir(most + 1)
	switch {
	case errors.Is(err, io.EOF): // there are none
		return nil, nil
	case err == nil && len(entries) > most:
		return nil, fmt.Errorf("%w: more than %d files in a folder", ErrTooLarge, most)
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return entries, err
}

// PathError says in plain words what is wrong with a path; nil for nil.
func PathError(path string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		err = ErrNone
	case errors.Is(err, fs.ErrPermission):
		err = ErrAccess
	}
	return fmt.Errorf("%s: %w", path, bare(err))
}

// bare returns what is wrong with a path without the path.
func bare(err error) error {
	var in *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &in):
		return in.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
