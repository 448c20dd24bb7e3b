// Package network is the bridge between a scheme and a circuit: it turns supplies, boards, cables, leads and runs into
// nodes, wires, sources and chains, gives them values for every case, and reads a solved point back as currents and
// voltages of the things the user named. Only this package knows both vocabularies.
//
// What becomes copper: both poles of every inlet, way, cable and run; the ground core of every data lead; fuses, holders
// and contacts. Every core is at its own temperature (PHYSICS of package conductor), rails, boards and contacts are at
// the ambient of the site. A data core carries no direct current and is left out.
//
// Signs: a cable's plus current is positive from its from end to its to end, its return current the other way, so that
// a feed that is listed from the board to the run shows both positive.
//
// Supplies at their limit hold the current, fold back, pulse or shut down, as their parts say (behaviour.go): the steady
// state, and for those that fold back also where they end from 0 V.
//
// What it cannot do: constant-power converters inside pixels; how a supply gets to its steady state, and what capacitors
// add to that; how thin copper follows pulses of seconds (it is at the rms of the whole cycle); current back into a supply.
package network

import (
	"slices"

	"farend/circuit"
	"farend/conductor"
	"farend/fuse"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Network is a scheme laid out as a circuit. It is immutable.
type Network struct {
	Scheme *scheme.Scheme
	Plan   *circuit.Plan

	elements  []element // per wire of the plan
	nodeNames []string
	supplies  []supplyAt
	boards    []boardAt
	ways      []wayAt
	cables    []cableAt
	leads     []leadAt
	runs      []runAt

	joined     grouping // nodes by the copper that joins them
	joinedBare grouping // the same without the ground cores of data leads
	wired      grouping // by cables and boards alone: neither tape nor data leads

	outages []string          // what may go out, in order
	outings map[string]outing // and what opens then

	runAt    map[string]int      // where a run stands in runs
	landings map[string][]string // the cables that end at a place

	places map[string]terminal // by reference, as scheme.Ref writes it
	hops   [][]hop             // where copper leads from each node
	wires  [][]hop             // the same by cables, boards and junctions alone

	tables *circuit.Tables // of the laws of pixels, for itself and what it is Swapped to

	sections  *Sections // the pieces of copper between fuses, around no place
	sectionOf []int     // by node
}

// An element is what one wire of the plan stands for. Exactly one of core and link is set, or ohms is above zero.
type element struct {
	name  string
	ohms  unit.Ohm              // contact or board copper at 20 °C
	joint parts.Value[unit.Ohm] // the same with its spread, of joints of tape
	core  *conductor.Core
	link  *fuse.Link
	links *[2]fuse.Link // the same at the lower and the upper end of its spread
}

// A terminal is a pair of nodes.
type terminal struct{ plus, minus int }

type supplyAt struct {
	id     string
	at     terminal
	source int
	part   *parts.Supply
}

type boardAt struct {
	id    string
	inlet [2]int // wires of the inlet, plus and return, from the inlet to the bars
	part  *parts.Board
}

type wayAt struct {
	name string // "A1.2"
	at   terminal
	path []int // wires from the bar to the terminal
}

type cableAt struct {
	id          string
	from, to    terminal
	plus, minus []int  // wires in series from from to to; empty where the pole is not there
	cores       [2]int // wire of the plus and of the return core, −1 where there is none
}

type leadAt struct {
	id           string
	ground       []int // wires from the sender's ground to the run's return
	power        []int // wires of the spare cores that carry the supply; none where they do not
	sender, rail int   // nodes
}

type runAt struct {
	id        string
	tape      *parts.Tape
	count     int
	stretches []stretch
}

// A stretch is the piece of a run between two neighbouring stations: chain of the plan, first pixel, and whether one supply is joined
// to both its rails by copper.
type stretch struct {
	chain, first, count int
	fed                 bool
}

// New lays a scheme out. Parts that are not chosen yet leave a gap where they would be.
func New(s *scheme.Scheme) (*Network, error) { return lay(s, "", new(circuit.Tables)) }

// Swaps reports whether a cable may land the wrong way round: on a run, with both poles.
func (n *Network) Swaps(cable string) bool {
	c, is := n.Scheme.Cables[cable]
	return is && c.Pole == "" && (c.From.Kind == scheme.StationRef || c.To.Kind == scheme.StationRef)
}

// Swapped is the network with one cable landed on its run the wrong way round: its plus on the return rail. It is ok where the cable
// lands on a run with both poles.
func (n *Network) Swapped(cable string) (swapped *Network, ok bool, err error) {
	if !n.Swaps(cable) {
		return nil, false, nil
	}
	swapped, err = lay(n.Scheme, cable, n.tables)
	return swapped, err == nil, err
}

func lay(s *scheme.Scheme, swapped string, tables *circuit.Tables) (*Network, error) {
	b := &builder{
		n:         &Network{Scheme: s, tables: tables},
		terminals: map[string]terminal{},
		bars:      map[string]terminal{},
		swapped:   swapped,
	}
	b.addSupplies()
	b.addBoards()
	b.addJunctions()
	b.addRuns()
	b.addCables()
	b.addLeads()
	plan, err := circuit.NewPlan(b.shape)
	if err != nil {
		return nil, err
	}
	b.n.Plan = plan
	b.n.joined, b.n.joinedBare, b.n.wired = b.n.grouped(true), b.n.grouped(false), b.n.withoutTape()
	b.n.index()
	b.n.places = b.terminals
	b.n.layHops()
	b.n.laySections()
	b.n.listOutages()
	return b.n, nil
}

// index notes what is asked for by name again and again.
func (n *Network) index() {
	n.runAt = make(map[string]int, len(n.runs))
	for i, r := range n.runs {
		n.runAt[r.id] = i
		for k := range r.stretches {
			r.stretches[k].fed = n.feed(r.stretches[k]).Closed()
		}
	}
	n.landings = make(map[string][]string, 2*len(n.Scheme.Cables))
	for _, id := range scheme.IDs(n.Scheme.Cables) {
		c := n.Scheme.Cables[id]
		from, to := c.From.String(), c.To.String()
		n.landings[from] = append(n.landings[from], id)
		if to != from {
			n.landings[to] = append(n.landings[to], id)
		}
	}
}

// A builder gathers the shape of a network. Everything is added in the order of identifiers, so that the order of the
// file changes nothing.
type builder struct {
	n         *Network
	shape     circuit.Shape
	terminals map[string]terminal // by reference, as scheme.Ref writes it
	bars      map[string]terminal // of boards
	swapped   string              // the cable that lands on its run the wrong way round
}

func (b *builder) node(name string) int {
	b.n.nodeNames = append(b.n.nodeNames, name)
	b.shape.Nodes++
	return b.shape.Nodes - 1
}

func (b *builder) pair(name string) terminal {
	return terminal{b.node(name + " plus"), b.node(name + " return")}
}

// terminal is the pair of nodes that a reference names, made when it is first asked for.
func (b *builder) terminal(name string) terminal {
	t, known := b.terminals[name]
	if !known {
		t = b.pair(name)
		b.terminals[name] = t
	}
	return t
}

// landing is the pair of nodes that the end of a cable meets.
func (b *builder) landing(ref scheme.Ref) terminal {
	switch ref.Kind {
	case scheme.InletRef:
		return b.terminal(ref.Element + ".in")
	case scheme.WayRef:
		return b.terminal(ref.Element + "." + ref.Socket)
	case scheme.StationRef:
		name := stationName(ref.Element, ref.Station.Mark, b.n.Scheme.Runs[ref.Element].Count)
		if ref.Station.Before {
			name += "-"
		}
		return b.terminal(name)
	}
	return b.terminal(ref.Element)
}

func (b *builder) wire(from, to int, e element) int {
	b.shape.Wires = append(b.shape.Wires, circuit.Pair{A: from, B: to})
	b.n.elements = append(b.n.elements, e)
	return len(b.shape.Wires) - 1
}

// series joins two nodes by elements one after the other and returns their wires. Elements without resistance are left
// out; if nothing is left the nodes are joined by a short.
func (b *builder) series(from, to int, elements ...element) []int {
	elements = slices.DeleteFunc(elements, func(e element) bool { return e.core == nil && e.link == nil && e.ohms <= 0 })
	if len(elements) == 0 {
		elements = []element{{name: b.n.nodeNames[from] + " joined to " + b.n.nodeNames[to], ohms: 1 / circuit.Short}}
	}
	var wires []int
	for i, e := range elements {
		next := to
		if i+1 < len(elements) {
			next = b.node("after " + e.name)
		}
		wires = append(wires, b.wire(from, next, e))
		from = next
	}
	return wires
}

func (b *builder) addSupplies() {
	s := b.n.Scheme
	for _, id := range scheme.IDs(s.Supplies) {
		part, ok := parts.Get[parts.Supply](s.Library, s.Supplies[id].Part)
		if !ok {
			continue
		}
		at := b.terminal(id)
		b.n.supplies = append(b.n.supplies, supplyAt{id, at, len(b.shape.Sources), part})
		b.shape.Sources = append(b.shape.Sources, circuit.Pair{A: at.plus, B: at.minus})
	}
}

func (b *builder) addBoards() {
	s := b.n.Scheme
	for _, id := range scheme.IDs(s.Boards) {
		part, ok := s.BoardPart(id)
		if !ok {
			continue
		}
		inlet, bars := b.terminal(id+".in"), b.pair(id+" bar")
		b.bars[id] = bars
		path := element{ohms: part.Inlet.Resistance.Is}
		path.name = id + ".in.plus"
		plus := b.series(inlet.plus, bars.plus, path)
		path.name = id + ".in.return"
		minus := b.series(inlet.minus, bars.minus, path)
		b.n.boards = append(b.n.boards, boardAt{id, [2]int{plus[0], minus[0]}, part})
		for _, way := range scheme.IDs(part.Ways) {
			b.addWay(id+"."+way, part.Ways[way], bars)
		}
	}
}

// addWay adds a way: its positive path and its fuse from the bar to the terminal. The return terminal is on the bar. A
// way without a fuse is a bridged holder.
func (b *builder) addWay(name string, way parts.Way, bars terminal) {
	at := terminal{b.node(name + " plus"), bars.minus}
	b.terminals[name] = at
	elements := []element{{name: name + ".plus", ohms: way.Resistance.Is}}
	elements = append(elements, b.link(name+".fuse", b.n.Scheme.Fuses[name])...)
	b.n.ways = append(b.n.ways, wayAt{name, at, b.series(bars.plus, at.plus, elements...)})
}

// short is the least resistance of a core or link: what the kernel calls a short, some millimetres of wire.
const short = unit.Ohm(1 / circuit.Short)

// link is a fuse by the name of its part; none where that is not there.
func (b *builder) link(name, part string) []element {
	f, ok := parts.Get[parts.Fuse](b.n.Scheme.Library, part)
	if !ok {
		return nil
	}
	hot := f.ResistanceHot.Or(f.Resistance)
	at := func(side side) fuse.Link {
		return fuse.Link{Rating: f.Rating.Is, Cold: max(onSide(f.Resistance, side), short), Hot: max(onSide(hot, side), short)}
	}
	is := at(typical)
	return []element{{name: name, link: &is, links: &[2]fuse.Link{at(lower), at(upper)}}}
}

func (b *builder) addJunctions() {
	for _, id := range scheme.IDs(b.n.Scheme.Junctions) {
		b.terminal(id)
	}
}

func (b *builder) addCables() {
	s := b.n.Scheme
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Library, c.Part)
		if !ok || c.Length == nil {
			continue
		}
		at := cableAt{id: id, from: b.landing(c.From), to: b.landing(c.To), cores: [2]int{-1, -1}}
		if id == b.swapped {
			at.swap(c)
		}
		core := b.core(c, part)
		if c.Pole.Has(scheme.Plus) {
			at.plus = b.series(at.from.plus, at.to.plus, b.pole(id+".plus", id, c, core)...)
			at.cores[0] = b.coreOf(at.plus)
		}
		if c.Pole.Has(scheme.Return) {
			bare := c
			bare.Fuse = ""
			at.minus = b.series(at.from.minus, at.to.minus, b.pole(id+".return", id, bare, core)...)
			at.cores[1] = b.coreOf(at.minus)
		}
		b.n.cables = append(b.n.cables, at)
	}
}

// swap lands a cable on its run the wrong way round; on the first of two.
func (at *cableAt) swap(c scheme.Cable) {
	end := &at.to
	if c.To.Kind != scheme.StationRef {
		end = &at.from
	}
	end.plus, end.minus = end.minus, end.plus
}

// pole lists what one pole of a cable is made of: contacts, fuse, core, fuse, contacts.
func (b *builder) pole(name, id string, c scheme.Cable, core *conductor.Core) []element {
	list := []element{b.contact(name+" contact", c.From), b.connector(name+" contact at from", c.Ends.From)}
	wire, fused := element{name: name, core: core}, b.link(id+".fuse", c.Fuse)
	if c.FuseAt == "to" {
		list = append(append(list, wire), fused...)
	} else {
		list = append(append(list, fused...), wire)
	}
	return append(list, b.connector(name+" contact at to", c.Ends.To), b.contact(name+" contact", c.To))
}

// connector is the resistance of the connector at an end of a cable.
func (b *builder) connector(name, part string) element {
	connector, ok := parts.Get[parts.Connector](b.n.Scheme.Library, part)
	if !ok {
		return element{}
	}
	return element{name: name, ohms: connector.Resistance.Is}
}

// contact is the resistance of landing on a junction.
func (b *builder) contact(name string, at scheme.Ref) element {
	if at.Kind != scheme.JunctionRef {
		return element{}
	}
	part, ok := parts.Get[parts.Junction](b.n.Scheme.Library, b.n.Scheme.Junctions[at.Element].Part)
	if !ok {
		return element{}
	}
	return element{name: name + " " + at.Element, ohms: part.Resistance.Is}
}

func (b *builder) coreOf(wires []int) int {
	for _, w := range wires {
		if b.n.elements[w].core != nil {
			return w
		}
	}
	return -1
}

// core is one pole of a cable: cores in parallel share its current.
func (b *builder) core(c scheme.Cable, part *parts.Cable) *conductor.Core {
	ambient, method, bundle, perPole := c.Env(b.n.Scheme)
	iz := conductor.Ampacity(Ampacity(part, method).Is, part.Insulation.Is, ambient, bundle)
	return &conductor.Core{
		R20:     max(unit.Ohm(float64(part.R20.Is)*float64(*c.Length)/float64(perPole)), short),
		Iz:      iz * unit.Ampere(perPole),
		Ambient: max(ambient, conductor.Mild), // as Iz is
		Limit:   part.Insulation.Is,
	}
}

// Ampacity is a cable's rating at 30 °C for one circuit, by method.
func Ampacity(part *parts.Cable, method scheme.Method) parts.Value[unit.Ampere] {
	switch method {
	case scheme.Surface:
		return part.Iz.Surface
	case scheme.Free:
		return part.Iz.Free
	}
	return part.Iz.Conduit
}

// addLeads adds the ground cores of data leads: from the board's common bar, through the port's ground contact, to the run's
// return at data-in; or from the sending run's return at data-out.
func (b *builder) addLeads() {
	s := b.n.Scheme
	for _, id := range scheme.IDs(s.Data) {
		d := s.Data[id]
		part, ok := parts.Get[parts.Cable](s.Library, d.Part)
		if !ok || d.Length == nil {
			continue
		}
		like := scheme.Cable{Part: d.Part, Length: d.Length}
		core := b.core(like, part)
		from, to := b.sender(d.From), b.terminal(d.To.Element+"@start")
		at := leadAt{id: id, sender: from.minus, rail: to.minus}
		if d.Ground != scheme.OpenGround {
			at.ground = b.series(from.minus, to.minus, append(b.portGround(d.From), element{name: id + ".ground", core: core})...)
		}
		if d.Power {
			at.power = b.series(from.plus, to.plus, element{name: id + ".power", core: core})
		}
		b.n.leads = append(b.n.leads, at)
	}
}

func (b *builder) sender(ref scheme.Ref) terminal {
	if ref.Kind != scheme.PortRef {
		return b.terminal(ref.Element + "@end")
	}
	bars, ok := b.bars[ref.Element]
	if !ok {
		return b.terminal(ref.Element + " bar")
	}
	return bars
}

func (b *builder) portGround(ref scheme.Ref) []element {
	port, ok := b.n.Scheme.PortPart(ref)
	if !ok {
		return nil
	}
	list := []element{{name: ref.String() + ".ground", ohms: port.Ground.Is}}
	return append(list, b.link(ref.String()+".ground fuse", port.GroundFuse)...)
}
