package study

import (
	"math"

	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A pulse is what supplies do that switch themselves off and on: the shortest time for which any is on, and the largest share of time.
type pulse struct {
	ids   []string
	on    unit.Second // Never where none pulses; 0 where it is not known
	share float64     // NaN where it is not known
}

// pulsing is what supplies at their limit do, where least is to flow; where most is, they go on. Several that pulse do so in step or not: a
// fuse is credited with no pulse of them, and their share of time counts as not known.
func (k *striker) pulsing(held []network.Held, side network.Corner) pulse {
	p := pulse{on: fuse.Never}
	if side != network.Opens {
		return p
	}
	for _, t := range held {
		part, _ := parts.Get[parts.Supply](k.s.Scheme.Library, k.s.Scheme.Supplies[t.ID].Part)
		if part.Steady() != parts.Hiccup || part.PulseBelow.Given && t.Volts >= part.PulseBelow.Is {
			continue
		}
		p.ids, p.on = append(p.ids, t.ID), min(p.on, part.PulseOn.Is)
		share := math.NaN()
		if whole := part.PulseOn.Is + part.PulseOff.Is; part.PulseOn.Given && part.PulseOff.Given && whole > 0 {
			share = float64(part.PulseOn.Is / whole)
		}
		p.share = share
	}
	if len(p.ids) > 1 {
		p.on, p.share = 0, math.NaN()
	}
	return p
}

// share is the rms of pulses over what flows while they last. Where the share of time is not known, it is the largest from which no fuse
// surely opens: fuses go by the heat of many pulses, and one that carries the rms from which it opens, opens.
func (k *striker) share(currents []unit.Ampere, of []int, p pulse) float64 {
	if !math.IsNaN(p.share) {
		return math.Sqrt(p.share)
	}
	const under = 1 - 1e-9
	rms := 1.0
	for _, i := range of {
		if amps, least := currents[k.wire[i]], k.cold[i].Threshold(); amps >= least {
			rms = min(rms, under*float64(least/amps))
		}
	}
	return rms
}
