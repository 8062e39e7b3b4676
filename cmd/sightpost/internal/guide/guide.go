package guide

import (
	"bytes"
	_ "embed" // for the page
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/pictures"
	"sightpost/plots"
	"sightpost/plots/units"
)

//go:embed guide.html
var text string

// content is what the page shows.
type content struct {
	File, Common, Settings, Tubes []row
	Parts                         []part
	Materials                     []casefile.Material
	Example                       string
	Mount                         template.URL
	Slip                          slip
}

// row is an entry of the table of a kit.
type row struct {
	Key, Doc, HowTo, Default string
	Picture                  template.URL // "" if none
	View                     string       // from where it is seen, where that matters
}

// part is a kind of part with what it alone has.
type part struct {
	Key, Doc string
	Rows     []row
	Tube     bool // it has the rows of tubes as well
}

// slip is a mistake in the example and what is said of it.
type slip struct{ Wrong, Said string }

// Write writes the page with lengths of the example in units u.
func Write(w io.Writer, u units.Units) error {
	example := casefile.EveryPart(u)
	kit, err := casefile.ReadKit("kit.yaml", bytes.NewReader(example))
	if err != nil {
		return err
	}
	figure, err := plots.Kit(kit, plots.Options{Units: u})
	if err != nil {
		return err
	}
	var mount bytes.Buffer
	if err := plots.WriteSVG(&mount, figure); err != nil {
		return err
	}
	c := content{Materials: casefile.Materials, Example: string(example), Mount: image(mount.Bytes()), Slip: slipOf(string(example))}
	c.fill(u)
	return template.Must(template.New("guide").Parse(text)).Execute(w, c)
}

// fill fills in the rows of the table of a kit, defaults in units u.
func (c *content) fill(u units.Units) {
	table := casefile.Kit()
	parts := table.At("parts")
	post, arm, ball := parts.At("post"), parts.At("arm"), parts.At("ball")
	tube := shared(post, arm)
	common := shared(post, ball)
	common = slices.DeleteFunc(common, func(key string) bool { return key == "mass" })
	tube = slices.DeleteFunc(tube, func(key string) bool { return slices.Contains(common, key) })
	for i := range table.Fields {
		if f := &table.Fields[i]; f.Key != "parts" {
			c.File = append(c.File, rows(u, table, f, "")...)
		}
	}
	c.Common, c.Tubes = rowsOf(u, post, common), rowsOf(u, post, tube)
	c.Common[0].Default = "its kind" // of the name
	for _, setting := range []*casefile.Entry{post.At("height"), post.At("swing")} {
		for _, r := range rowsOf(u, setting, setting.Keys()) {
			if !slices.Contains(c.Settings, r) {
				c.Settings = append(c.Settings, r)
			}
		}
	}
	for i := range parts.Fields {
		p := &parts.Fields[i]
		isTube := p.At("tube") != nil
		own := slices.DeleteFunc(p.Keys(), func(key string) bool {
			return slices.Contains(common, key) || isTube && slices.Contains(tube, key)
		})
		c.Parts = append(c.Parts, part{p.Key, sentence(p.Key, p.Doc), rowsOf(u, p, own), isTube})
	}
}

// shared returns the keys that two groups have.
func shared(a, b *casefile.Entry) []string {
	return slices.DeleteFunc(a.Keys(), func(key string) bool { return b.At(key) == nil })
}

// rowsOf returns the rows of some keys of a group.
func rowsOf(u units.Units, e *casefile.Entry, keys []string) []row {
	var all []row
	for _, key := range keys {
		all = append(all, rows(u, e, e.At(key), "")...)
	}
	return all
}

// rows returns the rows of an entry of a group: one for a setting, for an offset, and for
// whatever has no entries, else those of its entries.
func rows(u units.Units, in, e *casefile.Entry, above string) []row {
	name := above + e.Key
	kind := e.Kind
	if e.At("preferred") != nil {
		kind = casefile.Number
	} else if e.At("up") != nil {
		kind, name = casefile.Number, name+": {"+strings.Join(e.Keys(), ", ")+"}"
	}
	if kind != casefile.Group && kind != casefile.List {
		r := row{Key: name, Doc: sentence(e.Key, e.Doc), Default: defaultIn(e, u), Picture: picture(*e), View: pictures.View(*e)}
		if !strings.EqualFold(e.HowTo, e.Doc) {
			r.HowTo = e.HowTo
		}
		if !e.Required && e.Default == "" && !slices.Contains(in.One, e.Key) {
			r.Doc += " May be left out."
		}
		if len(e.Options) > 0 {
			r.Doc += " One of " + strings.Join(e.Options, ", ") + "."
		}
		return []row{r}
	}
	var all []row
	for i := range e.Fields {
		all = append(all, rows(u, e, &e.Fields[i], name+": ")...)
	}
	return all
}

// defaultIn returns what is taken for an entry that is left out, lengths and masses in units u.
func defaultIn(e *casefile.Entry, u units.Units) string {
	all := e.Read(e.Default)
	switch {
	case u == units.MM || len(all) != 1 || len(e.Units) == 0:
	case e.Units[0] == "mm":
		return u.Length(all[0].Value)
	case e.Units[0] == "kg":
		return units.Masses.Told(u, all[0].Value)
	}
	return e.Default
}

// sentence returns a doc with a capital, and without the name of its key in front.
func sentence(key, doc string) string {
	doc = strings.TrimPrefix(doc, strings.ReplaceAll(key, "_", " ")+": ")
	return strings.ToUpper(doc[:1]) + doc[1:]
}

// picture returns the picture of an entry, if it has one.
func picture(e casefile.Entry) template.URL {
	svg, ok := pictures.SVG(e)
	if !ok {
		return ""
	}
	return image(svg)
}

// image returns an SVG file as the source of an image.
func image(svg []byte) template.URL {
	return template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(svg)) //nolint:gosec // drawn here
}

// slipOf returns what is said of the example if the total of its arm lacks a digit.
func slipOf(example string) slip {
	at := strings.LastIndex(example, "total: ")
	line, _, _ := strings.Cut(example[at:], "\n")
	wrong := "total: " + line[len("total: x"):]
	_, err := casefile.ReadKit("kit.yaml", strings.NewReader(strings.Replace(example, line, wrong, 1)))
	return slip{wrong, fmt.Sprint(err)}
}
