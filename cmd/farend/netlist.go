package main

import (
	"context"
	"fmt"
	"strings"

	"farend/circuit"
	"farend/network"
)

type netlistCommand struct {
	Scheme string `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	Case   string `help:"The case, such as state/full, cap-failed or dark. The first state where none is given."`
	Slice  int    `help:"Of a peak case: which slice of the pulse-width cycle, from 0."`
}

func (c *netlistCommand) Help() string {
	return "Examples:\n  farend netlist footbridge.scheme.yaml > footbridge.cir\n  farend netlist --case cap-failed footbridge.scheme.yaml | ngspice -b"
}

func (c *netlistCommand) Run(ctx context.Context, s streams) error {
	sch, err := s.load(ctx, c.Scheme)
	if err != nil {
		return err
	}
	n, err := network.New(sch)
	if err != nil {
		return err
	}
	cs := n.States()[0]
	if c.Case != "" {
		named, ok := n.CaseNamed(c.Case)
		if !ok {
			var names []string
			for _, known := range n.States() {
				names = append(names, known.Name)
			}
			return usage(fmt.Sprintf("there is no case %q", c.Case), "this scheme has "+strings.Join(names, ", "))
		}
		cs = named
	}
	solution := n.Solve(ctx, circuit.NewWorker(), cs)
	if err := ctx.Err(); err != nil {
		return err
	}
	if c.Slice < 0 || c.Slice >= solution.Slices() {
		return usage(fmt.Sprintf("%s has %d slices", cs.Name, solution.Slices()), fmt.Sprintf("count them from 0 to %d", solution.Slices()-1))
	}
	return n.Netlist(s.out, solution, c.Slice)
}
