package page

import (
	"context"
	"net"
	"net/http"
	"slices"
	"sync"
)

// crowd is the connections that are open, no more than so many: of those that have not shown
// the key, the oldest yields to a new one, so that nobody who holds many keeps others out.
type crowd struct {
	most int

	mu        sync.Mutex
	strangers []net.Conn // the oldest first
	known     map[net.Conn]bool
}

// changed is a hook for the state of connections.
func (c *crowd) changed(conn net.Conn, state http.ConnState) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch state {
	case http.StateNew:
		c.strangers = append(c.strangers, conn)
		if len(c.strangers)+len(c.known) > c.most {
			_ = c.strangers[0].Close() // it was told nothing yet
			c.strangers = c.strangers[1:]
		}
	case http.StateClosed, http.StateHijacked:
		c.forget(conn)
	case http.StateActive, http.StateIdle:
	}
}

// knows counts the connection of a request among those that have shown the key.
func (c *crowd) knows(r *http.Request) {
	conn, _ := r.Context().Value(connection{}).(net.Conn)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.forget(conn)
	if c.known == nil {
		c.known = map[net.Conn]bool{}
	}
	c.known[conn] = true
}

func (c *crowd) forget(conn net.Conn) {
	delete(c.known, conn)
	c.strangers = slices.DeleteFunc(c.strangers, func(s net.Conn) bool { return s == conn })
}

// connection is the key of the connection of a request in its context.
type connection struct{}

// withConnection is a hook that puts it there.
func withConnection(ctx context.Context, conn net.Conn) context.Context {
	return context.WithValue(ctx, connection{}, conn)
}
