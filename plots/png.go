package plots

import (
	"fmt"
	"io"

	"gonum.org/v1/plot/vg/vgimg"
)

// pngDPI is the resolution of pictures: sharp on a screen, readable in print.
const pngDPI = 150

// WritePNG writes f as a picture of 150 dots per inch. The same figure gives the
// same bytes on the same kind of processor. The error wraps [ErrFigure] or is w's
// own.
func WritePNG(w io.Writer, f Figure) error {
	if err := f.check(); err != nil {
		return err
	}
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(f.Size.Width, f.Size.Height), vgimg.UseDPI(pngDPI))}
	f.DrawOn(c)
	if _, err := c.WriteTo(w); err != nil {
		return fmt.Errorf("plots: write PNG: %w", err)
	}
	return nil
}
