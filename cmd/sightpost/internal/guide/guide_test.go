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

var (
	image = regexp.MustCompile(`src="data:[^"]*"`)
	codes = regexp.MustCompile(`(?s)<(?:code|h2)>.*?</`) // rows and kinds of parts
	words = regexp.MustCompile(`[a-z_]+`)
)

// TestGuideHasEveryEntry: every key of a kit has a row, or is in the example as properties of
// a material are, every picture is shown, the example has every kind of part, and a wrong
// total in it is answered with the sum of its pieces.
func TestGuideHasEveryEntry(t *testing.T) {
	for _, u := range []units.Units{units.MM, units.Inch} {
		var page bytes.Buffer
		if err := guide.Write(&page, u); err != nil {
			t.Fatal(err)
		}
		text := html.UnescapeString(image.ReplaceAllString(page.String(), "IMAGE"))
		shown, keys := map[string]bool{}, map[string]bool{}
		for _, code := range codes.FindAllString(text, -1) {
			for _, word := range words.FindAllString(code, -1) {
				keys[word] = true
			}
		}
		for _, e := range casefile.Kit().Rows() {
			if e.Picture != "" {
				shown[e.Picture] = true
			}
			inExample := strings.Contains(e.Path, ".material.") && strings.Contains(text, e.Key+": ")
			if !keys[e.Key] && !inExample && e.Path != "mount.kit.parts[]" { // the parts are checked below
				t.Errorf("%s: the guide lacks %s", u, e.Path)
			}
		}
		if left := regexp.MustCompile(`If left out: \S+ (mm|kg)`).FindString(text); u == units.Inch && left != "" {
			t.Errorf("in inches the guide says %q", left)
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
		for _, said := range []string{"arm.total: found", "expected about", "straight ", " + bend ", " + end "} {
			if !strings.Contains(text, said) {
				t.Errorf("%s: the message of the slip lacks %q", u, said)
			}
		}
	}
}
