package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"farend/circuit"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// longRun is one run of 3,000 pixels, fed at both ends and ten times between, white.
func longRun() (*network.Network, error) {
	text := `farend: 1
title: one run of 3,000 pixels
site: {conductors: 20 °C}
supplies: {T1: {part: supply/bench}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 3000}}
parts:
  supply/bench: {title: bench, volts: 5 V, amps: 400 A, watts: 2 kW, source_resistance: 0.1 mΩ, limit: constant-current, limit_at: {low: 500 A, high: 600 A}}
states: {full: {colour: white}}
cables:
`
	for k := range 13 {
		at := fmt.Sprintf("px%d", 250*k)
		if k == 12 {
			at = "end"
		}
		text += fmt.Sprintf("  W%d: {part: cable/flex-2x2.5, length: 2 m, from: T1, to: E1@%s}\n", k, at)
	}
	s, mistakes := scheme.Read("bench", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, mistakes
	}
	return network.New(s)
}

// againstSpice compares one operating point of 3,000 pixels with ngspice on the same deck. ngspice gets its fastest options that
// still answer to 1 µV: its default tolerances tightened no further than that, and every node started at its solution.
func againstSpice(ctx context.Context) (row, error) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		return row{}, errors.New("ngspice is not installed")
	}
	n, err := longRun()
	if err != nil {
		return row{}, err
	}
	c, _ := n.CaseNamed("state/full")
	w := circuit.NewWorker()
	dir, err := os.MkdirTemp("", "farend-bench-*")
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(dir)
	deck := filepath.Join(dir, "deck.cir")
	file, err := os.Create(deck)
	if err != nil {
		return row{}, err
	}
	if err := errors.Join(n.Netlist(file, n.Solve(ctx, w, c), 0), file.Close()); err != nil {
		return row{}, err
	}
	const each = 200
	ratio := median(func() float64 {
		begin := time.Now()
		for range each {
			n.Solve(ctx, w, c)
		}
		ours := time.Since(begin) / each
		begin = time.Now()
		if out, err := exec.CommandContext(ctx, "ngspice", "-b", deck).CombinedOutput(); err != nil && ctx.Err() == nil {
			panic(fmt.Sprintf("bench: ngspice: %v\n%s", err, out))
		}
		return float64(time.Since(begin)) / float64(ours)
	})
	return row{"one operating point, 3,000-pixel run, against ngspice on the same deck", "≥ 2,000×", fmt.Sprintf("%.0f×", ratio),
		fmt.Sprintf("wall time; ngspice as a whole process, every node started at its solution; median of %d", rounds), ratio >= 2000}, ctx.Err()
}
