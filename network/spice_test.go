package network_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"farend/circuit"
	"farend/internal/spice"
	"farend/network"
	"farend/scheme"
	"farend/supply"
)

// What an operating point may differ from that of ngspice.
const (
	voltsApart = 1e-6
	ampsApart  = 1e-5
)

// spiceBalance is the current in amperes to which ngspice's own answer must balance in our laws before it is worth
// comparing with.
const spiceBalance = 1e-7

// A proof compares solutions with ngspice and remembers the largest differences.
type proof struct {
	mutex       sync.Mutex
	decks, lost int
	unsettled   atomic.Int32 // cases in which nothing flows
	volts, amps float64
	tie         float64
	behind      float64        // of points that were followed, volts
	followed    map[string]int // how many, by what changed
	full        map[string]int // how many on the same way were solved in full after all
	holds       map[string]int // how many batches hold each of features
	why         error
}

func newProof() *proof {
	return &proof{followed: map[string]int{}, full: map[string]int{}, holds: map[string]int{}}
}

// lostAtMost is the share of decks in which ngspice may lose its way.
const lostAtMost = 0.001

// report ends a proof: ngspice must have answered the decks.
func (f *proof) report(t *testing.T) {
	t.Helper()
	if f.decks == 0 || float64(f.lost) > lostAtMost*float64(f.decks) {
		t.Errorf("%d of %d decks gave no answer of ngspice's to compare with; the last: %v", f.lost, f.decks, f.why)
	}
	if unsettled := f.unsettled.Load(); unsettled > 0 {
		t.Errorf("%d cases are not found", unsettled)
	}
	if f.lost > 0 {
		t.Logf("ngspice lost its way in %v", f.why)
	}
	t.Logf("%d decks, %d without an answer; largest difference %.3g V, %.3g A; ties carry up to %.3g A", f.decks, f.lost, f.volts, f.amps, f.tie)
}

// A question is one slice of a solution as a deck.
type question struct {
	n     *network.Network
	s     *network.Solution
	slice int
	deck  string
	also  []*trail // points that were followed to the same values

	result *network.Result
}

// A batch is questions that ngspice answers in one go: those of one scheme.
type batch struct {
	proof     *proof
	questions []question
}

func (f *proof) batch() *batch { return &batch{proof: f} }

// add asks for one slice of a solution, unless no supply feeds anything there.
func (b *batch) add(t *testing.T, n *network.Network, s *network.Solution, slice int, also ...*trail) {
	t.Helper()
	if still(n, s, slice) {
		return
	}
	var deck bytes.Buffer
	if err := n.Netlist(&deck, s, slice); err != nil {
		t.Fatal(err)
	}
	b.questions = append(b.questions, question{n, s, slice, deck.String(), also, n.Read(s)})
}

// cases asks for every case of a scheme, at most so many slices of each, spread over its cycle.
func (b *batch) cases(t *testing.T, n *network.Network, slices int) {
	t.Helper()
	for _, c := range n.States() {
		s := n.Solve(context.Background(), circuit.NewWorker(), c)
		if s.Outcome == circuit.NotFound && stillAll(n, s) {
			b.proof.unsettled.Add(1)
			continue
		}
		found(t, n, s)
		b.some(t, n, s, slices)
		if s.Start != nil {
			b.some(t, n, s.Start, slices)
		}
	}
}

// still reports whether nothing flows in a slice but rounding.
func still(n *network.Network, s *network.Solution, slice int) bool {
	for i := range n.SourceNames() {
		if !(s.Point(slice).SourceAmps(i) < balance) {
			return false
		}
	}
	return true
}

// stillAll reports whether nothing flows in any slice.
func stillAll(n *network.Network, s *network.Solution) bool {
	for k := range s.Slices() {
		if !still(n, s, k) {
			return false
		}
	}
	return true
}

func (b *batch) some(t *testing.T, n *network.Network, s *network.Solution, slices int) {
	t.Helper()
	step := max(1, (s.Slices()+slices-1)/slices)
	for k := 0; k < s.Slices(); k += step {
		b.add(t, n, s, k)
	}
}

// compare has the questions answered and compares the answers.
func (b *batch) compare(t *testing.T) {
	t.Helper()
	if len(b.questions) == 0 {
		return
	}
	decks := make([]string, len(b.questions))
	for i, q := range b.questions {
		decks[i] = q.deck
	}
	answers := spice.Solve(t.TempDir(), decks)
	b.proof.mutex.Lock()
	defer b.proof.mutex.Unlock()
	held := map[string]bool{}
	for i, q := range b.questions {
		if b.proof.compare(t, q, answers[i]) {
			q.note(held)
		}
	}
	for name := range held {
		b.proof.holds[name]++
	}
}

// scheme compares every case of a scheme, at most so many slices of each.
func (f *proof) scheme(t *testing.T, s *scheme.Scheme, slices int) {
	t.Helper()
	b := f.batch()
	b.cases(t, layOut(t, s), slices)
	b.compare(t)
}

// compare compares an answer; answered is false where there is none.
func (f *proof) compare(t *testing.T, q question, given spice.Answer) (answered bool) {
	t.Helper()
	n, s, a, err := q.n, q.s, answer{given.Values, q.s.Point(q.slice), q.n.Plan.Shape().Nodes}, given.Err
	var theirs []float64
	if err == nil {
		var worst float64
		if theirs, worst = a.currents(n, s.Values(q.slice)); !(worst <= q.balance()) {
			err = fmt.Errorf("ngspice's answer leaves %g A out of balance", worst)
		}
	}
	f.decks++
	if err != nil {
		f.lost++
		f.why = fmt.Errorf("%s slice %d: %w", s.Case.Name, q.slice, err)
		return false
	}
	told := 0
	differ := func(what string, ours, theirs, within float64, worst *float64) {
		if !(math.Abs(ours-theirs) <= within) {
			if told++; told <= 5 {
				t.Errorf("%s, slice %d, %s: %.12g here, %.12g in ngspice", s.Case.Name, q.slice, what, ours, theirs)
			}
		}
		*worst = max(*worst, math.Abs(ours-theirs))
	}
	f.potentials(n, a, q.floats(), differ)
	for _, k := range ties(q.deck) {
		differ("current that holds "+n.NodeName(k), 0, tieSiemens*(a.at(k)-a.p.Volts(k)), tied, &f.tie)
	}
	for i := range n.Plan.Shape().Wires {
		differ("current of "+n.WireName(i), a.p.WireAmps(i), theirs[i], ampsApart, &f.amps)
	}
	for i, pair := range n.Plan.Shape().Sources {
		if a.p.Live(pair.A) {
			differ("current of "+n.SourceNames()[i], a.p.SourceAmps(i), a.leaving(n, pair.A, theirs, s.Values(q.slice).Bridge()), ampsApart, &f.amps)
		}
	}
	for _, way := range q.also {
		way.compare(q, a, differ, f)
	}
	return true
}

// balance is spiceBalance, or what ngspice's vntol of 1e-11 V leaves across the 1e5 S of a bolted fault.
func (q question) balance() float64 {
	if q.s.Values(q.slice).Bridge().G >= circuit.Short {
		return 1e-6
	}
	return spiceBalance
}

// An answer is an operating point of ngspice.
type answer struct {
	v     map[string]float64
	p     *circuit.Point
	nodes int
}

// at is the potential of a node, or of a tap, of ngspice's answer; the deck numbers them as the plan does.
func (a answer) at(k int) float64 {
	if k < a.nodes && a.p.Datum(k) {
		return 0
	}
	return a.named(fmt.Sprintf("n%d", k))
}

// named is the potential of a node; not a number where the deck has no such node.
func (a answer) named(name string) float64 {
	if v, ok := a.v["v("+name+")"]; ok {
		return v
	}
	return math.NaN()
}

func (a answer) pixel(chain, k int) (plus, minus float64) {
	return a.named(fmt.Sprintf("p%d_%d", chain, k)), a.named(fmt.Sprintf("m%d_%d", chain, k))
}

// tieSiemens is the conductance by which decks hold copper that hangs on pixels alone at its solved potential; tied is the
// current in amperes that it may carry there, as much as the smallest thing that is reported.
const (
	tieSiemens = 0.01
	tied       = 1e-9
)

// ties lists the nodes that a deck holds so.
func ties(deck string) (nodes []int) {
	for _, line := range strings.Split(deck, "\n") {
		var k int
		if _, err := fmt.Sscanf(line, "BU%d", &k); err == nil {
			nodes = append(nodes, k)
		}
	}
	return nodes
}

// potentials compares every node and both rails at every pixel, and the voltage across it.
func (f *proof) potentials(n *network.Network, a answer, floats []bool, differ func(string, float64, float64, float64, *float64)) {
	shape := n.Plan.Shape()
	for k := range shape.Nodes {
		if a.p.Live(k) && !floats[k] {
			differ(n.NodeName(k), a.p.Volts(k), a.at(k), voltsApart, &f.volts)
		}
	}
	for i, c := range shape.Chains {
		if !a.p.Live(c.APlus) || floats[c.APlus] {
			continue
		}
		plus, minus := make([]float64, c.Loads), make([]float64, c.Loads)
		a.p.Rails(i, plus, minus)
		for k, volts := range a.p.LoadVolts(i) {
			p, m := a.pixel(i, k)
			name := fmt.Sprintf("chain %d pixel %d", i, k)
			differ(name, volts, p-m, voltsApart, &f.volts)
			differ(name+" plus", plus[k], p, voltsApart, &f.volts)
			differ(name+" return", minus[k], m, voltsApart, &f.volts)
		}
	}
}

// floats gives the nodes of pieces in which no supply gives more than rounding: the positives there stand anywhere within the foot
// of a supply's law, some 40 of its widths, because nothing asks for a current. Their currents are compared.
func (q question) floats() []bool {
	v, p, shape := q.s.Values(q.slice), q.s.Point(q.slice), q.n.Plan.Shape()
	of := q.n.Plan.Joined(func(i int) bool { return v.Wire(i).Law != nil || v.Wire(i).G > 0 }, func(i int) bool { return !v.Source(i).Off })
	fed := map[int]bool{}
	for i, pair := range shape.Sources {
		if p.SourceAmps(i) >= balance {
			fed[of[pair.A]] = true
		}
	}
	floats := make([]bool, shape.Nodes)
	for k := range floats {
		floats[k] = !fed[of[k]]
	}
	return floats
}

// leaving is the current out of a node into wires and a fault: that of the supply whose plus terminal it is.
func (a answer) leaving(n *network.Network, node int, wires []float64, fault circuit.Bridge) float64 {
	sum := 0.0
	switch node {
	case fault.A:
		sum += fault.G * (a.at(fault.A) - a.at(fault.B))
	case fault.B:
		sum -= fault.G * (a.at(fault.A) - a.at(fault.B))
	}
	for i, pair := range n.Plan.Shape().Wires {
		switch {
		case pair.A == pair.B:
		case pair.A == node:
			sum += wires[i]
		case pair.B == node:
			sum -= wires[i]
		}
	}
	return sum
}

// currents are those of the wires in ngspice's answer, by our laws from its potentials alone; worst is what its answer
// leaves out of balance, at nodes and pixels.
func (a answer) currents(n *network.Network, v *circuit.Values) (wires []float64, worst float64) {
	shape := n.Plan.Shape()
	lack := make([]float64, shape.Nodes)
	wires = make([]float64, len(shape.Wires))
	for i, pair := range shape.Wires {
		if w := v.Wire(i); !a.p.Live(pair.A) || w.Law == nil && w.G == 0 { // what is open may lead to where the deck has nothing
			continue
		}
		wires[i] = wireAmps(v.Wire(i), a.at(pair.A)-a.at(pair.B))
		lack[pair.A] += wires[i]
		lack[pair.B] -= wires[i]
	}
	taps := tapped{plan: n.Plan, bridge: v.Bridge()}
	if b := v.Bridge(); b.A != b.B && a.p.Live(b.A) && a.p.Live(b.B) {
		taps.amps = b.G * (a.at(b.A) - a.at(b.B))
		if b.A < shape.Nodes {
			lack[b.A] += taps.amps
		}
		if b.B < shape.Nodes {
			lack[b.B] -= taps.amps
		}
	}
	for i, c := range shape.Chains {
		if a.p.Live(c.APlus) {
			worst = max(worst, a.chain(v.Rails(i), c, i, lack, taps))
		}
	}
	for i, pair := range shape.Sources {
		if a.p.Live(pair.A) {
			amps := a.source(v.Source(i), i, a.at(pair.A)-a.at(pair.B))
			lack[pair.A] -= amps
			lack[pair.B] += amps
		}
	}
	for k, amps := range lack {
		if !a.p.Datum(k) {
			worst = max(worst, math.Abs(amps))
		}
	}
	return wires, worst
}

func wireAmps(w circuit.Wire, volts float64) float64 {
	if w.Law == nil {
		return w.G * volts
	}
	var amps, slope [1]float64
	w.Law.Eval([]float64{volts}, amps[:], slope[:])
	return amps[0]
}

// source is what a supply delivers at ngspice's voltage: by the law of package supply, which is not the kernel's; on the
// straight part by E behind r, as in the deck.
func (a answer) source(s circuit.Source, i int, volts float64) float64 {
	if s.Off {
		return 0
	}
	r := max(s.R, 1e-5)
	if a.p.Plain(i) || math.Abs(s.E-r*a.p.SourceAmps(i)-a.p.SourceVolts(i)) < 1e-7 {
		return (s.E - volts) / r
	}
	amps, _ := supply.Current(s.E, volts, s.R, s.Limit)
	return amps
}

// A tapped is a fault that may end inside a chain, and what it carries.
type tapped struct {
	plan   *circuit.Plan
	bridge circuit.Bridge
	amps   float64
}

// gap is the currents into and out of the copper of one rail in a gap, in whose middle the fault may lie; lack is what does not balance
// there.
func (a answer) gap(t tapped, tap int, from, to, ohms float64) (in, out, lack float64) {
	drawn := 0.0
	switch tap {
	case t.bridge.A:
		drawn = t.amps
	case t.bridge.B:
		drawn = -t.amps
	}
	if drawn == 0 || tap < a.nodes {
		amps := (from - to) / ohms
		return amps, amps, 0
	}
	in, out = 2*(from-a.at(tap))/ohms, 2*(a.at(tap)-to)/ohms
	return in, out, math.Abs(in - out - drawn)
}

func (a answer) chain(r circuit.Rails, c circuit.Chain, i int, lack []float64, t tapped) (worst float64) {
	share := r.Plus / (r.Plus + r.Return)
	up, low, inPlus, inMinus, load := a.at(c.APlus), a.at(c.AReturn), 0.0, 0.0, 0.0
	for g := 0; g <= c.Loads; g++ {
		nextUp, nextLow, pitch, joint := a.at(c.BPlus), a.at(c.BReturn), 1.0, 0.0
		if g < c.Loads {
			nextUp, nextLow = a.pixel(i, g)
		}
		if g == 0 || g == c.Loads {
			pitch = 0.5
		}
		for _, j := range r.Joints {
			if j.Gap == g {
				joint += j.Loop
			}
		}
		tapUp, tapLow := t.plan.Tap(i, g)
		outPlus, farPlus, open := a.gap(t, tapUp, up, nextUp, pitch*r.Plus+joint*share)
		outMinus, farMinus, openLow := a.gap(t, tapLow, low, nextLow, pitch*r.Return+joint*(1-share))
		worst = max(worst, open, openLow)
		if g == 0 {
			lack[c.APlus] += outPlus
			lack[c.AReturn] += outMinus
		} else {
			worst = max(worst, math.Abs(inPlus-outPlus-load), math.Abs(inMinus-outMinus+load))
		}
		load = wireAmps(circuit.Wire{Law: r.Law}, nextUp-nextLow)
		up, low, inPlus, inMinus = nextUp, nextLow, farPlus, farMinus
	}
	lack[c.BPlus] -= inPlus
	lack[c.BReturn] -= inMinus
	return worst
}

func TestExamplesAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	if len(files) < 3 {
		t.Fatalf("only %d examples", len(files))
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".scheme.yaml"), func(t *testing.T) {
			t.Parallel()
			f := newProof()
			s := readFile(t, file)
			if pixels(s) > 1000 { // ngspice takes seconds for each deck
				f.heaviest(t, s)
			} else {
				f.scheme(t, s, 100)
			}
			f.report(t)
		})
	}
}

func pixels(s *scheme.Scheme) (sum int) {
	for _, r := range s.Runs {
		sum += r.Count
	}
	return sum
}

// heaviest asks for two cases of a scheme: the state that draws most, and the slice of its peak in which all that is lit is on.
func (f *proof) heaviest(t *testing.T, s *scheme.Scheme) {
	t.Helper()
	b, n := f.batch(), layOut(t, s)
	most, state := 0.0, ""
	for _, c := range n.States() {
		if c.Kind != network.State {
			continue
		}
		sum := 0.0
		for _, at := range n.Read(solved(t, n, c)).Supplies {
			sum += float64(at.Watts)
		}
		if sum > most {
			most, state = sum, c.State
		}
	}
	for _, name := range []string{"state/" + state, "peak/" + state} {
		c, _ := n.CaseNamed(name)
		b.add(t, n, solved(t, n, c), 0)
	}
	b.compare(t)
}

// TestLongRunsAgainstSpice: 600 pixels in one stretch, and in several with the far ends near the floor of their law.
func TestLongRunsAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	const site = "farend: 1\ntitle: a long run\nstates: {full: {colour: white}}\n"
	f := newProof()
	for name, text := range map[string]string{
		"5 V fed at one end": `
supplies: {T1: {part: supply/5v-300w}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 600}}
cables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@start}}`,
		"12 V fed at one end and in the middle, the return cut once": `
supplies: {T1: {part: supply/12v-350w}}
runs: {E1: {tape: tape/12v-rgb-60-per-led, pixels: 600, cuts: [{at: px450, pole: return}]}}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start}
  W2: {part: cable/flex-2x2.5, length: 8 m, from: T1, to: E1@px300}
  W3: {part: cable/link-1x2.5, length: 12 m, from: T1, to: E1@end, pole: return}`,
	} {
		n := layOut(t, readScheme(t, name, []byte(site+text)))
		c, _ := n.CaseNamed("state/full")
		b := f.batch()
		b.add(t, n, solved(t, n, c), 0)
		b.compare(t)
	}
	f.report(t)
}

func TestNetlistSaysWhatItCannotWrite(t *testing.T) {
	n := layOut(t, readFile(t, "testdata/decks/one-end.scheme.yaml"))
	c, _ := n.CaseNamed("state/full")
	s := solved(t, n, c)
	for _, slice := range []int{-1, s.Slices()} {
		if err := n.Netlist(io.Discard, s, slice); err == nil {
			t.Errorf("slice %d of %d was written", slice, s.Slices())
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := n.Netlist(io.Discard, n.Solve(ctx, circuit.NewWorker(), c), 0); err == nil {
		t.Error("an interrupted case was written")
	}
	if err := n.Netlist(failing{}, s, 0); err == nil {
		t.Error("a writer's error was lost")
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }
