package network

import (
	"math"

	"farend/circuit"
)

// Rails is what flows in the rails of a run between two neighbouring stations, in each of the gaps before, between and after its
// pixels: in the positive away from data-in, in the return towards it, so that both are positive in a run that is fed at its
// beginning. Means over the cycle; peaks are the largest, with their sign.
type Rails struct {
	From, To             int // pixels, To exclusive
	Plus, Return         []float64
	PlusPeak, ReturnPeak []float64
}

// Rails lists them along a run; none where there is no such run.
func (n *Network) Rails(s *Solution, run string) []Rails {
	at, known := n.runAt[run]
	if !known {
		return nil
	}
	var list []Rails
	for _, piece := range n.runs[at].stretches {
		gaps := func() []float64 { return make([]float64, piece.count+1) }
		r := Rails{piece.first, piece.first + piece.count, gaps(), gaps(), gaps(), gaps()}
		for k, part := range s.cycle {
			r.take(s.points[k], piece, part.share)
		}
		list = append(list, r)
	}
	return list
}

// take adds a slice of the cycle: what enters at the end towards data-in, less what the pixels on the way draw.
func (r *Rails) take(p *circuit.Point, piece stretch, share float64) {
	amps := make([]float64, piece.count)
	p.LoadAmps(piece.chain, amps)
	ends := p.Ends(piece.chain)
	plus, back := ends.APlus, -ends.AReturn
	for k := range piece.count + 1 {
		if k > 0 {
			plus, back = plus-amps[k-1], back-amps[k-1]
		}
		r.Plus[k], r.PlusPeak[k] = r.Plus[k]+share*flowing(plus), larger(r.PlusPeak[k], flowing(plus))
		r.Return[k], r.ReturnPeak[k] = r.Return[k]+share*flowing(back), larger(r.ReturnPeak[k], flowing(back))
	}
}

// flowing is a current, none where it is no more than what the solver leaves.
func flowing(amps float64) float64 {
	if math.Abs(amps) < nothing {
		return 0
	}
	return amps
}

func larger(a, b float64) float64 {
	if math.Abs(b) > math.Abs(a) {
		return b
	}
	return a
}
