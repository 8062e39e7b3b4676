package cli

import (
	"fmt"
	"path/filepath"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/plots/units"
)

// checkFormats returns an error if one of the formats of figures is unknown.
func checkFormats(formats []string) error {
	for _, f := range formats {
		if _, err := answer.FigureWriter(f); err != nil {
			return err
		}
	}
	return nil
}

// figures returns the figures of p as files in a folder, in every format.
func figures(p *answer.Placed, folder string, formats []string, u units.Units) ([]file, error) {
	files, err := drawn(folder, formats, p.Figures(u))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.Label, err)
	}
	return files, nil
}

// drawn returns figures as files in a folder, in every format.
func drawn(folder string, formats []string, all []answer.Figure) ([]file, error) {
	var files []file
	for _, fig := range all {
		texts, err := fig.Drawn(formats...)
		if err != nil {
			return nil, err
		}
		for i, text := range texts {
			files = append(files, file{filepath.Join(folder, fig.Name+"."+formats[i]), text})
		}
	}
	return files, nil
}
