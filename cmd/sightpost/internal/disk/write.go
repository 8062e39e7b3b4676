package disk

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"time"
)

// File is a file to be written.
type File struct {
	Name string // in its folder, with slashes
	Text []byte
	Mode fs.FileMode // less what the system's mask takes away
	// Replace lets it take the place of one that is there.
	Replace bool
}

// unfinished begins the name of a file that is being written, or that another takes the
// place of.
const unfinished = ".unfinished-"

// fault is asked before every call that changes the disk.
var fault atomic.Pointer[func(call string) error]

// Fail has ask asked before every call that changes the disk, whose error is that of the
// call; nil ends that. Only tests call it.
func Fail(ask func(call string) error) { fault.Store(&ask) }

// try does what a call of that name does.
func try(call string, do func() error) error {
	if ask := fault.Load(); ask != nil && *ask != nil {
		if err := (*ask)(call); err != nil {
			return err
		}
	}
	return do()
}

// Write writes files of a folder: all are on the disk when it returns, or the folder is as
// it was. Should the program be killed, each file is whole, as it was or as it was to be,
// and of several none that was replaced stands beside one that was written. The error is
// [fs.ErrExist] if there is a file that may not be replaced.
func Write(dir *os.Root, files ...File) (err error) {
	w := writer{Root: dir}
	defer func() { w.end(err) }()
	temps := make([]string, len(files))
	for i, f := range files {
		if temps[i], err = w.write(f); err != nil {
			return named(f.Name, err)
		}
	}
	for _, f := range slices.Backward(files) { // the last tells that the others are there
		if f.Replace && len(files) > 1 {
			if err := w.putAside(f.Name); err != nil {
				return named(f.Name, err)
			}
		}
	}
	for i, f := range files {
		if err := w.give(temps[i], f, len(files) > 1); err != nil {
			return named(f.Name, err)
		}
	}
	return w.sync(files)
}

// named is an error of the file called name, whatever name it has meanwhile.
func named(name string, err error) error {
	return &fs.PathError{Op: "write", Path: name, Err: bare(err)}
}

// writer writes files of a folder.
type writer struct {
	*os.Root
	temps []string // to be removed in the end, whatever comes
	undo  []func() // gives the folder back as it was
}

// end removes what was in between and, after an error, undoes what was done.
func (w *writer) end(err error) {
	for ; err != nil && len(w.undo) > 0; w.undo = w.undo[:len(w.undo)-1] {
		w.undo[len(w.undo)-1]()
	}
	for _, temp := range w.temps {
		_ = w.Remove(temp) // most have their names by now; Sweep takes what stays
	}
}

// temp returns a name beside that of a file.
func (w *writer) temp(name string) string {
	temp := path.Join(path.Dir(name), unfinished+rand.Text())
	w.temps = append(w.temps, temp)
	return temp
}

// write writes a file under a name of its own, which it returns, and brings it to the disk.
func (w *writer) write(f File) (temp string, err error) {
	temp = w.temp(f.Name)
	var file *os.File
	err = try("create", func() (err error) {
		file, err = w.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, f.Mode)
		return err
	})
	if err != nil {
		return "", err
	}
	err = try("write", func() error { _, err := file.Write(f.Text); return err })
	if err == nil {
		err = try("sync", file.Sync)
	}
	return temp, errors.Join(err, try("close", file.Close))
}

// putAside gives a file, if it is there, another name until all is written.
func (w *writer) putAside(name string) error {
	if err := w.replaceable(name); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	aside := w.temp(name)
	if err := w.rename(name, aside); err != nil {
		return err
	}
	w.undo = append(w.undo, func() { _ = w.rename(aside, name) })
	return nil
}

// replaceable returns an error unless a name is that of a file or a link.
func (w *writer) replaceable(name string) error {
	info, err := w.Lstat(name)
	if err == nil && info.Mode()&^fs.ModeSymlink&fs.ModeType != 0 {
		err = errors.New("is there already, and is not a file")
	}
	return err
}

// give gives a written file its name. A link fails where the name is taken, whoever took it.
// File systems that know no links, such as those of many memory sticks, leave only to look
// and then to rename.
func (w *writer) give(temp string, f File, several bool) error {
	if f.Replace && !several {
		if err := w.replaceable(f.Name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return w.rename(temp, f.Name)
	}
	err := try("link", func() error { return w.Link(temp, f.Name) })
	if err != nil && !errors.Is(err, fs.ErrExist) {
		switch _, there := w.Lstat(f.Name); {
		case there == nil:
			err = fs.ErrExist
		case errors.Is(there, fs.ErrNotExist):
			err = w.rename(temp, f.Name)
		}
	}
	if err == nil {
		w.undo = append(w.undo, func() { _ = w.Remove(f.Name) })
	}
	return err
}

func (w *writer) rename(from, to string) error {
	return try("rename", func() error { return w.Rename(from, to) })
}

// sync brings the names in the folders of files to the disk. Where a file took the place of
// another and that fails, a loss of power may bring back the other, whole.
func (w *writer) sync(files []File) error {
	synced := map[string]bool{}
	for _, f := range files {
		dir := path.Dir(f.Name)
		if synced[dir] {
			continue
		}
		synced[dir] = true
		if err := SyncFolder(w.Root, dir); err != nil && len(w.undo) > 0 {
			return named(dir, err)
		}
	}
	return nil
}

// SyncFolder brings the names in a folder to the disk. Windows has no way to, and does it by
// itself.
func SyncFolder(dir *os.Root, name string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	file, err := dir.Open(name)
	if err != nil {
		return err
	}
	err = try("sync folder", file.Sync)
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil // a file system that has no such thing, as some on networks
	}
	return errors.Join(err, file.Close())
}

// Sweep removes from a folder what writers left that were killed while writing, at least
// so long ago.
func Sweep(dir *os.Root, age time.Duration) {
	entries, err := List(dir, ".")
	if err != nil {
		return // it only tidies
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), unfinished) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) >= age {
			_ = dir.Remove(e.Name()) // likewise
		}
	}
}
