package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

const oneLine = `package main

import "fmt"

func main() { fmt.Println("one line") }
`

// startUp compares a check of the footbridge with a program that prints one line, as whole processes.
func startUp(ctx context.Context) (row, error) {
	dir, err := os.MkdirTemp("", "farend-bench-*")
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(dir)
	source, trivial, farend := filepath.Join(dir, "main.go"), filepath.Join(dir, "trivial"), filepath.Join(dir, "farend")
	if err := os.WriteFile(source, []byte(oneLine), 0o644); err != nil {
		return row{}, err
	}
	for _, build := range [][]string{{"build", "-o", trivial, source}, {"build", "-o", farend, "farend/cmd/farend"}} {
		if out, err := exec.CommandContext(ctx, "go", build...).CombinedOutput(); err != nil {
			return row{}, fmt.Errorf("go build: %v: %s", err, out)
		}
	}
	ratio := median(func() float64 {
		var one, check time.Duration
		for range 10 {
			one += process(ctx, trivial)
			check += process(ctx, farend, "check", "examples/footbridge.scheme.yaml")
		}
		return float64(check) / float64(one)
	})
	return row{"check of the footbridge, start-up included, against a program that prints one line", "≤ 30×", fmt.Sprintf("%.1f×", ratio),
		fmt.Sprintf("wall time of whole processes in turn; median of %d", rounds), ratio <= 30}, ctx.Err()
}

func process(ctx context.Context, name string, args ...string) time.Duration {
	begin := time.Now()
	_ = exec.CommandContext(ctx, name, args...).Run() // the exit code says what was found
	return time.Since(begin)
}
