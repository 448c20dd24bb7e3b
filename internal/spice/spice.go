// Package spice runs decks through ngspice for tests: an independent solver of the same circuits.
package spice

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// patience is how long a process may take, and how much longer for each of its decks and for each byte in them. Most decks take
// 20 ms; one of a megabyte takes four seconds, and ten times as long where others use the machine. One that takes longer has lost
// its way, and what comes after it is solved by itself.
func patience(decks []string) time.Duration {
	bytes := 0
	for _, deck := range decks {
		bytes += len(deck)
	}
	return 10*time.Second + time.Duration(len(decks))*time.Second + time.Duration(bytes)*50*time.Microsecond
}

// Need skips the test where ngspice is not installed; where FAREND_REQUIRE_TOOLS is set that is a failure.
func Need(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("ngspice"); err == nil {
		return
	}
	if os.Getenv("FAREND_REQUIRE_TOOLS") != "" {
		t.Fatal("ngspice is not installed, so operating points are not checked against it")
	}
	t.Skip("ngspice is not installed, so operating points are not checked against it")
}

// Run gives the operating point of a deck: node voltages as v(name), branch currents as i(name), names in lower case.
// The deck's last line must be .end.
func Run(t testing.TB, deck string) map[string]float64 {
	t.Helper()
	Need(t)
	answer := Solve(t.TempDir(), []string{deck})[0]
	if answer.Err != nil {
		t.Fatal(answer.Err)
	}
	return answer.Values
}

// An Answer is the operating point of a deck, or why there is none.
type Answer struct {
	Values map[string]float64
	Err    error
}

// Solve is Run for many decks, some of which ngspice may fail to solve, with its files in dir. They share one process, because
// starting ngspice takes longer than most decks; one that has no answer there is tried again by itself.
func Solve(dir string, decks []string) []Answer {
	answers := make([]Answer, len(decks))
	out, err := process(dir, decks, answers)
	for i, a := range answers {
		if a.Err != nil && len(decks) > 1 {
			answers[i] = Solve(dir, decks[i:i+1])[0]
		} else if a.Err != nil {
			answers[i].Err = fmt.Errorf("spice: ngspice gave no operating point (%v, %v):\n%s", a.Err, err, tail(out))
		}
	}
	return answers
}

// process solves decks one after the other in one process.
func process(dir string, decks []string, answers []Answer) (out string, err error) {
	var script strings.Builder
	// without optran a deck that it cannot solve is also tried as a transient, for a minute and in vain
	script.WriteString("* all\n.control\nset filetype=ascii\noptran 1 0 0 0 0 0\n")
	raw := make([]string, len(decks))
	for i, deck := range decks {
		source := filepath.Join(dir, fmt.Sprintf("deck%d.cir", i))
		raw[i] = filepath.Join(dir, fmt.Sprintf("out%d.raw", i))
		if err := errors.Join(discard(raw[i]), os.WriteFile(source, []byte(deck), 0o644)); err != nil {
			return "", refuse(answers, err)
		}
		fmt.Fprintf(&script, "source %s\nop\nwrite %s\ndestroy all\nremcirc\n", source, raw[i])
	}
	script.WriteString("quit\n.endc\n.end\n")
	all := filepath.Join(dir, "all.cir")
	if err := os.WriteFile(all, []byte(script.String()), 0o644); err != nil {
		return "", refuse(answers, err)
	}
	ctx, stop := context.WithTimeout(context.Background(), patience(decks))
	defer stop()
	bytes, err := exec.CommandContext(ctx, "ngspice", "-b", all).CombinedOutput()
	for i := range answers {
		answers[i].Values, answers[i].Err = read(raw[i])
	}
	return string(bytes), err
}

// discard takes away what an earlier run has written.
func discard(path string) error {
	if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
		return err
	}
	return nil
}

func refuse(answers []Answer, err error) error {
	for i := range answers {
		answers[i].Err = err
	}
	return err
}

func tail(s string) string { return s[max(0, len(s)-1000):] }

// read parses an ASCII raw file with one point.
func read(path string) (map[string]float64, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var names []string
	result := map[string]float64{}
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<20)
	section, values, point := "", 0, false
	for lines.Scan() {
		line := lines.Text()
		switch fields := strings.Fields(line); {
		case line == "Plotname: Operating Point": // without one ngspice writes its constants
			point = true
		case strings.HasPrefix(line, "Variables:") || strings.HasPrefix(line, "Values:"):
			section, _, _ = strings.Cut(line, ":")
		case section == "Variables" && len(fields) >= 3:
			names = append(names, strings.ToLower(fields[1]))
		case section == "Values" && len(fields) > 0 && values < len(names):
			v, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			if err != nil {
				return nil, err
			}
			result[names[values]] = v
			values++
		}
	}
	if !point || values == 0 || values < len(names) {
		return nil, fmt.Errorf("%d of %d values", values, len(names))
	}
	return result, lines.Err()
}

// A Sweep is a deck to be followed over time: in steps, until when, and the node whose voltage is asked for.
type Sweep struct {
	Deck        string
	Step, Until float64
	Node        string
}

// A Trace is a voltage over time.
type Trace struct{ Seconds, Volts []float64 }

// Transient follows decks over time, all in one process, with its files in dir; no step of ngspice is longer than asked. It fails the test where one has
// no answer.
func Transient(t testing.TB, dir string, sweeps []Sweep) []Trace {
	t.Helper()
	Need(t)
	var script strings.Builder
	script.WriteString("* all\n.control\n")
	decks, data := make([]string, len(sweeps)), make([]string, len(sweeps))
	for i, s := range sweeps {
		source := filepath.Join(dir, fmt.Sprintf("deck%d.cir", i))
		decks[i], data[i] = s.Deck, filepath.Join(dir, fmt.Sprintf("out%d.txt", i))
		if err := os.WriteFile(source, []byte(s.Deck), 0o644); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&script, "source %s\ntran %g %g 0 %g\nwrdata %s v(%s)\ndestroy all\nremcirc\n", source, s.Step, s.Until, s.Step, data[i], s.Node)
	}
	script.WriteString("quit\n.endc\n.end\n")
	all := filepath.Join(dir, "all.cir")
	if err := os.WriteFile(all, []byte(script.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(t.Context(), 10*patience(decks))
	defer stop()
	out, err := exec.CommandContext(ctx, "ngspice", "-b", all).CombinedOutput()
	traces := make([]Trace, len(sweeps))
	for i, path := range data {
		text, missing := os.ReadFile(path)
		if missing != nil {
			t.Fatalf("spice: ngspice gave no transient of deck %d (%v):\n%s", i, err, tail(string(out)))
		}
		for line := range strings.Lines(string(text)) {
			fields := strings.Fields(line)
			if len(fields) < 2 {
				continue
			}
			at, wrong := strconv.ParseFloat(fields[0], 64)
			volts, bad := strconv.ParseFloat(fields[1], 64)
			if wrong != nil || bad != nil {
				t.Fatalf("spice: %q is no point", line)
			}
			traces[i].Seconds, traces[i].Volts = append(traces[i].Seconds, at), append(traces[i].Volts, volts)
		}
	}
	return traces
}
