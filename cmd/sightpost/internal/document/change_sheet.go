package document

import "slices"

// ChangeSheet returns r as a sheet to work from: the settings that change, the steps, and
// what to check. It is nil where nothing is to be changed, or no change is enough.
func (r *Refit) ChangeSheet() *Document {
	if !r.Needed || !r.Restored || r.after == nil {
		return nil
	}
	after := r.after.Document()
	d := &Document{
		Title: "Change sheet", Label: r.Label, Works: true, Usable: true,
		Verdict: r.verdict(), Summary: r.summary(), Unmeasured: after.Unmeasured,
	}
	return d.with(
		findings(SectionReasons, "What fails as found", r.Reasons), findings(SectionWarnings, "Warnings", r.Warnings), safety(r.Cautions),
		r.after.screen(), r.changed(), orderOfWork(r.Steps, false), r.after.checks(), r.after.margins(), r.after.clearances(), r.parked(),
	)
}

// changed returns the settings that change, with their numbers on the mount and what they
// change from.
func (r *Refit) changed() Section {
	s, found := r.after.settings(), r.before.settings()
	s.Title, s.Lines = "Changes", nil
	rows := s.Rows
	s.Rows = nil
	for i, row := range rows {
		set := &r.after.Mount.Settings[i]
		moves := func(c Change) bool { // a ball all at once
			return c.Name == set.Name || set.Told.Plate && plateBall(c.Name) == plateBall(set.Name)
		}
		if slices.ContainsFunc(r.Changes, moves) {
			row.Cells[2] = Join(" → ", found.Rows[i].Cells[2], row.Cells[2])
			s.Rows = append(s.Rows, row)
		}
	}
	s.Head = slices.Clone(s.Head)
	s.Head[2] = "from → to"
	return s
}
