package network

import (
	"slices"

	"farend/circuit"
	"farend/scheme"
)

// A Link is where data passes from one chip to the next between which a voltage may step: a data lead, or a cut in a rail of a run. Along copper that is
// whole neighbours differ by millivolts.
type Link struct {
	Lead string // "" at a cut
	Port string // that sends; "" where a pixel does
	From string // run that sends; "" where a port does
	Last int    // its last pixel, or that before the cut
	Run  string // that receives
	At   int    // its first pixel, or that behind the cut

	sends, takes terminal // the plus of a port is −1
}

// Links lists data leads in order, then the cuts of every run.
func (n *Network) Links() (list []Link) {
	for _, d := range n.leads {
		list = append(list, n.leadLink(d))
	}
	for _, r := range n.runs {
		list = append(list, n.CutLinks(r.id)...)
	}
	return list
}

// LeadLinks is the link of one data lead; none where there is no such lead.
func (n *Network) LeadLinks(lead string) (list []Link) {
	for _, d := range n.leads {
		if d.id == lead {
			list = append(list, n.leadLink(d))
		}
	}
	return list
}

func (n *Network) leadLink(d leadAt) Link {
	data := n.Scheme.Data[d.id]
	to := n.runs[n.runAt[data.To.Element]]
	l := Link{Lead: d.id, Run: to.id, takes: n.side(to.stretches[0], false), sends: terminal{-1, d.sender}}
	if data.From.Kind == scheme.PortRef {
		l.Port = data.From.String()
	} else {
		from := n.runs[n.runAt[data.From.Element]]
		l.From, l.Last, l.sends = from.id, from.count-1, n.side(from.stretches[len(from.stretches)-1], true)
	}
	return l
}

// CutLinks are those at the cuts of a run; none where there is no such run.
func (n *Network) CutLinks(run string) (list []Link) {
	at, known := n.runAt[run]
	if !known {
		return nil
	}
	r := n.runs[at]
	for k := 1; k < len(r.stretches); k++ {
		mark := r.stretches[k].first
		if slices.ContainsFunc(n.Scheme.Runs[run].Cuts, func(c scheme.Cut) bool { return c.At.Mark == mark }) {
			list = append(list, Link{From: run, Last: mark - 1, Run: run, At: mark, sends: n.side(r.stretches[k-1], true), takes: n.side(r.stretches[k], false)})
		}
	}
	return list
}

// side is an end of a stretch.
func (n *Network) side(s stretch, end bool) terminal {
	c := n.Plan.Shape().Chains[s.chain]
	if end {
		return terminal{c.BPlus, c.BReturn}
	}
	return terminal{c.APlus, c.AReturn}
}

// A Level is what a link has in a slice of the cycle.
type Level struct {
	Share float64 // of the cycle
	Shift float64 // how far the receiver's ground stands above the sender's, V
	From  float64 // between the rails of the sender, V; 0 of a port
	To    float64 // between those of the receiver
}

// Levels are those of a link in a solution; none where no copper joins the two grounds, or one of them is not live, for a level means nothing then.
func (n *Network) Levels(s *Solution, l Link) []Level {
	joined := n.joined.of(n.rail(l.sends.minus)) == n.joined.of(n.rail(l.takes.minus))
	if !joined || !s.Found() || slices.ContainsFunc(s.points, func(p *circuit.Point) bool { return !p.Live(l.takes.minus) || !p.Live(l.sends.minus) }) {
		return nil
	}
	levels := make([]Level, len(s.cycle))
	for k, p := range s.points {
		levels[k] = Level{Share: s.cycle[k].share, Shift: p.Across(l.takes.minus, l.sends.minus), To: p.Across(l.takes.plus, l.takes.minus)}
		if l.sends.plus >= 0 {
			levels[k].From = p.Across(l.sends.plus, l.sends.minus)
		}
	}
	return levels
}
