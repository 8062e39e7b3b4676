package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
)

// action does what a button asks for, to what the page holds, and returns what to add
// to the page that is then shown.
type action func(ctx context.Context, q *request) func(*view)

// actions are the buttons that change what the page holds, by the first word of
// their value.
func (s *Server) actions() map[string]action {
	return map[string]action{
		"new": s.begin, "example": s.example, "open": s.openCase, "upload": s.upload,
		"save": s.saveCase, "replace": s.saveCase,
		"add": s.addEntry, "remove": s.removeEntry, "measures": s.byMeasures,
		"take": s.takeSettings, "settings": s.readSettings, "recall": s.recall,
		"file": s.fileRecord, "reopen": s.reopen, "job": s.jobAction,
	}
}

// nothing adds nothing to the page.
func nothing(*view) {}

// failing adds to the page what went wrong.
func failing(err error) func(*view) { return func(v *view) { v.fail(err) } }

// hold puts another case into the page.
func (q *request) hold(text string, windows bool, kit, at string) {
	q.settle(text)
	q.Windows, q.Kit, q.KitAt, q.At, q.Disk = windows, kit, "", at, ""
	q.Stands, q.Settings, q.Side = false, nil, ""
	q.Form = nil // what was said beside it was said of another case
}

// begin empties the page.
func (s *Server) begin(_ context.Context, q *request) func(*view) {
	q.hold(draft.Empty, false, "", "")
	return nothing
}

// example loads the worked example.
func (s *Server) example(_ context.Context, q *request) func(*view) {
	caseText, kitText := casefile.Starter()
	q.hold(string(caseText), false, string(kitText), "")
	return func(v *view) {
		v.say("This is a worked example with invented numbers: replace every one with your own.")
	}
}

// openCase opens a case of the folder.
func (s *Server) openCase(_ context.Context, q *request) func(*view) {
	name := q.Form.Get("case")
	raw, err := s.readFile(name)
	if err != nil {
		return failing(err)
	}
	if err := q.take(name, raw, "", name); err != nil {
		return failing(err)
	}
	return func(v *view) { v.say("Opened %s.", name) }
}

// take puts the text of a file into the page.
func (q *request) take(name string, raw []byte, kit, at string) error {
	text, err := casefile.Decode(name, bytes.NewReader(raw))
	if err != nil {
		return err
	}
	q.hold(plainEnds(text), strings.Contains(text, "\r\n"), kit, at)
	return nil
}

// upload opens a case from elsewhere, and its kit if that comes along. A kit alone
// takes the place of the kit of the case that the page holds.
func (s *Server) upload(_ context.Context, q *request) func(*view) {
	var given, kits []upload
	sent := q.sentWith("file")
	for _, u := range sent {
		switch sortOfText(bytes.NewReader(u.Text)) {
		case kitFile:
			kits = append(kits, u)
		default:
			given = append(given, u)
		}
	}
	switch {
	case len(sent) == 0:
		return failing(errors.New("choose a case file first"))
	case len(given) > 1 || len(kits) > 1:
		return failing(errors.New("choose one case, and its kit if that is a separate file"))
	}
	kit := ""
	if len(kits) == 1 {
		text, err := casefile.Decode(kits[0].Name, bytes.NewReader(kits[0].Text))
		if err != nil {
			return failing(err)
		}
		kit = plainEnds(text)
	}
	if len(given) == 0 {
		return q.takeKit(kits[0].Name, kit)
	}
	name := path.Base(strings.ReplaceAll(given[0].Name, `\`, "/"))
	if err := q.take(name, given[0].Text, kit, ""); err != nil {
		return failing(err)
	}
	return func(v *view) {
		v.say("Opened a copy of %s. When you have changed it, save it in the folder or download it.", name)
	}
}

// takeKit puts an uploaded kit in the place of the case's.
func (q *request) takeKit(name, kit string) func(*view) {
	d, err := q.changed()
	if err == nil {
		d, err = d.Set(kitEntry, path.Base(strings.ReplaceAll(name, `\`, "/")))
	}
	if err != nil {
		return failing(err)
	}
	q.settle(d.Text())
	q.Kit, q.KitAt = kit, ""
	return func(v *view) { v.say("The case now uses the kit of %s.", name) }
}

// ends returns a text with the line ends of its file.
func (st *state) ends(text string) []byte {
	if st.Windows {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return []byte(text)
}

// disk returns the sum of what this page left in the file called name.
func (st *state) disk(name string) string {
	if name != st.At {
		return ""
	}
	return st.Disk
}

// addEntry adds an entry to a list.
func (s *Server) addEntry(_ context.Context, q *request) func(*view) {
	list, alternative, _ := strings.Cut(q.Target, " ")
	return q.edit(func(d draft.Draft) (draft.Draft, error) { return q.add(d, list, alternative) })
}

// removeEntry removes an entry of a list, or a group.
func (s *Server) removeEntry(_ context.Context, q *request) func(*view) {
	return q.edit(func(d draft.Draft) (draft.Draft, error) { return d.Remove(q.Target) })
}

// byMeasures writes the kit of a case into the case, so that it can be changed.
func (s *Server) byMeasures(_ context.Context, q *request) func(*view) {
	kit, err := s.kitText(q)
	if err != nil {
		return failing(err)
	}
	after := q.edit(func(d draft.Draft) (draft.Draft, error) { return d.SetText(kitEntry, kit) })
	q.Kit, q.KitAt = "", ""
	return after
}

// kitText returns the text of the kit of a page's case.
func (s *Server) kitText(q *request) (string, error) {
	d, err := q.changed()
	if err != nil {
		return "", err
	}
	word, ok := d.Word(kitEntry)
	if !ok {
		return "", errors.New("the case names no kit")
	}
	f, err := s.open(&q.state)(word)
	if err != nil {
		return "", err
	}
	defer f.Close() // only read
	text, err := casefile.Decode(word, f)
	return plainEnds(text), err
}

// edit changes the case of a page.
func (q *request) edit(change func(draft.Draft) (draft.Draft, error)) func(*view) {
	d, err := q.changed()
	if err == nil {
		d, err = change(d)
	}
	if err != nil {
		return failing(err)
	}
	q.settle(d.Text())
	return nothing
}

// takeSettings takes the best settings for the measures as they are for those that
// stand.
func (s *Server) takeSettings(ctx context.Context, q *request) func(*view) {
	d, err := q.changed()
	if err != nil {
		return failing(err)
	}
	st := q.state
	st.Text, st.Stands = d.Text(), false
	w, err := s.work(ctx, &st)
	if err != nil {
		return failing(err)
	}
	m := st.mounted(w)
	if m == nil || w.placed == nil {
		return failing(errors.New("no settings were computed for these measures"))
	}
	q.Settings = nil
	for _, set := range m.Settings {
		q.Settings = append(q.Settings, answer.Entry{Name: set.Name, Value: set.Found})
	}
	q.Stands = true
	q.Side = sideName(w.placed)
	return func(v *view) {
		v.say("The computed settings are now entered as the settings as found.")
	}
}

// sideName returns the side on which the mount is clamped.
func sideName(p *answer.Placed) string {
	rep, err := p.Report()
	if err != nil || rep.Mount == nil {
		return ""
	}
	return rep.Mount.Side
}

// readSettings takes settings from a file.
func (s *Server) readSettings(_ context.Context, q *request) func(*view) {
	sent := q.sentWith("settings")
	if len(sent) != 1 {
		return failing(errors.New("choose a settings file first"))
	}
	u := sent[0]
	entries, err := answer.ReadSettings(bytes.NewReader(u.Text))
	if err != nil {
		return failing(fmt.Errorf("%s: %w", u.Name, err))
	}
	q.Settings, q.Stands = entries, true
	return func(v *view) { v.say("Entered the settings from %s.", u.Name) }
}
