package save_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"farend/internal/save"
)

// TestMain lets a test run this program again as a process that saves and can be killed.
func TestMain(m *testing.M) {
	switch path := os.Getenv("SAVE_TEST_FILE"); os.Getenv("SAVE_TEST_ROLE") {
	case "full":
		os.Exit(saveOnFullDisk(path))
	case "reader":
		os.Exit(saveAsReader(path))
	case "endless":
		for {
			save.Over(path, longA, longB)
			save.Over(path, longB, longA)
		}
	default:
		os.Exit(m.Run())
	}
}

var (
	longA = []byte(strings.Repeat("a: the text before\n", 20_000))
	longB = []byte(strings.Repeat("b: the text after it\n", 20_000))
)

func process(t *testing.T, role, path string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), "SAVE_TEST_ROLE="+role, "SAVE_TEST_FILE="+path)
	return cmd
}

func file(t *testing.T, text []byte, mode fs.FileMode) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "x.scheme.yaml")
	if err := errors.Join(os.WriteFile(path, text, mode), os.Chmod(path, mode)); err != nil {
		t.Fatal(err)
	}
	return path
}

// holds checks what a file holds and that nothing else lies beside it.
func holds(t *testing.T, path string, want []byte) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%d bytes, want %d (%v)", len(got), len(want), err)
	}
	entries, _ := os.ReadDir(filepath.Dir(path))
	for _, e := range entries {
		if strings.Contains(e.Name(), "farend-") {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

func TestOverReplacesTextAndKeepsTheMode(t *testing.T) {
	for _, mode := range []fs.FileMode{0o600, 0o644, 0o664, 0o755} {
		path := file(t, longA, mode)
		if err := save.Over(path, longA, longB); err != nil {
			t.Fatal(err)
		}
		holds(t, path, longB)
		if info, _ := os.Stat(path); info.Mode().Perm() != mode {
			t.Errorf("mode %v became %v", mode, info.Mode().Perm())
		}
	}
}

func TestOverKeepsALink(t *testing.T) {
	path := file(t, longA, 0o644)
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := save.Over(link, longA, longB); err != nil {
		t.Fatal(err)
	}
	holds(t, path, longB)
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link became a file (%v)", err)
	}
}

func TestOverRefusesAFileThatChanged(t *testing.T) {
	path := file(t, longB, 0o644)
	if err := save.Over(path, longA, longA); !errors.Is(err, save.ErrChanged) {
		t.Errorf("err = %v", err)
	}
	holds(t, path, longB)
}

func TestOverRefusesWhatIsNoPlainFile(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "none"), os.DevNull} {
		if err := save.Over(path, nil, longA); err == nil {
			t.Errorf("%s was replaced", path)
		}
	}
}

// saveAsReader saves as somebody who may read the file and write beside it, but not write it.
func saveAsReader(path string) int {
	const nobody = 65534
	if os.Geteuid() == 0 && syscall.Setuid(nobody) != nil {
		return 3
	}
	if err := save.Over(path, longA, longB); !errors.Is(err, fs.ErrPermission) {
		return 4
	}
	return 0
}

func TestOverRefusesAFileThatMayNotBeWritten(t *testing.T) {
	path := file(t, longA, 0o444)
	if err := os.Chmod(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if out, err := process(t, "reader", path).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
	holds(t, path, longA)
}

func TestNewReplacesNothing(t *testing.T) {
	path := file(t, longA, 0o644)
	if err := save.New(path, longB); !errors.Is(err, fs.ErrExist) {
		t.Errorf("err = %v", err)
	}
	holds(t, path, longA)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := save.New(path, longB); err != nil {
		t.Fatal(err)
	}
	holds(t, path, longB)
}

// saveOnFullDisk saves where no file may grow beyond a few kilobytes, as on a disk that is full.
func saveOnFullDisk(path string) int {
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 4096, Max: 4096}); err != nil {
		return 3
	}
	if save.Over(path, longA, longB) == nil {
		return 4
	}
	if save.New(path+".new", longB) == nil {
		return 5
	}
	return 0
}

func TestAFullDiskLeavesTheOldText(t *testing.T) {
	path := file(t, longA, 0o644)
	if out, err := process(t, "full", path).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	holds(t, path, longA)
	if _, err := os.Stat(path + ".new"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("part of a new file is there (%v)", err)
	}
}

func TestAKilledSaveLeavesOneWholeText(t *testing.T) {
	path := file(t, longA, 0o644)
	olds, news := 0, 0
	for i := range 40 {
		cmd := process(t, "endless", path)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(20+i) * time.Millisecond)
		cmd.Process.Kill()
		cmd.Wait()
		got, err := os.ReadFile(path)
		switch {
		case err == nil && bytes.Equal(got, longA):
			olds++
		case err == nil && bytes.Equal(got, longB):
			news++
		default:
			t.Fatalf("kill %d left %d bytes (%v)", i, len(got), err)
		}
	}
	if news == 0 || olds == 0 {
		t.Errorf("%d old and %d new texts: the process was never killed between two saves", olds, news)
	}
}
