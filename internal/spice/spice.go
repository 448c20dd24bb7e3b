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

// patience is how long one deck may take. The largest take a second or two; one that takes longer has lost its way.
const patience = 20 * time.Second

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
	result, err := Solve(t.TempDir(), deck)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// Solve is Run with its files in dir, for decks that ngspice may fail to solve.
func Solve(dir, deck string) (map[string]float64, error) {
	body, ok := strings.CutSuffix(strings.TrimSpace(deck), ".end")
	if !ok {
		return nil, errors.New("spice: the deck does not end with .end")
	}
	source, raw := filepath.Join(dir, "deck.cir"), filepath.Join(dir, "out.raw")
	if err := os.Remove(raw); err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	text := body + ".control\nset filetype=ascii\nop\nwrite " + raw + "\nquit\n.endc\n.end\n"
	if err := os.WriteFile(source, []byte(text), 0o644); err != nil {
		return nil, err
	}
	ctx, stop := context.WithTimeout(context.Background(), patience)
	defer stop()
	out, err := exec.CommandContext(ctx, "ngspice", "-b", source).CombinedOutput()
	result, bad := read(raw)
	if bad != nil {
		return nil, fmt.Errorf("spice: ngspice gave no operating point (%v, %v):\n%s", bad, err, tail(string(out)))
	}
	return result, nil
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
	section, values := "", 0
	for lines.Scan() {
		line := lines.Text()
		switch fields := strings.Fields(line); {
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
	if values == 0 || values < len(names) {
		return nil, fmt.Errorf("%d of %d values", values, len(names))
	}
	return result, lines.Err()
}
