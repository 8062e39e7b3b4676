package plots

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// WritePDF writes f as a PDF document of one page of the figure's size. The same
// figure gives the same bytes: the document carries no date of its own. The
// error wraps [ErrFigure] or is w's own.
func WritePDF(w io.Writer, f Figure) error {
	if err := f.check(); err != nil {
		return err
	}
	width, height := f.Size.Width.Points(), f.Size.Height.Points()
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: width, Ht: height}})
	undated := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(undated)
	pdf.SetModificationDate(undated)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(f.Title, true)
	pdf.SetSubject(f.Desc, true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddPage()
	f.DrawOn(NewPDFCanvas(pdf, 0, 0, width, height))
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("plots: write PDF: %w", err)
	}
	return nil
}
