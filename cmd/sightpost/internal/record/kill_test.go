package record_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sightpost/cmd/sightpost/internal/record"
	"sightpost/testdata/trials"
)

// The environment by which the test binary becomes a writer: where, and from which
// day on.
const (
	writerFolder = "SIGHTPOST_TEST_WRITER_FOLDER"
	writerDay    = "SIGHTPOST_TEST_WRITER_DAY"
)

func TestMain(m *testing.M) {
	if folder := os.Getenv(writerFolder); folder != "" {
		os.Exit(writeForEver(folder, record.Day(os.Getenv(writerDay))))
	}
	os.Exit(m.Run())
}

// writeForEver files a record a day until it is killed, and prints the name of each once
// it is filed.
func writeForEver(folder string, day record.Day) int {
	f, err := record.Open(folder)
	for ; err == nil; day = day.After(1) {
		r := sample("bench-1", day)
		r.Case += strings.Repeat("# a long case takes several writes\n", 5000)
		var n record.Name
		if n, err = f.File(context.Background(), r); err == nil {
			_, err = fmt.Println(n)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	return 1
}

// TestKilled kills writers at random moments after their first record. Each time every record
// is whole, whatever was told to be filed is there, nothing unfinished counts as a record, and
// the next writer can write.
func TestKilled(t *testing.T) {
	kills := trials.Asked(t, 5, 50)
	dir := t.TempDir()
	f := open(t, dir)
	random := rand.New(rand.NewPCG(1, 7)) // the moments; the machine adds its own chance
	told, caught := 0, 0
	for kill := range kills {
		for _, name := range killedAfter(t, dir, record.Day("2026-01-01").After(100*kill), time.Duration(random.IntN(120))*time.Millisecond) {
			told++
			if _, err := f.Find("bench-1", name); err != nil {
				t.Fatalf("after kill %d: %s was told to be filed: %v", kill, name, err)
			}
		}
		caught += len(leftovers(t, filepath.Join(dir, "bench-1")))
		file(t, f, sample("bench-1", record.Day("2025-12-31").After(-kill)))
		if left := leftovers(t, filepath.Join(dir, "bench-1")); len(left) > 0 {
			t.Fatalf("after kill %d the next writer left %q", kill, left)
		}
	}
	names, err := f.Names("bench-1")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if r, err := f.Read("bench-1", n); err != nil || r.Edited {
			t.Errorf("%s is not whole: %v", n, err)
		}
	}
	if told < kills || len(names) < told {
		t.Errorf("%d records, %d told to be filed, of %d writers", len(names), told, kills)
	}
	t.Logf("%d writes, %d kills, %d of them in the middle of a write", told, kills, caught)
}

// killedAfter starts a writer, kills it some time after its first record, and
// returns what it told to be filed.
func killedAfter(t *testing.T, dir string, from record.Day, d time.Duration) []string {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), writerFolder+"="+dir, writerDay+"="+string(from))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var names []string
	for lines := bufio.NewScanner(out); lines.Scan(); names = append(names, lines.Text()) {
		if len(names) == 0 {
			time.AfterFunc(d, func() { _ = cmd.Process.Kill() })
		}
	}
	_ = cmd.Wait() // it was killed
	return names
}
