package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/answer"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// saveOptions are the flags of commands that write a folder of files.
type saveOptions struct {
	out    string
	format []string
	force  bool
}

func (o *saveOptions) addFlags(f *pflag.FlagSet, folder string) {
	f.StringVar(&o.out, "out", folder, "write figures and results into this `folder`")
	f.StringSliceVar(&o.format, "format", []string{"svg"}, "`formats` of the figures: svg, pdf, png")
	f.BoolVar(&o.force, "force", false, "overwrite files that exist")
}

// folders returns where the files of each case go: the folder itself for a single
// case, one folder each for several; empty when none are asked for.
func (o *saveOptions) folders(names []string) ([]string, error) {
	folders := make([]string, len(names))
	if o.out == "" {
		return folders, nil
	}
	if len(names) == 1 {
		return []string{o.out}, nil
	}
	taken := make(map[string]string, len(names))
	for i, name := range names {
		folders[i] = filepath.Join(o.out, caseFolder(name))
		if other, ok := taken[folders[i]]; ok {
			return nil, fmt.Errorf("%s and %s would both be written to %s: solve them one by one", other, name, folders[i])
		}
		taken[folders[i]] = name
	}
	return folders, nil
}

// files returns everything that is written for one case.
func (o *saveOptions) files(folder string, p *answer.Placed, rep *document.Report, u units.Units) ([]file, error) {
	object, err := answer.JSON(rep, true)
	if err != nil {
		return nil, err
	}
	files, err := figures(p, folder, o.format, u)
	if err != nil {
		return nil, err
	}
	files = append(files, file{filepath.Join(folder, "result.json"), object})
	if rep.Mount != nil {
		table, err := rep.Mount.SettingsCSV()
		if err != nil {
			return nil, err
		}
		files = append(files, file{filepath.Join(folder, "settings.csv"), table})
	}
	return files, nil
}

// write writes the files of one case and says so.
func (o *saveOptions) write(s Streams, files []file) error {
	if len(files) == 0 {
		return nil
	}
	if err := writeAll(files, o.force); err != nil {
		return err
	}
	say(s.Err, "wrote %d files into %s", len(files), filepath.Dir(files[0].name))
	return nil
}
