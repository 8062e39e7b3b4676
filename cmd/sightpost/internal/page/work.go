package page

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
)

// opener returns what opens the kit of a page's case: the text that came with it, if it
// is that which the case names, or a file of the folder by its path from the case.
func (s *Server) opener(st *state) answer.Opener {
	return func(kit string) (io.ReadCloser, error) {
		if st.Kit != "" && kit == st.KitAt {
			return io.NopCloser(strings.NewReader(st.Kit)), nil
		}
		return s.openFile(path.Join(path.Dir(st.At), kit))
	}
}

// worked is a case that was worked out.
type worked struct {
	given  *answer.Case // nil if something is wrong with it
	placed *answer.Placed
	err    error  // what is wrong with the case, or else with the settings or what it asks for
	key    string // of placed
}

// problems returns what is wrong with the entries of a case.
func (w worked) problems() casefile.Errors {
	var all casefile.Errors
	if w.given == nil {
		_ = errors.As(w.err, &all) // none if it is something else
	}
	return all
}

// errNotSet reports that nobody has said yet how the mount is set.
var errNotSet = errors.New("page: enter every setting as found, or take them from an assessment or a table")

// work works the case of a page out, at a place for short jobs.
func (s *Server) work(ctx context.Context, st *state) (worked, error) {
	return made(ctx, s.desk, false, func(ctx context.Context) (worked, error) { return s.workOut(ctx, st), ctx.Err() })
}

// workOut is work that is done where it is asked for.
func (s *Server) workOut(ctx context.Context, st *state) (w worked) {
	before, err := s.earlier(st)
	if err != nil {
		w.err = err
		return w
	}
	text, _ := withoutUnconfirmed(st.Text) // a case is worked out once, confirmed or not
	if w.given, w.err = answer.ReadAfter(before, st.name(), strings.NewReader(text), s.opener(st)); w.err != nil {
		return w
	}
	found := answer.AsFound{Side: st.Side}
	if st.AsFound {
		if len(st.Settings) == 0 {
			w.err = errNotSet
			return w
		}
		for _, e := range st.Settings {
			e.Units = st.Shown
			found.Settings = append(found.Settings, e)
		}
	}
	// where the case ends and its kit begins is not in their sum
	w.key = fmt.Sprintf("%s %d %#v %q", w.given.Sum(), len(w.given.Text), found, st.Earlier)
	w.placed, w.err = s.memory.of(w.key, func() (*answer.Placed, error) { return w.given.Place(ctx, found) })
	return w
}

// placed works the case of a page out, or says what is wrong with it.
func (s *Server) placed(ctx context.Context, q *request) (*answer.Placed, error) {
	if q.wrong != nil {
		return nil, q.wrong
	}
	w := s.workOut(ctx, &q.state)
	return w.placed, w.err
}

// plainWords returns an error as the page tells it: the package that speaks need not
// be named.
func plainWords(err error) string {
	var lines []string
	for line := range strings.Lines(err.Error()) {
		lines = append(lines, answer.Plain(strings.TrimSpace(line)))
	}
	return strings.Join(lines, "; ")
}
