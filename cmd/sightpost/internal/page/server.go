package page

import (
	"cmp"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"html/template"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"time"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/casefile"
)

// Options are what a server is made from.
type Options struct {
	// Folder is the only one that is read from and written to.
	Folder *os.Root
	// Port on the loopback address; zero for any free one.
	Port int
	// Keep has unfinished work kept in the folder.
	Keep bool
	// Version of the program.
	Version string
	// Log is told what went wrong within; nil for nobody.
	Log io.Writer
}

// Server serves the page.
type Server struct {
	opt      Options
	listener net.Listener
	http     *http.Server
	desk     *desk
	kept     keeper
	parts    *template.Template
	memory   recent[*answer.Placed]
	answers  recent[answered]
	plans    recent[*answer.Refit]
	form     casefile.Entry // describes a case; read only
	keys     *keys
	crowd    crowd
	path     string          // begins every address but the first; nobody else can know it
	asked    context.Context // is done when the page asks to stop
	stop     context.CancelFunc
}

// Limits of what a request may take.
const (
	headerTime = 5 * time.Second
	readTime   = 20 * time.Second
	idleTime   = 60 * time.Second
	maxHeader  = 32 << 10
	// maxBody holds a hand-over file of hundreds of assessments, and more than the text of a
	// case three times, its kit and its form, all of it escaped.
	maxBody = 16 << 20
	// remembered is how many cases that were worked out are kept, so that turning a drawing,
	// looking at another figure or printing the sheet does not work the same case out again:
	// the steps of one person's undo. What is kept is never changed.
	remembered = 16
	// maxConnections is far above what a browser opens.
	maxConnections = 128
	// stopTime is how long requests that are being answered, and then what nobody waits
	// for any more, may take at the end.
	stopTime = 400 * time.Millisecond
)

// New listens on the loopback address. The server must be closed.
func New(opt Options) (*Server, error) {
	form := casefile.Fields()
	parts, err := newTemplates(&form)
	if err != nil {
		return nil, err
	}
	s := &Server{
		opt: opt, desk: newDesk(cmp.Or(opt.Log, io.Discard)), parts: parts, form: form,
		memory: recent[*answer.Placed]{most: remembered}, answers: recent[answered]{most: remembered},
		plans: recent[*answer.Refit]{most: remembered},
		keys:  newKeys(), crowd: crowd{most: maxConnections}, path: "/" + rand.Text() + "/",
	}
	if opt.Keep {
		s.kept.folder, s.kept.report = opt.Folder, s.desk.report
	}
	if err := s.listen(); err != nil {
		return nil, fmt.Errorf("page: %w", err)
	}
	s.asked, s.stop = context.WithCancel(context.Background())
	s.http = &http.Server{
		Handler:           s.handler(),
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       readTime,
		IdleTimeout:       idleTime,
		ConnState:         s.crowd.changed,
		ConnContext:       withConnection,
		MaxHeaderBytes:    maxHeader,
		ErrorLog:          log.New(io.Discard, "", 0), // what strangers send is no error of ours
	}
	return s, nil
}

// listen listens where the last server of the folder did, if that is free, so that its pages
// go on.
func (s *Server) listen() (err error) {
	at := func(port int) (net.Listener, error) { return net.Listen("tcp4", fmt.Sprintf("127.0.0.1:%d", port)) }
	port, path, token, ok := s.kept.last()
	if ok && (s.opt.Port == 0 || s.opt.Port == port) {
		s.listener, _ = at(port) // if it is taken, any other will do
	}
	if s.listener != nil {
		s.path, s.keys.token = path, token
	} else if s.listener, err = at(s.opt.Port); err != nil {
		return err
	}
	s.kept.reached(fmt.Sprintln(s.listener.Addr().(*net.TCPAddr).Port, s.path, s.keys.token))
	return nil
}

// Address returns the first address, which holds the key of this start.
func (s *Server) Address() string { return s.origin() + "/start?key=" + s.keys.key }

// AddressOnce returns a first address that can be opened once. It is for a program
// that is told the address in its arguments, which other users of the machine can
// see. Should one of them be faster, the second who opens it is refused and shuts out
// the first.
func (s *Server) AddressOnce() string { return s.origin() + "/start?key=" + s.keys.once }

// origin returns scheme, host and port.
func (s *Server) origin() string { return "http://" + s.listener.Addr().String() }

// Serve answers requests until ctx is done or the page asks to stop, and returns when
// all that was begun is ended, or cannot be ended soon.
func (s *Server) Serve(ctx context.Context) error {
	failed := make(chan error, 1)
	go func() { failed <- s.http.Serve(s.listener) }()
	var err error
	select {
	case <-ctx.Done():
	case <-s.asked.Done():
	case err = <-failed:
		failed <- err
	}
	return errors.Join(ignoreClosed(err), s.close(), ignoreClosed(<-failed))
}

// close ends the server. Who is being answered may have that finished.
func (s *Server) close() error {
	s.desk.end()
	limited, cancel := context.WithTimeout(context.Background(), stopTime)
	defer cancel()
	err := s.http.Shutdown(limited)
	if errors.Is(err, context.DeadlineExceeded) {
		err = s.http.Close()
	}
	s.kept.close()
	s.desk.close(stopTime) // what has not ended then ends with the program
	return err
}

// ignoreClosed returns err unless it only says that the server was closed.
func ignoreClosed(err error) error {
	if errors.Is(err, http.ErrServerClosed) || errors.Is(err, net.ErrClosed) {
		return nil
	}
	return err
}
