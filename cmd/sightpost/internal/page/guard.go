package page

import (
	"crypto/rand"
	"crypto/subtle"
	"net/http"
	"strings"
	"sync"
)

// policy lets the page load and run what this server gives and nothing else. The
// figures style their lines by attributes.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; " +
	"img-src 'self'; font-src 'self'; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// guarded returns a handler that lets only requests through that this server's own
// page can have sent.
func (s *Server) guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer s.recovered(w)
		headers(w.Header())
		switch {
		case !s.ownHost(r.Host):
			http.Error(w, "this is not the address of the page", http.StatusMisdirectedRequest)
		case !s.ownOrigin(r):
			http.Error(w, "requests from another site are refused", http.StatusForbidden)
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
			next.ServeHTTP(w, r)
		}
	})
}

// headers sets what every answer says.
func headers(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	h.Set("Referrer-Policy", "same-origin") // with none, browsers hide the Origin of the page's own forms
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
}

// ownHost reports whether a Host is this server's.
func (s *Server) ownHost(host string) bool {
	address := s.listener.Addr().String()
	return host == address || host == "localhost"+strings.TrimPrefix(address, "127.0.0.1")
}

// ownOrigin reports whether a request comes from this server's page, or from nobody's:
// an address that was typed or opened. Other sites could not see an answer, but may not
// even ask.
func (s *Server) ownOrigin(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
		return false
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return true
	}
	return false // a link on another page too: browsers keep the cookie from where it leads
}

// cookieName is that of the cookie that shows that the first address was known.
const cookieName = "sightpost"

// start gives the cookie to whoever has the secret and leads on to the page.
func (s *Server) start(w http.ResponseWriter, r *http.Request) {
	token, ok := s.keys.admit(r.URL.Query().Get("key"))
	if !ok {
		s.kept.reached("") // whoever was let in may be shut out
		http.Error(w, "the key in this address is from an earlier start or has been used; open the address that the program printed", http.StatusForbidden)
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: token, Path: s.path, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, s.path, http.StatusSeeOther)
}

// admitted returns a handler that lets only those through who have the cookie.
func (s *Server) admitted(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		c, err := r.Cookie(cookieName)
		if err != nil || !s.keys.admitted(c.Value) {
			http.Error(w, "open the address that the program printed when it started", http.StatusForbidden)
			return
		}
		s.crowd.knows(r)
		next.ServeHTTP(w, r)
	})
}

// recovered turns a panic into an answer: whatever a request holds, the server goes
// on.
func (s *Server) recovered(w http.ResponseWriter) {
	p := recover()
	if p == nil {
		return
	}
	if _, reported := p.(panicked); !reported {
		s.desk.report(p)
	}
	http.Error(w, "internal error; what you typed is still on the page", http.StatusInternalServerError)
}

// keys are the secrets of one start.
type keys struct {
	key  string // opens the page as often as one likes
	once string // opens it once

	mu    sync.Mutex
	used  bool   // once was used
	token string // in the cookie of whoever was let in
}

func newKeys() *keys { return &keys{key: rand.Text(), once: rand.Text(), token: rand.Text()} }

// admit returns the token for whoever has one of the keys. Who comes second with the
// key that can be used once is not let in, and whoever came first is shut out: one of
// the two is a stranger.
func (k *keys) admit(key string) (token string, ok bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	switch {
	case same(key, k.key):
		return k.token, true
	case !same(key, k.once):
		return "", false
	case k.used:
		k.token = rand.Text()
		return "", false
	}
	k.used = true
	return k.token, true
}

// admitted reports whether a token is that of whoever was let in.
func (k *keys) admitted(token string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return same(token, k.token)
}

// same compares secrets in a time that does not tell how much of them is right.
func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
