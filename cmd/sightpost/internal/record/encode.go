package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"

	"sightpost/cmd/sightpost/internal/casefile"
)

// heading opens every record. Whoever opens one learns how to treat it.
const heading = `# An assessment as it was filed. Leave it as it is and file another instead:
# the last line is the SHA-256 of all lines above it.
`

// checksumKey begins the last line of every record.
const checksumKey = "checksum: sha256:"

// Plain returns a text as records keep it: in UTF-8 without a byte order mark, with
// a newline at the end of every line. These are the only liberties taken with a
// case: to YAML they make no difference. The error says that it is no text.
func Plain(raw []byte) (string, error) {
	text, err := casefile.ReadText(bytes.NewReader(raw), maxBytes)
	if err != nil {
		return "", fmt.Errorf("record: a text: %w", err)
	}
	s := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	if s != "" && !strings.HasSuffix(s, "\n") {
		s += "\n"
	}
	return s, nil
}

// Encode returns the file of r. The error says what r lacks, or that it would not
// be read back as it is.
func Encode(r *Record) ([]byte, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	head := *r
	head.Version, head.Name, head.Edited, head.Withdrawn = Version, "", false, false
	want := head
	head.Note, head.Case, head.Kit = "", "", ""
	start, err := yaml.Marshal(head)
	if err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	var b strings.Builder
	b.WriteString(heading)
	b.Write(start)
	block(&b, "note", r.Note)
	block(&b, "case", r.Case)
	block(&b, "kit", r.Kit)
	b.WriteString(checksumKey + checksum(b.String()) + "\n")
	text := []byte(b.String())
	// What cannot be read again must not be filed, whatever the reason.
	if got, err := Decode(text); err != nil {
		return nil, fmt.Errorf("record: it could not be read again: %w", err)
	} else if !reflect.DeepEqual(*got, want) {
		return nil, errors.New("record: it would not be read back as it is")
	}
	return text, nil
}

// A text is filed as a block scalar, every line of it as it is. The 2 says how far
// lines are indented, even if the text's own first line is; the plus keeps empty
// lines at its end.
const (
	blockMark   = ": |2+\n"
	blockIndent = "  "
)

// block writes a text, unless it is empty.
func block(b *strings.Builder, key, text string) {
	if text == "" {
		return
	}
	b.WriteString(key + blockMark)
	for line := range strings.Lines(text) {
		if line != "\n" {
			b.WriteString(blockIndent)
		}
		b.WriteString(line)
	}
}

// checksum returns the SHA-256 of the lines above the last, in hexadecimal.
func checksum(above string) string {
	sum := sha256.Sum256([]byte(above))
	return hex.EncodeToString(sum[:])
}
