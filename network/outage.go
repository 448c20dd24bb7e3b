package network

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"farend/circuit"
	"farend/scheme"
)

// An outing is what opens when something goes out: wires of the plan, and sources that are off.
type outing struct{ wires, sources []int }

// Outages lists what may go out, one at a time, by name and in order: each supply (T1), each board (A1), each pole of an inlet or way
// (A1.in.plus, A1.1.return), each fuse (A1.1.fuse, W1.fuse), each cable (W3), each core (W3.plus, D1.ground).
func (n *Network) Outages() []string { return n.outages }

// Outages of a case are that case with one thing out: outage/W3.plus/full. IN in the name is the state, peak-STATE, cap-failed or
// dark.
func (c Case) With(out string) Case {
	c.Name = "outage/" + out + "/" + c.within()
	c.Out = out
	return c
}

// within names a case as the last part of an outage's or a fault's name.
func (c Case) within() string {
	switch c.Kind {
	case State:
		return c.State
	case Peak:
		return "peak-" + c.State
	}
	return string(c.Kind)
}

// Sound is the case with nothing out and nothing wrong.
func (c Case) Sound() Case {
	c.Out, c.Fault, c.Opened = "", Fault{}, ""
	switch c.Kind {
	case State, Peak:
		c.Name = string(c.Kind) + "/" + c.State
	default:
		c.Name = string(c.Kind)
	}
	return c
}

// Within is the sound case that the name of an outage or a fault ends with: a state, peak-STATE, cap-failed or dark.
func (n *Network) Within(in string) (Case, bool) {
	for _, c := range n.States() {
		if c.within() == in {
			return c, true
		}
	}
	return Case{}, false
}

// outageNamed is the case of a name like outage/W3.plus/full.
func (n *Network) outageNamed(name string) (Case, bool) {
	rest, ok := strings.CutPrefix(name, "outage/")
	if !ok {
		return Case{}, false
	}
	out, in, _ := strings.Cut(rest, "/")
	if _, known := n.outings[out]; !known {
		return Case{}, false
	}
	c, ok := n.Within(in)
	return c.With(out), ok
}

// faultNamed is the case of a name like fault/poles/E1@px72/dark, bolted.
func (n *Network) faultNamed(name string) (Case, bool) {
	rest, ok := strings.CutPrefix(name, "fault/")
	kind, rest, _ := strings.Cut(rest, "/")
	at, in, two := strings.Cut(rest, "/")
	if !ok || !two {
		return Case{}, false
	}
	f := Fault{Kind: FaultKind(kind), At: at}
	switch f.Kind {
	case Bridged:
		f.At, f.To, _ = strings.Cut(at, "+")
	case ToMetal:
		f.At, f.Home, _ = strings.Cut(at, "+")
	}
	if f.Kind == Reversed || !n.Lay(f) {
		return Case{}, false
	}
	c, ok := n.Within(in)
	return c.Struck(f), ok
}

// listOutages works out what opens with each thing.
func (n *Network) listOutages() {
	n.outings = map[string]outing{}
	for i, e := range n.elements {
		if e.core != nil || e.link != nil {
			n.add(e.name, i)
		}
	}
	for _, t := range n.supplies {
		n.outings[t.id] = outing{sources: []int{t.source}}
	}
	for _, b := range n.boards {
		n.add(b.id+".in.plus", b.inlet[0])
		n.add(b.id+".in.return", b.inlet[1])
		n.add(b.id, b.inlet[:]...)
	}
	for _, w := range n.ways {
		n.add(w.name+".plus", w.path[0])
		n.add(BoardOf(w.name), w.path[0])
		for _, id := range n.Landings(w.name) {
			n.add(w.name+".return", n.atWay(w.name, id)...)
		}
	}
	for _, c := range n.cables {
		n.add(c.id, slices.Concat(c.plus, c.minus)...)
	}
	for _, d := range n.leads {
		if from := n.Scheme.Data[d.id].From; from.Kind == scheme.PortRef && len(d.ground) > 0 {
			n.add(from.Element, d.ground[0])
		}
	}
	n.outages = scheme.IDs(n.outings)
}

func (n *Network) add(name string, wires ...int) {
	if len(wires) > 0 {
		n.outings[name] = outing{wires: append(n.outings[name].wires, wires...)}
	}
}

// atWay is the wire of a cable's return nearest the way it lands on.
func (n *Network) atWay(way, cable string) []int {
	for _, c := range n.cables {
		if c.id != cable || len(c.minus) == 0 {
			continue
		}
		if n.Scheme.Cables[cable].From.String() == way {
			return c.minus[:1]
		}
		return c.minus[len(c.minus)-1:]
	}
	return nil
}

// open opens the wires of what is out in a case.
func (n *Network) open(v *circuit.Values, c Case) {
	for _, i := range n.out(c).wires {
		v.SetWire(i, circuit.Wire{})
	}
}

// SolveFrom finds the operating point of an outage or a fault from the solution of the sound case. Where no supply folds back, pulses
// or shuts down, the kernel follows that solution, and the cost is that of what changed; the answer lies within 1 µV. Elsewhere it
// is solved from cold.
func (n *Network) SolveFrom(ctx context.Context, w *circuit.Worker, c Case, sound *Solution) *Solution {
	return n.solveFrom(ctx, w, c, sound, nil)
}

// Glance is SolveFrom for whoever hardly asks what flows inside runs: it takes less memory.
func (n *Network) Glance(ctx context.Context, w *circuit.Worker, c Case, sound *Solution) *Solution {
	return n.solveFrom(ctx, w, c, sound, &circuit.Options{Ends: true})
}

func (n *Network) solveFrom(ctx context.Context, w *circuit.Worker, c Case, sound *Solution, options *circuit.Options) *Solution {
	if !n.plain(sound) {
		return n.Solve(ctx, w, c)
	}
	return n.follow(ctx, w, c, sound, options, func(k int, rms []float64) *circuit.Values {
		v := sound.values[k].Fork()
		v.SetBridge(n.bridge(c.Fault))
		if rms == nil {
			n.open(v, c)
		} else {
			n.setWires(v, c, rms)
		}
		for _, i := range n.out(c).sources {
			source := v.Source(i)
			source.Off = true
			v.SetSource(i, source)
		}
		return v
	})
}

// plain reports whether a solution was found without any supply folding back, pulsing or shut down, so that it may be followed.
func (n *Network) plain(s *Solution) bool {
	return s != nil && s.Outcome == circuit.Converged && s.Start == nil && !n.foldsBack(s.Case) && !slices.Contains(s.off, true) && !slices.Contains(s.pulsing, true)
}

// follow solves a case from the solution of another with the same cycle. values gives the values of a slice, with copper at the
// temperature of the heating currents where the cycle has several. Where a supply then shuts down or pulses, or copper does not
// settle, the case is solved from cold.
func (n *Network) follow(ctx context.Context, w *circuit.Worker, c Case, from *Solution, options *circuit.Options, values func(k int, rms []float64) *circuit.Values) *Solution {
	const rounds, enough = 50, 1e-7 // change in heating current, relative to the largest: far below 1 µV along any cable
	s := &Solution{
		Case: c, cycle: from.cycle, off: make([]bool, len(n.supplies)), pulsing: make([]bool, len(n.supplies)), Followed: true,
		points: make([]*circuit.Point, len(from.cycle)), values: make([]*circuit.Values, len(from.cycle)), rms: slices.Clone(from.rms),
	}
	for round := range rounds {
		s.Residual = 0
		for k := range s.cycle {
			s.values[k] = values(k, s.rms)
			point, status := w.Solve(ctx, n.Plan, s.values[k], from.points[k], options)
			s.points[k] = point
			s.Steps += status.Steps
			s.Residual = max(s.Residual, status.Residual)
			s.Outcome = max(s.Outcome, status.Outcome)
			s.Followed = s.Followed && status.Followed
		}
		if s.Outcome == circuit.Interrupted {
			return s
		}
		if s.Outcome != circuit.Converged || round+1 == rounds {
			break
		}
		if len(s.cycle) > 1 && n.Scheme.Site.Conductors.Fixed == nil {
			if change, largest := s.heat(1); change > enough*largest {
				continue
			}
		}
		if n.trip(s) {
			break
		}
		return s
	}
	return n.Solve(ctx, w, c)
}

// Adopt takes over the plan of another network where both are laid out alike, so that solutions of the other may be followed. Call
// it before anything is solved.
func (n *Network) Adopt(other *Network) {
	if reflect.DeepEqual(n.Plan.Shape(), other.Plan.Shape()) {
		n.Plan = other.Plan
	}
}

// setLower reports whether a supply is set lower in a case than in another network of the same plan.
func (n *Network) setLower(c Case, old *Network) bool {
	for i, t := range n.supplies {
		if n.set(c, t).Volts < old.set(c, old.supplies[i]).Volts {
			return true
		}
	}
	return false
}

// Resolve finds the operating point of a case again where the scheme has changed a little since old solved it: again says whether it
// had to be. Without a solution of the same plan it is solved from cold; so it is where a supply is set lower, for where nothing
// at all is drawn, any voltage above its set point would balance too, and following would stay at the old one.
func (n *Network) Resolve(ctx context.Context, w *circuit.Worker, c Case, old *Network, was *Solution) (s *Solution, again bool) {
	if n.Plan != old.Plan || !n.plain(was) || !slices.Equal(n.cycle(c), was.cycle) || n.setLower(c, old) {
		return n.Solve(ctx, w, c), true
	}
	same := true
	for _, part := range was.cycle {
		same = same && n.values(c, part, nil).Same(old.values(c, part, nil))
	}
	if same {
		kept := *was
		return &kept, false
	}
	return n.follow(ctx, w, c, was, nil, func(k int, rms []float64) *circuit.Values { return n.values(c, was.cycle[k], rms) }), true
}

// Twins gives, for every one of Outages, the first of them that leaves the same currents: what is in series, with nothing between, opens the same
// circuit wherever it opens.
func (n *Network) Twins() map[string]string {
	group := n.inLine()
	first, twins := map[string]string{}, map[string]string{}
	for _, name := range n.outages {
		o, open := n.outings[name], []int{}
		for _, w := range o.wires {
			open = append(open, group[w])
		}
		slices.Sort(open)
		key := fmt.Sprint(slices.Compact(open), o.sources)
		if _, known := first[key]; !known {
			first[key] = name
		}
		twins[name] = first[key]
	}
	return twins
}

// inLine gives every wire of the plan the first of those that are in series with it.
func (n *Network) inLine() []int {
	shape := n.Plan.Shape()
	meet, busy := make([][]int, shape.Nodes), make([]bool, shape.Nodes)
	for i, w := range shape.Wires {
		meet[w.A], meet[w.B] = append(meet[w.A], i), append(meet[w.B], i)
	}
	for _, c := range shape.Chains {
		for _, node := range []int{c.APlus, c.AReturn, c.BPlus, c.BReturn} {
			busy[node] = true
		}
	}
	for _, t := range n.supplies {
		busy[t.at.plus], busy[t.at.minus] = true, true
	}
	group := make([]int, len(shape.Wires))
	for i := range group {
		group[i] = none
	}
	for i := range group {
		for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
			w := queue[0]
			if group[w] != none {
				continue
			}
			group[w] = i
			for _, node := range []int{shape.Wires[w].A, shape.Wires[w].B} {
				if len(meet[node]) == 2 && !busy[node] {
					queue = append(queue, meet[node]...)
				}
			}
		}
	}
	return group
}

// LowestVolts is what each pixel of a run has in the lowest slice of a solution; it is not ok where there is no such run. Where nothing feeds a pixel
// that may be anything from which it draws nothing.
func (n *Network) LowestVolts(s *Solution, run string) (volts []float64, ok bool) {
	at, known := n.runAt[run]
	if !known {
		return nil, false
	}
	r := n.runs[at]
	volts = make([]float64, r.count)
	for k := range s.cycle {
		for _, piece := range r.stretches {
			for j, v := range s.points[k].LoadVolts(piece.chain) {
				if i := piece.first + j; k == 0 || v < volts[i] {
					volts[i] = v
				}
			}
		}
	}
	return volts, true
}
