package mount

import "testing"

func TestMirrorWords(t *testing.T) {
	for _, c := range []struct{ left, right string }{
		{"scale: turned to the left, counterclockwise from above", "scale: turned to the right, clockwise from above"},
		{"about its upright axis, a leftover", "about its upright axis, a leftover"},
		{"at right angles to the arm", "at right angles to the arm"},
		{"", ""},
	} {
		if got := mirrorWords(c.left); got != c.right {
			t.Errorf("mirrorWords(%q) = %q, want %q", c.left, got, c.right)
		}
		if back := mirrorWords(c.right); back != c.left {
			t.Errorf("mirrorWords(%q) = %q, want %q", c.right, back, c.left)
		}
	}
}
