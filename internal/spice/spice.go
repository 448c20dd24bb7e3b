// Package spice runs decks through ngspice for tests: an independent solver of the same circuits.
package spice

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

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
// The deck's last line must be .end. Where ngspice finds no operating point in patience
// the result is nil and why holds the end of what it said.
func Run(t testing.TB, deck string, patience time.Duration) (point map[string]float64, why string) {
	t.Helper()
	Need(t)
	dir := t.TempDir()
	body, ok := strings.CutSuffix(strings.TrimSpace(deck), ".end")
	if !ok {
		t.Fatal("the deck does not end with .end")
	}
	source, raw := filepath.Join(dir, "deck.cir"), filepath.Join(dir, "out.raw")
	text := body + ".control\nset filetype=ascii\nop\nwrite " + raw + "\nquit\n.endc\n.end\n"
	if err := os.WriteFile(source, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), patience)
	defer stop()
	out, err := exec.CommandContext(ctx, "ngspice", "-b", source).CombinedOutput()
	if point = read(t, raw); len(point) == 0 || err != nil {
		return nil, tail(string(out))
	}
	return point, ""
}

func tail(s string) string { return s[max(0, len(s)-600):] }

// read parses an ASCII raw file with one point.
func read(t testing.TB, path string) map[string]float64 {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer file.Close()
	var names []string
	result := map[string]float64{}
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<20)
	section := ""
	for lines.Scan() {
		line := lines.Text()
		switch fields := strings.Fields(line); {
		case strings.HasPrefix(line, "Variables:") || strings.HasPrefix(line, "Values:"):
			section, _, _ = strings.Cut(line, ":")
		case section == "Variables" && len(fields) >= 3:
			names = append(names, strings.ToLower(fields[1]))
		case section == "Values" && len(fields) > 0 && len(result) < len(names):
			v, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			if err != nil {
				t.Fatalf("ngspice wrote %q", line)
			}
			result[names[len(result)]] = v
		}
	}
	return result
}
