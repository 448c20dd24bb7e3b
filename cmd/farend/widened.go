package main

import (
	"context"
	"fmt"
	"iter"
	"slices"

	"farend/network"
	"farend/study"
)

// widened is what check does beyond what it does unasked.
type widened struct {
	Protection bool     `help:"Follow all faults, however long that takes. Unasked they are followed where it takes about a second."`
	Cases      string   `placeholder:"all" help:"With --json: all bolted faults as cases too, in the dark and with the cap failed, as the parts state their numbers."`
	Case       []string `placeholder:"NAME" help:"With --json: another case, such as fault/poles/E1@end/dark or outage/W2.return/full. May be given again."`
}

// wrong says what is wrong with the call; nil where nothing is.
func (c *widened) wrong(json bool) error {
	switch {
	case c.Cases != "" && c.Cases != "all":
		return usage(fmt.Sprintf("--cases takes all, not %q", c.Cases), "farend check --json --cases all FILE, or --case NAME for one")
	case (c.Cases != "" || len(c.Case) > 0) && !json:
		return usage("--cases and --case need --json", "farend check --json --cases all FILE")
	}
	return nil
}

// striking says whether faults are followed.
func (c *widened) striking() study.Striking { return following(c.Protection) }

// following is whether faults are followed: always where that is asked for, else where it is quick.
func following(always bool) study.Striking {
	if always {
		return study.Always
	}
	return study.WhereQuick
}

// more solves the cases that were asked for besides those of every check.
func (s streams) more(ctx context.Context, c *checked, asked *widened) ([]solvedCase, error) {
	cases, err := c.named(asked.Case)
	if err != nil {
		return nil, err
	}
	if asked.Cases != "" {
		cases = slices.Concat(cases, c.faulted())
	}
	shown := s.bar("solving")
	defer shown.clear()
	var solved []solvedCase
	err = c.Each(ctx, slices.Values(cases), func(solution *network.Solution) error {
		solved = append(solved, solvedCase{solution.Case, c.Network.Read(solution), solution})
		shown.show(len(solved), len(cases))
		return nil
	})
	return solved, err
}

// named are the cases of some names, besides those that are there anyway.
func (c *checked) named(names []string) ([]network.Case, error) {
	var cases []network.Case
	for _, name := range names {
		cs, ok := c.Network.CaseNamed(name)
		if !ok {
			return nil, noCase(c.Network, name)
		}
		if c.Result(cs.Name) == nil {
			cases = append(cases, cs)
		}
	}
	return cases, nil
}

// faulted are all bolted faults as cases, in the dark and with the cap failed; not feeds the wrong way round, which are laid out anew.
func (c *checked) faulted() []network.Case { return slices.Collect(c.bolted()) }

func (c *checked) bolted() iter.Seq[network.Case] {
	return func(yield func(network.Case) bool) {
		for _, in := range []network.Kind{network.Dark, network.CapFailed} {
			sound, _ := c.Network.CaseNamed(string(in))
			for _, f := range c.Faults() {
				if f.Ohms == 0 && f.Kind != network.Reversed && !yield(sound.Struck(f)) {
					return
				}
			}
		}
	}
}
