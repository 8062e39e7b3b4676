package casefile_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/plots/units"
)

// endless gives noise without end; whoever reads it all never comes back.
type endless struct{ rng *rand.Rand }

func (e endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(' ' + e.rng.IntN(95))
	}
	return len(p), nil
}

// TestHostileFilesAreRefusedAtOnce reads what takes minutes, or runs out of stack,
// if nothing stops it.
func TestHostileFilesAreRefusedAtOnce(t *testing.T) {
	noise := make([]byte, 200<<10)
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range noise {
		noise[i] = byte(rng.IntN(256))
	}
	bomb := strings.Builder{}
	bomb.WriteString("a: &a [x, x, x, x, x, x, x, x, x]\n")
	for c := 'b'; c < 'k'; c++ {
		fmt.Fprintf(&bomb, "%c: &%c [%s]\n", c, c, strings.Repeat("*"+string(c-1)+", ", 9))
	}
	stairs := strings.Builder{}
	for i := range 400 {
		fmt.Fprintf(&stairs, "%sa:\n", strings.Repeat(" ", i))
	}
	for name, c := range map[string]struct {
		src  io.Reader
		want string
	}{
		"endless":     {endless{rng}, "found more than 262144 bytes"},
		"noise":       {bytes.NewReader(noise), "found bytes that are not text"},
		"NUL":         {strings.NewReader("sightpost: 1\nlabel: a\x00b\n"), `2:9: found the control character '\x00'`},
		"bomb":        {strings.NewReader(bomb.String()), `found the YAML mark "&"`},
		"brackets":    {strings.NewReader(strings.Repeat("[", 100_000)), "found more than 20 levels of braces"},
		"braces":      {strings.NewReader(strings.Repeat("{a: ", 50_000)), "found more than 20 levels of braces"},
		"dashes":      {strings.NewReader(strings.Repeat("- ", 100_000)), "found an entry beyond column 200"},
		"stairs":      {strings.NewReader(stairs.String()), "found an entry beyond column 200"},
		"many keys":   {strings.NewReader(strings.Repeat("a: 1\n", 40_000)), "found more than 10000 words and marks"},
		"same keys":   {strings.NewReader(strings.Repeat("a: 1\n", 3000)), "and 29"},
		"long line":   {strings.NewReader("label: " + strings.Repeat("x", 200_000)), "expected at most 4000 characters"},
		"long key":    {strings.NewReader(strings.Repeat("k", 200_000) + ": 1"), "found the unknown key"},
		"broken file": {iotest.ErrReader(errors.New("disk gone")), "one that can: disk gone"},
		"empty":       {strings.NewReader(""), "found nothing"},
		"question":    {strings.NewReader("? [a]\n: b\n"), `found the YAML mark "?"`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := casefile.Read("case", c.src, nil)
			var problems casefile.Errors
			if !errors.As(err, &problems) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("Read = %.300v\nwant %s", err, c.want)
			}
		})
	}
}

// TestEncodings: what text editors write besides plain UTF-8.
func TestEncodings(t *testing.T) {
	caseText, _ := casefile.Starter(units.MM)
	wide := utf16.Encode([]rune("\ufeff" + string(caseText)))
	little, big := make([]byte, 0, 2*len(wide)), make([]byte, 0, 2*len(wide))
	for _, u := range wide {
		little, big = append(little, byte(u), byte(u>>8)), append(big, byte(u>>8), byte(u))
	}
	for name, text := range map[string][]byte{
		"byte order mark": append([]byte("\xef\xbb\xbf"), caseText...),
		"UTF-16 LE":       little,
		"UTF-16 BE":       big,
		"CRLF":            bytes.ReplaceAll(caseText, []byte("\n"), []byte("\r\n")),
		"document start":  append([]byte("---\n"), caseText...),
	} {
		t.Run(name, func(t *testing.T) {
			c, err := casefile.Read("case", bytes.NewReader(text), starterKit)
			if err != nil || c.Label != "bench-07" {
				t.Errorf("Read = %v, %v", c, err)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	caseText, kitText := casefile.Starter(units.MM)
	f.Add(caseText)
	f.Add(kitText)
	f.Add([]byte("{sightpost: 1, postures: [{name: a}]}"))
	f.Add([]byte("a: |\n b\n? c\n- d"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := casefile.Read("case", bytes.NewReader(text), starterKit)
		checkOutcome(t, c != nil, err)
	})
}

func FuzzReadKit(f *testing.F) {
	_, kitText := casefile.Starter(units.MM)
	f.Add(kitText)
	f.Add([]byte("{sightpost_kit: 1, name: a, parts: [{clamp: {}}, {plate: {faces: back}}]}"))
	f.Fuzz(func(t *testing.T, text []byte) {
		kit, err := casefile.ReadKit("kit", bytes.NewReader(text))
		checkOutcome(t, len(kit.Parts) > 0, err)
		if err == nil && kit.Check() != nil {
			t.Errorf("a kit was read that is not sound: %v", kit.Check())
		}
	})
}

// checkOutcome: a value or problems with places, never both or neither.
func checkOutcome(t *testing.T, got bool, err error) {
	t.Helper()
	var problems casefile.Errors
	switch {
	case err == nil && !got:
		t.Error("neither a value nor an error")
	case err == nil:
	case got || !errors.As(err, &problems) || len(problems) == 0:
		t.Errorf("error %v", err)
	}
	for _, p := range problems {
		if p.Line < 1 || p.Column < 1 || p.File == "" || strings.ContainsRune(p.String(), '\n') {
			t.Errorf("problem without a place, or of several lines: %q", p.String())
		}
	}
}
