package page

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/draft"
	"sightpost/cmd/sightpost/internal/record"
)

// action does what a button asks for, to what the page holds, and tells of it on the page
// that is then shown.
type action func(ctx context.Context, q *request, v *view) error

// actions are the buttons that change what the page holds, by the first word of
// their value.
func (s *Server) actions() map[string]action {
	return map[string]action{
		"new": begin, "example": example, "mount": withMount, "open": s.openCase, "upload": s.upload,
		"save": s.saveCase, "replace": s.saveCase,
		"add": addEntry, "remove": removeEntry, "mirror": mirrorEntry, "measures": s.byMeasures, "confirm": confirmEntry,
		"take": s.takeSettings, "settings": readSettings, "recall": s.recall,
		"file": s.fileRecord, "reopen": s.reopen, "discard": s.discard,
		"withdraw": s.markRecord, "note": s.markRecord, "apply": s.applyRefit, "job": s.jobAction,
	}
}

// open puts another case into the page, in the units that it is written in, with the text of a
// kit that comes with it.
func (q *request) open(text, kit, at string) {
	q.state = state{
		Windows: strings.Contains(text, "\r\n"), Kit: plainEnds(kit), At: at, Units: q.Units, Shown: q.Units, Figure: q.Figure,
		Turn: q.Turn, Lift: q.Lift, Wide: q.Wide, Paper: q.Paper,
	}
	q.Window, q.Form = "", nil // what was said beside it was said of another case
	q.hold(plainEnds(text))
	if eyes, ok := q.draft.Word(casefile.EyeHeight); ok {
		u := casefile.UnitsOf(eyes)
		if q.Paper == paperName(q.Units) {
			q.Paper = paperName(u)
		}
		q.Units, q.Shown = u, u
	}
}

// openFile puts the case of a file into the page.
func (q *request) openFile(name string, raw []byte, kit, at string) error {
	text, err := casefile.Decode(name, bytes.NewReader(raw))
	if err == nil {
		q.open(text, kit, at)
		q.Disk = sumOf(raw)
	}
	return err
}

// edit makes a changed draft the case of a page.
func (q *request) edit(d draft.Draft, err error) error {
	if err = cmp.Or(q.wrong, err); err == nil {
		q.hold(withUnconfirmed(d.Text(), q.unconfirmed))
	}
	return err
}

// begin empties the page.
func begin(_ context.Context, q *request, _ *view) error {
	q.open(draft.Empty, "", "")
	return nil
}

// example loads the worked example.
func example(_ context.Context, q *request, v *view) error {
	caseText, kitText := casefile.Starter(q.Units)
	q.open(string(caseText), string(kitText), "")
	q.doubt("")
	v.Notice = "This is a worked example with invented numbers: replace every one with your own."
	return nil
}

// withMount begins a case with the mount of the worked example, to be changed or replaced.
func withMount(_ context.Context, q *request, v *view) error {
	_, kitText := casefile.Starter(q.Units)
	q.open(draft.Empty+"mount:\n  kit: kit.yaml\n  carried_by: seat\n  side: left\n", string(kitText), "")
	q.doubt(kitEntry)
	v.Notice = "The mount is an invented one with two tubes: replace its dimensions with yours under Mount."
	return nil
}

// openCase opens a case of the folder.
func (s *Server) openCase(_ context.Context, q *request, v *view) error {
	name := q.Form.Get("case")
	raw, err := s.readFile(name)
	if err != nil {
		return err
	}
	v.Notice = fmt.Sprintf("Opened %s.", name)
	if err = q.openFile(name, raw, "", name); err != nil {
		return err
	}
	code, _ := q.draft.Word("label")
	if r, err := s.recordOf(code, record.Latest); err == nil && r.Case != q.Text {
		v.Notice += fmt.Sprintf(" The assessment of %s says otherwise: “Assess again” opens that one.", r.Name)
	}
	return nil
}

// upload opens a case from elsewhere, and its kit if that comes along. A kit alone
// takes the place of the kit of the case that the page holds.
func (s *Server) upload(ctx context.Context, q *request, v *view) error {
	var given, kits []sentFile
	sent := q.sentWith("file")
	for _, u := range sent {
		if strings.EqualFold(path.Ext(u.Name), ".zip") {
			if len(sent) > 1 {
				return fmt.Errorf("%s: choose a hand-over file by itself", u.Name)
			}
			return s.takeOver(ctx, q, u, v)
		}
		if sortOf(bytes.NewReader(u.Text)) == kitKey {
			kits = append(kits, u)
		} else {
			given = append(given, u)
		}
	}
	switch {
	case len(given)+len(kits) == 0:
		return errors.New("choose a case file first")
	case len(given) > 1 || len(kits) > 1:
		return errors.New("choose one case, and its kit if that is a separate file")
	}
	kit := ""
	if len(kits) == 1 {
		var err error
		if kit, err = casefile.Decode(kits[0].Name, bytes.NewReader(kits[0].Text)); err != nil {
			return err
		}
	}
	if len(given) == 0 {
		if q.wrong != nil {
			return q.wrong
		}
		d, err := q.draft.Set(kitEntry, baseName(kits[0].Name))
		if err == nil {
			q.Kit, q.KitAt = plainEnds(kit), ""
			v.Notice = fmt.Sprintf("The case now uses the kit of %s.", kits[0].Name)
		}
		return q.edit(d, err)
	}
	name := baseName(given[0].Name)
	v.Notice = fmt.Sprintf("Opened a copy of %s. When you have changed it, save it in the folder or download it.", name)
	return q.openFile(name, given[0].Text, kit, "")
}

// takeOver opens the case of a hand-over file, and files the records that come with it.
func (s *Server) takeOver(ctx context.Context, q *request, u sentFile, v *view) error {
	h, err := answer.OpenHandOver(u.Text)
	if err != nil {
		return fmt.Errorf("%s: %w", u.Name, err)
	}
	text, err := casefile.Decode(u.Name, bytes.NewReader(h.Case))
	if err != nil {
		return err
	}
	kit, err := casefile.Decode(u.Name, bytes.NewReader(h.Kit))
	if err != nil {
		return err
	}
	n := 0
	if len(h.Records) > 0 {
		f, err := s.newRecords()
		if err != nil {
			return err
		}
		defer f.Close()
		if n, err = f.Take(ctx, h.Code, h.Records); err != nil {
			return fmt.Errorf("%s: %w", u.Name, err)
		}
	}
	q.open(text, kit, "")
	q.Disk = sumOf(h.Case)
	v.Notice = fmt.Sprintf("Opened a copy of the case in %s, and filed %d new assessments from it. Save the case in the folder.", baseName(u.Name), n)
	return nil
}

// baseName returns the last part of a path as any system writes it.
func baseName(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// addEntry adds an entry to a list.
func addEntry(_ context.Context, q *request, _ *view) error {
	list, alternative, _ := strings.Cut(q.Target, " ")
	return q.edit(q.added(list, alternative))
}

// removeEntry removes an entry of a list, or a group.
func removeEntry(_ context.Context, q *request, _ *view) error {
	d, err := q.draft.Remove(q.Target)
	if err == nil {
		q.renumber(q.Target)
	}
	return q.edit(d, err)
}

// mirrorEntry copies a keep-clear zone to the other side of the chair.
func mirrorEntry(_ context.Context, q *request, _ *view) error {
	list, _, _ := strings.Cut(q.Target, "[")
	d, to := q.draft, draft.Nth(list, q.draft.Len(list)+1)
	for _, p := range d.Words() {
		if !draft.Within(p, q.Target) {
			continue
		}
		value, _ := d.Word(p)
		key := p[len(q.Target):]
		switch {
		case key == ".name":
			value = newName(d, list, otherSide.Replace(value))
		case strings.HasSuffix(key, ".left") && !strings.Contains(key, ".size"), strings.HasSuffix(key, ".rotation"):
			value = opposite(value)
		}
		var err error
		if d, err = d.Set(to+key, value); err != nil {
			return err
		}
		if slices.Contains(q.unconfirmed, p) {
			q.unconfirmed = append(q.unconfirmed, to+key)
		}
	}
	return q.edit(d, nil)
}

// otherSide makes the name of a zone that of its copy on the other side.
var otherSide = strings.NewReplacer("left", "right", "right", "left", "Left", "Right", "Right", "Left")

// opposite returns a quantity with the other sign.
func opposite(value string) string {
	if size, negative := strings.CutPrefix(value, "-"); negative {
		return size
	}
	return "-" + strings.TrimPrefix(value, "+")
}

// byMeasures writes the kit of a case into the case, so that it can be changed.
func (s *Server) byMeasures(_ context.Context, q *request, _ *view) error {
	word, ok := q.draft.Word(kitEntry)
	if !ok {
		return cmp.Or(q.wrong, errors.New("the case names no kit"))
	}
	f, err := s.opener(&q.state)(word)
	if err != nil {
		return err
	}
	defer f.Close() // only read
	kit, err := casefile.Decode(word, f)
	if err != nil {
		return err
	}
	d, err := q.draft.SetText(kitEntry, plainEnds(kit))
	if err == nil && q.wrong == nil {
		q.Kit, q.KitAt = "", ""
	}
	doubted := slices.Contains(q.unconfirmed, kitEntry)
	q.confirm(kitEntry)
	if err = q.edit(d, err); err == nil && doubted {
		q.doubt(kitEntry)
	}
	return err
}

// confirmEntry takes numbers of the example, one or those of a part, for ones that were measured.
func confirmEntry(_ context.Context, q *request, v *view) error {
	before := len(q.unconfirmed)
	for _, path := range strings.Fields(q.Target) {
		q.confirm(path)
	}
	if n := before - len(q.unconfirmed); n > 1 {
		v.Notice = fmt.Sprintf("Confirmed %s. “Undo” takes it back.", entries(n))
	}
	return q.edit(q.draft, nil)
}

// takeSettings takes the best settings for the measures as they are for those on the
// mount.
func (s *Server) takeSettings(ctx context.Context, q *request, v *view) error {
	if q.wrong != nil {
		return q.wrong
	}
	st := q.state
	st.AsFound = false
	w, err := s.work(ctx, &st)
	if err != nil {
		return err
	}
	if w.placed == nil || w.placed.Result.Set == nil {
		return errors.New("no settings were computed for these measures")
	}
	q.setAs(w.placed.Result)
	q.Earlier = ""
	v.Notice = "The computed settings are now entered as the settings as found."
	return nil
}

// applyRefit takes the settings that a refit leads to for those on the mount.
func (s *Server) applyRefit(ctx context.Context, q *request, v *view) error {
	if q.wrong != nil {
		return q.wrong
	}
	own := *q // what is given up may go on
	q.Applied = ""
	plan, err := made(ctx, s.desk, true, func(ctx context.Context) (*answer.Refit, error) { return s.plan(ctx, &own) })
	if err != nil {
		return err
	}
	if !plan.Restored {
		return errors.New("no change of settings restores the margin")
	}
	before := url.Values{"side": {q.Side}}
	for _, e := range q.Settings {
		before.Set(settingField+e.Name, e.Value)
	}
	q.setAs(plan.Set.Result)
	before.Set("sum", q.sum())
	q.Applied = before.Encode()
	v.Notice = "The settings after the changes are now the settings as found."
	v.Onward = &missing{ID: "assessments", Label: "File the assessment"}
	return nil
}

// unapply sets the mount as it was before the refit that was applied last, if nothing else has
// changed since.
func (q *request) unapply() {
	before, err := url.ParseQuery(q.Applied)
	if err == nil && before.Get("sum") == q.sum() {
		q.Side, q.Settings = before.Get("side"), settingsOf(before)
	}
}

// readSettings takes settings from a file.
func readSettings(_ context.Context, q *request, v *view) error {
	given := q.sentWith("settings")
	if len(given) != 1 {
		return errors.New("choose a settings file first")
	}
	entries, err := answer.ReadSettings(bytes.NewReader(given[0].Text))
	if err != nil {
		return fmt.Errorf("%s: %w", given[0].Name, err)
	}
	q.Settings, q.AsFound = entries, true
	v.Notice = fmt.Sprintf("Entered the settings from %s.", given[0].Name)
	return nil
}
