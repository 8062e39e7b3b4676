package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"fmt"
	"io"
)

// FontRule returns the CSS rule by which a page of figures that [WriteInlineSVG] wrote
// brings the letters that they are written in: the subset of the font that a PDF document
// of them embeds.
func FontRule(figures ...Figure) (string, error) {
	pdf := NewPDF("pt", most.Points(), most.Points())
	for _, f := range figures {
		if err := f.check(); err != nil {
			return "", err
		}
		f.DrawPDF(pdf, 0, 0)
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	_, stream, found := bytes.Cut(out.Bytes(), []byte("/Length1 ")) // only fonts have one
	if !found {
		return "", nil
	}
	_, stream, _ = bytes.Cut(stream, []byte("stream\n"))
	r, err := zlib.NewReader(bytes.NewReader(stream))
	if err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	font, err := io.ReadAll(r)
	if err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	return "@font-face{font-family:" + FontName + ";src:url(data:font/ttf;base64," + base64.StdEncoding.EncodeToString(font) + ")}", nil
}

// FontName is what the letters of figures are called, other than the font that may be
// installed.
const FontName = "Figure Sans"
