package page

import (
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"sightpost/cmd/sightpost/internal/draft"
)

// outgoing is a file that is about to be saved.
type outgoing struct {
	name string
	text []byte
	left string // sum of what this page left there, "" if nothing
	over bool   // it may take the place of what is there
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
func (s *Server) saveCase(_ context.Context, q *request) func(*view) {
	name, over := strings.TrimSpace(q.Form.Get("name")), []string(nil)
	switch {
	case q.Action == "replace":
		name, over = q.Form.Get("replaced"), q.Form["over"]
	case name == "":
		name = q.suggested()
	}
	files, text, err := s.leaving(q, name)
	if err != nil {
		return failing(err)
	}
	if ask, err := s.inTheWay(files, over); err != nil {
		return failing(err)
	} else if ask != nil {
		ask.Name = name
		return func(v *view) { v.Replace = ask; v.fail(fmt.Errorf("%s: %w", strings.Join(ask.Over, ", "), errThere)) }
	}
	sum := ""
	for _, f := range files {
		if sum, err = s.save(f); err != nil {
			return failing(err)
		}
	}
	q.settle(text)
	q.At, q.Disk = name, sum // the case is the last of them
	if len(files) > 1 {
		q.Kit, q.KitAt = "", "" // the page has it from the folder now
	}
	return func(v *view) { v.say("Saved %s in the folder.", name) }
}

// suggested returns the name of a file for the case of a page, after its code.
func (q *request) suggested() string {
	code := ""
	if d, err := q.changed(); err == nil {
		code, _ = d.Word("label")
	}
	return suggested(code)
}

// leaving returns the files to write when the case is saved under a name, the case
// itself last, and its text. A text with a slip is saved as it stands.
func (s *Server) leaving(q *request, name string) (files []outgoing, text string, err error) {
	if err := checkName(name); err != nil {
		return nil, "", err
	}
	d, err := q.changed()
	if err != nil && d.Text() != "" {
		return nil, "", err
	}
	if text = q.Text; err == nil {
		var kit *outgoing
		if d, kit, err = s.placeKit(q, d, name); err != nil {
			return nil, "", err
		}
		if kit != nil {
			files = append(files, *kit)
		}
		text = d.Text()
	}
	return append(files, outgoing{name: name, text: q.ends(text), left: q.disk(name)}), text, nil
}

// placeKit has the case name its kit as it must once it is called name, and returns the
// file of the kit if that goes along. A kit that came with the case goes where the case
// looks for it or, if that is no place of the folder, beside the case.
func (s *Server) placeKit(q *request, d draft.Draft, name string) (draft.Draft, *outgoing, error) {
	word, ok := d.Word(kitEntry)
	if !ok {
		return d, nil, nil
	}
	was, at := path.Join(path.Dir(q.At), word), path.Join(path.Dir(name), word)
	var kit *outgoing
	switch {
	case q.Kit != "":
		if !s.isFolder(path.Dir(at)) {
			at = path.Join(path.Dir(name), path.Base(word))
		}
		if strings.EqualFold(at, name) {
			return d, nil, fmt.Errorf("%s is the name of the kit; give the case another name", name)
		}
		kit = &outgoing{name: at, text: q.ends(q.Kit)}
	case was == at || !s.isFile(was):
		return d, nil, nil // found as before, or nowhere
	default:
		at = was
	}
	if at == path.Join(path.Dir(name), word) {
		return d, kit, nil
	}
	d, err := d.Set(kitEntry, relative(at, name))
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

// inTheWay asks about those files that are there already with something else in them
// and may not be replaced; nil if there are none. It marks those that may be. The error
// is of a name under which nothing can be saved.
func (s *Server) inTheWay(files []outgoing, over []string) (*question, error) {
	ask := &question{}
	for i := range files {
		f := &files[i]
		for _, name := range over {
			f.over = f.over || name == f.name
		}
		free, err := s.free(*f)
		if err != nil {
			return nil, err
		}
		if !free {
			ask.Over = append(ask.Over, f.name)
		}
	}
	switch kit := len(files) > 1 && len(ask.Over) > 0 && ask.Over[0] == files[0].name; {
	case len(ask.Over) == 0:
		return nil, nil
	case kit && len(ask.Over) == 1:
		ask.Words = ask.Over[0] + " already exists and is a different kit. Other cases may use it. Replace it?"
	case kit:
		ask.Words = strings.Join(ask.Over, " and ") + " already exist. The first is a different kit that other cases may use. Replace both?"
	default:
		ask.Words = ask.Over[0] + " already exists. Replace it?"
	}
	return ask, nil
}

// free reports whether a file may be written: nothing is in its place but what may be
// replaced.
func (s *Server) free(f outgoing) (bool, error) {
	if err := checkName(f.name); err != nil {
		return false, err
	}
	if folder := path.Dir(f.name); !s.isFolder(folder) {
		return false, fmt.Errorf("%s: there is no folder %s; create it first, or leave it out of the name", f.name, folder)
	}
	was, err := s.readFile(f.name)
	switch {
	case errors.Is(err, errNoFile) || f.over:
		return true, nil
	case err != nil:
		return false, err
	}
	return f.mayReplace(was), nil
}
