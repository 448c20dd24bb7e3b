// Command bench measures the budgets of the design, side by side in one run, and prints them as ratios with their bounds:
//
//	go run ./internal/bench
//
// Ratios hold on a noisy machine where times do not. A row that cannot be measured says why.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"time"
)

// A row is one line of the table.
type row struct {
	what   string
	bound  string
	got    string
	detail string
	within bool
}

// A measure is one budget: it measures and says what it found.
type measure struct {
	name string
	run  func(ctx context.Context) (row, error)
}

func measures() []measure {
	return []measure{
		{"spice", againstSpice},
		{"million", perPixel},
		{"linear", linearCost},
		{"memory", memoryPerPixel},
		{"outages", outageCost},
		{"atrium faults", atriumFaults},
		{"many faults", manyFaults},
		{"atrium outages and silence", atriumSlow},
		{"many outages", manyOutages},
		{"many silences", manySilences},
		{"start", startUp},
		{"report", reporting},
	}
}

func main() {
	only := flag.String("only", "", "measure only the rows whose names hold this")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	fmt.Printf("%s, %d processors in use, %s\n\n", time.Now().Format("2006-01-02"), runtime.GOMAXPROCS(0), runtime.Version())
	fmt.Println("| what | bound | measured | how |")
	fmt.Println("|---|---|---|---|")
	missed := 0
	for _, m := range measures() {
		if !strings.Contains(m.name, *only) {
			continue
		}
		r, err := m.run(ctx)
		if err != nil {
			r = row{what: m.name, got: "not measured", detail: err.Error()}
		}
		mark := ""
		if !r.within {
			mark = " (missed)"
			missed++
		}
		fmt.Printf("| %s | %s | %s%s | %s |\n", r.what, r.bound, r.got, mark, r.detail)
	}
	if missed > 0 {
		fmt.Printf("\n%d bounds missed\n", missed)
		os.Exit(1)
	}
}
