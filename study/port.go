package study

import (
	"slices"
	"sort"

	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Port is one that sends data, with what hangs on it.
type Port struct {
	ID       string
	Runs     []string // that its data goes through, in the order in which it gets there
	Pixels   int
	Lead     string   // the first data lead
	Mixed    []string // protocols, where runs of several hang on it
	Protocol string   // of its first run, "" where its tape is not chosen yet
	Frame    unit.Second
	Rate     unit.Hertz
	Spare    int  // how many pixels more it could send to at the frame rate that is asked for; below 0 where it sends to too many
	Aimed    bool // a frame rate is asked for
	Known    bool // how long a frame takes
}

// Ports lists the ports at which data leads begin, in order.
func (s *Study) Ports() []Port {
	var list []Port
	for _, lead := range s.Scheme.Senders() {
		list = append(list, s.port(s.Scheme.Data[lead].From.String(), lead))
	}
	return list
}

// Slowest is the port whose frame takes longest, and with it that of the whole scheme; it is not ok where there is no port, or of one it is not known how
// long a frame takes.
func Slowest(list []Port) (slowest Port, ok bool) {
	for _, p := range list {
		if !p.Known {
			return Port{}, false
		}
		if p.Frame > slowest.Frame {
			slowest = p
		}
	}
	return slowest, len(list) > 0
}

// Port is one of them; it is not ok where none of that name sends.
func (s *Study) Port(id string) (p Port, ok bool) {
	for lead, d := range s.Scheme.Data {
		if d.From.Kind == scheme.PortRef && d.From.String() == id {
			return s.port(id, lead), true
		}
	}
	return Port{}, false
}

func (s *Study) port(id, lead string) Port {
	p := Port{ID: id, Lead: lead, Aimed: s.Scheme.Aims.FrameRate > 0}
	p.Runs = s.Scheme.Chained(s.Scheme.Data[lead].To.Element)
	for _, run := range p.Runs {
		p.Pixels += s.Scheme.Runs[run].Count
	}
	protocols := map[string]bool{}
	for _, run := range p.Runs {
		if tape := s.Scheme.Tape(run); tape != nil {
			protocols[tape.Protocol] = true
		}
	}
	if len(protocols) > 1 {
		p.Mixed = scheme.IDs(protocols)
	}
	if tape := s.Scheme.Tape(p.Runs[0]); tape != nil {
		p.Protocol = tape.Protocol
	}
	protocol, said := parts.Get[parts.Protocol](s.Scheme.Library, p.Protocol)
	if !said || p.Mixed != nil || !s.counted(p.Runs) {
		return p
	}
	if p.Frame, p.Known = protocol.Frame(p.Pixels); p.Known {
		p.Rate = unit.Hertz(1 / p.Frame)
	}
	if p.Known && p.Aimed {
		p.Spare = Most(protocol, s.Scheme.Aims.FrameRate) - p.Pixels
	}
	return p
}

// counted reports whether it is known of some runs how many pixels they have.
func (s *Study) counted(runs []string) bool {
	return !slices.ContainsFunc(runs, func(run string) bool { return s.Scheme.Runs[run].Count == 0 })
}

// Most is how many pixels a protocol sends to at a frame rate at most: more pixels never take less time.
func Most(p *parts.Protocol, rate unit.Hertz) int {
	const never = 1 << 24
	return sort.Search(never, func(pixels int) bool {
		t, ok := p.Frame(pixels + 1)
		return !ok || float64(t)*float64(rate) > 1
	})
}
