package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
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
	if err == nil {
		font, err = shapesOnly(font)
	}
	if err != nil {
		return "", fmt.Errorf("plots: font: %w", err)
	}
	return "@font-face{font-family:" + FontName + ";src:url(data:font/ttf;base64," + base64.StdEncoding.EncodeToString(font) + ")}", nil
}

// FontName is what the letters of figures are called, other than the font that may be
// installed.
const FontName = "Figure Sans"

// shapesOnly returns a TrueType font without its names and without the programs that fit
// letters to coarse screens.
//
// Reference: OpenType specification 1.9, "Organization of an OpenType font".
func shapesOnly(font []byte) ([]byte, error) {
	const header, entry = 12, 16
	if len(font) < header {
		return nil, errors.New("the font has no header")
	}
	var entries, tables []byte
	n := int(binary.BigEndian.Uint16(font[4:]))
	var kept [][]byte
	for i := range n {
		if len(font) < header+(i+1)*entry {
			return nil, errors.New("the font has fewer tables than it says")
		}
		e := font[header+i*entry:][:entry]
		if !slices.Contains([]string{"name", "fpgm", "prep", "cvt ", "gasp"}, string(e[:4])) {
			kept = append(kept, slices.Clone(e))
		}
	}
	for _, e := range kept {
		at, long := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		if uint64(at)+uint64(long) > uint64(len(font)) {
			return nil, errors.New("a table of the font is cut off")
		}
		binary.BigEndian.PutUint32(e[8:], uint32(header+len(kept)*entry+len(tables)))
		tables = append(append(tables, font[at:at+long]...), make([]byte, -long&3)...)
		entries = append(entries, e...)
	}
	out := slices.Clone(font[:header])
	binary.BigEndian.PutUint16(out[4:], uint16(len(kept)))
	return slices.Concat(out, entries, tables), nil
}
