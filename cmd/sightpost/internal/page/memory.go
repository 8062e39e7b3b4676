package page

import (
	"fmt"
	"sync"

	"sightpost/cmd/sightpost/internal/answer"
)

// memory keeps the cases that were worked out last, so that turning a drawing, looking
// at another figure or printing the sheet does not work the same case out again. It
// is of this start alone. What it keeps is read and never changed.
type memory struct {
	mu    sync.Mutex
	known map[string]*answer.Placed
	order []string // the oldest first
}

// remembered is how many cases are kept: the steps of one person's undo.
const remembered = 16

// key returns what tells apart cases and how their mounts stand. Where the case ends and
// its kit begins is not in their sum.
func key(c *answer.Case, s answer.AsFound) string {
	return fmt.Sprintf("%s %d %q", c.Sum(), len(c.Text), s)
}

// recall returns the case of a key as it was worked out, or nil.
func (m *memory) recall(key string) *answer.Placed {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.known[key]
}

// keep keeps a case that was worked out.
func (m *memory) keep(key string, p *answer.Placed) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known == nil {
		m.known = map[string]*answer.Placed{}
	}
	if m.known[key] == nil {
		m.order = append(m.order, key)
	}
	m.known[key] = p
	if len(m.order) > remembered {
		delete(m.known, m.order[0])
		m.order = m.order[1:]
	}
}
