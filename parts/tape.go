package parts

import (
	"slices"
	"strconv"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// A Tape is a flexible strip product; also rigid bars and strings of pixel nodes. Pixel i sits at (i + ½)·pitch from
// the data-in end.
type Tape struct {
	Title       string                  `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Chips       []Chip                  `key:"chips" doc:"components that fit it"`
	Volts       Value[unit.Volt]        `key:"volts,required" doc:"nominal voltage"`
	VoltsMin    Value[unit.Volt]        `key:"volts_min" like:"3.7 V" doc:"the lowest voltage at which the chip is proven"`
	VoltsMax    Value[unit.Volt]        `key:"volts_max" like:"5.3 V" doc:"the highest voltage allowed"`
	Pixels      Value[unit.PerMetre]    `key:"pixels,required" doc:"how many to a length"`
	CutEvery    int                     `key:"cut_every,required" like:"1" doc:"pixels between cut marks"`
	Rail        Value[unit.OhmPerMetre] `key:"rail,required" doc:"copper of each pole at 20 °C, or of the positive where rail_return is given"`
	RailReturn  Value[unit.OhmPerMetre] `key:"rail_return" like:"90 mΩ/m" doc:"copper of the return, where it differs"`
	RailAmps    Value[unit.Ampere]      `key:"rail_amps" like:"6.8 A" doc:"the largest current in one rail"`
	RailRise    Value[unit.Kelvin]      `key:"rail_rise" with:"rail_amps" like:"10 K" doc:"by how much that warms the rail for ever, alone and dark"`
	JointEvery  Value[unit.Metre]       `key:"joint_every" with:"joint" like:"0.5 m" doc:"a factory joint comes so often, counted from data-in"`
	Joint       Value[unit.Ohm]         `key:"joint" with:"joint_every" doc:"resistance of one factory joint in one rail"`
	Capacitance Value[unit.Farad]       `key:"capacitance" like:"100 nF" doc:"of one pixel, between its rails: what is charged when it is plugged in"`
	Phase       Phase                   `key:"phase" doc:"whether the pulse-width cycles of the pixels start together; unknown where not given"`
	Measure     map[string]Advice       `key:"measure" doc:"what to measure of one's own, by the key that it gives"`
	Channels    map[string]Channel      `key:"channels,required" names:"channel" least:"1" doc:"its colours: red, green, blue, white, warm, cold, amber"`
	Idle        Channel                 `key:"idle,required" doc:"what a dark pixel draws"`
	Logic       Logic                   `key:"logic" doc:"what its data input asks for"`
	Reverse     Reverse                 `key:"reverse" doc:"what a pixel conducts when its poles are swapped"`
	IP          string                  `key:"ip" like:"67" doc:"degree of protection, two digits of IEC 60529"`
	Protocol    string                  `key:"protocol,required" part:"protocol" like:"protocol/single-wire-800k-24" doc:"how its data is sent"`
	Origin
}

// Advice says how to find a number of one's own part. It states nothing of this one.
type Advice string

func (a Advice) fact(key string) (Fact, bool) {
	return Fact{Key: key, Text: string(a), Basis: string(Practice), Source: "common practice, no source"}, a != ""
}

// measurable lists the numbers of a tape that vary so widely that each is worth measuring.
func measurable() []string { return []string{"rail", "set", "string", "idle"} }

// Phase says whether the pulse-width cycles of the pixels start together.
type Phase string

func (Phase) Words() []string { return []string{"free", "together", "unknown"} }

// ChannelNames lists the channels a tape may have, in the order of results.
func ChannelNames() []string {
	return []string{"red", "green", "blue", "white", "warm", "cold", "amber"}
}

// A Channel is one colour of a pixel: the law of package pixel and the light at the set current (regulated) or at the
// tape's nominal voltage (string).
type Channel struct {
	Set     Value[unit.Ampere]  `key:"set" like:"12 mA" doc:"set current of a regulated channel"`
	Lo      Value[unit.Volt]    `key:"lo,required" like:"1.8 V" doc:"voltage below which it draws nothing"`
	Hi      Value[unit.Volt]    `key:"hi" like:"2.4 V" doc:"voltage above which a regulated channel draws its set current"`
	Soft    Value[unit.Volt]    `key:"soft,required" like:"0.1 V" doc:"how softly it bends at these two"`
	String  Value[unit.Ohm]     `key:"string" like:"150 Ω" doc:"the resistor of a channel that is not regulated"`
	Candela Value[unit.Candela] `key:"candela" doc:"light at the set current, or at nominal voltage"`
	X       float64             `key:"x" with:"y" like:"0.17" doc:"CIE 1931 chromaticity"`
	Y       float64             `key:"y" with:"x" like:"0.70" doc:"CIE 1931 chromaticity"`
	Origin
}

// Logic is what a data input asks for. Thresholds are a share of the supply or fixed voltages.
type Logic struct {
	Supply string           `key:"supply" like:"rail" doc:"rail, or the chip's own logic voltage such as 5 V"`
	High   string           `key:"high" like:"70 %" doc:"the lowest level that is surely high: a share of the supply or a voltage"`
	Low    string           `key:"low" like:"30 %" doc:"the highest level that is surely low, likewise"`
	Over   Value[unit.Volt] `key:"over" like:"0.3 V" doc:"how far above its supply an input may be driven"`
	Under  Value[unit.Volt] `key:"under" like:"0.3 V" doc:"how far below ground"`
	Origin
}

// Reverse is what a pixel conducts when its poles are swapped: the substrate diodes of its chip, and what lies in series.
type Reverse struct {
	Knee       Value[unit.Volt] `key:"knee" like:"0.6 V" doc:"voltage from which on it conducts"`
	Resistance Value[unit.Ohm]  `key:"resistance" like:"5 Ω" doc:"of the way through it"`
	Origin
}

// Backwards is what a pixel of the tape conducts when its poles are swapped; where the tape does not say, about what chips do (from
// memory): 0.6 V of a substrate diode, and 5 Ω.
func (t *Tape) Backwards() (knee unit.Volt, resistance unit.Ohm) {
	knee, resistance = 0.6, 5
	if t.Reverse.Knee.Given {
		knee = t.Reverse.Knee.Is
	}
	if t.Reverse.Resistance.Given {
		resistance = t.Reverse.Resistance.Is
	}
	return knee, resistance
}

// ReadNode reads a tape and checks that it makes sense.
func (t *Tape) ReadNode(r *document.Reader, n document.Node) {
	type plain Tape
	r.Decode(n, (*plain)(t))
	whole(r, n, "cut_every", t.CutEvery, 1)
	degree(r, n, t.IP)
	positive(r, n, "volts", t.Volts)
	positive(r, n, "volts_min", t.VoltsMin)
	ordered(r, n, "volts_min", t.VoltsMin, "volts", t.Volts, false)
	ordered(r, n, "volts", t.Volts, "volts_max", t.VoltsMax, false)
	positive(r, n, "pixels", t.Pixels)
	positive(r, n, "rail", t.Rail)
	positive(r, n, "rail_return", t.RailReturn)
	positive(r, n, "rail_amps", t.RailAmps)
	positive(r, n, "rail_rise", t.RailRise)
	positive(r, n, "joint_every", t.JointEvery)
	notNegative(r, n, "capacitance", t.Capacitance)
	notNegative(r, n, "joint", t.Joint)
	positive(r, at(n, "reverse"), "resistance", t.Reverse.Resistance)
	notNegative(r, at(n, "reverse"), "knee", t.Reverse.Knee)
	if t.Joint.Given != t.JointEvery.Given {
		r.Mistake(n, "\"joint\" and \"joint_every\" belong together", "give the resistance of a factory joint and how often one comes, or neither")
	}
	if every := float64(t.JointEvery.Is) * float64(t.Pixels.Is); t.JointEvery.Given && t.Pixels.Given && every > 0 && every < 1-1e-9 {
		r.Mistake(at(n, "joint_every"), "factory joints every "+t.JointEvery.text()+" come more often than pixels, at "+t.Pixels.text(), "is the unit right?")
	}
	channelNames(r, n)
	t.advice(r, n)
}

// advice checks that what is to be measured are numbers of a tape.
func (t *Tape) advice(r *document.Reader, n document.Node) {
	measure, given := n.Get("measure")
	if !given {
		return
	}
	pairs(r, measure, func(key string, keyNode, _ document.Node) {
		if !slices.Contains(measurable(), key) {
			r.Mistake(keyNode, strconv.Quote(key)+" is nothing to measure", "write one of "+strings.Join(measurable(), ", "))
		}
	})
}

// channelNames checks that there are channels, and that results have a place for each.
func channelNames(r *document.Reader, n document.Node) {
	channels, ok := n.Get("channels")
	if !ok || !channels.IsMap() {
		return
	}
	count := 0
	r.Pairs(channels, func(name string, keyNode, _ document.Node) {
		count++
		if !slices.Contains(ChannelNames(), name) {
			r.Mistake(keyNode, strconv.Quote(name)+" is not a channel", "write one of "+strings.Join(ChannelNames(), ", "))
		}
	})
	if count == 0 {
		r.Mistake(channels, "a tape needs at least one channel", "write for example white: {set: 12 mA, lo: 2.7 V, hi: 3.4 V, soft: 0.1 V}")
	}
}

// ReadNode reads a channel: regulated, with set and hi, or resistor-limited, with string.
func (c *Channel) ReadNode(r *document.Reader, n document.Node) {
	type plain Channel
	r.Decode(n, (*plain)(c))
	notNegative(r, n, "set", c.Set)
	notNegative(r, n, "lo", c.Lo)
	ordered(r, n, "lo", c.Lo, "hi", c.Hi, true)
	positive(r, n, "soft", c.Soft)
	positive(r, n, "string", c.String)
	notNegative(r, n, "candela", c.Candela)
	c.form(r, n)
	c.colour(r, n)
}

func (c *Channel) form(r *document.Reader, n document.Node) {
	const hint = "write set and hi for a regulated channel, or string for a resistor-limited one"
	_, set := n.Get("set")
	_, hi := n.Get("hi")
	_, resistor := n.Get("string")
	switch {
	case !n.IsMap():
	case resistor && (set || hi):
		r.Mistake(at(n, "string"), "a channel with \"string\" has no \"set\" and no \"hi\"", hint)
	case !resistor && !(set && hi):
		r.Mistake(n, "a channel needs \"set\" and \"hi\", or \"string\"", hint)
	}
}

// colour checks that a chromaticity lies in the triangle of the CIE 1931 diagram that holds every real colour.
func (c *Channel) colour(r *document.Reader, n document.Node) {
	_, x := n.Get("x")
	_, y := n.Get("y")
	if (x || y) && (c.X <= 0 || c.Y <= 0 || c.X+c.Y > 1) {
		r.Mistake(at(n, "x"), "x and y are no chromaticity: both must be more than 0 and their sum at most 1", "write for example x: 0.17, y: 0.70")
	}
}

// Given reports whether anything is said of a data input.
func (l Logic) Given() bool { return l.Supply != "" && l.High != "" && l.Low != "" }

// At is what a data input asks for where its chip has a voltage between its rails: the voltage of its logic, the lowest level that is surely high, and the
// highest that is surely low.
func (l Logic) At(rail unit.Volt) (supply, high, low unit.Volt) {
	supply = rail
	if l.Supply != "rail" {
		supply = unit.Must[unit.Volt](l.Supply)
	}
	level := func(text string) unit.Volt {
		if strings.HasSuffix(text, "%") {
			return unit.Volt(unit.Must[unit.Ratio](text)) * supply
		}
		return unit.Must[unit.Volt](text)
	}
	return supply, level(l.High), level(l.Low)
}

// ReadNode reads what a data input asks for.
func (l *Logic) ReadNode(r *document.Reader, n document.Node) {
	type plain Logic
	r.Decode(n, (*plain)(l))
	if l.Supply != "rail" {
		quantity[unit.Volt](r, n, "supply", l.Supply, "write rail, or the chip's own logic voltage such as 5 V")
	}
	for key, text := range map[string]string{"high": l.High, "low": l.Low} {
		if strings.HasSuffix(text, "%") {
			quantity[unit.Ratio](r, n, key, text, "")
		} else {
			quantity[unit.Volt](r, n, key, text, "write a share of the supply such as 70 %, or a voltage such as 2.7 V")
		}
	}
	notNegative(r, n, "over", l.Over)
	notNegative(r, n, "under", l.Under)
}
