package main

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"syscall"
	"time"

	"farend/circuit"
	"farend/network"
	"farend/parts"
	"farend/pixel"
)

// pixelLaw is the law of a white pixel of the catalogue's 5 V tape, as every pixel of the benchmark has it.
func pixelLaw() pixel.Load {
	tape, ok := parts.Get[parts.Tape](parts.Catalogue(), "tape/5v-rgb-60")
	if !ok {
		panic("bench: the catalogue lacks tape/5v-rgb-60")
	}
	list := []pixel.Part{{Channel: network.Channel(tape.Idle, false), Drive: 1}}
	for _, name := range []string{"red", "green", "blue"} {
		list = append(list, pixel.Part{Channel: network.Channel(tape.Channels[name], false), Drive: 1})
	}
	return pixel.NewLoad(list)
}

// bothEnds is so many supplies with so many runs of equal length each, every run fed at both ends.
func bothEnds(supplies, runs, pixels int) *circuit.Plan {
	var s circuit.Shape
	for range supplies {
		source := s.Nodes
		s.Nodes += 2
		s.Sources = append(s.Sources, circuit.Pair{A: source, B: source + 1})
		for range runs {
			a := s.Nodes
			s.Nodes += 4
			s.Chains = append(s.Chains, circuit.Chain{APlus: a, AReturn: a + 1, BPlus: a + 2, BReturn: a + 3, Loads: pixels})
			for k := range 4 {
				s.Wires = append(s.Wires, circuit.Pair{A: source + k%2, B: a + k})
			}
		}
	}
	p, err := circuit.NewPlan(s)
	if err != nil {
		panic(err)
	}
	return p
}

// white gives the plan its values, stiff supplies and leads of 20 mΩ a pole, the table of its law built anew.
func white(p *circuit.Plan) *circuit.Values {
	v := p.NewValues()
	for i := range p.Shape().Sources {
		v.SetSource(i, circuit.Source{E: 5, R: 1e-6, Limit: 1e6})
	}
	for i := range p.Shape().Wires {
		v.SetWire(i, circuit.Resistor(0.02))
	}
	law := circuit.Tabulate(pixelLaw(), 0, 5.2, 2048)
	for i := range p.Shape().Chains {
		v.SetRails(i, circuit.Rails{Plus: 0.1 / 60, Return: 0.1 / 60, Law: law})
	}
	return v
}

// processor is the processor time of this process.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// exponential is the processor time of one independent math.Exp with arguments from −30 to 0.
func exponential() float64 {
	const n = 1 << 24
	x := make([]float64, 1024)
	for i := range x {
		x[i] = -30 + 30*float64(i)/1023
	}
	sum, begin := 0.0, processor()
	for range n / len(x) {
		for _, v := range x {
			sum += math.Exp(v)
		}
	}
	took := processor() - begin
	if sum < 0 {
		panic("bench: exponentials are positive")
	}
	return float64(took.Nanoseconds()) / n
}

// cold is the processor time of one cold solve with a new worker, table building included, plan not.
func cold(ctx context.Context, p *circuit.Plan) (took time.Duration, steps int) {
	begin := processor()
	v := white(p)
	_, status := circuit.NewWorker().Solve(ctx, p, v, nil, nil)
	return processor() - begin, status.Steps
}

const rounds = 7

func median[T int | float64 | time.Duration](of func() T) T {
	list := make([]T, rounds)
	for i := range list {
		list[i] = of()
	}
	slices.Sort(list)
	return list[rounds/2]
}

func perPixel(ctx context.Context) (row, error) {
	p := bothEnds(1, 2000, 500)
	steps, first := 0, 0.0
	ratio := median(func() float64 {
		e := exponential()
		took, n := cold(ctx, p)
		steps = n
		calls := float64(took.Nanoseconds()) / 1e6 / e
		if first == 0 {
			first = calls
		}
		return calls
	})
	return row{"1,000,000 pixels, cold, one worker, table included: processor time per pixel", "≤ 20 math.Exp",
		fmt.Sprintf("%.1f math.Exp", ratio), fmt.Sprintf("2,000 runs of 500, %d Newton steps; median of %d; the first, whose memory the system hands out page by page, %.1f", steps, rounds, first), ratio <= 20}, ctx.Err()
}

// solving is the processor time of so many cold solves with one worker, values at hand, per Newton step.
func solving(ctx context.Context, p *circuit.Plan, times int) float64 {
	v, w := white(p), circuit.NewWorker()
	w.Solve(ctx, p, v, nil, nil)
	begin, steps := processor(), 0
	for range times {
		_, status := w.Solve(ctx, p, v, nil, nil)
		steps += status.Steps
	}
	return float64(processor()-begin) / float64(steps)
}

func linearCost(ctx context.Context) (row, error) {
	small, large := bothEnds(1, 20, 500), bothEnds(1, 2000, 500)
	ratio := median(func() float64 { return solving(ctx, large, 3) / 100 / solving(ctx, small, 300) })
	return row{"time per pixel and Newton step, 1,000,000 against 10,000", "≤ 1.2×", fmt.Sprintf("%.2f×", ratio),
		fmt.Sprintf("runs of 500; one worker, table at hand; median of %d", rounds), ratio <= 1.2}, ctx.Err()
}

func memoryPerPixel(ctx context.Context) (row, error) {
	heap := func() uint64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := heap()
	p := bothEnds(1, 2000, 500)
	v, w := white(p), circuit.NewWorker()
	point, _ := w.Solve(ctx, p, v, nil, nil)
	bytes := float64(heap()-before) / 1e6
	runtime.KeepAlive(point)
	runtime.KeepAlive(w)
	runtime.KeepAlive(v)
	return row{"live heap per pixel after collection, plan, worker and point held", "≤ 120 bytes", fmt.Sprintf("%.0f bytes", bytes), "2,000 runs of 500", bytes <= 120}, ctx.Err()
}
