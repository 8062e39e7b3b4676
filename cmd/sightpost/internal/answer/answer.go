// Package answer works a case out: from the text of a case to its result, and from
// there to the report, the figures, the setup sheet, the plan of a refit, the ranking
// of kits, the simulations of errors and the records. Commands and the page ask it the same
// questions and get the same answers.
//
// It knows neither flags nor places of files: who asks says where a kit's text comes
// from and what becomes of an answer.
package answer

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"regexp"
	"sync"

	"sightpost/cmd/sightpost/internal/casefile"
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

// Case is a case that was read.
type Case struct{ *casefile.Case }

// Opener opens the file of a kit by its path as the case gives it.
type Opener func(kit string) (io.ReadCloser, error)

// Read reads a case. Name is what messages call its file; open opens its kit, and may
// be nil. The error is of type [casefile.Errors].
func Read(name string, src io.Reader, open Opener) (*Case, error) {
	return ReadAfter(nil, name, src, open)
}

// ReadAfter is [Read] for a case of which an earlier one is given, which may be nil; see
// [casefile.Case.ReadNext].
func ReadAfter(before *casefile.Case, name string, src io.Reader, open Opener) (*Case, error) {
	read := casefile.Read
	if before != nil {
		read = before.ReadNext
	}
	c, err := read(name, src, open)
	if err != nil {
		return nil, err
	}
	return &Case{c}, nil
}

// Sum returns the SHA-256 of the text of the case and of its kit, one after the
// other: what tells two states of a case apart.
func (c *Case) Sum() string {
	sum := sha256.New()
	sum.Write(c.Text) // a hash never fails
	sum.Write(c.KitText)
	return hex.EncodeToString(sum.Sum(nil))
}
