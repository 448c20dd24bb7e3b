// Package study is the one pipeline: it lays a scheme out, solves its cases and holds the results, immutable, for every
// rule, table and drawing to read. It also says what a Rule is. Study solves, rules judge.
package study

import (
	"context"
	"runtime"
	"sync"

	"farend/circuit"
	"farend/network"
	"farend/scheme"
)

// A Study is a scheme with its solved cases.
type Study struct {
	Scheme  *scheme.Scheme
	Network *network.Network

	cases     []network.Case
	solutions map[string]*network.Solution
	results   map[string]*network.Result
}

// New solves the cases of the first tier: every state, its peak, cap-failed and dark. The error is ours or the
// context's; what is wrong with the scheme becomes findings.
func New(ctx context.Context, s *scheme.Scheme) (*Study, error) {
	n, err := network.New(s)
	if err != nil {
		return nil, err
	}
	st := &Study{Scheme: s, Network: n, cases: n.States(), solutions: map[string]*network.Solution{}, results: map[string]*network.Result{}}
	solutions := make([]*network.Solution, len(st.cases))
	results := make([]*network.Result, len(st.cases))
	parallel(len(st.cases), func(w *circuit.Worker, i int) {
		if ctx.Err() != nil {
			return
		}
		solutions[i] = n.Solve(ctx, w, st.cases[i])
		results[i] = n.Read(solutions[i])
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i, c := range st.cases {
		st.solutions[c.Name], st.results[c.Name] = solutions[i], results[i]
	}
	return st, nil
}

// parallel calls do for 0 to n − 1 on as many workers as there are processors. Every call stands alone, so the number of
// workers changes no result.
func parallel(n int, do func(w *circuit.Worker, i int)) {
	jobs := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Go(func() {
			w := circuit.NewWorker()
			for i := range jobs {
				do(w, i)
			}
		})
	}
	for i := range n {
		jobs <- i
	}
	close(jobs)
	wait.Wait()
}

// Cases lists the solved cases in the order in which they are reported.
func (s *Study) Cases() []network.Case { return s.cases }

// Result is a solved case by name, nil if there is none.
func (s *Study) Result(name string) *network.Result { return s.results[name] }

// Solution is the operating point behind a result.
func (s *Study) Solution(name string) *network.Solution { return s.solutions[name] }
