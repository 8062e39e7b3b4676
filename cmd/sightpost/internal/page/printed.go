package page

import (
	"bytes"
	"html/template"

	"sightpost/cmd/sightpost/internal/sheet"
)

// noSheet is what is printed where there is no sheet.
const noSheet = `<p>There is no setup sheet yet: measures are missing, or make no sense.</p>`

// printed returns the setup sheet as an element of the page, for paper alone.
func (r *result) printed(on string) (template.HTML, error) {
	paper, err := sheet.PaperNamed(on)
	if err != nil {
		paper = sheet.A4 // the choice of the page knows no other
	}
	var text bytes.Buffer
	err = r.Sheet.WriteElement(&text, paper)
	return template.HTML(text.String()), err // made by a template, which escapes what it is given
}
