package network

import (
	"slices"
	"strings"

	"farend/circuit"
	"farend/parts"
	"farend/unit"
)

// A FaultKind is a kind of fault.
type FaultKind string

const (
	PolesMeet FaultKind = "poles"    // plus meets return
	ToMetal   FaultKind = "metal"    // plus meets bonded metalwork, which leads to the minus of a supply without resistance
	ToData    FaultKind = "data"     // plus meets the data core at data-in
	Bridged   FaultKind = "bridge"   // plus meets the plus of another voltage
	Reversed  FaultKind = "reversed" // a feed lands on its run the wrong way round
	PoleOpen  FaultKind = "open"     // all returns of a run are open
)

// Bolted is the resistance of a fault that has none of its own: what the kernel calls a short.
const Bolted = short

// A Fault is something wrong at a place: bolted, or over Ohms. To is the other place of a bridge; the place of an open pole is the run. Home is
// the supply to whose minus metalwork leads, where several are on the positive that meets it; the first of them where none is named. The zero
// Fault is none.
type Fault struct {
	Kind FaultKind
	At   string
	To   string
	Home string
	Ohms unit.Ohm
}

// A Corner is the side on which numbers are taken where a fault is judged; without one they are what the kind of the case says. In a
// corner supplies neither pulse nor shut down: they hold the current at their limit, and where least is to flow fold it back.
type Corner string

const (
	Opens   Corner = "opens"   // least current: lowest set point, lower end of the limit, warm cores, rails high
	Through Corner = "through" // most: highest set point, upper end of the limit, cold copper, rails low
)

// Taken is the case with its numbers on one side.
func (c Case) Taken(side Corner) Case {
	c.Corner = side
	return c
}

// Unlimited is the case with supplies that have next to no limit: what copper alone lets flow.
func (c Case) Unlimited() Case {
	c.Free = true
	return c
}

// steadfast reports whether supplies go on at their limit in a case, neither pulsing nor shutting down; and firm whether they hold all
// of it at any voltage. With the cap failed both: copper must bear what the unit with the highest limit gives, which others of the
// same part would cut off.
func (c Case) steadfast() bool { return c.Corner != "" || c.Kind == CapFailed }

func (c Case) firm() bool { return c.Corner == Through || c.Corner == "" && c.Kind == CapFailed }

// Struck is the case with something wrong: fault/poles/E1@px72/dark.
func (c Case) Struck(f Fault) Case {
	at := f.At
	if other := f.To + f.Home; other != "" {
		at += "+" + other
	}
	c.Name = "fault/" + string(f.Kind) + "/" + at + "/" + c.within()
	c.Fault = f
	return c
}

// Past is the case once some things have opened, besides what is out already.
func (c Case) Past(opened ...string) Case {
	all := slices.Concat(split(c.Opened), opened)
	slices.Sort(all)
	c.Opened = strings.Join(slices.Compact(all), ",")
	return c
}

func split(opened string) []string {
	if opened == "" {
		return nil
	}
	return strings.Split(opened, ",")
}

// out is all that is open or off in a case.
func (n *Network) out(c Case) outing {
	all := n.outings[c.Out]
	for _, name := range split(c.Opened) {
		o := n.outings[name]
		all = outing{slices.Concat(all.wires, o.wires), slices.Concat(all.sources, o.sources)}
	}
	if c.Fault.Kind == PoleOpen {
		all.wires = slices.Concat(all.wires, n.returnsOf(c.Fault.At))
	}
	return all
}

// returnsOf are the wires of the return cores of all cables that land on a run.
func (n *Network) returnsOf(run string) []int {
	var wires []int
	for _, c := range n.cables {
		cable := n.Scheme.Cables[c.id]
		if c.cores[1] >= 0 && (cable.From.Element == run || cable.To.Element == run) {
			wires = append(wires, c.cores[1])
		}
	}
	return wires
}

// Returns is how many return cores land on a run.
func (n *Network) Returns(run string) int { return len(n.returnsOf(run)) }

// bridge is what a fault lays across the network; none where there is no such place, or nothing that it would meet.
func (n *Network) bridge(f Fault) circuit.Bridge {
	at, ok := n.place(f.At)
	if !ok {
		return circuit.Bridge{}
	}
	to, ohms := at.minus, f.Ohms
	switch f.Kind {
	case PolesMeet:
	case ToMetal:
		to, ok = n.earth(at.plus, f.Home)
	case ToData:
		var driven unit.Ohm
		to, driven, ok = n.driver(f.At)
		ohms += driven
	case Bridged:
		var other terminal
		other, ok = n.place(f.To)
		to = other.plus
	default:
		ok = false
	}
	if !ok || to == at.plus {
		return circuit.Bridge{}
	}
	return circuit.Bridge{A: at.plus, B: to, G: circuit.Resistor(float64(ohms)).G}
}

// earth is where metalwork leads that a positive meets: the minus terminal of a supply on that positive, the first where none is named.
func (n *Network) earth(plus int, home string) (minus int, ok bool) {
	for _, t := range n.suppliesOn(plus) {
		if home == "" || t.id == home {
			return t.at.minus, true
		}
	}
	return 0, false
}

// suppliesOn are the supplies whose positive a node is joined to by copper.
func (n *Network) suppliesOn(plus int) (on []supplyAt) {
	for _, t := range n.supplies {
		if n.joined.of(t.at.plus) == n.joined.of(n.rail(plus)) {
			on = append(on, t)
		}
	}
	return on
}

// Homes are, in order, the supplies that copper joins to the positive of a place: to whose minus metalwork may lead that meets it.
func (n *Network) Homes(place string) (ids []string) {
	at, ok := n.place(place)
	if !ok {
		return nil
	}
	for _, t := range n.suppliesOn(at.plus) {
		ids = append(ids, t.id)
	}
	return ids
}

// driver is where a positive leads that meets the data core at data-in of a run: the common bar of the board whose port drives it, and
// over how many ohms, of the driver, the resistors in series and the core. It is not ok where no port drives it.
func (n *Network) driver(at string) (bar int, ohms unit.Ohm, ok bool) {
	run, end, _ := strings.Cut(at, "@")
	for _, d := range n.leads {
		lead := n.Scheme.Data[d.id]
		port, driven := n.Scheme.PortPart(lead.From)
		if lead.To.Element != run || end != "start" || !driven {
			continue
		}
		cable, _ := parts.Get[parts.Cable](n.Scheme.Library, lead.Part)
		return d.sender, port.Driver.Is + port.Series.Is + lead.Series + unit.Ohm(float64(cable.R20.Is)*float64(*lead.Length)), true
	}
	return 0, 0, false
}

// Lay reports whether a fault of a kind may be at its place: whether there is something that it would meet, or would open.
func (n *Network) Lay(f Fault) bool {
	if f.Kind == PoleOpen {
		return len(n.returnsOf(f.At)) > 0
	}
	b := n.bridge(f)
	return b.A != b.B
}
