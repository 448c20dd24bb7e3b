package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// blocks are the fenced blocks of the readme, in order.
func blocks(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for i, part := range strings.Split(string(text), "```") {
		if i%2 == 1 {
			_, body, _ := strings.Cut(part, "\n")
			list = append(list, body)
		}
	}
	return list
}

func call(args ...string) (out, errs string, code int) {
	var stdout, stderr bytes.Buffer
	code = run(context.Background(), args, streams{in: strings.NewReader(""), out: &stdout, err: &stderr})
	return stdout.String(), stderr.String(), code
}

// TestReadmeShowsWhatTheCommandPrints holds the readme to the program: its finding, its scheme and its mistake.
func TestReadmeShowsWhatTheCommandPrints(t *testing.T) {
	shown := blocks(t)
	if len(shown) != 3 {
		t.Fatalf("the readme has %d blocks, this test knows 3", len(shown))
	}
	out, _, code := call("check", "../../examples/footbridge-two-feeds.scheme.yaml")
	if !strings.Contains(shown[0], "[F] fails") || !strings.Contains(shown[0], "▲ where a cable lands") {
		t.Error("the readme shows no finding or no chart")
	}
	rest := out
	for _, part := range strings.Split(strings.TrimSpace(shown[0]), "\n\n") {
		_, after, printed := strings.Cut(rest, part+"\n")
		if !printed {
			t.Errorf("check does not print, or not in this order:\n%s", part)
			continue
		}
		rest = after
	}
	if code != exitFindings {
		t.Errorf("the two-feed footbridge exits with %d", code)
	}
	t.Chdir(t.TempDir())
	name := "shelf.scheme.yaml"
	save := func(text string) {
		if err := os.WriteFile(filepath.Join(".", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	save(shown[1])
	if _, errs, code := call("check", name); code != exitFine {
		t.Errorf("the readme's scheme exits with %d: %s", code, errs)
	}
	save(strings.Replace(shown[1], "length: 2 m", "length: 2", 1))
	if _, errs, code := call("check", name); errs != shown[2] || code != exitUsage {
		t.Errorf("the readme's mistake: exit %d, got\n%s", code, errs)
	}
}
