package page_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofrs/flock"

	"sightpost/cmd/sightpost/internal/disk"
	"sightpost/cmd/sightpost/internal/page"
	"sightpost/testdata/trials"
)

// serverFolder is the variable of the environment by which the test binary becomes a server
// of a folder.
const serverFolder = "SIGHTPOST_TEST_SERVER_FOLDER"

func TestMain(m *testing.M) {
	folder := os.Getenv(serverFolder)
	if folder == "" {
		trials.Main(m)
	}
	root, err := os.OpenRoot(folder)
	if err == nil {
		var s *page.Server
		if s, err = page.New(page.Options{Folder: root, Version: "v0", Keep: true}); err == nil {
			fmt.Println(s.Address())
			err = s.Serve(context.Background())
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// process starts a server of a folder as a process of its own.
func process(t *testing.T, folder string) (*exec.Cmd, *window) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), serverFolder+"="+folder)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return cmd, open(t, strings.TrimSpace(address))
}

// goOn matches the links to what was not saved.
var goOn = regexp.MustCompile(`href="(\?draft=[^"]+)"`)

// heights match the height of the eyes in a case.
var heights = regexp.MustCompile(`eyes: \{up: (\d+) mm\}`)

// TestKilled kills the server at random moments of typing and saving, and starts it again:
// nothing is lost that was typed more than two seconds before, what is saved is whole, and
// nothing half written is left.
func TestKilled(t *testing.T) {
	kills, typing := 2, 500*time.Millisecond
	if trials.Long() {
		kills, typing = 50, 3*time.Second
	}
	folder := t.TempDir()
	random := rand.New(rand.NewPCG(2, 7))
	value := 1000
	for kill := range kills {
		cmd, w := process(t, folder)
		left(t, folder)
		f := w.act(fields{}, "new").state()
		f["window"] = fmt.Sprintf("window-%d", kill)
		f["name"] = fmt.Sprintf("case-%d", kill)
		end := time.AfterFunc(time.Duration(random.Int64N(int64(typing)))+typing/5, func() { _ = cmd.Process.Kill() })
		typed := map[int]time.Time{}
		for n := 1; ; n++ {
			value++
			f["text"], f["number"] = fmt.Sprintf("sightpost: 1\nlabel: k-%d\nmeasured:\n  eyes: {up: %d mm}\n", kill, value), strconv.Itoa(n)
			path := "live"
			if delete(f, "action"); n%7 == 0 {
				path, f["action"] = "", "save"
			}
			at := time.Now()
			r, err := w.client.Do(w.request(path, f))
			if err != nil {
				break
			}
			if r.StatusCode == http.StatusOK {
				typed[value] = at
			}
			_ = r.Body.Close()
		}
		end.Stop()
		died := time.Now()
		_ = cmd.Wait()
		next, again := process(t, folder)
		left(t, folder)
		kept := keptHeight(t, again, folder, f["name"]+".yaml", f["window"])
		for v, at := range typed {
			if v > kept && died.Sub(at) > 2*time.Second {
				t.Errorf("kill %d: %d mm, typed %v before, is lost: there is %d", kill, v, died.Sub(at), kept)
			}
		}
		_ = next.Process.Kill()
		_ = next.Wait()
	}
}

// keptHeight returns the greatest height of the eyes that is found again, in the saved case
// or in the work that was not saved.
func keptHeight(t *testing.T, w *window, folder, name, window string) int {
	t.Helper()
	texts := []string{}
	if saved, err := os.ReadFile(filepath.Join(folder, name)); err == nil {
		texts = append(texts, string(saved))
	} else if !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	_, first := w.get("")
	for _, m := range goOn.FindAllStringSubmatch(first, -1) {
		if strings.HasSuffix(m[1], window) {
			_, text := w.get(m[1])
			texts = append(texts, newPage(t, text).value("text"))
		}
	}
	most := 0
	for _, text := range texts {
		m := heights.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("torn: %q", text)
		}
		n, err := strconv.Atoi(m[1])
		if err != nil {
			t.Fatal(err)
		}
		most = max(most, n)
	}
	return most
}

// left reports what is left half written.
func left(t *testing.T, folder string) {
	t.Helper()
	const longEnough = 20 * time.Second // for what may still be written to be too old
	for start := time.Now(); ; time.Sleep(100 * time.Millisecond) {
		files := filesIn(t, folder)
		i := slices.IndexFunc(files, func(file string) bool {
			return strings.Contains(file, ".unfinished-") || strings.Contains(file, ".undo-")
		})
		if i < 0 {
			return
		}
		if time.Since(start) > longEnough {
			t.Fatalf("left in the folder: %s", files[i])
		}
	}
}

// TestComesBack: what is typed and not saved is offered on the first page, with all that was
// said beside it, and no longer once it is saved or discarded.
func TestComesBack(t *testing.T) {
	folder := t.TempDir()
	w := serveWith(t, folder, page.Options{Keep: true})
	f := w.act(fields{}, "example").whole()
	f["window"], f["e:screen.mass"], f["record-note"] = "window-one", "1.9", "a new cushion"
	w.live(f)
	_, first := w.get("")
	m := goOn.FindStringSubmatch(first)
	if m == nil || !strings.Contains(first, "bench-07") {
		t.Fatalf("what was typed is not offered: %q", m)
	}
	_, text := w.get(m[1])
	p := newPage(t, text)
	if p.value("e:screen.mass") != "1.9" || p.value("record-note") != "a new cushion" || p.value("window") != f["window"] || p.value("kit") == "" {
		t.Errorf("come back, the mass is %q, the note %q", p.value("e:screen.mass"), p.value("record-note"))
	}
	f = p.whole()
	f["record-note"], f["name"] = "", "mine"
	if p = w.act(f, "save"); p.notice() != "Saved mine.yaml in the folder." {
		t.Error(p.notice())
	}
	if _, first = w.get(""); goOn.MatchString(first) {
		t.Error("what was saved is offered as not saved")
	}
	f = p.whole()
	f["e:screen.mass"] = "2.1"
	w.live(f)
	w.get("")
	if _, first = w.get(""); !goOn.MatchString(first) {
		t.Error("what was typed after saving is not offered")
	}
	if p = w.act(fields{}, "discard window-one"); goOn.MatchString(p.text) {
		t.Error("what was discarded is offered")
	}
}

// TestSlowDisk: a server that takes away what others left half written leaves what it is writing
// itself, however long that takes.
func TestSlowDisk(t *testing.T) {
	if !trials.Long() {
		t.Skip("takes three seconds; set SIGHTPOST_LONG")
	}
	w := serveWith(t, t.TempDir(), page.Options{Keep: true})
	f := w.act(fields{}, "example").whole()
	f["name"] = "mine"
	var slow sync.Once
	disk.Fail(func(call string) error {
		if call == "link" {
			slow.Do(func() { time.Sleep(3 * time.Second) })
		}
		return nil
	})
	defer disk.Fail(nil)
	if notice := w.act(f, "save").notice(); notice != "Saved mine.yaml in the folder." {
		t.Error(notice)
	}
}

// TestTwoWindows: of two windows on one file the second to save is asked, and what a window
// leaves for another case is kept.
func TestTwoWindows(t *testing.T) {
	folder := t.TempDir()
	write(t, folder, "case.yaml", "sightpost: 1\nlabel: a\n")
	write(t, folder, "other.yaml", "sightpost: 1\nlabel: b\n")
	w := serveWith(t, folder, page.Options{Keep: true})
	one, two := w.openCase("case.yaml").state(), w.openCase("case.yaml").state()
	if one["window"] == two["window"] {
		t.Error("two windows have one name")
	}
	one["name"], one["e:note"], two["name"], two["e:note"] = "case.yaml", "one", "case.yaml", "two"
	if p := w.act(one, "save"); p.notice() != "Saved case.yaml in the folder." {
		t.Errorf("a case that was opened is not just saved: %s", p.notice())
	}
	p := w.act(two, "save")
	if !strings.Contains(p.text, "changed by someone else since this page read it") {
		t.Errorf("the second window replaces what the first saved: %s", p.notice())
	}
	f := p.whole()
	f["case"] = "other.yaml"
	if p = w.act(f, "open"); p.value("window") == f["window"] {
		t.Error("another case has the window of the one that was left")
	}
	if _, first := w.get("?draft=" + f["window"]); !strings.Contains(first, "note: two") {
		t.Error("what was left for another case is lost")
	}
}

// TestSameAddress: a page that is open goes on when the server is started again, and not if
// someone else knew its key.
func TestSameAddress(t *testing.T) {
	folder := t.TempDir()
	cmd, w := process(t, folder)
	f := w.act(fields{}, "new").state()
	f["text"], f["window"] = "sightpost: 1\nlabel: a\n", "window-one"
	w.live(f)
	w.get("") // written by now
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	process(t, folder)
	if l := w.live(f); l.State != "needed" {
		t.Errorf("the page that was open gets %+v", l)
	}
}

// TestSwept: the next server takes away what was left half written wherever a page writes,
// but where another program is writing; and it waits for no pipe that has the name of its own.
func TestSwept(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	first, w := process(t, folder)
	f := w.act(fields{}, "new").state()
	f["name"] = "case.yaml"
	w.act(f, "save")
	_ = first.Process.Kill()
	_ = first.Wait()
	for _, name := range []string{"", "sub", "records/bench-1", "records/bench-2"} {
		if err := os.MkdirAll(filepath.Join(folder, name), 0o750); err != nil {
			t.Fatal(err)
		}
		left, then := filepath.Join(folder, name, ".unfinished-X"), time.Now().Add(-2*time.Hour)
		if err := errors.Join(os.WriteFile(left, nil, 0o600), os.Chtimes(left, then, then)); err != nil {
			t.Fatal(err)
		}
	}
	_ = os.Remove(filepath.Join(folder, ".sightpost/session"))
	if err := exec.Command("mkfifo", filepath.Join(folder, ".sightpost/session"), filepath.Join(folder, ".sightpost/units")).Run(); err != nil {
		t.Log("no pipes here:", err)
	}
	busy := flock.New(filepath.Join(folder, "records/bench-2/.lock"))
	if ok, err := busy.TryLock(); !ok {
		t.Fatal(err)
	}
	defer busy.Close()
	process(t, folder)
	var left []string
	for _, name := range filesIn(t, folder) {
		if strings.Contains(name, "unfinished") {
			left = append(left, filepath.Base(filepath.Dir(name)))
		}
	}
	if len(left) != 1 || left[0] != "bench-2" {
		t.Errorf("left in %q", left)
	}
}
