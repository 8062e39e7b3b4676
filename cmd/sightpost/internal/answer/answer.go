// Package answer works a case out: from the text of a case to its result, and from
// there to the report, the figures, the setup sheet, the plan of a refit, the ranking
// of kits, the draws of errors and the records. Commands and the page ask it the same
// questions and get the same answers.
//
// It knows neither flags nor places of files: who asks says where a kit's text comes
// from and what becomes of an answer.
package answer

import (
	"bytes"
	"encoding/json"
	"regexp"
	"sync"
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

// packages matches the names of packages before a message.
var packages = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:(?:page|casefile|document|draft|fit|gaze|mount|plots|record|sheet): )+`)
})

// Plain returns a line of an error for people: without the names of packages before it.
func Plain(line string) string { return packages().ReplaceAllString(line, "") }
