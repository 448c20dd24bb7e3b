package study

import (
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A Margin is how far a level is on the safe side of what it has to keep, at its least, and in which case; below 0 it is missed.
type Margin struct {
	Volts unit.Volt
	In    network.Case
	Level network.Level // of the slice in which it is least
}

// Margins are those of a level that passes from one chip to the next, in every state and its peak.
type Margins struct {
	network.Link
	Buffer   BufferSide // of a lead with a buffer, which side of it
	High     *Margin    // of a high level over the lowest that is surely high
	Low      *Margin    // of a low level under the highest that is surely low
	Over     *Margin    // of a high level under what the input may be driven to; nil where its part does not say
	Under    *Margin    // of a low level over that, likewise
	Unknown  string     // why there are none
	Unjoined bool       // the grounds have nothing in common
}

// A BufferSide says whether a link is that to the buffer of a lead or that from it; it is "" where there is none.
type BufferSide string

const (
	ToBuffer   BufferSide = "to"
	FromBuffer BufferSide = "from"
)

// A port of levels: what a sender gives, and what a receiver asks for, between rails of some voltage.
type sender func(rail unit.Volt) (high, low unit.Volt)

// Margins lists those of every link, in the order of network.Links; of a lead with a buffer those before and behind it.
func (s *Study) Margins() []Margins { return s.marginsOf(func(network.Link) bool { return true }) }

// LeadMargins are those of a data lead, CutMargins those of the cuts of a run.
func (s *Study) LeadMargins(id string) []Margins {
	return s.marginsOf(func(l network.Link) bool { return l.Lead == id })
}

// CutMargins is explained with LeadMargins.
func (s *Study) CutMargins(run string) []Margins {
	return s.marginsOf(func(l network.Link) bool { return l.Lead == "" && l.Run == run })
}

// Least is the smallest of the margins of some links; it is not ok where there are none.
func Least(list []Margins) (least Margin, ok bool) {
	for _, m := range list {
		for _, margin := range []*Margin{m.High, m.Low, m.Over, m.Under} {
			if margin != nil && (!ok || margin.Volts < least.Volts) {
				least, ok = *margin, true
			}
		}
	}
	return least, ok
}

func (s *Study) marginsOf(asked func(network.Link) bool) (list []Margins) {
	for _, l := range s.Network.Links() {
		if asked(l) {
			list = append(list, s.margins(l)...)
		}
	}
	return list
}

func (s *Study) margins(l network.Link) []Margins {
	sends, why := s.sender(l)
	tape := s.Scheme.Tape(l.Run)
	lead, isLead := s.Scheme.Data[l.Lead]
	if tape == nil || !tape.Logic.Given() {
		why = "the tape of " + l.Run + " does not say what its data input asks for"
	}
	if why != "" {
		return []Margins{{Link: l, Unknown: why}}
	}
	if !isLead || lead.Buffer == nil {
		return []Margins{s.worst(l, "", sends, tape.Logic, true)}
	}
	buffer, ok := parts.Get[parts.Buffer](s.Scheme.Library, lead.Buffer.Part)
	if !ok || !buffer.Logic.Given() || !buffer.High.Given || !buffer.Low.Given {
		return []Margins{{Link: l, Unknown: "the buffer of " + l.Lead + " is not chosen yet, or does not say what its levels are"}}
	}
	lifts := func(unit.Volt) (high, low unit.Volt) { return buffer.High.Lower(), buffer.Low.Upper() }
	atSender := lead.Buffer.At == "from"
	return []Margins{s.worst(l, ToBuffer, sends, buffer.Logic, !atSender), s.worst(l, FromBuffer, lifts, tape.Logic, atSender)}
}

// sender is what a link is sent with. A pixel drives its output up to the voltage of its logic, and down to its ground: next to nothing flows.
func (s *Study) sender(l network.Link) (send sender, why string) {
	if l.Port != "" {
		port, ok := s.Scheme.PortPart(s.Scheme.Data[l.Lead].From)
		if !ok || !port.High.Given || !port.Low.Given {
			return nil, l.Port + " does not say what its levels are"
		}
		return func(unit.Volt) (high, low unit.Volt) { return port.High.Lower(), port.Low.Upper() }, ""
	}
	tape := s.Scheme.Tape(l.From)
	if tape == nil || !tape.Logic.Given() {
		return nil, "the tape of " + l.From + " does not say what its data input asks for"
	}
	return func(rail unit.Volt) (high, low unit.Volt) {
		supply, _, _ := tape.Logic.At(rail)
		return supply, 0
	}, ""
}

// unfed is a voltage below which no chip does anything, in volts.
const unfed = 0.5

// worst goes through the slices of every state and its peak. Where the receiver stands beside the sender, no shift lies between the two.
func (s *Study) worst(l network.Link, buffer BufferSide, sends sender, logic parts.Logic, shifted bool) Margins {
	m := Margins{Link: l, Buffer: buffer}
	met := false
	for _, c := range s.cases {
		if c.Kind != network.State && c.Kind != network.Peak || !s.solutions[c.Name].Found() {
			continue
		}
		for _, level := range s.Network.Levels(s.solutions[c.Name], l) {
			met = true
			if level.To < unfed {
				continue // light/unfed-run says so
			}
			if !shifted {
				level.Shift = 0
			}
			high, low := sends(unit.Volt(level.From))
			shift := unit.Volt(level.Shift)
			supply, up, down := logic.At(unit.Volt(level.To))
			take := func(into **Margin, volts unit.Volt) {
				if *into == nil || volts < (*into).Volts-1e-9 {
					*into = &Margin{volts, c, level}
				}
			}
			take(&m.High, high-shift-up)
			take(&m.Low, down-(low-shift))
			if logic.Over.Given {
				take(&m.Over, supply+logic.Over.Is-(high-shift))
			}
			if logic.Under.Given {
				take(&m.Under, low-shift+logic.Under.Is)
			}
		}
	}
	m.Unjoined = !met
	return m
}
