package cli

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/cli/browser"
	"github.com/inconshreveable/mousetrap"
	"golang.org/x/term"
)

// openBrowser opens an address in the browser of this machine, if there is one. What
// a browser prints is nobody's business here.
func openBrowser(s Streams, address string) {
	if !hasDesktop() {
		return
	}
	browser.Stdout, browser.Stderr = io.Discard, io.Discard
	if err := browser.OpenURL(address); err != nil {
		say(s.Err, "no browser could be opened; open the address yourself")
	}
}

// hasDesktop reports whether there is a screen to open a browser on.
func hasDesktop() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	for _, name := range []string{"DISPLAY", "WAYLAND_DISPLAY", "WSL_DISTRO_NAME"} {
		if os.Getenv(name) != "" {
			return true
		}
	}
	return false
}

// doubleClicked reports whether the program was started from a desktop, not by a
// command. No system says so; what each shows of it is
//
//   - Windows: the program that started it is the Explorer;
//   - macOS: the Finder starts a terminal in the home folder and there the program by
//     its whole path;
//   - others: there is a desktop, and no terminal to read from or to write to.
func doubleClicked() bool {
	switch runtime.GOOS {
	case "windows":
		return mousetrap.StartedByExplorer()
	case "darwin":
		home, errHome := os.UserHomeDir()
		here, errHere := os.Getwd()
		return errHome == nil && errHere == nil && here == home && filepath.IsAbs(os.Args[0])
	}
	for _, f := range []*os.File{os.Stdin, os.Stdout, os.Stderr} {
		if term.IsTerminal(int(f.Fd())) {
			return false
		}
	}
	return hasDesktop()
}

// ownFolders are the folders in the home folder that a double click works in: the
// second if something else has the name of the first, such as the program itself.
func ownFolders() []string { return []string{"sightpost", "sightpost-cases"} }

// runDesktop serves the page in the program's own folder.
func runDesktop(ctx context.Context, s Streams) error {
	home, err := os.UserHomeDir()
	if err != nil {
		return err
	}
	folder, err := ownFolder(home)
	if err != nil {
		return err
	}
	return runServe(ctx, s, serveOptions{}, folder)
}

// ownFolder returns the program's own folder in a home folder, and makes it if it is
// not there.
func ownFolder(home string) (folder string, err error) {
	const mode = 0o750 // cases are nobody's business but the clinic's
	for _, name := range ownFolders() {
		folder = filepath.Join(home, name)
		if err = os.Mkdir(folder, mode); err == nil {
			return folder, nil
		}
		if info, statErr := os.Stat(folder); statErr == nil && info.IsDir() {
			return folder, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return "", plainPathError(folder, err)
}
