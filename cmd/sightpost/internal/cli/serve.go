package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/cli/browser"
	"github.com/inconshreveable/mousetrap"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/page"
)

func newServe() *cobra.Command {
	c := described("serve [FOLDER]", atMostOne("folder"))
	port := c.Flags().Int("port", 0, "`port` on this computer; any free one if left out")
	noOpen := c.Flags().Bool("no-open", false, "print the address and open no browser")
	c.RunE = func(_ *cobra.Command, args []string) error { return serve(&c, firstOr(args, "."), *port, !*noOpen) }
	return &c
}

// serve serves the page until it is stopped, and opens it in a browser if asked to.
func serve(c *cobra.Command, folder string, port int, open bool) error {
	root, err := disk.OpenFolder(folder)
	if err != nil {
		return err
	}
	defer root.Close() // only ever read from and written to by its files
	server, err := page.New(page.Options{Folder: root, Port: port, Keep: true, Version: version(), Log: c.ErrOrStderr()})
	if err != nil {
		return withHint(err, "leave --port out for any free one")
	}
	if _, err := fmt.Fprintln(c.OutOrStdout(), server.Address()); err != nil {
		return err
	}
	note(c, "the page stays at this address until Ctrl-C or Stop on the page")
	if open && hasDesktop() {
		go openBrowser(c.ErrOrStderr(), server.AddressOnce())
	}
	return server.Serve(c.Context())
}

// openBrowser opens an address in the browser of this machine. What a browser prints is
// nobody's business here.
func openBrowser(w io.Writer, address string) {
	browser.Stdout, browser.Stderr = io.Discard, io.Discard
	if err := browser.OpenURL(address); err != nil {
		say(w, "no browser could be opened; open the address yourself")
	}
}

// hasDesktop reports whether there is a screen to open a browser on.
func hasDesktop() bool {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return true
	}
	named := func(variable string) bool { return os.Getenv(variable) != "" }
	return slices.ContainsFunc([]string{"DISPLAY", "WAYLAND_DISPLAY", "WSL_DISTRO_NAME"}, named)
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
	watched := func(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }
	return hasDesktop() && !slices.ContainsFunc([]*os.File{os.Stdin, os.Stdout, os.Stderr}, watched)
}

// serveAtHome serves the page in the program's own folder.
func serveAtHome(c *cobra.Command) error {
	home, err := os.UserHomeDir()
	if err != nil {
		return err
	}
	folder, err := OwnFolder(home)
	if err != nil {
		return err
	}
	return serve(c, folder, 0, true)
}

// OwnFolder returns the folder in a home folder that a double click works in, and makes it
// if it is not there: the second if something else has the name of the first, such as the
// program itself.
func OwnFolder(home string) (folder string, err error) {
	const mode = 0o750 // cases are nobody's business but the clinic's
	for _, name := range []string{"sightpost", "sightpost-cases"} {
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
	return "", disk.PathError(folder, err)
}
