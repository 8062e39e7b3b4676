package sheet

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"sightpost/plots"
)

// pageTemplate is the sheet as a page. It needs nothing but itself.
//
//go:embed sheet.html
var pageTemplate string

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
	Left, Right, Wide     []Section
}

// WriteHTML writes the sheet as a page that holds all it needs and prints on one
// sheet of paper. The same content gives the same bytes. The error wraps [ErrPage]
// or [plots.ErrFigure], or is w's own.
func (c *Content) WriteHTML(w io.Writer, paper Paper) error {
	t, err := template.New("sheet").Parse(pageTemplate)
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	_, f, err := newDocument(paper)
	if err != nil {
		return err
	}
	l, err := newLayout(c, f, paper)
	if err != nil {
		return err
	}
	width, height := paper.size()
	p := page{
		Content: c, Paper: paper.String(), Edge: edge, Width: width - 2*edge, Height: height - 2*edge,
		Text: l.text, Value: l.value, Smallest: smallest, Gap: l.gap,
		Left: l.left, Right: l.right, Wide: l.wide,
	}
	for _, at := range l.pictures {
		svg, err := inline(at.figure)
		if err != nil {
			return err
		}
		p.Figures = append(p.Figures, svg)
	}
	if err := t.Execute(w, p); err != nil {
		return fmt.Errorf("sheet: write HTML: %w", err)
	}
	return nil
}

// inline returns a figure as an element of a page: without what makes it a file of
// its own.
func inline(f plots.Figure) (template.HTML, error) {
	var svg bytes.Buffer
	if err := plots.WriteSVG(&svg, f); err != nil {
		return "", err
	}
	_, element, found := bytes.Cut(svg.Bytes(), []byte("<svg"))
	if !found {
		return "", fmt.Errorf("sheet: %w: no drawing in it", plots.ErrFigure)
	}
	return template.HTML("<svg" + string(element)), nil // written by plots, which escapes text
}
