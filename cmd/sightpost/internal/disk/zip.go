package disk

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode"
)

// Bounds of an archive.
const (
	mostPacked   = 1000
	mostUnpacked = 64 << 20
)

// Zip returns an archive of files, the same for the same, which [Unzip] takes.
func Zip(files []File) ([]byte, error) {
	var all bytes.Buffer
	z := zip.NewWriter(&all)
	if len(files) > mostPacked {
		return nil, fmt.Errorf("%w: %d files to pack; %d are allowed", ErrTooLarge, len(files), mostPacked)
	}
	left := mostUnpacked
	for _, f := range files {
		if left -= len(f.Text); left < 0 {
			return nil, fmt.Errorf("%w: more than %d bytes to pack", ErrTooLarge, mostUnpacked)
		}
		if err := CheckName(f.Name); err != nil {
			return nil, err
		}
		w, err := z.Create(f.Name)
		if err == nil {
			_, err = w.Write(f.Text)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	err := z.Close() // before all is there
	return all.Bytes(), err
}

// Unzip returns the files of an archive: at most 1000 of 64 MB together, each under a name of
// its own that every system takes, within the folder that they are written to.
func Unzip(data []byte) ([]File, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errors.New("not a zip file, or a damaged one")
	}
	if len(z.File) > mostPacked {
		return nil, fmt.Errorf("%w: %d files in the archive; %d are allowed", ErrTooLarge, len(z.File), mostPacked)
	}
	var files []File
	left, names, folders := mostUnpacked, map[string]bool{}, map[string]bool{}
	for _, f := range z.File {
		if f.FileInfo().IsDir() {
			continue
		}
		same := strings.ToLower(f.Name)
		switch err := CheckName(f.Name); {
		case err != nil:
			return nil, err
		case strings.HasPrefix(f.Name, ".") || strings.Contains(f.Name, "/."):
			return nil, fmt.Errorf("%q: a name must not begin with a period", f.Name)
		case names[same]:
			return nil, fmt.Errorf("%q: twice in the archive", f.Name)
		case !f.Mode().IsRegular():
			return nil, fmt.Errorf("%q: %w", f.Name, ErrNotFile)
		}
		names[same] = true
		for in := path.Dir(same); in != "."; in = path.Dir(in) {
			folders[in] = true
		}
		r, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		text, err := All(r, left)
		_ = r.Close() // only read
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		left -= len(text)
		files = append(files, File{Name: f.Name, Text: text, Mode: 0o640})
	}
	for name := range names {
		if folders[name] {
			return nil, fmt.Errorf("%q: a file and a folder in the archive", name)
		}
	}
	return files, nil
}

// isDevice reports whether Windows keeps a name for a device, whatever follows a dot.
func isDevice(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	port := len(stem) == 4 && unicode.IsDigit(rune(stem[3])) && slices.Contains([]string{"COM", "LPT"}, stem[:3])
	return port || slices.Contains([]string{"CON", "PRN", "AUX", "NUL"}, stem)
}

// CheckName returns an error unless every system takes a path for that of a file within a
// folder, and shows it as it is.
func CheckName(name string) error {
	hidden := func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }
	if name == "" || name == "." {
		return errors.New("a file has no name")
	}
	if !fs.ValidPath(name) || strings.ContainsAny(name, `\:*?"<>|`) || strings.ContainsFunc(name, hidden) {
		return fmt.Errorf("%q: not a valid name; use letters, digits, - and _, with / between folders", name)
	}
	for part := range strings.SplitSeq(name, "/") {
		if isDevice(part) {
			return fmt.Errorf("%q: some systems keep the name %s for a device", name, part)
		}
		if strings.TrimRight(part, ". ") != part {
			return fmt.Errorf("%q: a name must not end with a period or a space", name)
		}
	}
	return nil
}
