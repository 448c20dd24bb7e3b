package study

import (
	"context"
	"sync"

	"farend/circuit"
	"farend/network"
	"farend/scheme"
)

// Sketches studies schemes that each differ little from this study's, as Revise does, side by side: of each only the cases that are wanted, and of
// those only what copper carries. Their results say nothing of runs, and no fault is followed. A worker keeps what it knows of the points that it
// follows from one scheme to the next.
func (s *Study) Sketches(ctx context.Context, schemes []*scheme.Scheme, wanted func(i int, c network.Case) bool) ([]*Study, error) {
	sketches := make([]*Study, len(schemes))
	errs := make([]error, len(schemes))
	parallel(len(schemes), func(w *circuit.Worker, i int) {
		if errs[i] = ctx.Err(); errs[i] == nil {
			sketches[i], errs[i] = s.sketch(ctx, w, schemes[i], func(c network.Case) bool { return wanted(i, c) })
		}
	})
	for _, err := range append(errs, ctx.Err()) {
		if err != nil {
			return nil, err
		}
	}
	return sketches, nil
}

// sketch is one of them.
func (s *Study) sketch(ctx context.Context, w *circuit.Worker, sch *scheme.Scheme, wanted func(network.Case) bool) (*Study, error) {
	n, err := network.New(sch)
	if err != nil {
		return nil, err
	}
	n.Adopt(s.Network)
	st := &Study{Scheme: sch, Network: n, solutions: map[string]*network.Solution{}, results: map[string]*network.Result{}, open: open(sch), striking: NotNow, mending: true, edges: &sync.Map{}}
	for _, c := range n.States() {
		if !wanted(c) {
			continue
		}
		solution, _ := n.Resolve(ctx, w, c, s.Network, s.solutions[c.Name])
		if err := ctx.Err(); err != nil { // what was solved is then no operating point
			return nil, err
		}
		st.cases = append(st.cases, c)
		st.solutions[c.Name], st.results[c.Name] = solution, n.ReadCopper(solution)
	}
	return st, nil
}
