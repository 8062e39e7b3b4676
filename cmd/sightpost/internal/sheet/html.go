package sheet

import (
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"strings"

	"sightpost/plots"
)

// pageTemplate is the sheet as a page. It needs nothing but itself.
//
//go:embed sheet.html
var pageTemplate string

//go:embed sheet.css
var style string

// Style returns the style sheet that the element of [Content.WriteElement] needs. All
// of its rules are for what is within that element.
func Style() string { return style }

// page is what the template shows: the content in the sizes and the columns of the
// layout, so that it prints as the PDF does.
type page struct {
	*Content
	Paper                 string
	Edge                  float64 // margin of the page, mm
	Width, Height         float64 // inside the margin, mm
	Text, Value, Smallest float64 // points
	Gap                   float64 // mm
	Figures               []template.HTML
	Lead, Left, Right     []Section
	Style                 template.CSS
}

// WriteHTML writes the sheet as a page that holds all it needs and prints on one
// sheet of paper. The same content gives the same bytes. The error wraps [ErrPage]
// or [plots.ErrFigure], or is w's own.
func (c *Content) WriteHTML(w io.Writer, paper Paper) error { return c.execute(w, "page", paper) }

// WriteElement writes the sheet as an element of another page, which has to bring
// [Style] and the size and the margin of the paper. What is said of
// [Content.WriteHTML] holds for it too.
func (c *Content) WriteElement(w io.Writer, paper Paper) error { return c.execute(w, "sheet", paper) }

// execute writes one of the templates.
func (c *Content) execute(w io.Writer, name string, paper Paper) error {
	t, err := template.New("page").Parse(pageTemplate)
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	p, err := c.page(paper)
	if err != nil {
		return err
	}
	if err := t.ExecuteTemplate(w, name, p); err != nil {
		return fmt.Errorf("sheet: write HTML: %w", err)
	}
	return nil
}

// browserSpare is the height (mm) that is kept for a browser, which breaks and spaces
// lines a little differently.
const browserSpare = 8

// page lays the sheet out.
func (c *Content) page(paper Paper) (*page, error) {
	_, f, err := newDocument(paper)
	if err != nil {
		return nil, err
	}
	l, err := newLayout(c, f, paper, browserSpare)
	if errors.Is(err, ErrPage) {
		l, err = newLayout(c, f, paper, 0)
	}
	if err != nil {
		return nil, err
	}
	width, height := paper.size()
	p := &page{
		Content: c, Paper: paper.String(), Edge: edge, Width: width - 2*edge, Height: height - 2*edge,
		Text: l.text, Value: l.value, Smallest: smallest, Gap: l.gap,
		Lead: l.lead, Left: l.left, Right: l.right, Style: template.CSS(style),
	}
	for _, at := range l.pictures {
		var svg strings.Builder
		if err := plots.WriteSVG(&svg, at.figure); err != nil {
			return nil, err
		}
		_, element, _ := strings.Cut(svg.String(), "\n")      // without the line that makes it a file
		p.Figures = append(p.Figures, template.HTML(element)) // written by plots, which escapes text
	}
	return p, nil
}
