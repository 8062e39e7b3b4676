package page

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/draft"
)

const (
	// keptFolder is the folder within the page's folder that unfinished work is kept in,
	// and where the server was reached last.
	keptFolder = ".sightpost"
	// draftName begins the name of a file of unfinished work; the id of its window follows.
	draftName, sessionName, unitsName = "draft-", "session", "units"
	// keptEvery is how long what is typed waits to be written.
	keptEvery = 300 * time.Millisecond
	keptMode  = 0o600
	// lockWait is how long a server waits for another of the same folder to end.
	lockWait = 50 * time.Millisecond
	// writingFor is for how long another program may be writing a file there: far longer than
	// that takes, and if not, it fails.
	writingFor = 2 * time.Second
)

// isWindowID reports whether a text is written as the id of a window must be.
func isWindowID(text string) bool {
	const of = "-0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
	return 8 <= len(text) && len(text) <= 64 && strings.Trim(text, of) == ""
}

// keeper keeps what is typed and not saved, a file for each window. The zero keeper keeps
// nothing.
type keeper struct {
	folder *os.Root // of the page; nil to keep nothing
	report func(any)

	mu      sync.Mutex
	dir     *os.Root // keptFolder, once there is something to keep
	unlock  func()   // lets the next server have what this one began; nil if another has it
	note    string   // where this server is reached
	waiting map[string]keptForm
	writing *time.Timer
}

// keptForm is a form that waits to be written: nil if there is nothing to keep.
type keptForm struct {
	number uint64
	form   url.Values
}

// open opens the folder of what is kept, and makes it if asked to. The first server there
// sweeps the page's folder.
func (k *keeper) open(wanted bool) bool {
	if k.folder == nil || k.dir != nil {
		return k.dir != nil
	}
	if wanted {
		const mode = 0o700
		_ = disk.Try("mkdir", func() error { return k.folder.Mkdir(keptFolder, mode) }) // if it cannot be, it cannot be opened
	}
	var err error
	if k.dir, err = k.folder.OpenRoot(keptFolder); err != nil {
		k.dir = nil
		return false
	}
	if k.unlock, err = disk.Lock(context.Background(), k.dir, lockWait); err == nil {
		k.sweep()
		time.AfterFunc(writingFor, func() { // what was too new to be sure of
			k.mu.Lock()
			defer k.mu.Unlock()
			if k.unlock != nil {
				k.sweep()
			}
		})
	}
	k.noted()
	return true
}

// sweep takes away what was left half written and puts back what was being replaced.
func (k *keeper) sweep() {
	disk.Sweep(k.dir, writingFor)
	for _, name := range k.folders() {
		if sub, err := k.folder.OpenRoot(name); err == nil {
			disk.Sweep(sub, writingFor)
			_ = sub.Close() // nothing was written
		}
	}
	if f, err := openRecords(k.folder); err == nil {
		f.Sweep()
		_ = f.Close() // likewise
	}
}

// folders returns the folders in which a page may have saved a case.
func (k *keeper) folders() []string {
	var all []string
	_ = fs.WalkDir(k.folder.FS(), ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case len(all) > maxListed:
			return fs.SkipAll
		case err != nil || !e.IsDir():
		case name == recordsFolder, name != "." && (strings.HasPrefix(e.Name(), ".") || strings.Count(name, "/") >= maxDepth):
			return fs.SkipDir
		default:
			all = append(all, name)
		}
		return nil
	})
	return all
}

// put has what a request holds written soon, or taken away if it is saved. The newest of a
// window wins.
func (k *keeper) put(q *request) {
	if k.folder == nil || !isWindowID(q.Window) {
		return
	}
	kept := keptForm{number: q.Number}
	if q.unsaved() {
		kept.form = q.kept()
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if was, ok := k.waiting[q.Window]; ok && was.number > q.Number {
		return
	}
	if k.waiting == nil {
		k.waiting = map[string]keptForm{}
	}
	k.waiting[q.Window] = kept
	if k.writing == nil {
		k.writing = time.AfterFunc(keptEvery, k.flush)
	}
}

// flush writes what waits.
func (k *keeper) flush() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.writing = nil
	for window, kept := range k.waiting {
		delete(k.waiting, window)
		if !k.open(kept.form != nil) {
			continue
		}
		err := k.write(draftName+window, kept.form)
		if err != nil {
			k.report(err)
		}
	}
}

// write writes a form, or removes the file if there is none.
func (k *keeper) write(name string, form url.Values) error {
	if form == nil {
		if err := k.dir.Remove(name); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	return k.save(name, form.Encode())
}

// save writes a file of what is kept.
func (k *keeper) save(name, text string) error {
	return disk.Write(k.dir, disk.File{Name: name, Text: []byte(text), Mode: keptMode, Replace: true})
}

// saving makes the folder, so that the next server takes away what this one may leave half
// written, and writes; this one sweeps nothing meanwhile.
func (k *keeper) saving(write func() error) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.open(true)
	return write()
}

// close writes what waits, and lets the next server begin.
func (k *keeper) close() {
	k.flush()
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.unlock != nil {
		k.unlock()
	}
	if k.dir != nil {
		_ = k.dir.Close() // all is written
	}
	k.folder, k.dir, k.unlock = nil, nil, nil
}

// form returns the unfinished work of a window.
func (k *keeper) form(window string) (url.Values, error) {
	if k.flush(); !isWindowID(window) {
		return nil, errForm
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if !k.open(false) {
		return nil, fs.ErrNotExist
	}
	text, err := disk.Read(k.dir, draftName+window, maxBody)
	if err != nil {
		return nil, err
	}
	form, err := url.ParseQuery(string(text))
	if err == nil {
		form.Set("window", window)
	}
	return form, err
}

// units returns the units that were chosen last; "" if none were.
func (k *keeper) units() string {
	k.mu.Lock()
	defer k.mu.Unlock()
	if !k.open(false) {
		return ""
	}
	text, _ := disk.Read(k.dir, unitsName, maxHeader) // there may be none
	return string(text)
}

// choose keeps the units for the next case.
func (k *keeper) choose(units string) {
	if k.units() == units {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.open(true) {
		if err := k.save(unitsName, units); err != nil {
			k.report(err)
		}
	}
}

// unfinished is work that was not saved.
type unfinished struct {
	Window, Code, At, When string
	changed                time.Time
}

// all returns all unfinished work, the newest first.
func (k *keeper) all() []unfinished {
	k.flush()
	var entries []fs.DirEntry
	k.mu.Lock()
	if k.open(false) {
		entries, _ = disk.List(k.dir, ".") // what cannot be read is left out
	}
	k.mu.Unlock()
	var all []unfinished
	for _, e := range entries {
		window, ok := strings.CutPrefix(e.Name(), draftName)
		info, err := e.Info()
		if !ok || err != nil {
			continue
		}
		form, err := k.form(window)
		if err != nil {
			continue
		}
		all = append(all, unfinished{window, form.Get("code"), form.Get("at"), info.ModTime().Format("2006-01-02 15:04"), info.ModTime()})
	}
	slices.SortFunc(all, func(a, b unfinished) int { return b.changed.Compare(a.changed) })
	return all
}

// discard takes unfinished work away.
func (s *Server) discard(_ context.Context, q *request, v *view) error {
	k := &s.kept
	k.mu.Lock()
	defer k.mu.Unlock()
	if !isWindowID(q.Target) || !k.open(false) {
		return fs.ErrNotExist
	}
	v.Notice = "Discarded."
	return k.write(draftName+q.Target, nil)
}

// unsaved reports whether a page holds what no file does.
func (q *request) unsaved() bool {
	starter, _ := casefile.Starter(q.Units)
	text, _ := withoutUnconfirmed(q.Text)
	begun := len(q.Settings) > 0 || q.Form.Get("record-note") != ""
	switch {
	case q.Filed != "" && q.Filed == q.sum():
		return q.Form.Get("record-note") != ""
	case q.Text == draft.Empty, text == string(starter) && q.At == "":
		return begun
	}
	return begun || len(q.refused) > 0 || q.Disk != sumOf(q.outgoing("", q.Text, "").Text)
}

// sum tells what is filed apart: the case, its kit, and how the mount is set.
func (q *request) sum() string {
	settings := slices.SortedFunc(slices.Values(q.Settings), func(a, b answer.Entry) int { return strings.Compare(a.Name, b.Name) })
	return sumOf(fmt.Appendf(nil, "%q %q %v %q %q", q.Text, q.Kit, q.AsFound, q.Side, settings))
}

// kept returns the fields from which a page is made again as it is.
func (q *request) kept() url.Values {
	form := url.Values{}
	for name, values := range q.Form {
		if !strings.HasPrefix(name, entryField) && !strings.HasPrefix(name, settingField) {
			form[name] = slices.Clone(values)
		}
	}
	for _, gone := range []string{"action", "before", "base", "number", "replaced", "over"} {
		form.Del(gone)
	}
	for name, word := range q.words() {
		form.Set(name, *word)
	}
	tick := map[bool]string{true: "yes"} // as a box that is ticked sends it
	form.Set("windows", tick[q.Windows])
	form.Set("as-found", tick[q.AsFound])
	code, _ := q.draft.Word("label")
	form.Set("code", code)
	form.Set("units", q.Units.String())
	form.Set("shown", q.Shown.String())
	for path := range q.refused {
		form.Set(entryField+path, q.Entries[path])
	}
	for _, set := range q.Settings {
		form.Set(settingField+set.Name, set.Value)
	}
	return form
}

// keep keeps what the page holds and answers nothing: of what the drawing does not follow.
func (s *Server) keep(_ context.Context, q *request) (reply, error) {
	s.kept.put(q)
	return reply{}, errOlder
}

// noted writes down where this server is reached.
func (k *keeper) noted() {
	if k.unlock == nil {
		return
	}
	err := k.dir.Remove(sessionName)
	if k.note != "" {
		err = k.save(sessionName, k.note)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		k.report(err)
	}
}

// reached has the server's address written down, once there is something to keep; "" has
// it forgotten.
func (k *keeper) reached(note string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.note = note; k.open(false) {
		k.noted()
	}
}

// last returns where the last server of the folder was reached, if this is the only one now:
// a page that is still open then goes on.
func (k *keeper) last() (port int, path, token string, ok bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.folder == nil {
		return 0, "", "", false
	}
	text, err := disk.Read(k.folder, keptFolder+"/"+sessionName, maxHeader)
	if err == nil && k.open(false) && k.unlock != nil {
		_, err = fmt.Sscan(string(text), &port, &path, &token)
		return port, path, token, err == nil
	}
	return 0, "", "", false
}
