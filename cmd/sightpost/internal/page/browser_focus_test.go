package page_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// focusSeen walks through the whole page with the tabulator, wide as it comes and narrow
// with everything unfolded: whatever has the focus shows it, and lies open to the eye (WCAG
// 2.2, 2.4.7, 2.4.11).
func focusSeen(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	w.example()
	w.set("figure-choice", "view3d")
	w.do(chromedp.EmulateViewport(1366, 768))
	w.walkRound("wide", 50)
	w.do(chromedp.EmulateViewport(320, 768), chromedp.Evaluate[chromedp.Void](unfold))
	w.settled()
	w.walkRound("narrow", 150)
}

// walkRound goes through the page from its first stop, with at least so many more.
func (w *tab) walkRound(size string, fewest int) {
	w.Helper()
	const most = 1500
	w.do(chromedp.Focus(chromedp.CSS(".skip")))
	for stops := range most {
		w.press(kb.Tab)
		at := ask[string](w, `(() => {
			const e = document.activeElement;
			if (e === document.body) return "";
			const name = e.tagName + "#" + e.id + " " + (e.name ?? "") + " " + e.textContent.trim().slice(0, 30), s = getComputedStyle(e);
			if (s.outlineStyle === "none" || parseFloat(s.outlineWidth) < 2) return name + ": no outline";
			const r = e.getBoundingClientRect(), wide = innerWidth, high = innerHeight;
			const left = Math.max(r.left, 0), right = Math.min(r.right, wide), top = Math.max(r.top, 0), bottom = Math.min(r.bottom, high);
			if (right <= left || bottom <= top) return name + ": outside of the window";
			for (const x of [0.1, 0.5, 0.9]) for (const y of [0.1, 0.5, 0.9]) {
				const hit = document.elementFromPoint(left + x * (right - left), top + y * (bottom - top));
				if (hit && (e.contains(hit) || hit.contains(e) && hit !== document.body)) return "seen";
			}
			return name + ": covered";
		})()`)
		switch {
		case at == "" && stops < fewest:
			w.Fatalf("%s: the way round has only %d stops", size, stops)
		case at == "":
			return
		case at != "seen":
			w.Errorf("%s: %s", size, at)
		}
	}
	w.Errorf("%s: the tabulator has not come round after %d stops", size, most)
}

// unfold opens whatever is folded away, but for the small drawings of the measures.
const unfold = `document.querySelectorAll("details:not(.picture)").forEach((d) => { d.open = true })`

// leastTarget is what a finger, or a switch with a pointer, can still hit, in px (WCAG
// 2.2, 2.5.8).
const leastTarget = 24

// targets reports what can be pressed and is too small for it. A link within a line of
// words is as high as the line.
func (a *auditor) targets(state string, wide int64) {
	a.Helper()
	for _, small := range ask[[]string](a.tab, fmt.Sprintf(`(() => {
		const out = [];
		for (const e of document.querySelectorAll("a[href], button, input, select, textarea, summary")) {
			const r = e.getBoundingClientRect();
			if (r.width === 0 || e.closest(".unseen, .skip") || e.matches("p a")) continue;
			if (r.width < %d || r.height < %[1]d) {
				out.push(e.tagName + "#" + e.id + " " + e.textContent.trim().slice(0, 30) + ": " + r.width.toFixed(1) + " by " + r.height.toFixed(1));
			}
		}
		return out.slice(0, 5);
	})()`, leastTarget)) {
		a.Errorf("%s at %d px: too small to press: %s", state, wide, small)
	}
}
