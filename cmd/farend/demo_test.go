package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
)

// A demonstration is what demo writes and says, with --json.
type demonstration struct {
	said  string
	files map[string][]byte
}

// demoed makes it once for all tests, for it solves every example.
var demoed = sync.OnceValues(func() (demonstration, error) {
	d := demonstration{files: map[string][]byte{}}
	dir, err := os.MkdirTemp("", "demo")
	if err != nil {
		return d, err
	}
	defer os.RemoveAll(dir)
	out, errs, code := call("demo", "--json", dir)
	if d.said = out; code != exitFine || errs != "" {
		return d, fmt.Errorf("exit code %d: %s", code, errs)
	}
	names, err := os.ReadDir(dir)
	for _, name := range names {
		text, wrong := os.ReadFile(filepath.Join(dir, name.Name()))
		d.files[name.Name()], err = text, errors.Join(err, wrong)
	}
	return d, err
})

func demonstrated(t *testing.T) demonstration {
	t.Helper()
	d, err := demoed()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A result that somebody changed is left alone as an example is, and nothing else is written; a folder that cannot be written says so, root included.
func TestDemoWritesOverNothing(t *testing.T) {
	documents := []document{{"a.scheme.yaml", []byte("a")}, {"a.check.txt", []byte("result")}}
	dir := t.TempDir()
	changed := filepath.Join(dir, "a.check.txt")
	if err := os.WriteFile(changed, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := write(dir, documents); err == nil || !strings.Contains(err.Error(), "a.check.txt is there already and differs; nothing was written") {
		t.Errorf("over a changed result: %v", err)
	}
	if kept, err := os.ReadFile(changed); err != nil || string(kept) != "mine" {
		t.Errorf("the changed result is %q, %v", kept, err)
	}
	if _, err := os.Stat(filepath.Join(dir, "a.scheme.yaml")); err == nil {
		t.Error("something else was written")
	}
	if runtime.GOOS != "linux" {
		return
	}
	if err := write("/proc/self/fdinfo", documents); err == nil || !strings.Contains(err.Error(), "cannot be written") {
		t.Errorf("in a folder that cannot be written: %v", err)
	}
}
