package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// What keeps a writer out of a folder.
var (
	ErrBusy = errors.New("another sightpost is writing there; try again when it has finished")
	ErrLink = errors.New("is a link; only what is in the folder itself is read and written")
)

const lockName = ".lock"

// Lock keeps other writers out of the folder dir until unlock is called.
// It waits for another to end for so long, or until ctx is done; the error is [ErrBusy]
// then. The lock is the system's, so that it ends with its holder however that ends; its
// file stays, because removing it could let two writers in.
func Lock(ctx context.Context, dir *os.Root, wait time.Duration) (unlock func(), err error) {
	const mode fs.FileMode = 0o660
	path := filepath.Join(dir.Name(), lockName)
	switch info, err := dir.Lstat(lockName); {
	case err != nil || info.Mode().IsRegular():
	case info.Mode().Type() == fs.ModeSymlink:
		return nil, fmt.Errorf("%s: %w", path, ErrLink)
	default:
		return nil, fmt.Errorf("%s: %w", path, ErrNotFile)
	}
	var file *os.File
	err = Try("create", func() (err error) {
		file, err = dir.OpenFile(lockName, os.O_CREATE|os.O_RDWR, mode)
		return err
	})
	if err != nil {
		return nil, PathError(path, err)
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
