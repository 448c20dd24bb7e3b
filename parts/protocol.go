package parts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// A Protocol is how pixel data is sent: on a single wire, where the length of a pulse tells a one from a zero, or clocked.
// Numbers of a chip hold at its data input.
type Protocol struct {
	Title       string             `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Bits        int                `key:"bits,required" like:"24" doc:"of one pixel"`
	Depth       int                `key:"depth" like:"8" doc:"bits of a channel"`
	Overhead    int                `key:"overhead" like:"8" doc:"bits of a pixel that are no colour"`
	Order       string             `key:"order" like:"GRB" doc:"channels in the order on the wire, a letter each"`
	Period      Value[unit.Second] `key:"period" like:"1.25 us" doc:"of a bit on a single wire"`
	PeriodMin   Value[unit.Second] `key:"period_min" like:"1.2 us" doc:"the shortest period of a bit that is understood"`
	PeriodMax   Value[unit.Second] `key:"period_max" like:"1.3 us" doc:"the longest"`
	Zero        Pulse              `key:"zero" doc:"how long a 0 is high and low"`
	One         Pulse              `key:"one" doc:"how long a 1 is high and low"`
	Latch       Value[unit.Second] `key:"latch" like:"280 us" doc:"the rest that ends a frame"`
	Inverted    bool               `key:"inverted" doc:"whether a single wire rests high and its pulses are low"`
	Clocked     bool               `key:"clocked" doc:"whether a second wire carries a clock"`
	ClockMax    Value[unit.Hertz]  `key:"clock_max" like:"10 MHz" doc:"the fastest clock"`
	Start       int                `key:"start" like:"32" doc:"bits before the first pixel of a frame"`
	End         Tail               `key:"end" doc:"bits after the last pixel of a frame"`
	Refresh     Value[unit.Hertz]  `key:"refresh" like:"2 kHz" doc:"pulse-width cycles a second"`
	Backup      bool               `key:"backup" doc:"whether a second line goes round a dead pixel"`
	Capacitance Value[unit.Farad]  `key:"capacitance" like:"15 pF" doc:"of a data input, at most"`
	Delay       Value[unit.Second] `key:"delay" doc:"of one pixel, at most"`
	DelayClocks float64            `key:"delay_clocks" doc:"of one pixel, in periods of the clock"`
	Reach       Value[unit.Metre]  `key:"reach" like:"5 m" doc:"from pixel to pixel with nothing between"`
	WithoutData WithoutData        `key:"without_data" doc:"what a pixel shows while nothing tells it anything"`
	Origin
}

// WithoutData is what a pixel shows while nothing tells it anything.
type WithoutData struct {
	Wakes Waking  `key:"wakes" like:"dark" doc:"from when it is switched on to the first frame"`
	Stops Stopped `key:"stops" like:"holds" doc:"when no more frames come"`
	Origin
}

// Waking is what a pixel shows before its first frame; empty means unsaid. A pattern is one of its own, that moves or changes colour.
type Waking string

const (
	WakesDark    Waking = "dark"
	WakesLit     Waking = "lit"
	WakesPattern Waking = "pattern"
)

func (Waking) Words() []string {
	return []string{string(WakesDark), string(WakesLit), string(WakesPattern)}
}

// Stopped is what a pixel shows when no more frames come: it holds the last one, or does one of the others; empty means unsaid.
type Stopped string

const (
	StopsHolding Stopped = "holds"
	StopsDark    Stopped = "dark"
	StopsLit     Stopped = "lit"
	StopsPattern Stopped = "pattern"
)

func (Stopped) Words() []string {
	return []string{string(StopsHolding), string(StopsDark), string(StopsLit), string(StopsPattern)}
}

// A Pulse is how a bit looks on a single wire: first high, then low. On an inverted one, first low, then high.
type Pulse struct {
	High Window `key:"high" doc:"how long it is high"`
	Low  Window `key:"low" doc:"how long it is low"`
	Origin
}

// A Window is how long a level lasts: usually, and within what limits a chip takes it.
type Window struct {
	Is  Value[unit.Second] `key:"is" like:"400 ns" doc:"typical"`
	Min Value[unit.Second] `key:"min" like:"250 ns" doc:"at least"`
	Max Value[unit.Second] `key:"max" like:"550 ns" doc:"at most"`
	Origin
}

// A Tail is what a chain asks for after its last pixel.
type Tail struct {
	Bits      int `key:"bits" like:"32" doc:"for every chain"`
	ByteEvery int `key:"byte_every" like:"16" doc:"and eight more for every so many pixels, or part of so many"`
	Least     int `key:"least" like:"64" doc:"but so many in all"`
	Origin
}

// FrameBits is how many bits a frame for so many pixels has, from the first to the last.
func (p *Protocol) FrameBits(pixels int) int {
	pixels = max(pixels, 0)
	end := p.End.Bits
	if every := p.End.ByteEvery; every > 0 {
		end += 8 * ((pixels + every - 1) / every)
	}
	return p.Start + p.Bits*pixels + max(end, p.End.Least)
}

// Frame is how long a frame for so many pixels takes, latch among it: on a single wire at its nominal period, clocked at its fastest clock. It is not ok
// where the protocol does not say.
func (p *Protocol) Frame(pixels int) (t unit.Second, ok bool) {
	bits := float64(p.FrameBits(pixels))
	switch {
	case p.Clocked && p.ClockMax.Is > 0:
		return unit.Second(bits/float64(p.ClockMax.Is)) + p.Latch.Is, true
	case !p.Clocked && p.Period.Is > 0:
		return unit.Second(bits)*p.Period.Is + p.Latch.Is, true
	}
	return 0, false
}

// Channels is the channels of a pixel in the order of the wire. W is white, and warm where there is a C for cold. A letter
// that is none of them has the name "".
func (p *Protocol) Channels() []string {
	white := "white"
	if strings.Contains(p.Order, "C") {
		white = "warm"
	}
	letters := map[rune]string{'R': "red", 'G': "green", 'B': "blue", 'W': white, 'C': "cold", 'A': "amber"}
	var names []string
	for _, letter := range p.Order {
		names = append(names, letters[letter])
	}
	return names
}

// ReadNode reads a protocol.
func (p *Protocol) ReadNode(r *document.Reader, n document.Node) {
	type plain Protocol
	r.Decode(n, (*plain)(p))
	whole(r, n, "bits", p.Bits, 1)
	whole(r, n, "depth", p.Depth, 1)
	whole(r, n, "overhead", p.Overhead, 0)
	whole(r, n, "start", p.Start, 0)
	positive(r, n, "period", p.Period)
	positive(r, n, "period_min", p.PeriodMin)
	ordered(r, n, "period_min", p.PeriodMin, "period", p.Period, false)
	ordered(r, n, "period", p.Period, "period_max", p.PeriodMax, false)
	notNegative(r, n, "latch", p.Latch)
	positive(r, n, "clock_max", p.ClockMax)
	positive(r, n, "refresh", p.Refresh)
	notNegative(r, n, "capacitance", p.Capacitance)
	notNegative(r, n, "delay", p.Delay)
	positive(r, n, "reach", p.Reach)
	if p.DelayClocks < 0 {
		r.Mistake(at(n, "delay_clocks"), "\"delay_clocks\" cannot be less than 0", "write periods of the clock, such as 0.5")
	}
	p.line(r, n)
	p.pulses(r, n)
	p.colours(r, n)
}

// line checks that a protocol says what its line needs, and nothing of the other kind of line.
func (p *Protocol) line(r *document.Reader, n document.Node) {
	if !n.IsMap() {
		return // it has its mistake already
	}
	if p.Clocked {
		need(r, n, "clock_max", "a clocked protocol", "10 MHz")
		foreign(r, n, "a protocol without a clock", "period", "period_min", "period_max", "zero", "one", "inverted")
	} else {
		need(r, n, "period", "a protocol without a clock", "1.25 us")
		foreign(r, n, "a clocked protocol", "clock_max", "delay_clocks")
	}
}

// need makes a mistake of a key that is not there.
func need(r *document.Reader, n document.Node, key, what, example string) {
	if _, given := n.Get(key); !given {
		r.Mistake(n, what+" needs "+strconv.Quote(key), "write for example "+key+": "+example)
	}
}

// foreign makes a mistake of each key that says something of another kind of part.
func foreign(r *document.Reader, n document.Node, to string, keys ...string) {
	for _, key := range keys {
		if value, given := n.Get(key); given {
			r.Mistake(value, strconv.Quote(key)+" belongs to "+to, "remove it, or write what \"clocked\" is")
		}
	}
}

// pulses checks that a chip can tell a one from a zero.
func (p *Protocol) pulses(r *document.Reader, n document.Node) {
	zero, one := p.Zero.High, p.One.High
	if zero.Max.Given && one.Min.Given && zero.Max.Is > one.Min.Is {
		r.Mistake(at(n, "one"), "the high of a one, "+one.Min.text()+" and more, cannot be shorter than that of a zero, up to "+zero.Max.text(), "are the two exchanged?")
	}
}

// colours checks that the letters of the order are channels, and that with the overhead they make up the bits of a pixel.
func (p *Protocol) colours(r *document.Reader, n document.Node) {
	order, given := n.Get("order")
	if !given || !order.IsScalar() {
		return
	}
	names := p.Channels()
	for i, name := range names {
		if name == "" || slices.Contains(names[:i], name) {
			r.Mistake(order, "\"order\" cannot be "+strconv.Quote(p.Order), "write each channel once, by its letter: R, G, B, W (warm where there is a C), C for cold, A for amber")
			return
		}
	}
	if bits := p.Depth*len(names) + p.Overhead; p.Depth > 0 && p.Overhead >= 0 && p.Bits > 0 && bits != p.Bits {
		r.Mistake(at(n, "bits"), fmt.Sprintf("%d channels of %d bits, and %d more, are %d bits, and \"bits\" is %d", len(names), p.Depth, p.Overhead, bits, p.Bits), "mend the one of \"bits\", \"depth\", \"overhead\" and \"order\" that is wrong")
	}
}

// ReadNode reads a window.
func (w *Window) ReadNode(r *document.Reader, n document.Node) {
	type plain Window
	r.Decode(n, (*plain)(w))
	positive(r, n, "is", w.Is)
	positive(r, n, "min", w.Min)
	positive(r, n, "max", w.Max)
	ordered(r, n, "min", w.Min, "max", w.Max, false)
	if !w.Max.Given || w.Min.Is <= w.Max.Is {
		ordered(r, n, "min", w.Min, "is", w.Is, false)
		ordered(r, n, "is", w.Is, "max", w.Max, false)
	}
}

// ReadNode reads a tail.
func (e *Tail) ReadNode(r *document.Reader, n document.Node) {
	type plain Tail
	r.Decode(n, (*plain)(e))
	whole(r, n, "bits", e.Bits, 0)
	whole(r, n, "byte_every", e.ByteEvery, 1)
	whole(r, n, "least", e.Least, 0)
}
