package disk

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path"
	"runtime"
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

// What begins the name of what a writer leaves that is killed.
const (
	unfinished = ".unfinished-" // nobody needs it
	undo       = ".undo-"       // a stage whose files were getting their names
)

// fault is asked before every call that changes the disk.
var fault atomic.Pointer[func(call string) error]

// Fail has ask asked before every call that changes the disk, whose error is that of the
// call; nil ends that. Only tests call it.
func Fail(ask func(call string) error) { fault.Store(&ask) }

// Try does what a call of that name does.
func Try(call string, do func() error) error {
	if ask := fault.Load(); ask != nil && *ask != nil {
		if err := (*ask)(call); err != nil {
			return err
		}
	}
	return do()
}

// Write writes files in a folder and those within: all are on the disk when it returns, or the folder is as
// it was. Should the program be killed, each file is whole, some of several may have no name,
// and none that was there stands beside one that was written; [Sweep] then makes the folder as
// it was or, if all have their names, as it was to be. The error is [fs.ErrExist] if there is
// a file that may not be replaced. It names the folder that holds what was there, if that
// cannot be put back now.
func Write(dir *os.Root, files ...File) error {
	d := folder{dir}
	switch len(files) {
	case 0:
		return nil
	case 1:
		return named(files[0].Name, d.writeOne(files[0]))
	}
	s := stage{folder: d, name: unfinished + rand.Text()}
	for _, f := range files {
		s.names = append(s.names, f.Name)
	}
	defer s.drop()
	if err := s.fill(files); err != nil {
		return err
	}
	err := s.give(files)
	if err == nil {
		return nil
	}
	if s.putBack() != nil {
		at := &fs.PathError{Op: "write"}
		errors.As(err, &at)
		at.Err = errors.New(at.Err.Error() + "; what was there is in " + s.name + ", and the next start or write there puts it back")
		return at
	}
	_ = s.become(unfinished) // else Sweep finds that all is done
	return err
}

// named is an error of the file called name, whatever name it has meanwhile; nil for nil.
func named(name string, err error) error {
	if err == nil {
		return nil
	}
	return &fs.PathError{Op: "write", Path: name, Err: bare(err)}
}

// folder is where files are written.
type folder struct{ *os.Root }

// writeOne writes one file.
func (d folder) writeOne(f File) error {
	in := path.Dir(f.Name)
	temp := path.Join(in, unfinished+rand.Text())
	defer func() { _ = d.remove(temp) }() // it may have its name by now; Sweep takes what stays
	err := d.create(temp, f.Text, f.Mode)
	switch {
	case err != nil:
	case !f.Replace:
		err = d.link(temp, f.Name)
	default:
		if err = d.replaceable(f.Name); err == nil {
			err = d.rename(temp, f.Name)
		}
	}
	if err != nil {
		return err
	}
	if err = SyncFolder(d.Root, in); err == nil || f.Replace {
		return nil // a loss of power may bring back the one replaced, whole
	}
	_ = d.remove(f.Name) // it may stay, whole
	return err
}

// create writes a file that is not there and brings it to the disk.
func (d folder) create(name string, text []byte, mode fs.FileMode) error {
	var file *os.File
	err := Try("create", func() (err error) {
		file, err = d.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		return err
	})
	if err != nil {
		return err
	}
	err = Try("write", func() error { _, err := file.Write(text); return err })
	if err == nil {
		err = Try("sync", file.Sync)
	}
	return errors.Join(err, Try("close", file.Close))
}

// replaceable returns an error if a name is that of neither a file nor a link.
func (d folder) replaceable(name string) error {
	if info, err := d.Lstat(name); err == nil && info.Mode()&^fs.ModeSymlink&fs.ModeType != 0 {
		return errors.New("is there already, and is not a file")
	}
	return nil
}

// link gives a file a name as well. It fails where the name is taken, whoever took it. File
// systems that know no links, such as those of many memory sticks, leave only to look and then
// to rename.
func (d folder) link(from, to string) error {
	err := Try("link", func() error { return d.Link(from, to) })
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	switch _, there := d.Lstat(to); {
	case there == nil:
		return fs.ErrExist
	case errors.Is(there, fs.ErrNotExist):
		return d.rename(from, to)
	}
	return err
}

func (d folder) rename(from, to string) error {
	return Try("rename", func() error { return d.Rename(from, to) })
}

func (d folder) remove(name string) error {
	return Try("remove", func() error { return d.Remove(name) })
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
	err = Try("sync folder", file.Sync)
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil // a file system that has no such thing, as some on networks
	}
	return errors.Join(err, file.Close())
}

// Sweep removes from a folder what writers that were killed left at least so long ago, and puts
// back at once what they were replacing. A writer that still lives finds that undone, and fails.
func Sweep(dir *os.Root, age time.Duration) {
	entries, err := List(dir, ".")
	if err != nil {
		return // it only tidies
	}
	for _, e := range entries {
		s := stage{folder: folder{dir}, name: e.Name()}
		switch info, err := e.Info(); {
		case err != nil:
		case strings.HasPrefix(s.name, undo) && e.IsDir():
			s.finish()
		case strings.HasPrefix(s.name, unfinished) && time.Since(info.ModTime()) >= age:
			s.drop()
		}
	}
}
