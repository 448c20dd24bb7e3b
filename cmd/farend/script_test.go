package main

import (
	"errors"
	"flag"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite what the scripts expect; read the difference before believing it")

// TestMain lets scripts call the command under its own name, as a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"farend": main})
}

// TestScripts runs the command as people do. Each file in testdata/script is one story with the files it needs. "exits N
// COMMAND…" is what the scripts have beside the commands of testscript: it wants that exit code exactly.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

func exits(ts *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) < 2 {
		ts.Fatalf("usage: exits N command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var status *exec.ExitError
		if !errors.As(err, &status) {
			ts.Fatalf("%s: %v", args[1], err)
		}
		code = status.ExitCode()
	}
	if code != want {
		ts.Fatalf("exit code %d, want %d\nstdout:\n%s\nstderr:\n%s", code, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}
