package pictures

import (
	_ "embed"
	"encoding/xml"
	"fmt"
	"html"
	"strings"
	"sync"

	"sightpost/cmd/sightpost/internal/casefile"
)

//go:embed pictures.svg
var sheet []byte

// picture is an element of the sheet, whose id is the name of the entry that it is of.
type picture struct {
	Of    string `xml:"id,attr"`
	Shows string `xml:"desc"` // in words
	Lines string `xml:",innerxml"`
}

// pictures returns the pictures of the sheet by the entry that each is of.
var pictures = sync.OnceValue(func() map[string]picture {
	var all struct {
		Style    string    `xml:"style"` // a line for each class: .name{property:value;property:value}
		Pictures []picture `xml:"svg"`
	}
	_ = xml.Unmarshal(sheet, &all) // a test reads every picture
	var classes []string           // and the attributes that each stands for, as a picture alone has no style
	for line := range strings.Lines(strings.TrimSpace(all.Style)) {
		name, properties, _ := strings.Cut(strings.Trim(line, ".}\n"), "{")
		classes = append(classes, `class="`+name+`"`, strings.NewReplacer(":", `="`, ";", `" `).Replace(properties)+`"`)
	}
	styled := strings.NewReplacer(classes...)
	by := map[string]picture{}
	for _, p := range all.Pictures {
		_, lines, _ := strings.Cut(p.Lines, "</desc>\n")
		p.Lines = styled.Replace(lines)
		by[p.Of] = p
	}
	return by
})

// SVG returns the picture of how an entry of a case is measured, with its how-to as the
// caption; false if it has none.
func SVG(e casefile.Entry) (svg []byte, ok bool) {
	p, ok := pictures()[e.Picture]
	if !ok {
		return nil, false
	}
	caption := html.EscapeString(strings.TrimSuffix(e.HowTo, ".") + ".")
	return fmt.Appendf(nil, `<svg xmlns="http://www.w3.org/2000/svg" width="160" height="120" viewBox="0 0 160 120" role="img" aria-labelledby="t" aria-describedby="d">
<title id="t">%s</title>
<desc id="d">%s, not to scale. %s</desc>
%s</svg>
`, caption, html.EscapeString(p.Shows), caption, p.Lines), true
}

// View returns from where the picture of an entry is seen, in words; "" where it has no
// picture, or is seen from the side or in no certain direction.
func View(e casefile.Entry) string {
	_, view, _ := strings.Cut(pictures()[e.Picture].Shows, ", ")
	if view == "from the side" || !strings.HasPrefix(view, "from ") && !strings.HasPrefix(view, "as ") {
		return ""
	}
	return view
}
