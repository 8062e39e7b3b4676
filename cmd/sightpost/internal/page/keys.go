package page

import (
	"crypto/rand"
	"crypto/subtle"
	"sync"
)

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
