package record

import (
	"sightpost/cmd/sightpost/internal/document"
)

// ListCodes lists every code of the folder. The errors name the folders that cannot
// be read; the list is that of the others.
func (f *Folder) ListCodes() (*document.Records, []error) {
	l := &document.Records{Version: 1}
	codes, err := f.Codes()
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, code := range codes {
		names, err := f.Names(code)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		c := document.ListedCode{Code: code, Records: len(names)}
		if len(names) > 0 {
			c.First, c.Latest = names[0].String(), names[len(names)-1].String()
		}
		l.Codes = append(l.Codes, c)
	}
	return l, failed
}

// List lists the records of a code. The errors name those that cannot be read; the
// list is that of the others.
func (f *Folder) List(code string) (*document.Records, []error) {
	l := &document.Records{Version: 1, Code: code}
	names, err := f.Names(code)
	if err != nil {
		return l, []error{err}
	}
	var failed []error
	for _, n := range names {
		r, err := f.Read(code, n)
		if err != nil {
			failed = append(failed, err)
			continue
		}
		l.Records = append(l.Records, document.Listed{
			Name: r.Name, Day: string(r.Day), Kind: r.Kind, Works: r.Result.Works,
			MarginMM: r.Result.MarginMM, LimitingPosture: r.Result.LimitingPosture, Edited: r.Edited, Withdrawn: r.Withdrawn, Note: r.Note,
		})
	}
	return l, failed
}
