package study

import (
	"cmp"
	"math"

	"farend/finding"
	"farend/line"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// An Edge is what becomes of the pulses of a data lead that a port or a buffer drives, by travelling waves: the worst of all corners. Voltages are
// above the receiver's ground.
type Edge struct {
	Lead    string
	Drive   Drive
	To      string  // the input: "E1@px0", or "D1.buffer"
	Unknown string  // why there is none
	Moot    string  // why nothing is asked: another rule says what is wrong
	Pulses  []Pulse // what the input sees of every kind of pulse that has a window: the worst of each
	High    Swing   // of a high level: what is left of it, at its least
	Low     Swing   // of a low level, at its highest
	Over    Peak    // how far above the supply of its logic the input goes, against its diodes
	Under   Peak    // how far below its ground
	Delay   unit.Second
	Error   unit.Second // by how much the length of a pulse changes, the largest of any; shorter is below 0
	Back    unit.Volt   // how far it swings back after the first peak
}

// A Drive is what drives a lead, and over what: ends of spreads are taken from it.
type Drive struct {
	Part   string // of the board or buffer
	Key    string // under which the numbers stand there: "ports.P1."
	Driver parts.Value[unit.Ohm]
	Inside parts.Value[unit.Ohm] // the resistor beside the driver
	Rise   parts.Value[unit.Second]
	Added  unit.Ohm // the resistor in the lead
	Length unit.Metre
}

// A Pulse is a level that lasts, by what of the code it is.
type Pulse struct {
	Bit               string // "0", "1", or "clock"
	Level             string // "high" or "low"
	Pause             bool   // it is what lies between two pulses
	Sent              unit.Second
	Shortest, Longest unit.Second // between thresholds, in the corner in which they are worst; Shortest is 0 where it never gets there
	Min, Max          parts.Value[unit.Second]
	In                network.Case
}

// A Swing is a level that should last: the voltage that it comes back to after its first peak, against the threshold that it must not cross.
type Swing struct {
	Volts, Threshold unit.Volt
	Fell             bool // there is a peak; else it only comes so far
	In               network.Case
}

// A Peak is a voltage beyond the rails of the receiver's logic.
type Peak struct {
	Volts unit.Volt
	In    network.Case
}

// DiodeAmps is the current that the input diodes of logic families are made for at most: from memory; no sheet of a pixel states one.
const DiodeAmps unit.Ampere = 0.02

// Amps is what the input's diode takes at a peak.
func (p Peak) Amps() unit.Ampere {
	return max(unit.Ampere(float64(p.Volts-clampKnee)/float64(clampOhms)), 0)
}

// NearLevel is the margin below which a level is near what it has to keep: common practice, no source.
const NearLevel unit.Volt = 0.1

// NearPulse is by which share of a limit the length of a pulse is near it.
const NearPulse = 0.02

// Asked reports whether there is something to judge.
func (e Edge) Asked() bool { return e.Unknown == "" && e.Moot == "" }

// Grade is how an edge is to be judged, all in all: as signal/edges does one by one.
func (e Edge) Grade() (grade finding.Grade) {
	if !e.Asked() {
		return finding.Unknown
	}
	for _, p := range e.Pulses {
		grade = max(grade, p.Grade())
	}
	for _, room := range []unit.Volt{e.High.Room(true), e.Low.Room(false)} {
		switch {
		case room < 0:
			grade = max(grade, finding.Fails)
		case room < NearLevel:
			grade = max(grade, finding.Tight)
		}
	}
	if max(e.Over.Amps(), e.Under.Amps()) > DiodeAmps {
		grade = max(grade, finding.Tight)
	}
	return grade
}

// Wiring is what of a lead may be another: for the choice of edits.
type Wiring struct {
	Length unit.Metre
	Series unit.Ohm
	Buffer *scheme.LeadBuffer
}

// What inputs are where nothing says: the clamp diodes, and the capacitance of a pixel's and a buffer's input. All are from memory, but for 15 pF, the most
// that a sheet of a pixel states (WS2812B and its like).
const (
	clampKnee  unit.Volt  = 0.7
	clampOhms  unit.Ohm   = 25
	pixelInput unit.Farad = 15e-12
	gateInput  unit.Farad = 10e-12
)

// Wired is how a lead is wired.
func (s *Study) Wired(lead string) Wiring {
	d := s.Scheme.Data[lead]
	w := Wiring{Series: d.Series, Buffer: d.Buffer}
	if d.Length != nil {
		w.Length = *d.Length
	}
	return w
}

// Edge is what becomes of the pulses of a data lead; it is not ok of one that a pixel drives, for no sheet says how strongly those do.
func (s *Study) Edge(lead string) (e Edge, ok bool) {
	if found, known := s.edges.Load(lead); known {
		return found.(Edge), true
	}
	if e, ok = s.EdgeWith(lead, s.Wired(lead)); ok {
		s.edges.Store(lead, e)
	}
	return e, ok
}

// EdgeWith is that with a lead that is wired in another way.
func (s *Study) EdgeWith(lead string, w Wiring) (e Edge, ok bool) {
	l, ok := s.launch(lead, w)
	if !ok || l.asks == nil {
		return l.edge, ok
	}
	return l.followed(), true
}

// followed is what becomes of the pulses.
func (l *launch) followed() Edge {
	e := l.edge
	for _, c := range l.corners() {
		e.take(l, c, l.run(c))
	}
	return e
}

// DriveWith is what drives a lead that is wired in another way; it is not ok where that is not known, or a pixel does.
func (s *Study) DriveWith(lead string, w Wiring) (d Drive, ok bool) {
	data, known := s.Scheme.Data[lead]
	if !known || !sends(data, w) {
		return Drive{}, false
	}
	l := launch{edge: Edge{Lead: lead, Drive: Drive{Added: w.Series, Length: w.Length}}}
	why := s.drives(&l, data, w.Buffer)
	return l.edge.Drive, why == ""
}

// sends reports whether a port or a buffer drives a lead, not a pixel.
func sends(data scheme.Lead, w Wiring) bool {
	return data.From.Kind == scheme.PortRef || w.Buffer != nil && w.Buffer.At == scheme.FromEnd
}

// A Waveform is the voltages at both ends of a lead in one corner, above the receiver's ground.
type Waveform struct {
	Strong    bool // driven as hard as may be, not as weakly
	Clamped   bool // with the diodes of the input
	Z0        unit.Ohm
	Delay     unit.SecondPerMetre
	In        network.Case
	Supply    unit.Volt // of the receiver's logic
	High, Low unit.Volt // its thresholds
	Wave      line.Wave
}

// Waveforms are those of all corners of a lead; none where there is no Edge.
func (s *Study) Waveforms(lead string) (list []Waveform) {
	l, ok := s.launch(lead, s.Wired(lead))
	if !ok || l.asks == nil {
		return nil
	}
	for _, c := range l.corners() {
		list = append(list, Waveform{c.strong, c.clamped, c.z0, c.delay, c.asked.in, c.asked.supply, c.asked.high, c.asked.low, l.run(c)})
	}
	return list
}

// launch is a lead with what drives it and what it ends in.
type launch struct {
	edge   Edge
	cable  *parts.Cable
	sent   Sent
	farads unit.Farad
	asks   []asked // nil where there is nothing to follow
	code   code
}

// asked is what the receiver asks for where one of its margins is least.
type asked struct {
	supply, high, low, shift unit.Volt
	from                     unit.Volt // between the rails of what sends; 0 of what a board feeds
	in                       network.Case
}

// launch gathers what a lead is driven by; it is not ok where a pixel drives it.
func (s *Study) launch(lead string, w Wiring) (l launch, ok bool) {
	data, known := s.Scheme.Data[lead]
	if !known || !sends(data, w) {
		return launch{}, false
	}
	l.edge = Edge{Lead: lead, To: data.To.Element + "@px0", Drive: Drive{Added: w.Series, Length: w.Length}}
	if l.edge.Unknown = cmp.Or(s.drives(&l, data, w.Buffer), s.carries(&l, data), s.takesIn(&l, data, w.Buffer)); l.edge.Unknown != "" {
		l.asks = nil
	}
	return l, true
}

// drives fills in what drives a lead; it answers why that is not known.
func (s *Study) drives(l *launch, data scheme.Lead, buffered *scheme.LeadBuffer) string {
	d := &l.edge.Drive
	if buffered != nil && buffered.At == scheme.FromEnd {
		b, ok := parts.Get[parts.Buffer](s.Scheme.Library, buffered.Part)
		if !ok {
			return "the buffer of " + l.edge.Lead + " is not chosen yet"
		}
		d.Part, d.Driver, d.Inside, d.Rise = buffered.Part, b.Driver, b.Series, b.Rise
	} else {
		p, ok := s.Scheme.PortPart(data.From)
		if !ok {
			return "the board of " + data.From.String() + " is not chosen yet"
		}
		d.Part, d.Key = s.Scheme.Boards[data.From.Element].Part, "ports."+data.From.Socket+"."
		d.Driver, d.Inside, d.Rise = p.Driver, p.Series, p.Rise
	}
	if !d.Driver.Given || !d.Rise.Given {
		return "what drives " + l.edge.Lead + ", " + d.Part + ", does not say how strongly it does, or how fast"
	}
	return ""
}

// carries fills in the cable.
func (s *Study) carries(l *launch, data scheme.Lead) string {
	cable, ok := parts.Get[parts.Cable](s.Scheme.Library, data.Part)
	switch {
	case !ok || l.edge.Drive.Length <= 0:
		return l.edge.Lead + " or its length is not chosen yet"
	case !cable.Z0.Given || !cable.Delay.Given:
		return "the cable of " + l.edge.Lead + ", " + data.Part + ", does not say its wave impedance and delay"
	}
	l.cable = cable
	return ""
}

// takesIn fills in what is at the end of a lead, and what is sent.
func (s *Study) takesIn(l *launch, data scheme.Lead, buffered *scheme.LeadBuffer) string {
	tape := s.Scheme.Tape(data.To.Element)
	if tape == nil {
		return "the tape of " + data.To.Element + " is not chosen yet"
	}
	protocol, ok := parts.Get[parts.Protocol](s.Scheme.Library, tape.Protocol)
	if !ok {
		return "the tape of " + data.To.Element + " does not say its protocol"
	}
	side := BufferSide("")
	l.farads = pixelInput
	if protocol.Capacitance.Given {
		l.farads = protocol.Capacitance.Upper()
	}
	switch {
	case buffered != nil && !s.fed(l.edge.Lead, buffered):
		l.edge.Moot = "what it has for its buffer is another voltage: signal/buffer says so"
		return ""
	case buffered != nil && buffered.At == scheme.ToEnd:
		side, l.farads, l.edge.To = ToBuffer, gateInput, l.edge.Lead+".buffer"
	case buffered != nil:
		side = FromBuffer
	}
	if l.code, ok = coded(protocol); !ok {
		return tape.Protocol + " leaves no pulse that its chips take"
	}
	l.edge.Moot = "no state feeds " + data.To.Element + " and joins its ground to the sender's"
	for _, m := range s.MarginsWith(l.edge.Lead, buffered) {
		switch {
		case m.Unknown != "":
			return m.Unknown
		case m.Buffer != side || m.High == nil || m.Low == nil:
		case m.High.Volts <= 0 || m.Low.Volts <= 0:
			l.edge.Moot = "its levels are not understood at rest: signal/levels says so"
		default:
			l.sent, l.asks, l.edge.Moot = m.Sent, asksOf(m), ""
		}
	}
	return ""
}

// fed reports whether a buffer of a lead has a voltage that it is made for where it stands.
func (s *Study) fed(lead string, buffer *scheme.LeadBuffer) bool {
	return s.Scheme.FeedsBuffer(s.Scheme.Data[lead].Feeds(buffer.At), buffer.Part)
}

// asksOf is what a receiver asks for in the slices in which its margins are least, each once.
func asksOf(m Margins) (list []asked) {
	for _, margin := range []*Margin{m.High, m.Low, m.Over, m.Under} {
		if margin == nil {
			continue
		}
		supply, high, low := m.Takes.At(unit.Volt(margin.Level.To))
		a := asked{supply, high, low, unit.Volt(margin.Level.Shift), unit.Volt(margin.Level.From), margin.In}
		alike := false
		for _, b := range list {
			const near = 1e-3 // V: no corner of its own
			alike = alike || math.Abs(float64(a.supply-b.supply)) < near && math.Abs(float64(a.shift-b.shift)) < near && math.Abs(float64(a.from-b.from)) < near
		}
		if !alike {
			list = append(list, a)
		}
	}
	return list
}
