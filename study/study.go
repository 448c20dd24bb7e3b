// Package study is the one pipeline: it lays a scheme out, solves its cases and holds the results, immutable, for every
// rule, table and drawing to read. It also says what a Rule is. Study solves, rules judge.
package study

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"

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
	open      []string // see Open
	striking  Striking
	mending   bool
	struck    *Struck  // nil where faults were not followed
	silent    []Silent // of every place, likewise
	joints    []Joint  // nil where they were not sought
	divided   []Division
	edges     *sync.Map // by lead: what Edge found, which is asked for by rule, table and JSON
}

// Options steer a study; nil means the defaults.
type Options struct {
	// Progress is told how many of the cases are solved, before the first and after each, never by two goroutines at
	// once. It may be slow: nothing but the count waits for it. Nil means that nobody asks.
	Progress func(done, total int)

	Striking  Striking                           // whether faults are followed
	Following func(stage Stage, done, total int) // is told likewise of each stage of that
	Mending   bool                               // the study is one on the way to another: what is only noted, the silent power, is not sought
}

// New solves the cases of the first tier: every state, its peak, cap-failed and dark. The error is ours or the
// context's; what is wrong with the scheme becomes findings. Of the options, at most one is read.
func New(ctx context.Context, s *scheme.Scheme, options ...*Options) (*Study, error) {
	n, err := network.New(s)
	if err != nil {
		return nil, err
	}
	var o Options
	if len(options) > 0 && options[0] != nil {
		o = *options[0]
	}
	return study(ctx, n, func(w *circuit.Worker, _ int, c network.Case) *network.Solution { return n.Solve(ctx, w, c) }, o)
}

// study solves the cases of the first tier of a network, each by solve, and reads them.
func study(ctx context.Context, n *network.Network, solve func(w *circuit.Worker, i int, c network.Case) *network.Solution, o Options) (*Study, error) {
	st := &Study{Scheme: n.Scheme, Network: n, cases: n.States(), solutions: map[string]*network.Solution{}, results: map[string]*network.Result{}, open: open(n.Scheme), striking: o.Striking, mending: o.Mending, edges: &sync.Map{}}
	solutions := make([]*network.Solution, len(st.cases))
	results := make([]*network.Result, len(st.cases))
	count := counter(len(st.cases), o.Progress)
	parallel(len(st.cases), func(w *circuit.Worker, i int) {
		if ctx.Err() != nil {
			return
		}
		solutions[i] = solve(w, i, st.cases[i])
		if ctx.Err() != nil { // what was solved is then no operating point, and may be none at all
			return
		}
		results[i] = n.Read(solutions[i])
		count()
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i, c := range st.cases {
		st.solutions[c.Name], st.results[c.Name] = solutions[i], results[i]
	}
	if err := st.follow(ctx, o); err != nil {
		return nil, err
	}
	return st, nil
}

// counter tells the progress of total cases: 0 at once, and one more with each call of what it returns.
func counter(total int, tell func(done, total int)) func() {
	if tell == nil {
		return func() {}
	}
	var lock sync.Mutex
	done := 0
	tell(0, total)
	return func() {
		lock.Lock()
		defer lock.Unlock()
		done++
		tell(done, total)
	}
}

// parallel calls do for 0 to n − 1 on as many workers as there are processors. Every call stands alone, so the number of
// workers changes no result. A panic of do is passed on to the caller, who alone can answer for it.
func parallel(n int, do func(w *circuit.Worker, i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), n)
	faults := make(chan any, workers)
	for range workers {
		wait.Go(func() {
			defer func() {
				if fault := recover(); fault != nil {
					faults <- traced(fault)
				}
			}()
			w := circuit.NewWorker()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(w, i)
			}
		})
	}
	wait.Wait()
	if len(faults) > 0 {
		panic(<-faults)
	}
}

// traced is a fault with where it came from, to be passed on to another goroutine.
func traced(fault any) string { return fmt.Sprintf("%v\n%s", fault, debug.Stack()) }

// Cases lists the solved cases in the order in which they are reported.
func (s *Study) Cases() []network.Case { return s.cases }

// Result is a solved case by name, nil if there is none.
func (s *Study) Result(name string) *network.Result { return s.results[name] }

// Solution is the operating point behind a result.
func (s *Study) Solution(name string) *network.Solution { return s.solutions[name] }
