package answer

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"

	"sightpost/cmd/sightpost/internal/casefile"
)

// Case is a case that was read, with the very bytes that it was read from.
type Case struct {
	*casefile.Case
	// Text is that of the case, KitText that of its kit: empty if the case holds the
	// kit itself or has none.
	Text, KitText []byte
}

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
	var text, kitText bytes.Buffer
	kept := open
	if open != nil {
		kept = func(kit string) (io.ReadCloser, error) {
			f, err := open(kit)
			if err != nil {
				return nil, err
			}
			return teed{io.TeeReader(f, &kitText), f}, nil
		}
	}
	read := casefile.Read
	if before != nil {
		read = before.ReadNext
	}
	c, err := read(name, io.TeeReader(src, &text), kept)
	if err != nil {
		return nil, err
	}
	return &Case{Case: c, Text: text.Bytes(), KitText: kitText.Bytes()}, nil
}

// teed is a file of which a copy is kept while it is read.
type teed struct {
	io.Reader
	io.Closer
}

// Sum returns the SHA-256 of the text of the case and of its kit, one after the
// other: what tells two states of a case apart.
func (c *Case) Sum() string {
	sum := sha256.New()
	sum.Write(c.Text) // a hash never fails
	sum.Write(c.KitText)
	return hex.EncodeToString(sum.Sum(nil))
}
