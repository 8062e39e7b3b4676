package answer

import (
	"bytes"
	"encoding/json"
)

// JSON returns an answer as an object, indented or on one line.
func JSON(answer any, indented bool) ([]byte, error) {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	if indented {
		enc.SetIndent("", "  ")
	}
	err := enc.Encode(answer)
	return text.Bytes(), err
}
