package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// soon is how long an interrupted command may take to end.
const soon = time.Second

// interrupted starts the command as a process of its own, interrupts it after a while if it has not ended, and returns how it ended.
func interrupted(t *testing.T, in io.Reader, after time.Duration, args ...string) (out, errs string, code int, took time.Duration) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot send an interrupt there")
	}
	command := exec.Command("farend", args...)
	var stdout, stderr bytes.Buffer
	command.Stdin, command.Stdout, command.Stderr = in, &stdout, &stderr
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- command.Wait() }()
	start := time.Now()
	var err error
	select {
	case err = <-ended:
	case <-time.After(after):
		start = time.Now()
		if err := command.Process.Signal(os.Interrupt); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		err = <-ended
	}
	var status *exec.ExitError
	if err != nil && !errors.As(err, &status) {
		t.Fatal(err)
	}
	return stdout.String(), stderr.String(), command.ProcessState.ExitCode(), time.Since(start)
}

func TestInterruptEndsALongCheckSoon(t *testing.T) {
	path := file(t, installation(2000, 500, func(int) string { return "rail" })) // 1,000,000 pixels: many seconds of work
	for _, after := range []time.Duration{300 * time.Millisecond, 1500 * time.Millisecond, 4 * time.Second} {
		out, errs, code, took := interrupted(t, nil, after, "check", "--json", path)
		if code != exitInterrupted || out != "" || errs != "farend: interrupted\n" || took > soon {
			t.Errorf("interrupted after %v it ends after %v with exit code %d, %d bytes of output, and %q", after, took, code, len(out), errs)
		}
	}
}

func TestInterruptEndsTheWaitForInput(t *testing.T) {
	in, feed, err := os.Pipe() // somebody holds the pipe and writes nothing
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	defer feed.Close()
	out, errs, code, took := interrupted(t, in, 300*time.Millisecond, "check", "-")
	if code != exitInterrupted || out != "" || errs != "farend: interrupted\n" || took > soon {
		t.Errorf("it ends after %v with exit code %d, %q and %q", took, code, out, errs)
	}
}

// A report that is interrupted, at any time, is whole or not there, and nothing else is left.
func TestInterruptLeavesNoHalfWrittenFile(t *testing.T) {
	path, err := filepath.Abs("../../examples/footbridge.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	whole := filepath.Join(t.TempDir(), "whole.pdf")
	begin := time.Now()
	if _, _, code, _ := interrupted(t, nil, time.Minute, "report", path, "-o", whole); code != exitFine {
		t.Fatalf("exit code %d", code)
	}
	long := time.Since(begin)
	want, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	const times = 8
	for k := range times {
		dir := t.TempDir()
		after := long * time.Duration(k+1) / times
		_, _, code, _ := interrupted(t, nil, after, "report", path, "-o", filepath.Join(dir, "report.pdf"))
		if code != exitInterrupted && code != exitFine && code != -1 { // −1: interrupted before the program could listen
			t.Errorf("interrupted after %v, report ends with exit code %d", after, code)
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) > 1 || code == exitInterrupted && len(entries) > 0 {
			t.Errorf("interrupted after %v with exit code %d, report leaves %v (%v)", after, code, entries, err)
		}
		for _, e := range entries {
			if got, err := os.ReadFile(filepath.Join(dir, e.Name())); err != nil || !bytes.Equal(got, want) {
				t.Errorf("interrupted after %v, report leaves %s half written (%v)", after, e.Name(), err)
			}
		}
	}
}

func TestProgressIsToldAfterASecondAndTakenAway(t *testing.T) {
	var long, short, silent bytes.Buffer
	told, quick, none := streams{err: &long, progress: true}.bar("solving"), streams{err: &short, progress: true}.bar("solving"), streams{err: &silent}.bar("solving")
	quick.clear()
	told.show(2, 6)
	time.Sleep(patience + pause/2)
	told.clear()
	none.clear()
	if got := long.String(); got != "\rsolving: 2 of 6 cases, 1 s\x1b[K\r\x1b[K" {
		t.Errorf("long work says %q", got)
	}
	if short.Len() > 0 || silent.Len() > 0 {
		t.Errorf("quick work says %q, and work without a terminal %q", short.String(), silent.String())
	}
}

// faulty stands for whatever of ours may be broken.
type faulty struct{}

func (faulty) Read([]byte) (int, error) { panic("nothing works") }

// A fault of ours is told as one, wherever it happens.
func TestAFaultOfOursHasItsOwnExitCode(t *testing.T) {
	var out, errs strings.Builder
	code := run(t.Context(), []string{"check", "-"}, streams{in: faulty{}, out: &out, err: &errs})
	if code != exitFault || !strings.HasPrefix(errs.String(), "farend: a fault of ours: nothing works") || out.Len() > 0 {
		t.Errorf("exit code %d, %q, %q", code, out.String(), errs.String())
	}
}
