package commission

import (
	"math"
	"slices"

	"farend/network"
	"farend/study"
)

// A probe is what is measured of a solved case.
type probe func(n *network.Network, s *network.Solution, r *network.Result) float64

func voltsAt(place string) probe {
	return func(n *network.Network, s *network.Solution, _ *network.Result) float64 {
		return float64(n.VoltsAt(s, place))
	}
}

func supplyVolts(id string) probe {
	return func(_ *network.Network, _ *network.Solution, r *network.Result) float64 {
		return float64(r.Supplies[id].Volts)
	}
}

func supplyAmps(id string) probe {
	return func(_ *network.Network, _ *network.Solution, r *network.Result) float64 {
		return float64(r.Supplies[id].Amps.Mean)
	}
}

// gapAmps is what goes through a gap, from the supply on.
func gapAmps(b gap) probe {
	return func(_ *network.Network, _ *network.Solution, r *network.Result) float64 {
		return float64(b.amps(r).Mean)
	}
}

// expectedIn is the volts of places in a solved case, of the scheme itself.
func (m *maker) expectedIn(c string) func(place string) float64 {
	solved := m.st.Solution(c)
	return func(place string) float64 { return float64(m.n.VoltsAt(solved, place)) }
}

// A bound is a solved value, and its lowest and highest in the corners; not ok where a case has no operating point, or a supply is at its limit in
// any of them: what it does then may jump, and no corner says how far.
type bound struct {
	band
	ok bool
}

// nowhere is the bound of no value yet.
func nowhere() bound { return bound{band{math.NaN(), math.Inf(1), math.Inf(-1)}, true} }

// with is a bound that holds one more value; the first is that of the scheme itself.
func (b bound) with(v float64, first bool) bound {
	if first {
		b.is = v
	}
	b.low, b.high = min(b.low, v), max(b.high, v)
	b.ok = b.ok && !math.IsNaN(v) && !math.IsInf(v, 0)
	return b
}

// bounded is a probe of a case of the first tier in all corners.
func (m *maker) bounded(c string, p probe) bound {
	b := nowhere()
	for i, at := range slices.Concat([]*study.Study{m.st}, m.corners) {
		r := at.Result(c)
		if r == nil || !r.Found() || len(r.Limited) > 0 {
			return bound{}
		}
		b = b.with(p(at.Network, at.Solution(c), r), i == 0)
	}
	return b
}

// read is the reading of a bound by a meter; nil where nobody can say.
func (b bound) read(kind Kind, a accuracy) *Reading {
	if !b.ok {
		return nil
	}
	return a.shown(kind, b.band)
}

// unsolved is said where there is no bound.
const unsolved = "not known: a supply may be at its limit, or no operating point was found"
