package page

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/record"
)

// outgoing is a file that is about to be saved.
type outgoing struct {
	disk.File
	left string // sum of what this page left there, "" if nothing
	over bool   // it may take the place of what is there
}

// outgoing returns a file with a text. Of the files in the way of an earlier try, the page
// says which may be replaced.
func (q *request) outgoing(name, text, left string) outgoing {
	if q.Windows {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	over := q.Action == "replace" && slices.Contains(q.Form["over"], name)
	const mode = 0o640 // a case is nobody's business but the clinic's
	return outgoing{disk.File{Name: name, Text: []byte(text), Mode: mode}, left, over}
}

// question asks whether files may be replaced.
type question struct {
	Words string
	// Name is that under which the case is being saved, Over are the files in its way.
	Name string
	Over []string
}

// saveCase saves the case into the folder, and the kit that came with it where the
// case looks for it. If a file is in the way of either, neither is written.
func (s *Server) saveCase(_ context.Context, q *request, v *view) error {
	name := cmp.Or(strings.TrimSpace(q.Form.Get("name")), q.Suggested())
	if code, _ := q.draft.Word("label"); name == code && !isYAML(name) || path.Ext(name) == "" {
		name += ".yaml"
	}
	if q.Action == "replace" {
		name = q.Form.Get("replaced")
	}
	files, err := s.leaving(q, name)
	if err != nil {
		return err
	}
	ask, err := s.inTheWay(files)
	if err != nil {
		return err
	}
	if ask.Over != nil {
		ask.Name, v.Replace = name, ask
		return fmt.Errorf("%s: %w", strings.Join(ask.Over, ", "), errThere)
	}
	if err := s.save(files); err != nil {
		return err
	}
	q.At, q.Disk = name, sumOf(files[len(files)-1].Text) // the case is the last of them
	if len(files) > 1 {
		q.Kit, q.KitAt = "", "" // the page has it from the folder now
	}
	q.hold(plainEnds(string(files[len(files)-1].Text)))
	v.Notice = fmt.Sprintf("Saved %s in the folder.", name)
	return nil
}

// Suggested returns the name of a file for the case of a page, after its code, which may
// be no name.
func (q *request) Suggested() string {
	code, _ := q.draft.Word("label")
	if name := code + ".yaml"; record.CheckCode(code) == nil && checkName(name) == nil {
		return name
	}
	return "case.yaml"
}

// leaving returns the files to write when the case is saved under a name, the case
// itself last. A text that cannot be read is saved as it is.
func (s *Server) leaving(q *request, name string) ([]outgoing, error) {
	if err := checkName(name); err != nil {
		return nil, err
	}
	var files []outgoing
	text := q.Text
	switch {
	case errors.Is(q.wrong, draft.ErrEntry):
		return nil, q.wrong
	case q.wrong == nil:
		named, kit, err := s.placeKit(q, name)
		if err != nil {
			return nil, err
		}
		if kit != "" {
			files = append(files, q.outgoing(kit, q.Kit, ""))
		}
		text = withUnconfirmed(named.Text(), q.unconfirmed)
	}
	left := ""
	if name == q.At {
		left = q.Disk
	}
	return append(files, q.outgoing(name, text, left)), nil
}

// placeKit returns the case as it must name its kit once it is called name, and the file
// to write the kit into, "" if it does not go along. A kit that came with the case goes
// where the case looks for it or, if that is no place of the folder, beside the case.
func (s *Server) placeKit(q *request, name string) (d draft.Draft, kit string, err error) {
	d = q.draft
	word, ok := d.Word(kitEntry)
	if !ok {
		return d, "", nil
	}
	was, at := path.Join(path.Dir(q.At), word), path.Join(path.Dir(name), word)
	looked := at
	switch {
	case q.Kit != "":
		if !s.mode(path.Dir(at)).IsDir() {
			at = path.Join(path.Dir(name), path.Base(word))
		}
		if strings.EqualFold(at, name) {
			return d, "", fmt.Errorf("%s is the name of the kit; give the case another name", name)
		}
		kit = at
	case was != at && s.mode(was).IsRegular():
		at = was
	}
	if at != looked {
		d, err = d.Set(kitEntry, relative(at, name))
	}
	return d, kit, err
}

// relative returns the path of a file of the folder as the case at a path names it.
func relative(file, at string) string {
	name, err := filepath.Rel(filepath.Dir(filepath.FromSlash(at)), filepath.FromSlash(file))
	if err != nil {
		return file // both are paths within the folder
	}
	return filepath.ToSlash(name)
}

// inTheWay notes of files whether they replace one, and asks about those that are there already
// with something else in them and may not be replaced: Over is nil if there are none. The error is of a name under
// which nothing can be saved.
func (s *Server) inTheWay(files []outgoing) (*question, error) {
	ask := &question{}
	for i, f := range files {
		if err := checkName(f.Name); err != nil {
			return nil, err
		}
		if folder := path.Dir(f.Name); !s.mode(folder).IsDir() {
			return nil, fmt.Errorf("%s: there is no folder %s; create it first, or leave it out of the name", f.Name, folder)
		}
		var err error
		if files[i].Replace, err = s.replaces(f); errors.Is(err, errThere) {
			ask.Over = append(ask.Over, f.Name)
		} else if err != nil {
			return nil, err
		}
	}
	switch kit := len(files) > 1 && slices.Contains(ask.Over, files[0].Name); {
	case kit && len(ask.Over) == 1:
		ask.Words = ask.Over[0] + " already exists and is a different kit. Other cases may use it. Replace it?"
	case kit:
		ask.Words = strings.Join(ask.Over, " and ") + " already exist. The first is a different kit that other cases may use. Replace both?"
	case ask.Over != nil && files[len(files)-1].left != "":
		ask.Words = ask.Over[0] + " was changed by someone else since this page read it, perhaps in another window. Replace it?"
	case ask.Over != nil:
		ask.Words = ask.Over[0] + " already exists. Replace it?"
	}
	return ask, nil
}

// errThere reports that a file is there already and was not written by this page.
var errThere = errors.New("is there already")

// replaces reports whether a file takes the place of one that is there: that is as this
// page left it, which its sum tells, or says the same, or may be replaced. If not, the
// error is errThere.
func (s *Server) replaces(f outgoing) (bool, error) {
	was, err := s.readFile(f.Name)
	switch {
	case f.over:
		return true, nil
	case errors.Is(err, disk.ErrNone):
		return false, nil
	case err != nil:
		return false, err
	case f.left != "" && sumOf(was) == f.left, bytes.Equal(was, f.Text):
		return true, nil
	}
	return false, fmt.Errorf("%s: %w", f.Name, errThere)
}

// save writes files of the folder, all or none.
func (s *Server) save(files []outgoing) error {
	whole := make([]disk.File, len(files))
	for i, f := range files {
		whole[i] = f.File
	}
	err := s.kept.saving(func() error { return disk.Write(s.opt.Folder, whole...) })
	var at *fs.PathError
	switch errors.As(err, &at); {
	case errors.Is(err, fs.ErrExist):
		return fileError(at.Path, errThere)
	case err != nil:
		return fileError(at.Path, err)
	}
	return nil
}

// sumOf returns what tells two states of a file apart.
func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
