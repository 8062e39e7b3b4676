package record

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/disk"

	"github.com/goccy/go-yaml"
)

// What a file can be instead of a record.
var (
	ErrNoRecord = errors.New("is not a record of an assessment")
	ErrCutShort = errors.New("is cut short: its last line, the checksum, is missing")
	ErrNewer    = errors.New("was filed by a later version of sightpost, which this version cannot read")
)

// maxBytes bounds a file: it holds a case and a kit of the greatest size that is read,
// every line of them indented.
const maxBytes = 2 << 20

// versionKey begins the first line of a record that is not a comment.
const versionKey = "sightpost_record:"

// Decode returns the record in a file of any version up to [Version]. One whose
// checksum does not fit is returned as Edited, if it can be read. The error wraps
// [ErrNoRecord], [ErrCutShort] or [ErrNewer].
func Decode(file []byte) (*Record, error) {
	text, err := plainRecord(file)
	if err != nil {
		return nil, err
	}
	version, err := versionOf(text)
	if err != nil {
		return nil, err
	}
	above, sum, err := splitChecksum(text)
	if err != nil {
		return nil, err
	}
	var r *Record
	switch version {
	case 1:
		r, err = decodeV1(above)
	case 2:
		r, err = decode(above, func(head string) string { return head })
	default:
		return nil, fmt.Errorf("%w (form %d; this one reads forms 1 to %d)", ErrNewer, version, Version)
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNoRecord, err)
	}
	r.Edited = sum != checksum(above)
	return r, nil
}

// plainRecord returns a file as text. Some systems change how lines end when they
// hand files on; that is no change of a record.
func plainRecord(file []byte) (string, error) {
	text, err := casefile.ReadText(bytes.NewReader(bytes.ReplaceAll(file, []byte("\r\n"), []byte("\n"))), maxBytes)
	switch {
	case errors.Is(err, disk.ErrTooLarge):
		return "", fmt.Errorf("%w: it has more than %d bytes", ErrNoRecord, maxBytes)
	case err != nil || strings.ContainsRune(text, '\r'):
		return "", fmt.Errorf("%w: it is not text", ErrNoRecord)
	case text == "":
		return "", ErrCutShort
	}
	return text, nil
}

// versionOf returns the version of the form of a record. It is asked before
// anything else, as a later version may differ in all the rest.
func versionOf(text string) (int, error) {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		number, ok := strings.CutPrefix(line, versionKey)
		if !ok {
			break
		}
		if !strings.HasSuffix(line, "\n") {
			return 0, ErrCutShort
		}
		v, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil || v < 1 {
			return 0, fmt.Errorf("%w: it has no version after %q", ErrNoRecord, versionKey)
		}
		return v, nil
	}
	if strings.HasPrefix(heading, text) {
		return 0, ErrCutShort
	}
	return 0, fmt.Errorf("%w: it does not begin with %q", ErrNoRecord, versionKey)
}

// splitChecksum returns the lines above the last, and the sum that the last holds.
func splitChecksum(text string) (above, sum string, err error) {
	at := strings.LastIndexByte(strings.TrimSuffix(text, "\n"), '\n') + 1
	last, ok := strings.CutPrefix(text[at:], checksumKey)
	sum = strings.TrimSuffix(last, "\n")
	if !ok || len(sum) != len(checksum("")) || len(sum) == len(last) {
		return "", "", ErrCutShort
	}
	return text[:at], sum, nil
}

// decode reads a record of which renamed gives the keys of [Record] to the lines above
// its texts.
func decode(text string, renamed func(head string) string) (*Record, error) {
	r := &Record{}
	head, err := r.readTexts(text)
	if err != nil {
		return nil, err
	}
	if err := unmarshal("record", renamed(head), r); err != nil {
		return nil, err
	}
	if r.Settings == nil {
		r.Settings = []Setting{}
	}
	return r, r.check()
}

// readTexts takes the texts off the end of a record, and returns what is above
// them. They are read here, line by line, because that is all there is to a block
// with a stated indentation, and because no parser is to come between a case and
// the words that it was filed with.
func (r *Record) readTexts(text string) (head string, err error) {
	texts := map[string]*strings.Builder{"note": {}, "case": {}, "kit": {}}
	var into *strings.Builder
	above, number := 0, 0
	for line := range strings.Lines(text) {
		number++
		key, isBlock := strings.CutSuffix(line, blockMark)
		indented, isText := strings.CutPrefix(line, blockIndent)
		switch {
		case isBlock && texts[key] != nil:
			into = texts[key]
			if into.Len() > 0 {
				return "", fmt.Errorf("line %d: the key %q is there twice", number, key)
			}
		case into == nil:
			above += len(line)
		case isText:
			into.WriteString(indented)
		case line == "\n":
			into.WriteString(line)
		default:
			return "", fmt.Errorf("line %d: it is not indented as the text above it", number)
		}
	}
	r.Note, r.Case, r.Kit = texts["note"].String(), texts["case"].String(), texts["kit"].String()
	return text[:above], nil
}

// unmarshal reads YAML, which may hold no more than that of a case, into a value. The decoder
// may panic as the parser may: whatever a file holds, the program must go on.
func unmarshal(name, text string, into any) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = errors.New("the YAML parser cannot read it")
		}
	}()
	if _, err := casefile.Tree(name, text); err != nil {
		return err
	}
	if err := yaml.UnmarshalWithOptions([]byte(text), into, yaml.Strict()); err != nil {
		message, _, _ := strings.Cut(yaml.FormatError(err, false, false), "\n")
		return errors.New(message)
	}
	return nil
}
