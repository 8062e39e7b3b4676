package plots

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"hash/fnv"
	"io"
	"strings"

	"gonum.org/v1/plot/vg/vgsvg"
)

// fontFamily is what viewers look for: Arial has the widths of Liberation Sans, so
// the layout holds where only one of them is installed.
const fontFamily = "font-family:Liberation Sans,Arial,Helvetica,sans-serif"

// WriteSVG writes f as an SVG drawing of its size. The drawing carries the
// figure's title and description for screen readers, under ids that are its own,
// so that several drawings can stand on one page. The same figure gives the
// same bytes. The error wraps [ErrFigure] or is w's own.
func WriteSVG(w io.Writer, f Figure) error {
	if err := f.check(); err != nil {
		return err
	}
	c := vgsvg.New(f.Size.Width, f.Size.Height)
	f.DrawOn(c)
	var buf bytes.Buffer
	if _, err := c.WriteTo(&buf); err != nil {
		return fmt.Errorf("plots: write SVG: %w", err)
	}
	if _, err := io.WriteString(w, accessible(buf.String(), f)); err != nil {
		return fmt.Errorf("plots: write SVG: %w", err)
	}
	return nil
}

// accessible returns the SVG with role, title and description, and with fonts to
// fall back on.
func accessible(svg string, f Figure) string {
	body := svg[strings.Index(svg, "<svg"):]
	h := fnv.New64a()
	_, _ = io.WriteString(h, f.Title+"\x00"+f.Desc+"\x00"+body) // a hash never fails
	id := fmt.Sprintf("figure-%016x", h.Sum64())
	open := fmt.Sprintf(`<svg role="img" aria-labelledby="%s-title %s-desc"`, id, id)
	end := strings.Index(body, ">") + 1
	head := strings.Replace(body[:end], "<svg", open, 1)
	text := fmt.Sprintf("\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>",
		id, escaped(f.Title), id, escaped(f.Desc))
	rest := strings.ReplaceAll(body[end:], "font-family:Liberation Sans", fontFamily)
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + head + text + rest
}

// escaped returns s as XML character data.
func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder never fails
	return b.String()
}
