package sheet

import (
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"sightpost/plots"
)

// pageTemplate is the sheet as a page. It needs nothing but itself.
//
//go:embed sheet.html
var pageTemplate string

// pages are the templates.
var pages = sync.OnceValue(func() *template.Template { return template.Must(template.New("page").Parse(pageTemplate)) })

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
	Pages                 []*layout
}

// WriteHTML writes the sheet as a page that holds all it needs and prints on as many
// sheets of paper as the PDF has pages. The same content gives the same bytes. The error wraps [ErrPage]
// or [plots.ErrFigure], or is w's own.
func (c *Content) WriteHTML(w io.Writer, paper Paper) error { return c.execute(w, "page", paper) }

// WriteElement writes the sheet as elements of another page, which has to bring
// [Style], the letters of its figures ([Letters]) and the size and the margin of the paper. What is said of
// [Content.WriteHTML] holds for it too.
func (c *Content) WriteElement(w io.Writer, paper Paper) error { return c.execute(w, "sheet", paper) }

// execute writes one of the templates.
func (c *Content) execute(w io.Writer, name string, paper Paper) error {
	p, err := c.page(paper)
	if err != nil {
		return err
	}
	if err := pages().ExecuteTemplate(w, name, p); err != nil {
		return fmt.Errorf("sheet: write HTML: %w", err)
	}
	return nil
}

// browserSpare is the height (mm) that is kept for a browser, which breaks and spaces
// lines a little differently.
const browserSpare = 8

// page lays the sheet out.
func (c *Content) page(paper Paper) (*page, error) {
	book, err := newBook(c, paper, browserSpare)
	if errors.Is(err, ErrPage) {
		book, err = newBook(c, paper, 0)
	}
	if err != nil {
		return nil, err
	}
	for _, l := range book {
		for i := range l.Parts {
			part := &l.Parts[i]
			for _, f := range part.pictures {
				var svg strings.Builder
				if err := plots.WriteInlineSVG(&svg, f, ""); err != nil {
					return nil, err
				}
				part.Drawn = append(part.Drawn, template.HTML(svg.String())) // written by plots, which escapes text
			}
		}
	}
	width, height := paper.size()
	return &page{
		Content: c, Paper: paper.String(), Edge: edge, Width: width - 2*edge, Height: height - 2*edge,
		Text: book[0].text, Value: book[0].value, Smallest: smallest, Gap: book[0].gap,
		Pages: book,
	}, nil
}

// Style returns the style sheet of a page by itself, with the letters of its figures.
func (p *page) Style() (template.CSS, error) {
	var figures []string
	for _, l := range p.Pages {
		for _, part := range l.Parts {
			for _, svg := range part.Drawn {
				figures = append(figures, string(svg))
			}
		}
	}
	letters, err := plots.FontRule(figures...)
	return template.CSS(style + letters), err
}
