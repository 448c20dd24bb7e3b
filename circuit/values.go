package circuit

import (
	"cmp"
	"slices"
	"sync/atomic"
)

// Values are the numbers of a network: what each wire, source and chain is worth. Open and short are values, so
// one plan serves every switching state. A fork shares what it does not change.
type Values struct {
	wires   []Wire
	sources []Source
	chains  []Rails
	bridge  Bridge
	owned   [3]bool     // which of the slices may be written in place
	shared  atomic.Bool // a fork has them too: none may
}

// A Wire is a conductance in siemens, or a law where Law is not nil. The zero Wire is open.
type Wire struct {
	G   float64
	Law Law
}

// Resistor is a wire of so many ohms; 0 Ω and less is a short.
func Resistor(ohms float64) Wire {
	if !(ohms > 1/Short) {
		return Wire{G: Short}
	}
	return Wire{G: 1 / ohms}
}

func (w Wire) open() bool { return w.Law == nil && w.G <= 0 }

// A Source is a set voltage E behind a resistance R, that delivers at most Limit and takes nothing back; see
// Source.current for the law. An Off source is open.
type Source struct {
	E, R, Limit float64
	Off         bool
}

// Rails are the values of a chain: the resistance of each rail per pitch (both above zero), the law of its loads, and
// extra resistance at joints. Joint resistances keep the ratio of the rails: each adds Loop ohms to the two rails
// together. A chain without a law has no loads.
type Rails struct {
	Plus, Return float64
	Law          Law
	Joints       []Joint
}

// A Joint is extra resistance in one gap: gap g lies before load g; gap Loads lies after the last.
type Joint struct {
	Gap  int
	Loop float64
}

// NewValues gives values of which every wire is open, every source off and every chain without loads.
func (p *Plan) NewValues() *Values {
	v := &Values{
		wires:   make([]Wire, len(p.shape.Wires)),
		sources: make([]Source, len(p.shape.Sources)),
		chains:  make([]Rails, len(p.shape.Chains)),
		owned:   [3]bool{true, true, true},
	}
	for i := range v.sources {
		v.sources[i].Off = true
	}
	for i := range v.chains {
		v.chains[i] = Rails{Plus: 1 / Short, Return: 1 / Short}
	}
	return v
}

// Fork returns values that may be changed without changing v. It costs nothing until something is set. From then on v
// must no longer be changed, as after a solve, whose point keeps it: fork it too. Many goroutines may fork and solve it at once.
func (v *Values) Fork() *Values {
	v.shared.Store(true)
	return &Values{wires: v.wires, sources: v.sources, chains: v.chains, bridge: v.bridge}
}

func own[T any](v *Values, slice *[]T, k int) {
	if v.shared.Swap(false) {
		v.owned = [3]bool{}
	}
	if !v.owned[k] {
		*slice, v.owned[k] = append([]T(nil), *slice...), true
	}
}

// SetWire sets a wire.
func (v *Values) SetWire(i int, w Wire) {
	own(v, &v.wires, 0)
	v.wires[i] = w
}

// SetSource sets a source.
func (v *Values) SetSource(i int, s Source) {
	own(v, &v.sources, 1)
	v.sources[i] = s
}

// SetRails sets a chain.
func (v *Values) SetRails(i int, r Rails) {
	if !(r.Plus > 0 && r.Return > 0) {
		panic("circuit: a rail must have resistance")
	}
	byGap := func(a, b Joint) int { return cmp.Compare(a.Gap, b.Gap) }
	if !slices.IsSortedFunc(r.Joints, byGap) {
		r.Joints = slices.Clone(r.Joints)
		slices.SortStableFunc(r.Joints, byGap)
	}
	own(v, &v.chains, 2)
	v.chains[i] = r
}

// SetBridge sets the bridge; the zero Bridge takes it away.
func (v *Values) SetBridge(b Bridge) { v.bridge = b }

// Wire, Source, Rails and Bridge read what was set.
func (v *Values) Wire(i int) Wire     { return v.wires[i] }
func (v *Values) Source(i int) Source { return v.sources[i] }
func (v *Values) Rails(i int) Rails   { return v.chains[i] }
func (v *Values) Bridge() Bridge      { return v.bridge }
