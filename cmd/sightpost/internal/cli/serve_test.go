package cli_test

import (
	"os"
	"path/filepath"
	"testing"

	"sightpost/cmd/sightpost/internal/cli"
)

// TestOwnFolder: the folder of a double click is made once, open to nobody else, and
// takes another name where something else has its own.
func TestOwnFolder(t *testing.T) {
	home := t.TempDir()
	for range 2 {
		folder, err := cli.OwnFolder(home)
		if err != nil || folder != filepath.Join(home, "sightpost") {
			t.Fatalf("%s, %v", folder, err)
		}
		info, err := os.Stat(folder)
		if err != nil || !info.IsDir() || info.Mode().Perm()&0o007 != 0 {
			t.Errorf("%v, %v", info.Mode(), err)
		}
	}
	home = t.TempDir()
	if err := os.WriteFile(filepath.Join(home, "sightpost"), nil, 0o700); err != nil {
		t.Fatal(err)
	}
	folder, err := cli.OwnFolder(home)
	if err != nil || folder != filepath.Join(home, "sightpost-cases") {
		t.Errorf("beside the program: %s, %v", folder, err)
	}
	if _, err := cli.OwnFolder(filepath.Join(home, "absent")); err == nil {
		t.Error("made in a home that is not there")
	}
}
