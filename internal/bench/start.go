package main

import (
	"bytes"
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
	source, trivial := filepath.Join(dir, "main.go"), filepath.Join(dir, "trivial")
	if err := os.WriteFile(source, []byte(oneLine), 0o644); err != nil {
		return row{}, err
	}
	if err := built(ctx, trivial, source); err != nil {
		return row{}, err
	}
	farend := filepath.Join(dir, "farend")
	if err := built(ctx, farend, "farend/cmd/farend"); err != nil {
		return row{}, err
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

// reporting measures the report of the atrium, start-up, check and faults included, as a whole process.
func reporting(ctx context.Context) (row, error) {
	dir, err := os.MkdirTemp("", "farend-bench-*")
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(dir)
	farend, file := filepath.Join(dir, "farend"), filepath.Join(dir, "atrium.pdf")
	if err := built(ctx, farend, "farend/cmd/farend"); err != nil {
		return row{}, err
	}
	var check float64
	seconds := median(func() float64 {
		check = process(ctx, farend, "check", "examples/library-atrium.scheme.yaml").Seconds()
		return process(ctx, farend, "report", "examples/library-atrium.scheme.yaml", "-o", file).Seconds()
	})
	text, err := os.ReadFile(file)
	if err != nil {
		return row{}, err
	}
	pages := bytes.Count(text, []byte("/Type/Page/"))
	return row{"report of the library atrium, start-up included", "≤ 2 s on two processors", fmt.Sprintf("%.2f s", seconds),
		fmt.Sprintf("wall time of a whole process; %d pages, %d kB; a check by itself takes %.2f s; median of %d", pages, len(text)/1000, check, rounds), seconds <= 2}, ctx.Err()
}

// built builds a program.
func built(ctx context.Context, program, source string) error {
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", program, source).CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %v: %s", err, out)
	}
	return nil
}

func process(ctx context.Context, name string, args ...string) time.Duration {
	begin := time.Now()
	_ = exec.CommandContext(ctx, name, args...).Run() // the exit code says what was found
	return time.Since(begin)
}
