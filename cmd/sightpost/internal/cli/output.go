package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"golang.org/x/term"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/cmd/sightpost/internal/text"
	"sightpost/plots/units"
)

// outcome is what came of one case: what was written into a folder, what to print, and what
// failed or that the case is not met.
type outcome struct {
	wrote string // in words
	text  []byte
	err   error
}

// conclude delivers one answer, with lengths in units u.
func (c *command) conclude(a any, u units.Units, files []disk.File, unmet error) error {
	words, err := c.render(a, u, false)
	if err != nil {
		return err
	}
	return c.deliver(c.written(files, words, unmet))
}

// render returns the answer as it is printed: JSON, or its document in words. Of several
// answers in JSON each takes one line.
func (c *command) render(a any, u units.Units, several bool) ([]byte, error) {
	if c.json {
		return answer.JSON(a, !several)
	}
	d, ok := a.(*document.Document)
	if !ok {
		d = a.(interface{ Document() *document.Document }).Document()
	}
	var words bytes.Buffer
	err := text.Write(&words, d, text.Options{Units: u, Full: c.full})
	return words.Bytes(), err
}

// written writes the files of one case, and returns what came of it.
func (c *command) written(files []disk.File, words []byte, unmet error) outcome {
	if err := c.write(files...); err != nil {
		return outcome{err: err}
	}
	wrote := ""
	switch n := len(files); n {
	case 0:
	case 1:
		wrote = "wrote " + files[0].Name
	default:
		wrote = fmt.Sprintf("wrote %d files into %s", n, filepath.Dir(files[0].Name))
	}
	return outcome{wrote, words, unmet}
}

// deliver says what was written for one case, prints its text, and returns its error.
func (c *command) deliver(o outcome) error {
	if o.wrote != "" {
		note(&c.Command, "%s", o.wrote)
	}
	if len(o.text) > 0 {
		if _, err := c.OutOrStdout().Write(o.text); err != nil {
			return err
		}
	}
	return o.err
}

// write writes files, named with their folders, all or none (see [disk.Write]), and makes the
// folders, which are that of the first or within it; none after an interrupt and, without --force, none when one exists.
func (c *command) write(files ...disk.File) error {
	if err := c.Context().Err(); err != nil || len(files) == 0 {
		return err
	}
	folder := filepath.Dir(files[0].Name)
	for _, name := range []string{filepath.Base(folder), filepath.Base(files[0].Name)} { // that are chosen
		if name != ".." && name != "." && name != string(filepath.Separator) {
			if err := disk.CheckName(name); err != nil {
				return err
			}
		}
	}
	if err := c.ready(files); err != nil {
		return err
	}
	whole := slices.Clone(files)
	for i, f := range files {
		in := filepath.Dir(f.Name)
		if err := disk.Try("mkdir", func() error { return os.MkdirAll(in, 0o755) }); err != nil {
			return disk.PathError(in, err)
		}
		name, err := filepath.Rel(folder, f.Name)
		if err != nil {
			return err
		}
		whole[i].Name, whole[i].Mode, whole[i].Replace = filepath.ToSlash(name), 0o644, c.force
	}
	dir, err := disk.OpenFolder(folder)
	if err != nil {
		return err
	}
	defer dir.Close() // all is written
	var at *fs.PathError
	if err := disk.Write(dir, whole...); errors.As(err, &at) {
		return disk.PathError(filepath.Join(folder, at.Path), err)
	}
	return nil
}

// ready puts back what a killed writer was replacing where files are to be written. Without
// --force, it then returns an error that names the first of those that exist.
func (c *command) ready(files []disk.File) error {
	if dir, err := disk.OpenFolder(filepath.Dir(files[0].Name)); err == nil {
		disk.Sweep(dir, time.Hour) // others may be writing other files there
		_ = dir.Close()            // nothing was written
	}
	if c.force {
		return nil
	}
	var there []error
	for _, f := range files {
		if _, err := os.Lstat(f.Name); err == nil {
			there = append(there, fmt.Errorf("%s: already exists", f.Name))
		} else if !errors.Is(err, fs.ErrNotExist) {
			return disk.PathError(f.Name, err)
		}
	}
	const named = 2 // as many as new writes
	if len(there) == 0 {
		return nil
	} else if n := len(there) - named; n > 0 {
		there = append(there[:named], fmt.Errorf("and %d more", n))
	}
	return withHint(errors.Join(there...), "nothing was written; add --force to overwrite, or choose another folder")
}

// drawn returns figures as files in a folder, in every format.
func (c *command) drawn(folder string, all []answer.Figure) ([]disk.File, error) {
	formats := c.formats
	if len(formats) == 0 {
		formats = []string{"svg"}
	}
	var files []disk.File
	for _, fig := range all {
		texts, err := fig.Drawn(formats...)
		if err != nil {
			return nil, err
		}
		for i, text := range texts {
			files = append(files, disk.File{Name: filepath.Join(folder, fig.Name+"."+formats[i]), Text: text})
		}
	}
	return files, nil
}

// files returns everything that is written for one case that was worked out; none without
// a folder.
func (c *command) files(folder string, p *answer.Placed, rep *document.Report) ([]disk.File, error) {
	if folder == "" {
		return nil, nil
	}
	files, err := c.sheets(folder, "sheet", p, rep.Document())
	if err != nil {
		return nil, err
	}
	if rep.Mount != nil {
		files = append(files, disk.File{Name: filepath.Join(folder, "settings.csv"), Text: rep.SettingsCSV()})
	}
	more, err := c.withObject(folder, p.Figures(c.Context(), answer.Look{Units: c.unitsOr(p.Units())}), resultFile, rep)
	return append(files, more...), err
}

// resultFile is the last file that is written for a case: where it is, all are.
const resultFile = "result.json"

// sheets returns the sheet of a document about p as files in a folder.
func (c *command) sheets(folder, name string, p *answer.Placed, d *document.Document) ([]disk.File, error) {
	var pdf, page bytes.Buffer
	u, paper := c.unitsOr(p.Units()), c.paper
	content := p.Sheet(d, u, version())
	if !c.Flags().Changed("paper") {
		paper = sheet.PaperFor(u)
	}
	err := errors.Join(content.WritePDF(&pdf, paper), content.WriteHTML(&page, paper))
	return []disk.File{{Name: filepath.Join(folder, name+".pdf"), Text: pdf.Bytes()}, {Name: filepath.Join(folder, name+".html"), Text: page.Bytes()}}, err
}

// withObject returns figures as files in a folder, and an answer as an object beside
// them; none without a folder.
func (c *command) withObject(folder string, all []answer.Figure, name string, a any) ([]disk.File, error) {
	if folder == "" {
		return nil, nil
	}
	object, err := answer.JSON(a, true)
	if err != nil {
		return nil, err
	}
	files, err := c.drawn(folder, all)
	return append(files, disk.File{Name: filepath.Join(folder, name), Text: object}), err
}

// progress tells on a terminal how much of a total is done and how long the rest may take,
// when it takes longer than a moment. Any goroutine may call set, which writes over the line
// that is there; wipe clears it. What cannot be written is no failure.
func (c *command) progress(what string, total int) (set func(done int), wipe func()) {
	const moment = time.Second // a person waits for so long without wondering
	w, start := c.ErrOrStderr(), time.Now()
	watched := total > 1 && isTerminal(w) && !quiet(&c.Command)
	var mu sync.Mutex
	most, shown := 0, 0
	show := func(line string) {
		fmt.Fprintf(w, "\r%-*s", shown, line)
		shown = len(line)
	}
	set = func(done int) {
		mu.Lock()
		defer mu.Unlock()
		if most = max(most, done); watched && most > 0 && time.Since(start) >= moment {
			show(fmt.Sprintf("%s: %d of %d, %s left", what, most, total, left(time.Since(start), most, total)))
		}
	}
	return set, func() {
		mu.Lock()
		defer mu.Unlock()
		if shown > 0 {
			show("")
			fmt.Fprint(w, "\r")
		}
	}
}

// left says how long the rest takes of what took so long for the first of a total.
func left(took time.Duration, done, total int) string {
	const fine = 2 * time.Minute // shown in seconds below, in minutes from there
	rest := time.Duration(float64(took) / float64(done) * float64(total-done))
	if rest < fine {
		return fmt.Sprintf("%.0f s", rest.Seconds())
	}
	return fmt.Sprintf("%.0f min", rest.Minutes())
}

// isTerminal reports whether someone watches what is written to w.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
