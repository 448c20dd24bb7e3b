package study

import (
	"context"
	"iter"
	"runtime"
	"sync"

	"farend/circuit"
	"farend/network"
)

// Outages are the outages of a case, one thing out at a time, for Each.
func (s *Study) Outages(in network.Case) iter.Seq[network.Case] {
	return func(yield func(network.Case) bool) {
		for _, out := range s.Network.Outages() {
			if !yield(in.With(out)) {
				return
			}
		}
	}
}

// ahead is how many cases each worker may be ahead of the one that is read.
const ahead = 16

// A job is a case on its way; done is closed when it is solved.
type job struct {
	c        network.Case
	solution *network.Solution
	fault    any
	done     chan struct{}
}

// Each solves cases in parallel, outages from the solution of the sound case, and hands each solution to read, one after the
// other and in the order of the cases, which run in a goroutine of their own. Nothing is kept: take from a solution what is
// wanted. However many cases there are, only a few stand in memory. It ends with the first error of read, or with the
// context's.
func (s *Study) Each(ctx context.Context, cases iter.Seq[network.Case], read func(*network.Solution) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	workers := runtime.GOMAXPROCS(0)
	waiting, inOrder := make(chan *job), make(chan *job, ahead*workers)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			w := circuit.NewWorker()
			for j := range waiting {
				s.solveJob(ctx, w, j)
			}
		})
	}
	wait.Go(func() {
		defer close(inOrder)
		defer close(waiting)
		for c := range cases {
			j := &job{c: c, done: make(chan struct{})}
			select {
			case inOrder <- j:
				waiting <- j
			case <-ctx.Done():
				return
			}
		}
	})
	err := readInOrder(ctx, inOrder, read)
	stop()
	for range inOrder { // what is left on its way
	}
	wait.Wait()
	return err
}

func readInOrder(ctx context.Context, inOrder <-chan *job, read func(*network.Solution) error) error {
	for j := range inOrder {
		<-j.done
		if j.fault != nil {
			panic(j.fault)
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := read(j.solution); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// solveJob solves one case. A panic is kept for the caller of Each, who alone can answer for it.
func (s *Study) solveJob(ctx context.Context, w *circuit.Worker, j *job) {
	defer close(j.done)
	defer func() {
		if fault := recover(); fault != nil {
			j.fault = traced(fault)
		}
	}()
	if ctx.Err() == nil {
		j.solution = s.Network.SolveFrom(ctx, w, j.c, s.solutions[j.c.Sound().Name])
	}
}
