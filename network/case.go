package network

import (
	"encoding/binary"
	"math"
	"slices"

	"farend/circuit"
	"farend/conductor"
	"farend/fuse"
	"farend/parts"
	"farend/pixel"
	"farend/scheme"
	"farend/supply"
	"farend/unit"
)

// A Case is one question: the installation in one condition.
type Case struct {
	Name  string // "state/full"
	Kind  Kind
	State string // of states and peaks
	Out   string // what is out, one of Outages; "" for the sound installation

	Fault  Fault  // what is wrong
	Corner Corner // on which side numbers are taken
	Opened string // what has opened since, by the names of Outages and in order, with commas between
	Free   bool   // supplies give many times their limit, and do not fold back
}

// Kind is the kind of a case.
type Kind string

const (
	State     Kind = "state"      // a lighting state, the pulse-width cycles of the pixels free of each other: the mean
	Peak      Kind = "peak"       // the same with all cycles starting together
	CapFailed Kind = "cap-failed" // every channel full on, set currents and set points high, rails low
	Dark      Kind = "dark"       // energised, nothing lit
)

// States lists the cases of the first tier: every state, its peak where that differs, cap-failed and dark.
func (n *Network) States() []Case {
	var cases []Case
	for _, name := range n.Scheme.StateNames() {
		cases = append(cases, Case{Name: "state/" + name, Kind: State, State: name})
		if len(n.slices(name)) > 1 {
			cases = append(cases, Case{Name: "peak/" + name, Kind: Peak, State: name})
		}
	}
	return append(cases, Case{Name: string(CapFailed), Kind: CapFailed}, Case{Name: string(Dark), Kind: Dark, State: "dark"})
}

// CaseNamed is the case of the first tier, the outage, or the bolted fault with that name; not a feed the wrong way round, which is laid out
// anew (Swapped).
func (n *Network) CaseNamed(name string) (Case, bool) {
	for _, c := range n.States() {
		if c.Name == name {
			return c, true
		}
	}
	if c, ok := n.faultNamed(name); ok {
		return c, true
	}
	return n.outageNamed(name)
}

// drives is the drive of every channel of a run in a case, in the order of scheme.Channels.
func (n *Network) drives(c Case, r runAt) []float64 {
	names := scheme.Channels(r.tape)
	drives := make([]float64, len(names))
	if c.Kind == CapFailed {
		for i := range drives {
			drives[i] = 1
		}
		return drives
	}
	shown, _ := n.Scheme.Drives(c.State, r.id)
	for i, name := range names {
		drives[i] = shown[name]
	}
	return drives
}

// A slice is a part of the pulse-width cycle: its share of it, and the drive from which a channel is on. The whole cycle
// with phases free is one slice, with above 0.
type slice struct {
	share float64
	above float64 // channels with at least this drive are on, the others off
	round bool    // drives count rounded up
	past  float64 // where it begins in the cycle of supplies that pulse: those whose share of time on is no more are off
}

// maxSlices bounds the distinct drives that are told apart; with more, each is rounded up to a sixteenth.
const maxSlices = 16

// slices cuts the cycle of a state at the distinct drives d₁ > d₂ > … of all channels whose phases may coincide: nothing
// is on for 1 − d₁, then d₁ alone, and so on; all are on for the smallest drive. A state in which each is off or full
// on has one slice, and needs no peak.
func (n *Network) slices(state string) []slice {
	var drives []float64
	for _, r := range n.runs {
		if r.tape.Phase == "free" {
			continue
		}
		for _, d := range n.drives(Case{Kind: State, State: state}, r) {
			if d > 0 {
				drives = append(drives, d)
			}
		}
	}
	slices.Sort(drives)
	drives = slices.Compact(drives)
	round := len(drives) > maxSlices
	if round {
		for i, d := range drives {
			drives[i] = roundUp(d)
		}
		drives = slices.Compact(drives)
	}
	if len(drives) == 0 || drives[0] >= 1 {
		return []slice{{share: 1}}
	}
	var cycle []slice
	before := 0.0
	for _, d := range drives { // from the smallest: all on first
		cycle = append(cycle, slice{share: d - before, above: d, round: round})
		before = d
	}
	if before < 1 {
		cycle = append(cycle, slice{share: 1 - before, above: 2, round: round})
	}
	return cycle
}

func roundUp(d float64) float64 { return math.Ceil(d*maxSlices-1e-12) / maxSlices }

// on is what a channel with drive d has in a slice: on or off, or its mean where its phase is free.
func (s slice) on(d float64, phase parts.Phase) float64 {
	if s.above == 0 || phase == "free" {
		return d
	}
	if s.round {
		d = roundUp(d)
	}
	if d > 0 && d >= s.above {
		return 1
	}
	return 0
}

// cycle is the slices of a case: several for a peak, one for everything else.
func (n *Network) cycle(c Case) []slice {
	if c.Kind == Peak {
		return n.slices(c.State)
	}
	return []slice{{share: 1}}
}

// values gives every element its value in one slice of a case. rms is the heating current of every wire where it is
// known from the whole cycle; nil lets copper find its own temperature in this slice.
func (n *Network) values(c Case, s slice, rms []float64) *circuit.Values {
	v := n.Plan.NewValues()
	v.SetBridge(n.bridge(c.Fault))
	n.setWires(v, c, rms)
	for _, t := range n.supplies {
		v.SetSource(t.source, n.source(c, t))
	}
	laws := n.laws(c, s)
	for i, r := range n.runs {
		n.setRun(v, c, r, laws[i])
	}
	return v
}

func (n *Network) setWires(v *circuit.Values, c Case, rms []float64) {
	for i, e := range n.elements {
		v.SetWire(i, n.wire(c, e, rms, i))
	}
	n.open(v, c)
}

// A lawKey is what the law of a run's pixels depends on within one slice of one case.
type lawKey struct {
	tape   string
	drives string
}

// manyPixels is the number of pixels sharing one law from which looking it up pays for making the table.
const manyPixels = 4000

// fewPixels is that number where hundreds of faults are followed from one case, all with its laws.
const fewPixels = 50

// laws gives every run the law of its pixels. Runs of one tape at the same drives share it; a law that many pixels share is
// a table, whose error stays far below 1 nA a pixel.
func (n *Network) laws(c Case, s slice) []circuit.Law {
	pixels := map[lawKey]int{}
	keys := make([]lawKey, len(n.runs))
	loads := map[lawKey]pixel.Load{}
	for i, r := range n.runs {
		list := n.pixelParts(c, s, r)
		keys[i] = keyOf(n.Scheme.Runs[r.id].Tape, list)
		if pixels[keys[i]] == 0 {
			loads[keys[i]] = pixel.NewLoad(list)
		}
		pixels[keys[i]] += r.count
	}
	made := map[lawKey]circuit.Law{}
	laws := make([]circuit.Law, len(n.runs))
	for i, k := range keys {
		if made[k] == nil {
			made[k] = n.law(c, n.runs[i], loads[k], pixels[k])
		}
		laws[i] = made[k]
	}
	return laws
}

// law is the law of so many pixels of a run.
func (n *Network) law(c Case, r runAt, load pixel.Load, pixels int) circuit.Law {
	law, top := circuit.Law(load), n.highest(c)
	if c.Fault.Kind == Reversed {
		knee, ohms := r.tape.Backwards()
		law = pixel.Backwards{Load: load, Knee: knee, Ohms: ohms}
	}
	switch {
	case c.Corner != "" && pixels >= fewPixels: // on the way to a short Newton's steps go below 0 V, too
		top = math.Ceil(top) // the corners share it
		return n.tables.Of(law, -top, top, 2*tableCells)
	case c.Fault.Kind != Reversed && pixels >= manyPixels:
		return n.tables.Of(law, 0, top, tableCells)
	}
	return law
}

// tableCells is the number of cells of a table from 0 V to the highest set point.
const tableCells = 2048

func keyOf(tape string, list []pixel.Part) lawKey {
	drives := make([]byte, 0, 8*len(list))
	for _, p := range list {
		drives = binary.LittleEndian.AppendUint64(drives, math.Float64bits(p.Drive))
	}
	return lawKey{tape, string(drives)}
}

// highest is a voltage that no pixel exceeds: the highest set point with room for the width of its law.
func (n *Network) highest(c Case) float64 {
	top := 1.0
	for _, t := range n.supplies {
		e := n.source(c, t)
		top = max(top, e.E+0.1*e.R*e.Limit)
	}
	return 1.01 * top
}

// fused is the link of an element as it is in a case: at an end of its spread in a corner; nil where it has none.
func (e element) fused(c Case) *fuse.Link {
	switch {
	case e.link == nil || c.Corner == "":
		return e.link
	case c.Corner == Through:
		return &e.links[0]
	}
	return &e.links[1]
}

// wire is an element's value: a law that warms with its own current, or a resistance at a known temperature.
func (n *Network) wire(c Case, e element, rms []float64, i int) circuit.Wire {
	fixed, link := n.Scheme.Site.Conductors.Fixed, e.fused(c)
	switch {
	case e.core != nil && (fixed != nil || c.Corner == Through):
		return circuit.Resistor(float64(e.core.R20) * conductor.Factor(n.copper(c)))
	case link != nil && (fixed != nil || c.Corner == Through):
		return circuit.Resistor(float64(link.Cold))
	case e.core != nil && rms != nil:
		return circuit.Resistor(float64(e.core.Resistance(unit.Ampere(rms[i]))))
	case link != nil && rms != nil:
		return circuit.Resistor(float64(link.Resistance(unit.Ampere(rms[i]))))
	case e.core != nil:
		return circuit.Wire{Law: *e.core}
	case link != nil:
		return circuit.Wire{Law: *link}
	case e.joint.Given:
		return circuit.Resistor(float64(onSide(e.joint, c.railSide())) * conductor.Factor(n.copper(c)))
	}
	return circuit.Resistor(float64(e.ohms) * conductor.Factor(n.copper(c)))
}

// copper is the temperature of copper that has no thermal model: rails, boards, contacts; where most is to flow, of all copper.
func (n *Network) copper(c Case) unit.Celsius {
	if fixed := n.Scheme.Site.Conductors.Fixed; fixed != nil {
		return *fixed
	}
	if c.Corner == Through {
		return min(20, n.Scheme.Coldest())
	}
	return n.Scheme.Ambient()
}

// A side is an end of the spread of a number.
type side int

const (
	lower   side = -1
	typical side = 0
	upper   side = 1
)

func onSide[T unit.Quantity](v parts.Value[T], s side) T {
	switch s {
	case lower:
		return v.Lower()
	case upper:
		return v.Upper()
	}
	return v.Is
}

// railSide is the end of the spread at which a case takes the copper of tapes, and setSide that of set points.
func (c Case) railSide() side {
	switch {
	case c.Corner == Opens:
		return upper
	case c.Corner == Through || c.Kind == CapFailed:
		return lower
	}
	return typical
}

func (c Case) setSide() side { return -c.railSide() }

// source is a supply's value: the lower end of its limit, where least is to flow that of the highest set point, which lowers it; where most is to flow
// the upper, which a higher set point does not lower.
func (n *Network) source(c Case, t supplyAt) circuit.Source {
	at := n.set(c, t)
	limit := at.LimitLow
	switch {
	case c.Corner == Opens:
		limit = n.trimmed(t, upper).LimitLow
	case c.Corner == Through:
		limit, _ = t.part.Most() // for as long as a boost lasts; it is taken to go on
	case c.firm():
		limit = t.part.LimitAt.High.Is
	}
	if c.Free {
		limit *= beyondLimit
	}
	off := slices.Contains(n.out(c).sources, t.source)
	return circuit.Source{E: float64(at.Volts), R: float64(at.SourceResistance), Limit: float64(limit), Off: off}
}

// beyondLimit is how many times its limit a supply gives that has none.
const beyondLimit = 20

// set is the supply at the set point it has in a case: as trimmed, at an end of its spread where the cap has failed or a corner asks so.
func (n *Network) set(c Case, t supplyAt) supply.Supply { return n.trimmed(t, c.setSide()) }

// trimmed is the supply as trimmed, at an end of the spread of its set point.
func (n *Network) trimmed(t supplyAt, s side) supply.Supply {
	p := t.part
	volts := n.Scheme.SetPoint(t.id)
	switch s {
	case upper:
		volts *= unit.Volt(1 + p.Volts.Spread.High)
	case lower:
		volts *= unit.Volt(1 + p.Volts.Spread.Low)
	}
	rating := supply.Supply{
		Volts: p.Volts.Is, Amps: p.Amps.Is, Watts: p.Watts.Is, SourceResistance: p.SourceResistance.Is,
		LimitLow: p.LimitAt.Low.Is, LimitHigh: p.LimitAt.High.Is,
		PulseOn: p.PulseOn.Is, PulseOff: p.PulseOff.Is, PulseBelow: p.PulseBelow.Is,
	}
	if p.Steady() == parts.FoldBack {
		rating.FoldTo = p.Folded().Is
	}
	return rating.At(volts)
}

func (n *Network) setRun(v *circuit.Values, c Case, r runAt, law circuit.Law) {
	pitch := 1 / float64(r.tape.Pixels.Is)
	factor := conductor.Factor(n.copper(c))
	at := c.railSide()
	plus, minus, joint := float64(onSide(r.tape.Rail, at)), float64(onSide(r.tape.RailReturn.Or(r.tape.Rail), at)), onSide(r.tape.Joint, at)
	var joints []float64
	if !unequal(r.tape) {
		joints = JointPlaces(n.Scheme.Runs[r.id], r.tape)
	}
	for _, piece := range r.stretches {
		v.SetRails(piece.chain, circuit.Rails{
			Plus: plus * pitch * factor, Return: minus * pitch * factor, Law: law,
			Joints: jointsIn(joints, piece, 2*float64(joint)*factor),
		})
	}
}

// pixelParts is what one pixel is made of: its idle current, then its channels in order.
func (n *Network) pixelParts(c Case, s slice, r runAt) []pixel.Part {
	high := c.Kind == CapFailed
	list := []pixel.Part{{Channel: Channel(r.tape.Idle, high), Drive: 1}}
	drives := n.drives(c, r)
	for i, name := range scheme.Channels(r.tape) {
		list = append(list, pixel.Part{Channel: Channel(r.tape.Channels[name], high), Drive: s.on(drives[i], r.tape.Phase)})
	}
	return list
}

// Channel is a catalogue channel as a law, typical or at the upper end of its spread.
func Channel(c parts.Channel, high bool) pixel.Channel {
	set, ohms := c.Set.Is, c.String.Is
	if high {
		set, ohms = c.Set.Upper(), c.String.Lower()
	}
	return pixel.Channel{
		Set: set, Lo: c.Lo.Is, Hi: c.Hi.Is, Soft: c.Soft.Is, String: ohms,
		Candela: c.Candela.Is, X: c.X, Y: c.Y,
	}
}
