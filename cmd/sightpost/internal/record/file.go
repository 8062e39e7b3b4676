package record

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// ErrBusy reports that another writer holds the records of a code.
var ErrBusy = errors.New("another sightpost is writing there; try again when it has finished")

// Permissions of what is made, less what the system's mask takes away. Who may see
// records at all is for the clinic's folder to say.
const (
	folderMode fs.FileMode = 0o770
	fileMode   fs.FileMode = 0o660
)

const (
	lockName   = ".lock"
	unfinished = ".unfinished-" // begins the name of a file that is being written
)

// File files r in the folder of its code, which it makes if need be, and returns
// the name it got: that of its day, or the next free one on that day. Nothing that
// exists is changed, and after an error no part of r is left. The error names the
// place and wraps [ErrBusy], [ErrLink], [ErrAccess] or what the system says; ctx
// ends the wait for another writer.
func (f *Folder) File(ctx context.Context, r *Record) (Name, error) {
	text, err := Encode(r)
	if err != nil {
		return Name{}, err
	}
	sub, err := f.make(r.Code)
	if err != nil {
		return Name{}, err
	}
	defer sub.Close()
	at := filepath.Join(f.path, r.Code)
	unlock, err := lock(ctx, sub, filepath.Join(at, lockName), cmp.Or(f.LockWait, 10*time.Second))
	if err != nil {
		return Name{}, err
	}
	defer unlock()
	w := writer{dir: sub, link: sub.Link}
	w.sweep()
	n, err := w.write(r.Day, text)
	if err != nil {
		return Name{}, fmt.Errorf("%w; nothing was filed", PathError(at, err))
	}
	return n, nil
}

// make opens the folder of a code, and makes it if it is not there.
func (f *Folder) make(code string) (*os.Root, error) {
	sub, err := f.open(code)
	if !errors.Is(err, ErrNone) {
		return sub, err
	}
	twin, err := f.twin(code)
	if err != nil {
		return nil, err
	}
	if twin != "" {
		return nil, fmt.Errorf("%s: the code %s already exists, and many systems cannot tell it from %s", f.path, twin, code)
	}
	if err := f.root.Mkdir(code, folderMode); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%w; nothing was filed", PathError(filepath.Join(f.path, code), err))
	}
	if err := syncFolder(f.root); err != nil {
		return nil, PathError(f.path, err)
	}
	return f.open(code)
}

// TryLock keeps others out of the folder dir, which is at path, until unlock is called. The
// error is [ErrBusy] if another is in it.
func TryLock(dir *os.Root, path string) (unlock func(), err error) {
	const wait = 50 * time.Millisecond
	return lock(context.Background(), dir, filepath.Join(path, lockName), wait)
}

// lock keeps other writers out of a folder until unlock is called.
// The lock is the system's, so that it ends with its holder however that ends; its
// file stays, because removing it could let two writers in.
func lock(ctx context.Context, sub *os.Root, path string, wait time.Duration) (unlock func(), err error) {
	if err := regular(sub, lockName); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, PathError(path, err)
	}
	file, err := sub.OpenFile(lockName, os.O_CREATE|os.O_RDWR, fileMode)
	if err != nil {
		return nil, fmt.Errorf("%w; nothing was filed", PathError(path, err))
	}
	defer file.Close()
	limited, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	const again = 25 * time.Millisecond
	held := flock.New(path, flock.SetFlag(os.O_RDWR))
	if _, err := held.TryLockContext(limited, again); err != nil {
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case limited.Err() != nil:
			return nil, fmt.Errorf("%s: %w", path, ErrBusy)
		}
		return nil, PathError(path, err)
	}
	unlock = func() { _ = held.Unlock() } // closing the file unlocks it as well
	// the lock is opened by its path, and must be held on the file within the folder
	inside, errIn := file.Stat()
	locked, errHeld := held.Stat()
	if errIn != nil || errHeld != nil || !os.SameFile(inside, locked) {
		unlock()
		return nil, fmt.Errorf("%s: %w", path, ErrLink)
	}
	return unlock, nil
}

// writer writes records into the folder of a code, whose lock it holds.
type writer struct {
	dir  *os.Root
	link func(from, to string) error
}

// sweep removes what writers left that were killed while writing. Those that live
// wait for the lock and have written nothing yet.
func (w writer) sweep() {
	entries, err := fs.ReadDir(w.dir.FS(), ".")
	if err != nil {
		return // it only tidies
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), unfinished) && e.Type().IsRegular() {
			_ = w.dir.Remove(e.Name()) // likewise
		}
	}
}

// write writes a record of day d and returns its name.
func (w writer) write(d Day, text []byte) (Name, error) {
	for n := (Name{Day: d, Nth: 1}); n.Nth <= maxNth; n.Nth++ {
		name := n.String() + ending
		if _, err := w.dir.Lstat(name); err == nil {
			continue
		}
		err := w.put(name, text, fileMode, false)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err == nil {
			if err = syncFolder(w.dir); err != nil {
				err = errors.Join(err, w.dir.Remove(name))
			}
		}
		return n, err
	}
	return Name{}, fmt.Errorf("there are already %d records of %s", maxNth, d)
}

// Sweep removes from a folder what writers left that were killed while writing. Nobody may
// be writing there.
func Sweep(dir *os.Root) { writer{dir: dir}.sweep() }

// WriteFile writes a file of a folder whole or not at all. The error is [fs.ErrExist] if
// there is one that it may not replace.
func WriteFile(dir *os.Root, name string, text []byte, mode fs.FileMode, replace bool) error {
	return writer{dir, dir.Link}.put(name, text, mode, replace)
}

// put writes a file under a name of its own, brings it to the disk, and then gives it its
// name.
func (w writer) put(name string, text []byte, mode fs.FileMode, replace bool) error {
	temp := path.Join(path.Dir(name), unfinished+rand.Text())
	file, err := w.dir.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() { _ = w.dir.Remove(temp) }() // the next writer sweeps if this fails
	_, err = file.Write(text)
	if err == nil {
		err = file.Sync()
	}
	err = errors.Join(err, file.Close())
	switch {
	case err != nil:
		return err
	case replace:
		return w.dir.Rename(temp, name)
	}
	return w.give(temp, name)
}

// give gives a written file its name, unless that is taken: a link to it fails
// then, whoever took the name. File systems that know no links, such as those of
// many memory sticks, leave only to look and then to rename. The lock makes that
// safe among our own writers.
func (w writer) give(temp, name string) error {
	err := w.link(temp, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, err := w.dir.Lstat(name); err == nil {
		return fs.ErrExist
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return w.dir.Rename(temp, name)
}

// syncFolder brings the names in a folder to the disk. Windows has no way to, and
// does it by itself.
func syncFolder(dir *os.Root) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	file, err := dir.Open(".")
	if err != nil {
		return err
	}
	err = file.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil // a file system that has no such thing, as some on networks
	}
	return errors.Join(err, file.Close())
}
