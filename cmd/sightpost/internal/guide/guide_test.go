package guide_test

import (
	"bytes"
	"html"
	"regexp"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/guide"
	"sightpost/plots/units"
)

var image = regexp.MustCompile(`src="data:[^"]*"`)

// TestGuideHasEveryEntry: every key of a kit is told, every picture shown, and the example
// has every kind of part and solves its own riddle: a slip in it is told by numbers.
func TestGuideHasEveryEntry(t *testing.T) {
	for _, u := range []units.Units{units.MM, units.Inch} {
		var page bytes.Buffer
		if err := guide.Write(&page, u); err != nil {
			t.Fatal(err)
		}
		text := html.UnescapeString(image.ReplaceAllString(page.String(), "IMAGE"))
		shown := map[string]bool{}
		for _, e := range casefile.Kit().Rows() {
			if e.Picture != "" {
				shown[e.Picture] = true
			}
			if !strings.Contains(text, e.Key) {
				t.Errorf("%s: the guide lacks %s", u, e.Path)
			}
		}
		const mounts = 1 // the example
		if n := strings.Count(text, "IMAGE"); n < len(shown)+mounts {
			t.Errorf("%s: %d images of %d pictures and a mount", u, n, len(shown))
		}
		for _, key := range []string{"index", "swing", "twist", "pan", "elevation", "rotation", "tilt", "roll", "faces"} {
			if !regexp.MustCompile(`Seen (from|as) [^<]+</small><br><code>` + key + `</code>`).MatchString(text) {
				t.Errorf("%s: the guide does not say from where the picture of %s is seen", u, key)
			}
		}
		parts := casefile.Kit().At("parts")
		for _, kind := range parts.One {
			if !strings.Contains(string(casefile.EveryPart(u)), "\n  - "+kind+":\n") {
				t.Errorf("%s: the example lacks a %s", u, kind)
			}
		}
		for _, words := range []string{"arm.total: found", "expected about", "straight ", " + bend ", " + end "} {
			if !strings.Contains(text, words) {
				t.Errorf("%s: the message of the slip lacks %q", u, words)
			}
		}
	}
}
