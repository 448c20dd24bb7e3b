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
