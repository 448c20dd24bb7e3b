package commission

import (
	"fmt"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A corner is the installation with every number that varies at one end of its spread. Each is −1, the lower end, or +1. Of voltages the lowest is
// where sets are low and copper and currents high, the highest in the opposite corner; of currents the highest is where all lets
// most flow. In a tree, which each piece between cuts is, what is not monotone in these is within microvolts of it; where runs share a long trunk, what
// one of them draws by itself moves the volts of another by some tenths of a per cent, beside the meter's one. Where several feeds share a piece
// what each carries is taken for itself besides (sharing), and supplies that share copper are set apart, one against all others: what each gives hangs
// on little else.
type corner struct {
	set, copper, current float64
	own                  string // the supply whose set point alone lies at that end, all others at the opposite; "" where all lie at it
}

var cornersOf = []corner{{set: -1, copper: +1, current: +1}, {set: +1, copper: -1, current: -1}, {set: +1, copper: -1, current: +1}, {set: -1, copper: +1, current: -1}}

// lengthSpread is how far a cable is from the length in the scheme (common practice, no source).
const lengthSpread = 0.03

// trimSpread is how near a set point is trimmed to what the sheet says (common practice, no source); what the meter errs by adds to it.
const trimSpread = 0.005

// What the bands rest on, as the sheet says it.
const (
	restsVolts = "set points (of supplies that share copper each against the others), rails, copper at the coldest to the hottest air, lengths ±3 % (common practice, no source), cores from that of their section in copper (IEC 60028) to what IEC 60228 allows, contacts (from next to nothing to twice what is stated where they have no spread: common practice, no source), terminals of up to 0.67 mΩ, 0.91 mΩ at 1.5 mm², 2.67 mΩ at the thinnest (IEC 60947-7-1), fuses and their holders, what pixels draw, each at both ends of its spread; the volts of the meter"
	restsAmps  = "what pixels draw at both ends of its spread, with copper and set points likewise (of supplies that share copper each against the others); the clamp"
	restsIdle  = "what dark pixels draw at both ends of its spread, with copper and set points likewise; amperes through the meter"
	restsLoop  = "resistance of the core, from that of its section in copper (IEC 60028) to what IEC 60228 allows, at the coldest to the hottest air; length ±3 %, and 0.3 m less where a fuse holder is in it (common practice, no source); contacts at both ends of their spread, from next to nothing to twice what is stated where it has none (common practice, no source), terminals up to 0.67 mΩ, 0.91 mΩ at 1.5 mm², 2.67 mΩ at the thinnest (IEC 60947-7-1); 1 A and the volts of the meter"
	restsRail  = "rail and joints of the tape at both ends of their spread, at the coldest to the hottest air; 1 A and the volts of the meter"
	restsHeat  = "hottest core in the air of the site, by its solved current; a probe outside reads less"
)

// vary sketches the scheme with all that its bands, and bad joints, hang on.
func (m *maker) vary() error {
	base, err := m.st.Sketches(m.ctx, []*scheme.Scheme{corner{}.of(m.s)}, m.looked)
	if err != nil {
		return err
	}
	m.base = base[0]
	for _, part := range []func() error{m.turnCorners, m.share, m.spoil} {
		if err := part(); err != nil {
			return err
		}
	}
	return nil
}

// looked reports whether a case is one that is looked at.
func (m *maker) looked(_ int, c network.Case) bool { return slices.Contains(m.cases, c.Name) }

// turns are the corners in which the scheme is sketched.
func (m *maker) turns() []corner {
	corners := slices.Clone(cornersOf)
	for _, id := range scheme.IDs(m.s.Supplies) {
		if len(m.n.SuppliesOn(id)) > 1 {
			corners = append(corners, corner{set: +1, copper: -1, current: +1, own: id}, corner{set: -1, copper: -1, current: -1, own: id})
		}
	}
	return corners
}

// turnCorners sketches the scheme in its corners.
func (m *maker) turnCorners() (err error) {
	var schemes []*scheme.Scheme
	for _, c := range m.turns() {
		schemes = append(schemes, c.of(m.s))
	}
	m.corners, err = m.base.Sketches(m.ctx, schemes, m.looked)
	return err
}

// of is a scheme in a corner; in the middle, where all three are 0, as it stands. Names stay what they are, for nothing that is there goes away.
func (c corner) of(s *scheme.Scheme) *scheme.Scheme {
	other := *s
	other.Library = s.Library.With(c.parts(s))
	other.Supplies = map[string]scheme.Supply{}
	for id, t := range s.Supplies {
		volts := s.SetPoint(id) * unit.Volt(1+c.trim(s, id))
		if t.Volts = nil; volts > 0 {
			t.Volts = &volts
		}
		other.Supplies[id] = t
	}
	other.Cables = map[string]scheme.Cable{}
	for id, cable := range s.Cables {
		if c.copper < 0 {
			cable.Ambient = nil
		}
		other.Cables[id] = c.laid(s, cable)
	}
	c.air(&other)
	return &other
}

// laid is a cable in a corner: its length, and where copper resists most with terminals at its ends of which nobody says more.
func (c corner) laid(s *scheme.Scheme, cable scheme.Cable) scheme.Cable {
	if cable.Length != nil {
		length := *cable.Length * unit.Metre(1+c.copper*lengthSpread)
		cable.Length = &length
	}
	if c.copper > 0 {
		cable.Ends = landedOn(s, cable)
	}
	return cable
}

// terminals are, by the section of the core, the currents with a tenth of which IEC 60947-7-1 tests feed-through terminals, the thinnest first: that of 2.5 mm²
// as makers' catalogues quote it, the others from memory. For thicker cores the figure of 2.5 mm² stands, which is more than theirs.
var terminals = []struct {
	from unit.SquareMetre
	amps float64
}{{0, 6}, {0.75e-6, 9}, {1e-6, 13.5}, {1.5e-6, 17.5}, {2.5e-6, 24}}

// terminalOf is, among terminals, the one for a cable; the thinnest where its section is not known.
func terminalOf(s *scheme.Scheme, c scheme.Cable) (k int) {
	part, ok := parts.Get[parts.Cable](s.Library, c.Part)
	for i, t := range terminals {
		if ok && float64(part.Area.Is) >= float64(t.from)*(1-1e-9) {
			k = i
		}
	}
	return k
}

// terminalOhms is what an end of a core has at most that lands on a screw, a spring or a pad of which nobody says more: half of what the standard lets a
// terminal lose, 3.2 mV at a tenth of its current for its two clamping points.
func terminalOhms(k int) float64 { return 3.2e-3 / (terminals[k].amps / 10) / 2 }

// terminalPart is the name of the part that stands for it in a corner; the catalogue has no such name.
func terminalPart(k int) string { return fmt.Sprintf("connector/any-terminal-%d", k) }

func anyTerminal(k int) *parts.Connector {
	terminal := parts.Connector{Title: "any terminal"}
	terminal.Resistance = parts.Value[unit.Ohm]{Is: unit.Ohm(terminalOhms(k)), Given: true}
	return &terminal
}

// landedOn are the connectors at the ends of a cable, with terminals where the scheme names none.
func landedOn(s *scheme.Scheme, c scheme.Cable) scheme.Ends {
	ends, terminal := c.Ends, terminalPart(terminalOf(s, c))
	if ends.From == "" && c.From.Kind != scheme.JunctionRef {
		ends.From = terminal
	}
	if ends.To == "" && c.To.Kind != scheme.JunctionRef {
		ends.To = terminal
	}
	return ends
}

// air is that of a corner: the coldest where copper is to resist least. A scheme that holds all copper at one temperature has it there in the corners
// only where the air is no colder, or no hotter.
func (c corner) air(s *scheme.Scheme) {
	at := s.Ambient()
	if c.copper < 0 {
		at = s.Coldest()
		s.Site.Ambient, s.Site.Coldest = &at, &at
	}
	if fixed := s.Site.Conductors.Fixed; fixed != nil && c.copper != 0 {
		held := max(*fixed, at)
		if c.copper < 0 {
			held = min(*fixed, at)
		}
		s.Site.Conductors.Fixed = &held
	}
}

// trim is by what share the set point of a supply is off: where it can be trimmed, by what is left once its volts were set, in the stage Supplies alone; else by its spread.
func (c corner) trim(s *scheme.Scheme, id string) float64 {
	part, ok := parts.Get[parts.Supply](s.Library, s.Supplies[id].Part)
	if c.own != "" && c.own != id {
		c.set = -c.set
	}
	switch set := float64(s.SetPoint(id)); {
	case !ok || set <= 0:
		return 0
	case trimmable(part):
		return c.set * (trimSpread + direct.error(set)/set)
	case c.set < 0:
		return part.Volts.Spread.Low
	case c.set > 0:
		return part.Volts.Spread.High
	}
	return 0
}

// trimmable reports whether the set point of a supply can be trimmed.
func trimmable(p *parts.Supply) bool {
	return p.VoltsMin.Given && p.VoltsMin.Is < p.Volts.Is || p.VoltsMax.Given && p.VoltsMax.Is > p.Volts.Is
}

// end is a value at an end of its spread.
func end[T unit.Quantity](v parts.Value[T], side float64) parts.Value[T] {
	switch {
	case side < 0:
		v.Is = v.Lower()
	case side > 0:
		v.Is = v.Upper()
	}
	return v
}

// parts are all parts of a scheme in a corner.
func (c corner) parts(s *scheme.Scheme) parts.Set {
	set := parts.Set{}
	if c.copper > 0 {
		for k := range terminals {
			set[terminalPart(k)] = anyTerminal(k)
		}
	}
	for _, name := range used(s) {
		part, _ := s.Library.Find(name)
		switch p := part.(type) {
		case *parts.Tape:
			set[name] = c.tape(*p)
		case *parts.Fuse:
			set[name] = c.fuse(*p, s.Library)
		case *parts.Board:
			set[name] = c.board(*p)
		case *parts.Cable:
			set[name] = c.cable(*p)
		case *parts.Connector:
			set[name] = c.connector(*p)
		case *parts.Junction:
			q := *p
			q.Resistance = end(touching(p.Resistance), c.copper)
			set[name] = &q
		case *parts.Supply:
			q := *p
			q.SourceResistance = end(p.SourceResistance, c.copper)
			set[name] = &q
		}
	}
	return set
}

func (c corner) cable(p parts.Cable) *parts.Cable {
	p.R20 = end(coreR20(&p), c.copper)
	return &p
}

func (c corner) connector(p parts.Connector) *parts.Connector {
	p.Resistance = end(touching(p.Resistance), c.copper)
	return &p
}

// fuse is a fuse in a corner, with the contacts of its holder: where copper resists most at their most besides, though the resistance of an inline fuse may
// have them once already, and where it resists least without what they may have less: a band is never too narrow.
func (c corner) fuse(f parts.Fuse, library *parts.Library) *parts.Fuse {
	f.Resistance, f.ResistanceHot = end(f.Resistance, c.copper), end(f.ResistanceHot, c.copper)
	seat, ok := parts.Get[parts.Connector](library, f.Seat)
	if !ok || c.copper == 0 {
		return &f
	}
	held := touching(seat.Resistance).Upper()
	if c.copper < 0 {
		held = touching(seat.Resistance).Lower() - seat.Resistance.Is
	}
	for _, ohms := range []*parts.Value[unit.Ohm]{&f.Resistance, &f.ResistanceHot} {
		if ohms.Given {
			ohms.Is = max(ohms.Is+held, ohms.Is/10)
		}
	}
	return &f
}

// touching is the resistance of a contact with a spread: where nobody says how far it varies a good one has next to nothing, and one that passes twice what
// is said (common practice, no source). It is never nothing, for the network has no contact where there is no resistance.
func touching(v parts.Value[unit.Ohm]) parts.Value[unit.Ohm] {
	if v.Spread.Low == 0 && v.Spread.High == 0 {
		v.Spread = parts.Spread{Low: -0.99, High: 1}
	}
	return v
}

func (c corner) tape(t parts.Tape) *parts.Tape {
	t.Phase = "free" // no meter that is used here shows a peak, so none is solved
	t.Rail, t.RailReturn, t.Joint = end(t.Rail, c.copper), end(t.RailReturn, c.copper), end(t.Joint, c.copper)
	channels := map[string]parts.Channel{}
	for name, ch := range t.Channels {
		channels[name] = c.channel(ch)
	}
	t.Channels, t.Idle = channels, c.channel(t.Idle)
	return &t
}

func (c corner) channel(ch parts.Channel) parts.Channel {
	ch.Set, ch.String = end(ch.Set, c.current), end(ch.String, -c.current)
	return ch
}

func (c corner) way(w parts.Way) parts.Way {
	w.Resistance = end(touching(w.Resistance), c.copper)
	return w
}

func (c corner) board(b parts.Board) *parts.Board {
	b.Inlet.Resistance = end(touching(b.Inlet.Resistance), c.copper)
	ways, ports := map[string]parts.Way{}, map[string]parts.Port{}
	for name, w := range b.Ways {
		ways[name] = c.way(w)
	}
	for name, p := range b.Ports {
		p.Ground = end(touching(p.Ground), c.copper)
		ports[name] = p
	}
	b.Ways, b.Ports = ways, ports
	return &b
}

// used lists, in order, the parts that a scheme names and whose numbers currents depend on.
func used(s *scheme.Scheme) []string {
	names := map[string]bool{}
	note := func(list ...string) {
		for _, name := range list {
			names[name] = true
		}
	}
	for _, t := range s.Supplies {
		note(t.Part)
	}
	for _, b := range s.Boards {
		note(b.Part)
	}
	for _, r := range s.Runs {
		note(r.Tape)
	}
	for _, c := range s.Cables {
		note(c.Part, c.Fuse, c.Ends.From, c.Ends.To)
	}
	for _, f := range s.Fuses {
		note(f)
	}
	for _, d := range s.Data {
		note(d.Part)
	}
	for _, j := range s.Junctions {
		note(j.Part)
	}
	for id := range s.Boards {
		if b, ok := s.BoardPart(id); ok {
			for _, p := range b.Ports {
				note(p.GroundFuse)
			}
		}
	}
	return scheme.IDs(names)
}
