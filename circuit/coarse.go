package circuit

import "context"

// A cold start of a large network is solved twice: first with every chain as a few lumps, each worth many loads, then in
// full from there. The lumps sit where their loads do on average, so the first answer is off by the square of a lump's
// length, and the second takes two or three steps instead of six.

const (
	coarseFrom  = 1000 // loads in all from which a coarse start pays
	perLump     = 16   // loads a lump
	fewestLumps = 6
)

// lumpsOf is how many lumps stand for so many loads.
func lumpsOf(loads int) int {
	if loads < 2*fewestLumps {
		return loads
	}
	return max(fewestLumps, loads/perLump)
}

// coarsen is the plan with every chain in lumps, or nil where that does not pay. Nodes and their elimination are shared.
func (p *Plan) coarsen() *Plan {
	if p.Loads() < coarseFrom {
		return nil
	}
	q := *p
	q.shape.Chains = make([]Chain, len(p.shape.Chains))
	q.offset = make([]int, len(p.offset))
	for i, c := range p.shape.Chains {
		c.Loads = lumpsOf(c.Loads)
		q.shape.Chains[i] = c
		q.offset[i+1] = q.offset[i] + c.Loads
	}
	return &q
}

// lumped is the law of so many loads in one place.
type lumped struct {
	law   Law
	times float64
}

func (l lumped) Eval(v, amps, slope []float64) {
	l.law.Eval(v, amps, slope)
	for i := range v {
		amps[i] *= l.times
		slope[i] *= l.times
	}
}

// lump gives the values of the coarse plan: rails as long as before, joints spread over them, loads in lumps.
func (v *Values) lump(fine, coarse *Plan) *Values {
	w := v.Fork()
	w.chains = make([]Rails, len(v.chains))
	w.owned[2] = true
	w.bridge = Bridge{} // its places are numbered for the full plan; the full solve adds it
	var law, lumps Law  // of the chain before: most chains share theirs
	times := 0.0
	for i, r := range v.chains {
		l := newLadder(fine.shape.Chains[i], r)
		n := float64(coarse.shape.Chains[i].Loads)
		w.chains[i] = Rails{Plus: l.loop / n * (1 - l.rho), Return: l.loop / n * l.rho}
		if r.Law == nil {
			continue
		}
		if share := float64(l.n) / n; lumps == nil || times != share || !alike(law, r.Law) {
			law, times = r.Law, share
			lumps = lumped{law, times}
		}
		w.chains[i].Law = lumps
	}
	return w
}

// coarseStart solves the coarse network and puts its answer into the worker as the first point of the full one.
func (w *Worker) coarseStart(ctx context.Context, p *Plan, v *Values) {
	start, _ := NewWorker().Solve(ctx, p.coarse, v.lump(p, p.coarse), nil, &Options{MaxSteps: 60, Tolerance: 1e-4})
	copy(w.u, start.u)
	for i := range p.shape.Chains {
		refine(w.loads.v[p.offset[i]:p.offset[i+1]], start.loads(i))
	}
}

// refine spreads the voltages of lumps over the loads they stand for: a parabola through the nearest three lumps.
func refine(dst, lumps []float64) {
	n, m := len(dst), len(lumps)
	if n == m {
		copy(dst, lumps)
		return
	}
	scale := float64(m) / float64(n)
	for k := range dst {
		x := (float64(k)+0.5)*scale - 0.5
		at := min(max(int(x+0.5), 1), m-2)
		t := x - float64(at)
		a, b, c := lumps[at-1], lumps[at], lumps[at+1]
		dst[k] = b + t*((c-a)/2+t*(a+c-2*b)/2)
	}
}
