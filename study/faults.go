package study

import (
	"context"
	"errors"
	"runtime"
	"slices"

	"farend/circuit"
	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// A Faulted is a fault with all that it was struck in, see struckIn.
type Faulted struct {
	Fault   network.Fault
	Strikes []Strike
}

// Pinched is the resistance of a fault that is not bolted: about what a pinched strand or a wet joint has (common practice, no source).
const Pinched unit.Ohm = 0.1

// Faults lists every fault that may be in the scheme: between the poles of every place, from the plus of every place to bonded
// metalwork (which leads to the minus of each supply on that plus in turn), at data-in of every run that a port drives, each bolted and over Pinched; between runs of unequal voltage within reach of each
// other; every feed the wrong way round; and the return of every run that has one alone, and a data lead.
func (s *Study) Faults() []network.Fault {
	var list []network.Fault
	add := func(f network.Fault) {
		if s.Network.Lay(f) {
			list = append(list, f)
		}
	}
	over := func(f network.Fault) {
		add(f)
		f.Ohms = Pinched
		add(f)
	}
	for _, p := range s.Network.Places() {
		over(network.Fault{Kind: network.PolesMeet, At: p.Name})
		for _, f := range s.toMetal(p.Name) {
			over(f)
		}
		over(network.Fault{Kind: network.ToData, At: p.Name})
	}
	for _, f := range s.bridges() {
		add(f)
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		if s.Network.Swaps(id) {
			list = append(list, network.Fault{Kind: network.Reversed, At: id})
		}
	}
	led := map[string]bool{}
	for _, d := range s.Scheme.Data {
		led[d.To.Element] = true
	}
	for _, run := range scheme.IDs(s.Scheme.Runs) {
		if led[run] && s.Network.Returns(run) == 1 {
			add(network.Fault{Kind: network.PoleOpen, At: run})
		}
	}
	return list
}

// toMetal are the faults from the plus of a place to metalwork, which leads to each supply in turn; none where it is not bonded.
func (s *Study) toMetal(place string) (list []network.Fault) {
	if s.Scheme.Site.Metalwork != "" && s.Scheme.Site.Metalwork != "bonded" {
		return nil
	}
	for _, home := range s.homes(place) {
		list = append(list, network.Fault{Kind: network.ToMetal, At: place, Home: home})
	}
	return list
}

// homes are the supplies to whose minus metalwork may lead from a place, each in turn; none is named where there is but one.
func (s *Study) homes(place string) []string {
	if all := s.Network.Homes(place); len(all) > 1 {
		return all
	}
	return []string{""}
}

// struckIn are the cases and corners in which a fault is struck; a feed that lands the wrong way round in the first, unlit, alone: that is
// found before anything is lit.
var struckIn = []struct {
	in   network.Kind
	side network.Corner
}{{network.Dark, network.Opens}, {network.Dark, network.Through}, {network.CapFailed, network.Opens}, {network.CapFailed, network.Through}}

const unlit = 2

// base is the sound case of a strike.
func (s *Study) base(i int) network.Case {
	c, _ := s.Network.CaseNamed(string(struckIn[i].in))
	return c.Taken(struckIn[i].side)
}

// Strike follows faults on as many workers as there are processors and hands each, in order, to read. Nothing else is kept. It ends
// with the first error of read, or with the context's.
func (s *Study) Strike(ctx context.Context, faults []network.Fault, read func(Faulted) error) error {
	k := s.striker()
	if err := k.settle(ctx); err != nil {
		return err
	}
	return k.each(ctx, faults, read)
}

// bolted is a fault without a resistance.
func bolted(f network.Fault) network.Fault {
	f.Ohms = 0
	return f
}

// each follows faults in batches, so that few stand in memory at a time.
func (k *striker) each(ctx context.Context, faults []network.Fault, read func(Faulted) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	const batch = 64 // of each worker
	for some := range slices.Chunk(faults, batch*runtime.GOMAXPROCS(0)) {
		struck, aims, errs := make([]Faulted, len(some)), make([]*aim, len(some)), make([]error, len(some))
		parallel(len(some), func(_ *circuit.Worker, i int) {
			many := len(struckIn)
			if some[i].Kind == network.Reversed {
				many = unlit
			}
			struck[i] = Faulted{some[i], make([]Strike, many)}
			if some[i].Ohms > 0 && i > 0 && some[i-1] == bolted(some[i]) {
				return // it stands where the one before it does
			}
			aims[i], errs[i] = k.aim(some[i])
		})
		if err := errors.Join(errs...); err != nil {
			return err
		}
		for i, a := range aims {
			if a == nil {
				same := *aims[i-1]
				same.fault = some[i]
				aims[i] = &same
			}
		}
		parallel(len(some)*len(struckIn), func(w *circuit.Worker, j int) {
			base, i := j/len(some), j%len(some) // all that start from one point in turn
			if ctx.Err() == nil && base < len(struck[i].Strikes) {
				struck[i].Strikes[base] = k.strike(ctx, w, aims[i], base)
			}
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
