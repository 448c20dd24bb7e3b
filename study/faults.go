package study

import (
	"context"
	"runtime"

	"farend/circuit"
	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// A Faulted is a fault with all that it was struck in: dark and with the cap failed, each in both corners.
type Faulted struct {
	Fault   network.Fault
	Strikes []Strike
}

// Pinched is the resistance of a fault that is not bolted: about what a pinched strand or a wet joint has (common practice, no source).
const Pinched unit.Ohm = 0.1

// Faults lists every fault that may be in the scheme: between the poles of every place, from the plus of every place to bonded
// metalwork, at data-in of every run that a port drives; and all returns of every run that has a data lead. Those between poles are
// bolted, and over Pinched.
func (s *Study) Faults() []network.Fault {
	var list []network.Fault
	add := func(f network.Fault) {
		if s.Network.Lay(f) {
			list = append(list, f)
		}
	}
	bonded := s.Scheme.Site.Metalwork == "" || s.Scheme.Site.Metalwork == "bonded"
	for _, p := range s.Network.Places() {
		add(network.Fault{Kind: network.PolesMeet, At: p.Name})
		add(network.Fault{Kind: network.PolesMeet, At: p.Name, Ohms: Pinched})
		if bonded {
			add(network.Fault{Kind: network.ToMetal, At: p.Name})
		}
		add(network.Fault{Kind: network.ToData, At: p.Name})
	}
	led := map[string]bool{}
	for _, d := range s.Scheme.Data {
		led[d.To.Element] = true
	}
	for _, run := range scheme.IDs(s.Scheme.Runs) {
		if led[run] {
			add(network.Fault{Kind: network.PoleOpen, At: run})
		}
	}
	return list
}

// struckIn are the cases and corners in which a fault is struck.
var struckIn = []struct {
	in   network.Kind
	side network.Corner
}{{network.Dark, network.Opens}, {network.Dark, network.Through}, {network.CapFailed, network.Opens}, {network.CapFailed, network.Through}}

// Strike follows faults on as many workers as there are processors and hands each, in order, to read. Nothing else is kept. It ends
// with the first error of read, or with the context's.
func (s *Study) Strike(ctx context.Context, faults []network.Fault, read func(Faulted) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	sound := make([]*network.Solution, len(struckIn))
	parallel(len(struckIn), func(w *circuit.Worker, i int) {
		sound[i] = s.Network.Solve(ctx, w, s.base(i))
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	const batch = 64 // faults that stand in memory at a time, of each worker
	size := batch * runtime.GOMAXPROCS(0)
	k := s.striker()
	for from := 0; from < len(faults); from += size {
		some := faults[from:min(from+size, len(faults))]
		struck := make([]Faulted, len(some))
		for i, f := range some {
			struck[i] = Faulted{f, make([]Strike, len(struckIn))}
		}
		parallel(len(some)*len(struckIn), func(w *circuit.Worker, j int) {
			if ctx.Err() != nil {
				return
			}
			base, i := j/len(some), j%len(some) // all that start from one point in turn
			struck[i].Strikes[base] = k.strike(ctx, w, s.base(base).Struck(some[i]), sound[base])
		})
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, f := range struck {
			if err := read(f); err != nil {
				return err
			}
		}
	}
	return ctx.Err()
}

// base is the sound case of a strike.
func (s *Study) base(i int) network.Case {
	c, _ := s.Network.CaseNamed(string(struckIn[i].in))
	return c.Taken(struckIn[i].side)
}
