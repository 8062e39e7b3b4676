package record

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

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
