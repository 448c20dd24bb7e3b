// Package addressing numbers the pixels of a scheme for a network: universes and slots of ANSI E1.31, what they ask of the line, who receives them, and
// where each pixel is.
//
// Every port begins with a universe of its own, so that one that is exchanged, or whose runs get longer, leaves the others alone. A universe has 512 slots,
// a pixel takes as many as it has channels, two for each of more than eight bits, and stands in one universe as a whole.
package addressing

import (
	"fmt"

	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// What ANSI E1.31 says: slots of a universe, the first and last number of one; and what a packet is made of, in octets: the layers of E1.31 before the slots, UDP and
// IPv4 (RFC 768, 791), and Ethernet with its preamble, check and gap (IEEE 802.3).
const (
	Slots         = 512
	First, Last   = 1, 63999
	layers        = 126
	datagram      = 8 + 20
	frame         = 14 + 4
	between       = 8 + 12
	leastPayload  = 46 // of an Ethernet frame
	bitsOfAnOctet = 8
)

// A Pixel is one of a run, counted from data-in.
type Pixel struct {
	Run   string
	Pixel int
}

// String names a pixel as places are named: E1@px72.
func (p Pixel) String() string { return fmt.Sprintf("%s@px%d", p.Run, p.Pixel) }

// A Universe is one number, with what its slots are.
type Universe struct {
	Number   int
	Port     string
	Slots    int
	From, To Pixel // the first and the last
	Group    string
}

// An Addressed pixel is one with its first slot, from 1, and how many it takes; and where it is in the drawing, in metres, where that has its run.
type Addressed struct {
	Pixel
	Port           string
	Universe, Slot int
	Slots          int
	X, Y           float64
	Drawn          bool
}

// A Receiver is a board that has ports, as the network finds it.
type Receiver struct {
	Board, Host, Address string
	From, To             int // universes
	Pixels               int
}

// A Plan is all of it. What leaves a sender goes to every universe once a frame.
type Plan struct {
	Universes []Universe
	Pixels    []Addressed
	Receivers []Receiver
	Rate      unit.Hertz // frames a second that are asked for
	Asked     bool       // the scheme asks for them; else they are what E1.31 allows of full universes
	Packets   float64    // a second
	Bits      float64    // a second on the wire
}

// most is how often a second a universe of 512 slots may be sent: about as often as on the line that it stands for (ANSI E1.11; from memory, not read).
const most unit.Hertz = 44

// A Gap says why there is no plan.
type Gap struct{ Text, Hint string }

func (g *Gap) Error() string { return g.Text }

// New numbers the pixels of a scheme, from a universe on.
func New(s *scheme.Scheme, first int) (Plan, error) {
	p := Plan{Rate: s.Aims.FrameRate, Asked: s.Aims.FrameRate > 0}
	if !p.Asked {
		p.Rate = most
	}
	if first < First || first > Last {
		return p, &Gap{fmt.Sprintf("%d is no universe", first), fmt.Sprintf("universes are %d to %d (ANSI E1.31)", First, Last)}
	}
	next := first
	for _, lead := range s.Senders() {
		w := writing{plan: &p, scheme: s, port: s.Data[lead].From.String(), next: next}
		for _, run := range s.Chained(s.Data[lead].To.Element) {
			w.run(run)
		}
		w.close()
		next = w.next
		p.receive(s, s.Data[lead].From.Element, w)
	}
	if next-1 > Last {
		return p, &Gap{fmt.Sprintf("these pixels take universes up to %d", next-1), fmt.Sprintf("there are none above %d (ANSI E1.31); begin with a lower one", Last)}
	}
	for _, u := range p.Universes {
		p.Packets += float64(p.Rate)
		p.Bits += float64(p.Rate) * float64(OnTheWire(u.Slots)) * bitsOfAnOctet
	}
	return p, nil
}

// OnTheWire is how many octets a packet of so many slots takes on an Ethernet, with what goes before, after and between.
func OnTheWire(slots int) int { return max(leastPayload, layers+slots+datagram) + frame + between }

// Group is the multicast group of a universe (ANSI E1.31, 9.3.1).
func Group(universe int) string { return fmt.Sprintf("239.255.%d.%d", universe>>8, universe&255) }

// writing is a port whose pixels are being numbered.
type writing struct {
	plan   *Plan
	scheme *scheme.Scheme
	port   string
	next   int // universe
	slots  int // of it that are taken
	from   Pixel
	last   Pixel
	first  int // the first universe of the port, 0 where there is none yet
	pixels int
}

// run numbers the pixels of one run.
func (w *writing) run(id string) {
	run, shape := w.scheme.Runs[id], w.scheme.Drawing[id]
	slots := slotsOf(w.scheme, w.scheme.Tape(id))
	for k := range run.Count {
		if w.slots+slots > Slots {
			w.close()
		}
		at := Pixel{id, k}
		if w.slots == 0 {
			w.from = at
		}
		if w.first == 0 {
			w.first = w.next
		}
		a := Addressed{Pixel: at, Port: w.port, Universe: w.next, Slot: w.slots + 1, Slots: slots}
		if len(shape.Points) > 1 { // the middle of the pixel, the line as long as the run
			a.X, a.Y, a.Drawn = shape.Along((float64(k) + 0.5) / float64(run.Count))
		}
		w.plan.Pixels = append(w.plan.Pixels, a)
		w.slots, w.last, w.pixels = w.slots+slots, at, w.pixels+1
	}
}

// close ends a universe.
func (w *writing) close() {
	if w.slots == 0 {
		return
	}
	w.plan.Universes = append(w.plan.Universes, Universe{w.next, w.port, w.slots, w.from, w.last, Group(w.next)})
	w.next, w.slots = w.next+1, 0
}

// receive adds what a port takes to its board.
func (p *Plan) receive(s *scheme.Scheme, board string, w writing) {
	if w.first == 0 {
		return
	}
	for i := range p.Receivers {
		if r := &p.Receivers[i]; r.Board == board {
			r.To, r.Pixels = w.next-1, r.Pixels+w.pixels
			return
		}
	}
	b := s.Boards[board]
	p.Receivers = append(p.Receivers, Receiver{board, b.Host, string(b.Address), w.first, w.next - 1, w.pixels})
}

// slotsOf is how many slots a pixel of a tape takes: one for each letter of the order on its wire, or each channel where that is not said, two where a
// channel has more than eight bits.
func slotsOf(s *scheme.Scheme, tape *parts.Tape) int {
	protocol, _ := parts.Get[parts.Protocol](s.Library, tape.Protocol)
	slots := max(len(protocol.Channels()), 1)
	if protocol.Order == "" {
		slots = len(scheme.Channels(tape))
	}
	if protocol.Depth > 8 {
		slots *= 2
	}
	return slots
}
