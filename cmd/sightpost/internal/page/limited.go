package page

import (
	"net"
	"sync"
)

// limited is a listener that holds a bounded number of connections. Those beyond are
// closed at once, so that nobody who holds many keeps the others waiting in a queue.
type limited struct {
	net.Listener
	free chan struct{}
}

func newLimited(l net.Listener, most int) *limited {
	return &limited{Listener: l, free: make(chan struct{}, most)}
}

// Accept returns the next connection for which there is room.
func (l *limited) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		select {
		case l.free <- struct{}{}:
			return &counted{Conn: c, release: sync.OnceFunc(func() { <-l.free })}, nil
		default:
			_ = c.Close() // nothing was said yet
		}
	}
}

// counted is a connection that makes room when it is closed.
type counted struct {
	net.Conn
	release func()
}

func (c *counted) Close() error {
	defer c.release()
	return c.Conn.Close()
}
