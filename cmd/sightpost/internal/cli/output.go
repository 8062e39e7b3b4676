package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/moby/sys/atomicwriter"
)

// file is a file to be written.
type file struct {
	name string // with its folder
	data []byte
}

// writeAll writes files whole, making their folders. Unless force is set it writes
// none at all when one of them exists.
func writeAll(files []file, force bool) error {
	if err := refuseExisting(files, force); err != nil {
		return err
	}
	for _, f := range files {
		if err := os.MkdirAll(filepath.Dir(f.name), 0o755); err != nil {
			return plainPathError(filepath.Dir(f.name), err)
		}
		if err := atomicwriter.WriteFile(f.name, f.data, 0o644); err != nil {
			return plainPathError(f.name, err)
		}
	}
	return nil
}

// refuseExisting returns an error that names the files that exist, unless force
// is set.
func refuseExisting(files []file, force bool) error {
	if force {
		return nil
	}
	var there []error
	for _, f := range files {
		if _, err := os.Lstat(f.name); !errors.Is(err, fs.ErrNotExist) {
			if err != nil {
				return plainPathError(f.name, err)
			}
			there = append(there, fmt.Errorf("%s: exists already", f.name))
		}
	}
	if len(there) == 0 {
		return nil
	}
	return withHint(errors.Join(there...), "nothing was written; add --force to overwrite, or choose another place")
}
