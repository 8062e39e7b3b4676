package page

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
)

// Bounds of what is looked for in the folder: a clinic's folder is not deep, and one
// that is chosen by mistake may be enormous.
const (
	maxListed = 500
	maxLooked = 5000
	maxDepth  = 4
	maxRead   = 256 << 10 // as cases and kits are bounded
)

// listing is what the folder holds that the page can use.
type listing struct{ Cases, Kits []string }

// list returns the cases and kits in the folder, by name. What cannot be read is left
// out.
func (s *Server) list() listing {
	var l listing
	looked := 0
	_ = fs.WalkDir(s.opt.Folder.FS(), ".", func(name string, e fs.DirEntry, err error) error {
		looked++
		switch {
		case looked > maxLooked || len(l.Cases)+len(l.Kits) >= maxListed:
			return fs.SkipAll
		case err != nil && e != nil && e.IsDir():
			return fs.SkipDir
		case err != nil:
			return nil
		case e.IsDir() && name != "." && (strings.HasPrefix(e.Name(), ".") || strings.Count(name, "/") >= maxDepth-1):
			return fs.SkipDir
		case !isYAML(name) || !e.Type().IsRegular():
			return nil
		}
		f, err := s.openFile(name)
		if err != nil {
			return nil
		}
		defer f.Close() // only read
		switch sortOf(f) {
		case caseKey:
			l.Cases = append(l.Cases, name)
		case kitKey:
			l.Kits = append(l.Kits, name)
		}
		return nil
	})
	slices.Sort(l.Cases)
	slices.Sort(l.Kits)
	return l
}

// mostRecent bounds what the first page shows of cases and assessments without being asked.
const mostRecent = 5

// recent returns those of some files that were changed last.
func (s *Server) recent(names []string) []string {
	changed := map[string]time.Time{}
	for _, name := range names {
		if info, err := s.opt.Folder.Stat(name); err == nil {
			changed[name] = info.ModTime()
		}
	}
	names = slices.SortedStableFunc(slices.Values(names), func(a, b string) int { return changed[b].Compare(changed[a]) })
	return names[:min(len(names), mostRecent)]
}

// isYAML reports whether a file has a name as cases and kits have.
func isYAML(name string) bool {
	ending := strings.ToLower(path.Ext(name))
	return ending == ".yaml" || ending == ".yml"
}

// sortOf returns the first key of a text that tells a case or a kit; "" if it is neither.
func sortOf(src io.Reader) string {
	text, err := casefile.ReadText(src, maxRead)
	if err != nil {
		return ""
	}
	for line := range strings.Lines(text) {
		if key, _, _ := strings.Cut(line, ":"); key == caseKey || key == kitKey {
			return key
		}
	}
	return ""
}

// The keys that begin a case and a kit.
const caseKey, kitKey = "sightpost", "sightpost_kit"

// errOutside reports a path that leads out of the folder.
var errOutside = errors.New("outside the folder that the program was started with; start it with a folder further up")

// openFile opens a file of the folder by its path in it. Nothing outside is ever
// opened, by whatever path or link.
func (s *Server) openFile(name string) (io.ReadCloser, error) {
	if !fs.ValidPath(name) {
		return nil, fmt.Errorf("%s: %w", name, errOutside)
	}
	f, err := disk.Open(s.opt.Folder, name)
	return f, fileError(name, err)
}

// readFile returns the bytes of a file of the folder.
func (s *Server) readFile(name string) ([]byte, error) {
	f, err := s.openFile(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() // only read
	text, err := disk.All(f, maxRead)
	return text, fileError(name, err)
}

// fileError says in plain words what is wrong with a file.
func fileError(name string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) && strings.Contains(at.Err.Error(), "escapes") {
		err = errOutside
	}
	return disk.PathError(name, err)
}

// mode returns what is at a path of the folder: neither a file nor a folder if there is
// nothing.
func (s *Server) mode(name string) fs.FileMode {
	info, err := s.opt.Folder.Stat(name)
	if err != nil {
		return fs.ModeIrregular
	}
	return info.Mode()
}

// checkName returns an error unless a file may be called so: a path within the folder
// that every system takes.
func checkName(name string) error {
	top, _, below := strings.Cut(name, "/")
	switch err := disk.CheckName(name); {
	case name == "" || name == ".":
		return errors.New("give the file a name, such as case.yaml")
	case err != nil:
		return err
	case !isYAML(name):
		return fmt.Errorf("%q: the name of a case or kit must end in .yaml", name)
	case below && strings.EqualFold(top, recordsFolder):
		return fmt.Errorf("%q: the folder %s is for filed assessments only; choose another", name, recordsFolder)
	case strings.HasPrefix(name, "."), strings.Contains(name, "/."):
		return fmt.Errorf("%q: a name that begins with a period would not be listed", name)
	}
	return nil
}
