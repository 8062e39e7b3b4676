package page_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// accessible looks at every state of the page, light and dark, narrow and wide: axe
// finds nothing, nothing scrolls sideways, and the HTML is valid. SIGHTPOST_AXE names
// axe.min.js, SIGHTPOST_HTMLVALIDATE the program html-validate; without them the rest
// is looked at.
func accessible(t *testing.T, b *chromium) {
	t.Helper()
	w := b.open(t, true)
	a := auditor{tab: w, axe: axeScript(t)}
	a.look("a new case", true)
	w.example()
	a.look("the example", false)
	w.do(chromedp.Evaluate[chromedp.Void](unfold))
	a.look("the example, all unfolded", false)
	a.zoomed("the example, all unfolded")
	w.set("figure-choice", "view3d")
	w.set("e-measured-eyes-up", "high")
	a.look("a mistake", true)
	w.set("e-measured-eyes-up", "1180")
	// the measures have been seen: axe takes the longer the more there is to see
	w.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("#measures details, #as-text").forEach((d) => { d.open = false })`))
	w.set("units", "in")
	w.click(`button[value="take"]`)
	w.click(`button[value="job refit"]`)
	w.click(`button[value="save"]`)
	w.click(`button[value="save"]`) // asks whether to replace, or says that it did
	a.look("settings as found, a job, inches", true)
	w.click("#enlarge")
	a.look("the drawing large", true)
	w.click("#large .close")
	a.furtherAnswers()
	a.validate("a new case", w.emptyPage())
	a.validate("the example", ask[string](w, `(async () => {
		const form = document.getElementById("work"), data = new FormData(form);
		data.set("action", "show");
		return (await fetch("./", {method: "POST", body: data})).text();
	})()`))
}

// auditor looks at the page in one state after the other.
type auditor struct {
	*tab
	axe string
}

// axeScript returns the script of axe, "" if it is not to be had.
func axeScript(t *testing.T) string {
	t.Helper()
	name := os.Getenv("SIGHTPOST_AXE")
	if name == "" {
		t.Log("SIGHTPOST_AXE names no axe.min.js: axe is not asked")
		return ""
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// look looks at the page as it is, light and dark, at three widths. Axe, which takes
// two seconds each time, sees it narrow and dark, and wide and light: colors do not
// depend on the width, nor sizes on colors.
func (a *auditor) look(state string, audited bool) {
	a.Helper()
	begun := time.Now()
	defer func() { a.Logf("%s: looked at in %v", state, time.Since(begun).Round(time.Millisecond)) }()
	for _, wide := range []int64{320, 768, 1280} {
		a.do(chromedp.EmulateViewport(wide, 800))
		a.settled() // a narrow page has a drawing of its own
		a.narrow(state, wide)
		a.targets(state, wide)
		for _, scheme := range []string{"light", "dark"} {
			a.dress(scheme)
			a.picture(fmt.Sprintf("%s %s %d", state, scheme, wide))
			if audited && wide != 768 && (wide == 320) == (scheme == "dark") {
				a.audit(fmt.Sprintf("%s, %s, %d px", state, scheme, wide))
			}
		}
	}
}

// furtherAnswers looks at the page with an answer to every further question.
func (a *auditor) furtherAnswers() {
	a.Helper()
	for _, day := range []string{"2025-02-03", "2025-03-04"} {
		a.set("date", day)
		a.click(`button[value="file"]`)
	}
	a.click(`button[value="job vary"]`)
	a.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("input[name=kits]").click()`))
	a.click(`button[value="job match"]`)
	a.click(`button[value="job compare"]`)
	a.until("every answer", `[...document.querySelectorAll(".job")].every((j) => j.textContent.trim() !== "")`)
	a.look("every further question answered", true)
}

// zoomed looks at the page at 200 %, on a screen of 1280 by 800.
func (a *auditor) zoomed(state string) {
	a.Helper()
	a.do(chromedp.EmulateViewport(640, 400, chromedp.EmulateScale(2)))
	a.settled()
	a.narrow(state+", zoomed", 640)
	a.picture(state + " zoomed")
	a.do(chromedp.EmulateViewport(1280, 800))
	a.settled()
}

// dress has the page look as someone prefers it.
func (a *auditor) dress(scheme string) {
	a.Helper()
	_, err := chromedp.Call(a.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	if err != nil {
		a.Fatal(err)
	}
}

// picture keeps a picture of the whole page where SIGHTPOST_PICTURES names a folder.
func (a *auditor) picture(name string) {
	a.Helper()
	dir := os.Getenv("SIGHTPOST_PICTURES")
	if dir == "" {
		return
	}
	text, err := chromedp.Run(a.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		a.Fatal(err)
	}
	file := filepath.Join(dir, strings.NewReplacer(" ", "-", ",", "").Replace(name)+".png")
	if err := os.WriteFile(file, text, 0o644); err != nil {
		a.Fatal(err)
	}
}

// narrow reports what makes the page scroll sideways, is cut off, or is squeezed into
// a column of single letters.
func (a *auditor) narrow(state string, wide int64) {
	a.Helper()
	over := ask[[]string](a.tab, `(() => {
		const wide = document.documentElement.clientWidth, out = [];
		if (document.documentElement.scrollWidth > wide) out.push("the page is " + document.documentElement.scrollWidth + " px wide");
		for (const e of document.querySelectorAll("body *:not(.unseen, .skip, svg *)")) {
			const r = e.getBoundingClientRect();
			if (r.width > 0 && (r.right > wide + 1 || r.left < -1) && !e.closest("pre, .card .paper, dialog .canvas, .unseen, .skip")) {
				out.push(e.tagName + "#" + e.id + "." + e.className + " from " + Math.round(r.left) + " to " + Math.round(r.right));
			}
		}
		for (const e of document.querySelectorAll("p, label, legend, li, dt, dd, td, th, summary, span, button, .how")) {
			const r = e.getBoundingClientRect(), words = e.textContent.trim();
			if (r.width > 0 && !e.closest(".unseen, svg") && words.length >= 8 && r.height > 5 * r.width) {
				out.push("squeezed: " + words.slice(0, 30) + " in " + Math.round(r.width) + " by " + Math.round(r.height));
			}
			if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).overflowX === "hidden" && !e.closest(".unseen")) {
				out.push("cut off: " + words.slice(0, 30));
			}
		}
		const least = 6; // px, of letters that are 6.5 points high on paper
		for (const e of document.querySelectorAll("form:not([data-stale]) #shown-figure text")) {
			if (e.getBoundingClientRect().height < least && e.getBoundingClientRect().width < least) out.push("letters too small: " + e.textContent);
		}
		return out.slice(0, 5);
	})()`)
	for _, o := range over {
		a.Errorf("%s at %d px: %s", state, wide, o)
	}
}

// audit asks axe. What is within a drawing is taken out meanwhile: to a screen reader
// a drawing is one picture, and axe would look at every stroke of it.
func (a *auditor) audit(state string) {
	a.Helper()
	if a.axe == "" {
		return
	}
	if !ask[bool](a.tab, `typeof window.axe === "object"`) {
		a.do(chromedp.Evaluate[chromedp.Void](a.axe))
	}
	found := ask[[]string](a.tab, `(async () => {
		const taken = [...document.querySelectorAll("svg")].map((svg) => [svg, [...svg.children]]);
		for (const [svg, all] of taken) svg.replaceChildren(...all.filter((e) => ["title", "desc"].includes(e.tagName)));
		const r = await axe.run(document, {
			runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
			resultTypes: ["violations"],
		});
		for (const [svg, all] of taken) svg.replaceChildren(...all);
		return r.violations.flatMap((v) => v.nodes.slice(0, 3).map((n) =>
			v.id + " (" + v.impact + "): " + n.target.join(" ") + ": " + (n.failureSummary ?? "").replaceAll(/\s+/g, " ").slice(0, 300)));
	})()`)
	for _, f := range found {
		a.Errorf("%s: %s", state, f)
	}
}

// emptyPage returns the text of a page on which nothing is said yet.
func (w *tab) emptyPage() string {
	w.Helper()
	return ask[string](w, `fetch("./").then((r) => r.text())`)
}

// validRules are what a page is held to. The figures style their lines by attributes,
// as every drawing program does.
const validRules = `{
	"extends": ["html-validate:recommended"],
	"rules": {
		"no-inline-style": "off",
		"form-dup-name": ["error", {"shared": ["radio", "checkbox", "button", "reset", "submit"]}],
		"no-implicit-input-type": "off",
		"prefer-tbody": "off",
		"long-title": "off",
		"no-trailing-whitespace": "off"
	}
}`

// validate asks html-validate about the text of a page.
func (a *auditor) validate(state, text string) {
	a.Helper()
	program := os.Getenv("SIGHTPOST_HTMLVALIDATE")
	if program == "" {
		a.Log("SIGHTPOST_HTMLVALIDATE names no program: the HTML is not checked")
		return
	}
	dir := a.TempDir()
	rules := filepath.Join(dir, "rules.json")
	if err := os.WriteFile(rules, []byte(validRules), 0o644); err != nil {
		a.Fatal(err)
	}
	cmd := exec.Command(program, "--config", rules, "--stdin", "--formatter", "text")
	cmd.Stdin = strings.NewReader(text)
	if out, err := cmd.CombinedOutput(); err != nil {
		a.Errorf("%s: %v\n%.3000s", state, err, out)
	}
}
