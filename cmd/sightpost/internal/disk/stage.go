package disk

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
)

// stage is a folder within another that holds files until all are written and, while they get
// their names, those that had these names.
type stage struct {
	folder
	name  string
	names []string // of the files, the last to be given last: it tells that the others are there
}

const (
	namesFile = "names" // holds the names, a line each
	mostNames = 1 << 20 // bytes of it
)

// is returns where a file is in the stage, as it is "to be" or "was".
func (s *stage) is(state string, i int) string {
	return path.Join(s.name, strconv.Itoa(i)+"-"+state)
}

// become gives the stage another name, at which every other writer loses it.
func (s *stage) become(prefix string) error {
	name := prefix + rand.Text()
	err := s.rename(s.name, name)
	if err == nil {
		s.name = name
	}
	return err
}

// fill makes the stage and writes files into it.
func (s *stage) fill(files []File) error {
	const mode fs.FileMode = 0o777 // of those who may write in the folder, each may put back
	first := s.names[0]
	if err := Try("mkdir", func() error { return s.Mkdir(s.name, mode) }); err != nil {
		return named(first, err)
	}
	for i, f := range files {
		if err := s.create(s.is("to be", i), f.Text, f.Mode); err != nil {
			return named(f.Name, err)
		}
	}
	err := s.create(path.Join(s.name, namesFile), []byte(strings.Join(s.names, "\n")), mode&^0o111)
	if err == nil {
		err = s.become(undo)
	}
	return named(first, err)
}

// give puts aside what is there, gives the files of the stage their names and brings these to
// the disk.
func (s *stage) give(files []File) error {
	for i, f := range slices.Backward(files) {
		if !f.Replace {
			continue
		}
		err := s.replaceable(f.Name)
		if err == nil {
			err = s.rename(f.Name, s.is("was", i))
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return named(f.Name, err)
		}
	}
	for i, name := range s.names {
		if err := s.link(s.is("to be", i), name); err != nil {
			return named(name, err)
		}
	}
	synced := map[string]bool{}
	for _, name := range s.names {
		if dir := path.Dir(name); !synced[dir] {
			synced[dir] = true
			if err := SyncFolder(s.Root, dir); err != nil {
				return named(dir, err)
			}
		}
	}
	return named(s.names[0], s.become(unfinished))
}

// given reports whether the file that has a name is that of the stage. One that is no more in
// the stage was renamed.
func (s *stage) given(i int, name string) (given, renamed bool) {
	now, err := s.Lstat(name)
	if err != nil {
		return false, false
	}
	own, err := s.Lstat(s.is("to be", i))
	renamed = errors.Is(err, fs.ErrNotExist)
	return renamed || err == nil && os.SameFile(now, own), renamed
}

// putBack makes the folder as it was before give, wherever that or putBack itself ended. A name
// that another has taken meanwhile stays with that.
func (s *stage) putBack() error {
	for i, name := range slices.Backward(s.names) {
		var err error
		switch given, renamed := s.given(i, name); {
		case renamed:
			err = s.rename(name, s.is("to be", i))
		case given:
			err = s.remove(name)
		}
		if err != nil {
			return err
		}
	}
	for i, name := range s.names {
		was := s.is("was", i)
		if _, err := s.Lstat(was); errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err := s.link(was, name); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return nil
}

// finish does for a writer that was killed what it would have done. It keeps all files if they
// have their names.
func (s *stage) finish() {
	if s.become(undo) != nil {
		return
	}
	text, err := Read(s.Root, path.Join(s.name, namesFile), mostNames)
	if err != nil {
		return // for a person to look at
	}
	s.names = strings.Split(string(text), "\n")
	all := true
	for i, name := range s.names {
		given, _ := s.given(i, name)
		all = all && given
	}
	if (all || s.putBack() == nil) && s.become(unfinished) == nil {
		s.drop()
	}
}

// drop removes the stage, unless what was there must still be put back.
func (s *stage) drop() {
	if strings.HasPrefix(s.name, unfinished) {
		_ = Try("remove", func() error { return s.RemoveAll(s.name) }) // Sweep takes what stays
	}
}
