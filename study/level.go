package study

import (
	"math"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
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
	Sent     Sent
	Takes    parts.Logic
	High     *Margin // of a high level over the lowest that is surely high
	Low      *Margin // of a low level under the highest that is surely low
	Over     *Margin // of a high level under what the input may be driven to; nil where its part does not say
	Under    *Margin // of a low level over that, likewise
	Rail     *Margin // the least that a buffer which sends has between the rails of its run
	Unknown  string  // why there are none
	Unjoined bool    // the grounds have nothing in common, or its buffer has no supply of its voltage: other rules say so
}

// A BufferSide says whether a link is that to the buffer of a lead or that from it; it is "" where there is none.
type BufferSide string

const (
	ToBuffer   BufferSide = "to"
	FromBuffer BufferSide = "from"
)

// Sent is what a link is sent with: the levels of a port or buffer, or the logic of a pixel, whose output goes up to the voltage of that and down to its
// ground, for next to nothing flows.
type Sent struct {
	High, Low parts.Value[unit.Volt]
	Supply    parts.Value[unit.Volt] // of a buffer: what it is made for
	Follows   scheme.End             // of a buffer that the rails of a run feed: at which end of the lead they are
	Pixel     parts.Logic
}

// ByPixel reports whether a pixel sends.
func (s Sent) ByPixel() bool { return s.Pixel.Given() }

// Levels are those of a sender with a voltage between its rails, at the end of what is stated that leaves least to be understood. A buffer at a run sends as
// much less than its rails as its sheet leaves of its lowest supply.
func (s Sent) Levels(rail unit.Volt) (high, low unit.Volt) {
	switch {
	case s.ByPixel():
		high, _, _ = s.Pixel.At(rail)
		return high, 0
	case s.Follows != "":
		return rail - s.Below(), s.Low.Upper()
	}
	return s.High.Lower(), s.Low.Upper()
}

// Below is how far under its supply the high level of a buffer stays, at most.
func (s Sent) Below() unit.Volt { return max(s.Supply.Lower()-s.High.Lower(), 0) }

// Farthest are its levels at the end that drives an input farthest: the upper end of a high level, of a buffer its supply; the lower end of a low one.
func (s Sent) Farthest(rail unit.Volt) (high, low unit.Volt) {
	switch {
	case s.ByPixel():
		return s.Levels(rail)
	case s.Follows != "":
		return rail, s.Low.Lower()
	}
	return max(s.High.Upper(), s.Supply.Is), s.Low.Lower()
}

// Margins lists those of every link, in the order of network.Links; of a lead with a buffer those before and behind it.
func (s *Study) Margins() []Margins { return s.marginsOf(s.Network.Links()) }

// LeadMargins are those of a data lead, CutMargins those of the cuts of a run.
func (s *Study) LeadMargins(id string) []Margins {
	return s.marginsOf(s.Network.LeadLinks(id))
}

// CutMargins is explained with LeadMargins.
func (s *Study) CutMargins(run string) []Margins {
	return s.marginsOf(s.Network.CutLinks(run))
}

// PortMargins are those of all leads and cuts that the data of a port goes through.
func (s *Study) PortMargins(p Port) (list []Margins) {
	for _, l := range s.Network.Links() {
		if slices.Contains(p.Runs, l.Run) {
			list = append(list, s.margins(l, s.Scheme.Data[l.Lead].Buffer)...)
		}
	}
	return list
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

func (s *Study) marginsOf(links []network.Link) (list []Margins) {
	for _, l := range links {
		list = append(list, s.margins(l, s.Scheme.Data[l.Lead].Buffer)...)
	}
	return list
}

// MarginsWith are those of a data lead with another buffer, or with none.
func (s *Study) MarginsWith(lead string, buffer *scheme.LeadBuffer) (list []Margins) {
	for _, l := range s.Network.LeadLinks(lead) {
		list = append(list, s.margins(l, buffer)...)
	}
	return list
}

func (s *Study) margins(l network.Link, buffered *scheme.LeadBuffer) []Margins {
	sends, why := s.sender(l)
	tape := s.Scheme.Tape(l.Run)
	if tape == nil || !tape.Logic.Given() {
		why = "the tape of " + l.Run + " does not say what its data input asks for"
	}
	if why != "" {
		return []Margins{{Link: l, Unknown: why}}
	}
	if buffered == nil {
		return []Margins{s.worst(Margins{Link: l, Sent: sends, Takes: tape.Logic}, true)}
	}
	buffer, ok := parts.Get[parts.Buffer](s.Scheme.Library, buffered.Part)
	if !ok || !buffer.Logic.Given() || !buffer.High.Given || !buffer.Low.Given {
		return []Margins{{Link: l, Unknown: "the buffer of " + l.Lead + " is not chosen yet, or does not say what its levels are"}}
	}
	atSender := buffered.At == scheme.FromEnd
	if !s.fed(l.Lead, buffered) {
		return []Margins{{Link: l, Unjoined: true}}
	}
	lifted := Sent{High: buffer.High, Low: buffer.Low, Supply: buffer.Volts}
	if s.Scheme.Data[l.Lead].Feeds(buffered.At) != "" {
		lifted.Follows = buffered.At
	}
	return []Margins{
		s.worst(Margins{Link: l, Buffer: ToBuffer, Sent: sends, Takes: buffer.Logic}, !atSender),
		s.worst(Margins{Link: l, Buffer: FromBuffer, Sent: lifted, Takes: tape.Logic}, atSender),
	}
}

// sender is what a link is sent with, or why that is not known.
func (s *Study) sender(l network.Link) (sent Sent, why string) {
	if l.Port != "" {
		port, ok := s.Scheme.PortPart(s.Scheme.Data[l.Lead].From)
		if !ok || !port.High.Given || !port.Low.Given {
			return Sent{}, l.Port + " does not say what its levels are"
		}
		return Sent{High: port.High, Low: port.Low}, ""
	}
	tape := s.Scheme.Tape(l.From)
	if tape == nil || !tape.Logic.Given() {
		return Sent{}, "the tape of " + l.From + " does not say what its data input asks for"
	}
	return Sent{Pixel: tape.Logic}, ""
}

// nothing is a voltage that no current makes.
const nothing = 1e-9

// unfed is a voltage below which no chip does anything, in volts.
const unfed = 0.5

// worst goes through the slices of every state and its peak. Where the receiver stands beside the sender, no shift lies between the two.
func (s *Study) worst(m Margins, shifted bool) Margins {
	met := false
	for _, c := range s.cases {
		if c.Kind != network.State && c.Kind != network.Peak || !s.solutions[c.Name].Found() {
			continue
		}
		for _, level := range s.Network.Levels(s.solutions[c.Name], m.Link) {
			met = true
			if math.Abs(level.Shift) < nothing {
				level.Shift = 0 // what the solver leaves where nothing flows
			}
			if !shifted {
				level.Shift = 0
				if m.Buffer == ToBuffer && m.From != "" {
					level.To = level.From // it stands at the end of the run that sends
				}
			}
			if m.Sent.Follows == scheme.ToEnd {
				level.From = level.To
			}
			if level.To < unfed || m.Sent.Follows != "" && level.From < unfed {
				continue // light/unfed-run says so
			}
			high, low := m.Sent.Levels(unit.Volt(level.From))
			most, least := m.Sent.Farthest(unit.Volt(level.From))
			shift := unit.Volt(level.Shift)
			supply, up, down := m.Takes.At(unit.Volt(level.To))
			take := func(into **Margin, volts unit.Volt) {
				if *into == nil || volts < (*into).Volts-1e-9 {
					*into = &Margin{volts, c, level}
				}
			}
			if m.Sent.Follows != "" {
				take(&m.Rail, unit.Volt(level.From))
			}
			take(&m.High, high-shift-up)
			take(&m.Low, down-(low-shift))
			if m.Takes.Over.Given {
				take(&m.Over, supply+m.Takes.Over.Is-(most-shift))
			}
			if m.Takes.Under.Given {
				take(&m.Under, least-shift+m.Takes.Under.Is)
			}
		}
	}
	m.Unjoined = !met
	return m
}
