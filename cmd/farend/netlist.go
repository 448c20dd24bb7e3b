package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/circuit"
	"farend/network"
	"farend/unit"
)

type netlistCommand struct {
	Scheme string `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	Case   string `help:"The case, such as state/full, cap-failed or dark. The first state where none is given."`
	Slice  int    `help:"Of a peak case: which slice of the pulse-width cycle, from 0."`

	Corner string   `placeholder:"opens" help:"Of a fault, the side on which check judges it: opens, with the least that may flow, or let-through, with the most."`
	Ohms   string   `placeholder:"0.1Ω" help:"Of a fault that is not bolted, its resistance."`
	Open   []string `placeholder:"FUSE" help:"What has opened besides, such as A1.1.fuse or W3.plus. May be given again."`
}

func (c *netlistCommand) Help() string {
	return "Examples:\n  farend netlist footbridge.scheme.yaml > footbridge.cir\n  farend netlist --case cap-failed footbridge.scheme.yaml | ngspice -b\n" +
		"  farend netlist --case fault/poles/E1@end/dark --corner opens --open A1.1.fuse footbridge.scheme.yaml"
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
	n, cs, err := c.asked(n)
	if err != nil {
		return err
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

// asked is the case that is asked for, and the network it is a case of.
func (c *netlistCommand) asked(n *network.Network) (*network.Network, network.Case, error) {
	n, cs, err := c.named(n)
	if err != nil {
		return nil, cs, err
	}
	if side, known := map[string]network.Corner{"": "", "opens": network.Opens, "let-through": network.Through}[c.Corner]; known {
		cs = cs.Taken(side)
	} else {
		return nil, cs, usage(fmt.Sprintf("there is no corner %q", c.Corner), "opens, with the least that may flow, or let-through, with the most")
	}
	if c.Ohms != "" {
		ohms, err := unit.Parse[unit.Ohm](c.Ohms)
		if err != nil || !(ohms >= 0) || math.IsInf(float64(ohms), 0) {
			return nil, cs, usage(fmt.Sprintf("%q is no resistance of a fault", c.Ohms), "such as --ohms 0.1Ω")
		}
		if cs.Fault == (network.Fault{}) {
			return nil, cs, usage("--ohms is for faults", "farend netlist --case fault/poles/E1@end/dark --ohms 0.1Ω FILE")
		}
		cs.Fault.Ohms = ohms
	}
	for _, name := range c.Open {
		if !slices.Contains(n.Outages(), name) {
			return nil, cs, usage(fmt.Sprintf("there is nothing that opens called %q", name), "a fuse such as A1.1.fuse, a core such as W3.plus, or a supply, board or cable")
		}
	}
	return n, cs.Past(c.Open...), nil
}

// named is the case of a name, of the network or of one in which a cable lands the wrong way round.
func (c *netlistCommand) named(n *network.Network) (*network.Network, network.Case, error) {
	if c.Case == "" {
		return n, n.States()[0], nil
	}
	if cs, ok := n.CaseNamed(c.Case); ok {
		return n, cs, nil
	}
	if rest, is := strings.CutPrefix(c.Case, "fault/"+string(network.Reversed)+"/"); is {
		id, in, _ := strings.Cut(rest, "/")
		swapped, ok, err := n.Swapped(id)
		if err != nil {
			return nil, network.Case{}, err
		}
		if base, known := n.Within(in); ok && known {
			return swapped, base.Struck(network.Fault{Kind: network.Reversed, At: id}), nil
		}
	}
	return nil, network.Case{}, noCase(n, c.Case)
}
