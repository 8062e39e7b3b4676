package casefile_test

import (
	"bytes"
	"io"
	"testing"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// BenchmarkRead is what the page does at every key press.
func BenchmarkRead(b *testing.B) {
	caseText, kitText := casefile.Starter(units.MM)
	open := func(string) (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(kitText)), nil }
	b.ReportAllocs()
	for b.Loop() {
		if _, err := casefile.Read("case", bytes.NewReader(caseText), open); err != nil {
			b.Fatal(err)
		}
	}
}
